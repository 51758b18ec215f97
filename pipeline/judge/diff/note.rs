//! The change note for people who bought an older version, in plain words and in the product's language. It is meant
//! to be edited: what a page means to somebody who writes on it, only its maker can say.

use super::names::is_for_buyers;
use super::things;
use base::model::Fault;
use base::model::difference::{Comparison, Difference};
use serde_json::Value;
use tera::{Context, Tera};

/// Languages that there is a note in, by their code.
const LANGUAGES: [(&str, &str); 2] = [("en", include_str!("note.en.md.tera")), ("de", include_str!("note.de.md.tera"))];
/// So many pages or files are named before the rest is only counted.
const NAMED: usize = 6;

/// A change note.
pub struct Note {
    /// The text, in Markdown, ending with a line feed.
    pub text: String,
    /// The product's language, where there is no note in it: the text is in English then.
    pub missing: Option<String>,
}

/// Writes the note in the language that the product states, else in English.
///
/// # Errors
/// When the template cannot be filled, which is a fault of the program.
pub fn write(found: &Comparison) -> Result<Note, Fault> {
    let wanted = found.language.as_deref().unwrap_or("en");
    let code = wanted.split(['-', '_']).next().unwrap_or_default().to_lowercase();
    let known = LANGUAGES.iter().find(|(language, _)| *language == code);
    let (_, template) = known.unwrap_or(&LANGUAGES[0]);
    let text = fill(template, found)?;
    Ok(Note { text, missing: known.is_none().then(|| wanted.to_owned()) })
}

fn fill(template: &str, found: &Comparison) -> Result<String, Fault> {
    let wrong = |e: tera::Error| Fault::new(format!("the change note could not be written: {e}"));
    let mut tera = Tera::default();
    tera.add_raw_template("note", template).map_err(wrong)?;
    let bundles = !found.kinds.is_empty();
    // What is uploaded is what lies loose in a bundle once more.
    let again = |path: &str| bundles && path.starts_with("upload/");
    let told = found.differences.iter().filter(|d| is_for_buyers(&d.path) && !d.is_copy() && !again(&d.path));
    let told: Vec<&Difference> = told.collect();
    let mut context = Context::new();
    context.insert("same", &!found.download_again);
    context.insert("product", &found.product);
    context.insert("version", &found.numbers.as_ref().map(|n| &n.new));
    context.insert("licence", &told.iter().any(|d| d.message.starts_with("the licence terms changed")));
    let things = things::Things::of(found);
    let mut changes: Vec<Value> = things::LISTS.iter().filter_map(|list| things.list(list, &told, NAMED)).collect();
    changes.extend(things.guide(&told));
    context.insert("changes", &changes);
    let text = tera.render("note", &context).map_err(wrong)?;
    let mut lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.dedup_by(|a, b| a.is_empty() && b.is_empty());
    Ok(format!("{}\n", lines.join("\n").trim()))
}

/// A note as a part of a list of changes: its title becomes a heading with the version number.
pub fn entry(note: &str, version: &str, released: Option<&str>) -> String {
    let body = note.split_once('\n').map_or("", |(_, body)| body).trim();
    let date = released.map(|d| format!(" ({d})")).unwrap_or_default();
    format!("## {version}{date}\n\n{body}\n")
}

/// A list of changes with an entry put before all others; `None` if it has one of that version, which stays as it is.
pub fn with_entry(changes: &str, version: &str, entry: &str) -> Option<String> {
    let heading = |line: &str| {
        let words = line.strip_prefix("## ")?;
        words.split_whitespace().next().map(|w| w.trim_matches(['[', ']', 'v', ':']).to_owned())
    };
    if changes.lines().any(|line| heading(line).as_deref() == Some(version)) {
        return None;
    }
    let mut at = 0;
    for line in changes.split_inclusive('\n') {
        if line.starts_with("## ") {
            let (before, after) = changes.split_at(at);
            return Some(format!("{before}{entry}\n{after}"));
        }
        at += line.len();
    }
    let before = if changes.trim().is_empty() { "# Changes" } else { changes.trim_end() };
    Some(format!("{before}\n\n{entry}"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::with_entry;

    #[test]
    fn an_entry_comes_first_and_only_once() {
        let first = with_entry("", "1.1.0", "## 1.1.0\n\nBeans.\n").unwrap();
        assert_eq!(first, "# Changes\n\n## 1.1.0\n\nBeans.\n");
        let edited = first.replace("Beans.", "Beans, as I would say it.");
        assert_eq!(with_entry(&edited, "1.1.0", "## 1.1.0\n\nOther.\n"), None);
        let second = with_entry(&edited, "1.2.0", "## 1.2.0\n\nPeas.\n").unwrap();
        assert_eq!(second, "# Changes\n\n## 1.2.0\n\nPeas.\n\n## 1.1.0\n\nBeans, as I would say it.\n");
        assert_eq!(with_entry("## v1.2.0 (May)\n", "1.2.0", "x"), None);
    }
}
