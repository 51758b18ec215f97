//! Templates and sections that a description lists by name, against what the files call theirs.

use super::claim::Claim;
use super::claims::claims;
use super::vocabulary::{Lexicon, bare};
use super::words::Noun;
use crate::validate::catalogue::{Findings, found};
use base::model::facts::{Facts, Inspected};
use base::model::{SourceSpan, Where};
use std::collections::BTreeSet;

/// A list of names.
struct List<'t> {
    noun: &'static str,
    /// How many the line before it claims.
    claim: Option<Claim>,
    line: usize,
    head: &'t str,
    /// Whether the names stand in a sentence, where a name that holds a comma or an “and” is counted twice.
    inline: bool,
    /// Line, column and name.
    names: Vec<(usize, usize, String)>,
}

/// Checks the lists of a description.
pub fn check(file: &Inspected, text: &str, lexicon: Lexicon, files: &[Inspected], findings: &mut Findings) {
    let lines: Vec<&str> = text.lines().collect();
    let lists: Vec<List> = (0..lines.len()).filter_map(|n| list(&lines, n, lexicon)).collect();
    if lists.is_empty() {
        return;
    }
    let known = known(files);
    let has = |name: &str| known.iter().any(|text| text.contains(&name.to_lowercase()));
    for list in lists {
        let at = |line: usize, column: usize, width: usize| {
            let span = SourceSpan { line: line + 1, column, text: lines[line].to_owned(), width, file: None };
            Where::file(&file.path).span(span)
        };
        let whole = !lexicon.speaks(|words| words.not_all, &bare(list.head));
        if let (Some(claim), true) = (&list.claim, whole)
            && (claim.number > list.names.len() as u64 || claim.number < list.names.len() as u64 && !list.inline)
        {
            let (number, noun, count) = (claim.number, list.noun, list.names.len());
            let place = at(list.line, claim.column, claim.width);
            found!(findings, "claim-wrong", place, "the description claims {number} {noun} and lists {count}");
        }
        // Where the files know hardly any of the names, they are not the kind of names that files show.
        let missing: Vec<_> = list.names.iter().filter(|(.., name)| !has(name)).collect();
        if missing.len() * 2 > list.names.len() {
            continue;
        }
        for (line, column, name) in missing {
            let (noun, place) = (list.noun, at(*line, *column, name.chars().count()));
            found!(
                findings,
                "claim-name-unknown",
                place,
                "the description lists \u{201c}{name}\u{201d} among its {noun}; no outline and no page has that name"
            );
        }
    }
}

/// Every title of an outline and every text on a page, in small letters.
fn known(files: &[Inspected]) -> BTreeSet<String> {
    let mut known = BTreeSet::new();
    for file in files {
        let Facts::Pdf(pdf) = &file.facts else { continue };
        known.extend(pdf.outline.iter().map(|entry| entry.title.to_lowercase()));
        known.extend(pdf.pages.iter().flat_map(|p| &p.texts).map(|t| t.text.to_lowercase()));
    }
    known
}

/// The list that this line opens: items below it, or names behind its colon.
fn list<'t>(lines: &[&'t str], n: usize, lexicon: Lexicon) -> Option<List<'t>> {
    let head = lines[n];
    let lower = prose(head);
    let (word, kind) = listed(lexicon).find(|(word, _)| lower.contains(word))?;
    let noun = kind.name();
    let claim = claims(head, lexicon).into_iter().find(|claim| claim.noun == kind);
    let inline = !head.trim_end().ends_with([':', '\u{ff1a}']);
    let names: Vec<(usize, usize, String)> = if !inline {
        let below = lines.iter().enumerate().skip(n + 1).filter(|(_, line)| !line.trim().is_empty());
        below.map_while(|(at, line)| item(line).map(|(column, name)| (at, column, name))).collect()
    } else {
        let (before, behind) = head.rsplit_once(": ").or_else(|| head.rsplit_once('\u{ff1a}'))?;
        if !prose(before).contains(word) {
            return None;
        }
        let column = |name: &str| head.find(name).map_or(1, |at| head[..at].chars().count() + 1);
        in_a_row(behind, lexicon).into_iter().map(|name| (n, column(&name), name)).collect()
    };
    (names.len() >= 2).then_some(List { noun, claim, line: n, head, inline, names })
}

/// The words for what has names, of a language and of English.
fn listed(lexicon: Lexicon) -> impl Iterator<Item = (&'static str, Noun)> {
    let nouns = lexicon.tables().flat_map(|words| words.nouns);
    let named = nouns.filter(|(noun, _)| matches!(noun, Noun::Templates | Noun::Sections));
    named.flat_map(|(noun, words)| words.iter().map(|word| (*word, *noun)))
}

/// A line in small letters without the names of files in it, which are what the product is called.
fn prose(line: &str) -> String {
    let file = |word: &&str| {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric() && c != '/');
        let ending = bare.rsplit_once('.').map_or("", |(_, ending)| ending);
        bare.contains('/') || matches!(ending, "pdf" | "png" | "jpg" | "gif" | "zip" | "txt" | "md" | "html" | "json")
    };
    bare(line).split_inclusive(char::is_whitespace).filter(|word| !file(word)).collect()
}

/// An item of a list in Markdown: the column of its name, and the name.
fn item(line: &str) -> Option<(usize, String)> {
    let bare = line.trim_start();
    let numbered = bare.split_once(['.', ')']).filter(|(n, _)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()));
    let text = ["- ", "* ", "+ ", "\u{2022} "]
        .iter()
        .find_map(|mark| bare.strip_prefix(mark))
        .or(numbered.map(|(_, text)| text))?
        .trim_start();
    let column = line.chars().count() - text.chars().count() + 1;
    Some((column, plain(text)))
}

/// Names with commas between them, and a word before the last. Where a name has such a word in it, its halves are looked for: the
/// files have both.
fn in_a_row(text: &str, lexicon: Lexicon) -> Vec<String> {
    let text = text.trim_end().trim_end_matches(['.', '\u{3002}']);
    let joints = || lexicon.tables().flat_map(|words| words.joints).copied();
    let mut parts = vec![text];
    for by in [", ", "\u{60c} ", "\u{3001}"].into_iter().chain(joints()) {
        parts = parts.iter().flat_map(|part| part.split(by)).collect();
    }
    // Such a word may stand behind the last comma.
    let bare =
        |part: &'_ str| joints().find_map(|word| part.strip_prefix(word.trim_start())).unwrap_or(part).to_owned();
    parts.into_iter().map(|part| plain(&bare(part))).filter(|name| !name.is_empty()).collect()
}

/// A name without marks of Markdown and without what is told of it behind a colon, a dash or a bracket.
fn plain(text: &str) -> String {
    let end = [": ", " \u{2013} ", " \u{2014} ", " - ", " ("].iter().filter_map(|mark| text.find(mark)).min();
    let mut name = String::new();
    let mut escaped = false;
    for c in text[..end.unwrap_or(text.len())].chars() {
        // A mark behind a backslash is meant as itself.
        if escaped || !"\\*_`".contains(c) {
            name.push(c);
        }
        escaped = c == '\\' && !escaped;
    }
    name.trim().trim_end_matches(['.', ';', ',', ':']).to_owned()
}

#[cfg(test)]
mod tests {
    use super::list;
    use crate::validate::listing::Lexicon;

    fn names(text: &str) -> Vec<String> {
        let lines: Vec<&str> = text.lines().collect();
        list(&lines, 0, Lexicon::ENGLISH)
            .map(|l| l.names.into_iter().map(|(.., name)| name).collect())
            .unwrap_or_default()
    }

    #[test]
    fn lists_are_read_below_and_behind_a_colon() {
        let below = "Three page templates:\n\n- **Bed plan**: for each bed\n- Sowing\\_table\n- Dots (5 mm)\n\nMore.";
        assert_eq!(names(below), ["Bed plan", "Sowing_table", "Dots"]);
        assert_eq!(names("2 sections, each with a tab: Beds, Shed and tools"), ["Beds", "Shed", "tools"]);
        assert_eq!(names("Our templates are made with care."), [""; 0]);
        assert_eq!(names("- `tutor-templates.pdf`: notebook of 7 pages, 22.6 kB"), [""; 0]);
        assert_eq!(names("In lesson-templates.pdf, 2 templates: Plan, Marks"), ["Plan", "Marks"]);
    }

    #[test]
    fn lists_are_read_in_every_language() {
        for (code, text) in [
            ("en", "Two templates: Plan, and Marks"),
            ("de", "Zwei Vorlagen: Plan und Marks"),
            ("fr", "Deux modèles : Plan et Marks"),
            ("es", "Dos plantillas: Plan y Marks"),
            ("it", "Due modelli: Plan e Marks"),
            ("nl", "Twee sjablonen: Plan en Marks"),
            ("sv", "Två mallar: Plan och Marks"),
            ("pt", "Dois modelos: Plan e Marks"),
            ("pl", "Dwa szablony: Plan i Marks"),
            ("ja", "2種類のテンプレート：Plan、Marks"),
            ("ar", "قالبان من قوالب: Plan وMarks"),
            ("he", "שתי תבניות: Plan וMarks"),
        ] {
            let lines = [text];
            let found = list(&lines, 0, Lexicon::named(code)).unwrap_or_else(|| panic!("{code}: no list in {text}"));
            let names: Vec<String> = found.names.into_iter().map(|(.., name)| name).collect();
            assert_eq!(names, ["Plan", "Marks"], "{code}");
        }
    }
}
