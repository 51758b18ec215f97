//! The change note for people who bought an older version, in plain words and in the product's language. It is meant
//! to be edited: what a page means to somebody who writes on it, only its maker can say.

use super::names::is_for_buyers;
use super::things::{self, Told};
use base::model::difference::{Comparison, Difference};
use wording::note::Note as Sentences;
use wording::{Count, Tongue, fill};

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
pub fn write(found: &Comparison) -> Note {
    let wanted = found.language.as_deref().unwrap_or("en");
    let spoken = base::model::words::Words::of(wanted).speaks(wanted);
    Note { text: text(&Tongue::new(wanted), found), missing: (!spoken).then(|| wanted.to_owned()) }
}

fn text(tongue: &Tongue, found: &Comparison) -> String {
    let says = &tongue.documents().note;
    let bundles = !found.kinds.is_empty();
    // What is uploaded is what lies loose in a bundle once more.
    let again = |path: &str| bundles && path.starts_with("upload/");
    let told = found.differences.iter().filter(|d| is_for_buyers(&d.path) && !d.is_copy() && !again(&d.path));
    let told: Vec<&Difference> = told.collect();
    let version = found.numbers.as_ref().map(|n| n.new.clone());
    let title = match (&found.product, &version) {
        (None, None) => says.title.to_owned(),
        (None, Some(version)) => fill(says.title_version, &[("version", version)]),
        (Some(product), version) => {
            let name = version.as_ref().map_or_else(|| product.clone(), |version| format!("{product} {version}"));
            fill(says.title_in, &[("name", &name)])
        }
    };
    let mut parts = vec![format!("# {title}")];
    parts.push(if found.download_again {
        format!("{}\n{}", says.again, says.written_on)
    } else {
        says.same.to_owned()
    });
    if told.iter().any(|d| d.message.starts_with("the licence terms changed")) {
        parts.push(says.licence.to_owned());
    }
    let things = things::Things::of(found);
    let mut changes: Vec<String> = Vec::new();
    for told in things::LISTS.iter().filter_map(|list| things.list(list, &told, NAMED)) {
        changes.push(line(tongue, &told));
    }
    if things.guide(&told) {
        changes.push(format!("- {}{}", says.guide, says.end));
    }
    if !changes.is_empty() {
        parts.push(changes.join("\n"));
    }
    tongue.directed(&format!("{}\n", parts.join("\n\n")))
}

/// The line of a list: how many things, and what they are called.
fn line(tongue: &Tongue, told: &Told) -> String {
    let (says, start) = (&tongue.documents().note, &tongue.documents().start);
    let counted = match sentence(says, told.key) {
        Some(forms) => tongue.count(told.count, forms),
        None => says.dates_moved.to_owned(),
    };
    let names: Vec<String> = told.names.iter().map(|name| fill(says.quoted, &[("text", name)])).collect();
    let names = if names.is_empty() { String::new() } else { format!("{}{}", start.colon, names.join(start.comma)) };
    format!("- {counted}{names}{}", says.end)
}

/// What a list says of its things; nothing for the months of a planner, which are not counted.
fn sentence(says: &Sentences, key: things::Key) -> Option<Count> {
    use things::Key;
    Some(match key {
        Key::DatesMoved => return None,
        Key::PagesNew => says.pages_new,
        Key::CoversNew => says.covers_new,
        Key::StickersNew => says.stickers_new,
        Key::LinksNew => says.links_new,
        Key::FilesNew => says.files_new,
        Key::PagesRedrawn => says.pages_redrawn,
        Key::CoversRedrawn => says.covers_redrawn,
        Key::StickersRedrawn => says.stickers_redrawn,
        Key::PicturesChanged => says.pictures_changed,
        Key::PagesMoved => says.pages_moved,
        Key::LinksChanged => says.links_changed,
        Key::FilesRenamed => says.files_renamed,
        Key::PagesGone => says.pages_gone,
        Key::CoversGone => says.covers_gone,
        Key::StickersGone => says.stickers_gone,
        Key::LinksGone => says.links_gone,
        Key::FilesGone => says.files_gone,
    })
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
