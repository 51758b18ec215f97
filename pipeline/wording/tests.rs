//! Tables against the English one, and numbers against what CLDR has.
#![allow(clippy::unwrap_used)]

use crate::*;
use std::collections::BTreeSet;

fn holes(sentence: &str) -> BTreeSet<&str> {
    sentence.split('{').skip(1).map(|rest| rest.split('}').next().unwrap()).collect()
}

type Sentences = Vec<(&'static str, Vec<&'static str>)>;

fn all(documents: &Documents) -> Vec<Sentences> {
    let (guide, start) = (documents.guide.all(), documents.start.all());
    let (pack, note) = (documents.pack.all(), documents.note.all());
    let pictures = documents.pictures.all();
    vec![guide, start, documents.terms.all(), documents.listing.all(), pictures, pack, note]
}

/// Languages with a table of their own beside English.
const TABLES: [&str; 12] = ["ar", "de", "es", "fr", "he", "it", "ja", "nl", "pl", "pt", "pt-PT", "sv"];

/// What varies stands in the same holes in every language; no sentence is missing or left in English as a whole document.
#[test]
fn each_language_has_the_same_holes() {
    for name in TABLES {
        let other = documents(name);
        assert!(!other.terms.governs.is_empty(), "{name}: which text governs is not said");
        for (ours, theirs) in all(&ENGLISH).into_iter().zip(all(other)) {
            for ((field, ours), (_, theirs)) in ours.iter().zip(&theirs) {
                assert!(
                    theirs.iter().all(|t| !t.is_empty() || ["governs", "between"].contains(field)),
                    "{name} {field} says nothing"
                );
                let wanted = holes(ours.last().unwrap());
                for form in theirs.iter().filter(|form| *field != "governs" || !form.is_empty()) {
                    // One thing may be said without its number.
                    let (mut has, mut wanted) = (holes(form), wanted.clone());
                    has.remove("n");
                    wanted.remove("n");
                    assert_eq!(has, wanted, "{name} {field}");
                }
            }
        }
    }
}

/// Each kind of binding has a name of its own, which heads its sentence; on the map it is short, and rings are called as the words for
/// pages have it.
#[test]
fn what_holds_the_papers_has_its_names() {
    for name in ["en"].iter().chain(&TABLES) {
        let bindings = &documents(name).binding;
        let all = bindings.all();
        assert_eq!(all.iter().map(|named| named.within).collect::<BTreeSet<_>>().len(), all.len(), "{name}");
        assert_eq!(all.iter().map(|named| named.map).collect::<BTreeSet<_>>().len(), all.len(), "{name}");
        for named in all {
            let (within, leads) = (named.within.to_lowercase(), named.leads.to_lowercase());
            assert!(!within.is_empty() && leads != within && leads.starts_with(&within), "{name}: {named:?}");
            assert!((1..=15).contains(&named.map.chars().count()), "{name}: {named:?}");
        }
        assert_eq!(bindings.rings.map, base::model::words::Words::of(name).coil, "{name}");
    }
}

/// A sentence that is counted has a form for each plural that whole numbers take in its language.
#[test]
fn what_is_counted_has_its_plurals() {
    for name in ["en"].iter().chain(&TABLES) {
        let (documents, wanted) = (documents(name), plurals_of(name).len());
        let counts =
            [documents.guide.counts(), documents.start.counts(), documents.terms.counts(), documents.listing.counts()];
        let more = [documents.pack.counts(), documents.note.counts(), documents.pictures.counts()];
        for (field, forms) in counts.into_iter().chain(more).flatten() {
            assert_eq!(forms.len(), wanted, "{name} {field}");
        }
    }
    // French says one of nothing, too (CLDR plural rules: i = 0,1).
    let count = |tag: &str, n: usize| {
        let tongue = Tongue::new(tag);
        tongue.count(n, tongue.documents().start.pages)
    };
    assert_eq!([0, 1, 2].map(|n| count("fr", n)), ["0 page", "1 page", "2 pages"]);
    assert_eq!([0, 1, 1_304].map(|n| count("de-DE", n)), ["0 Seiten", "1 Seite", "1.304 Seiten"]);
}

/// The plurals of a language with the numbers that take them, as Babel has them (2.19.0, CLDR 49).
fn plurals_of(name: &str) -> Vec<(String, Vec<usize>)> {
    let table = include_str!("../../tests/fixtures/calendar/plurals.csv");
    let rows = table.lines().map(|line| line.split(',').collect::<Vec<_>>()).filter(|row| row[0] == name);
    rows.map(|row| (row[1].to_owned(), row[2].split(' ').map(|n| n.parse().unwrap()).collect())).collect()
}

/// Every number takes the form that stands for its plural, in the order of CLDR.
#[test]
fn each_number_takes_the_plural_that_babel_says() {
    const FORMS: Count = &["zero", "one", "two", "few", "many", "other"];
    for name in ["en"].iter().chain(&TABLES) {
        let (tongue, plurals) = (Tongue::new(name), plurals_of(name));
        let has = |form: &&&str| plurals.iter().any(|(plural, _)| plural == *form);
        let forms: Vec<&'static str> = FORMS.iter().filter(has).copied().collect();
        // A sentence has static text; the forms of thirteen languages may stay until the test ends.
        let forms: Count = Vec::leak(forms);
        for (plural, numbers) in &plurals {
            for n in numbers {
                assert_eq!(tongue.count(*n, forms), *plural, "{name} {n}");
            }
        }
    }
}

/// Numbers as people write them beside what is counted: without number where the language says it in a word, and a range
/// never loses its numbers to such a word.
#[test]
fn what_is_counted_reads_as_in_the_language() {
    let tongue = |tag: &str| Tongue::new(tag);
    let pages = |tag: &str, n: usize| tongue(tag).count(n, tongue(tag).documents().start.pages);
    assert_eq!(
        [1, 3, 5, 22, 112].map(|n| pages("pl", n)),
        ["1 strona", "3 strony", "5 stron", "22 strony", "112 stron"]
    );
    assert_eq!([1, 2, 200].map(|n| pages("ja", n)), ["1ページ", "2ページ", "200ページ"]);
    let arabic = [0, 1, 2, 7, 24, 100].map(|n| pages("ar-u-nu-latn", n));
    assert_eq!(arabic, ["بلا صفحات", "صفحة واحدة", "صفحتان", "7 صفحات", "24 صفحة", "100 صفحة"]);
    let days = |n: usize| tongue("he").count(n, tongue("he").documents().listing.days);
    assert_eq!([1, 2, 3].map(days), ["יום אחד", "יומיים", "3 ימים"]);
    let covers = tongue("ar-u-nu-latn").documents().listing.covers;
    assert_eq!(tongue("ar-u-nu-latn").span([1, 2], covers), "1–2 غلاف");
    assert_eq!(tongue("ar-u-nu-latn").span([2, 2], covers), "غلافان");
}

/// Digits are those that CLDR has for the region, and what the tag asks for.
#[test]
fn digits_are_those_of_the_region() {
    assert_eq!(Tongue::new("ar-EG").number(1_304), "١٬٣٠٤");
    assert_eq!(Tongue::new("ar-AE").number(1_304), "1,304");
    assert_eq!(Tongue::new("ar-EG-u-nu-latn").number(1_304), "1,304");
    assert_eq!(Tongue::new("he").number(1_304), "1,304");
}

/// A line that begins with the name of a file runs the way of its language all the same; lists stay lists.
#[test]
fn lines_from_right_to_left_say_so() {
    let text = "- a.pdf: מחברת\n- מחברת: a.pdf\na.pdf\n\n1. `a.pdf` מחברת\n";
    let marked = "- \u{200f}a.pdf: מחברת\n- מחברת: a.pdf\na.pdf\n\n1. \u{200f}`a.pdf` מחברת\n";
    assert_eq!(Tongue::new("he").directed(text), marked);
    assert_eq!(Tongue::new("de").directed(text), text);
}

/// French puts a space that does not break before these marks and inside its quotation marks (Imprimerie nationale, as remembered:
/// a narrow one before `;`, `!` and `?`, a whole one elsewhere).
#[test]
fn french_marks_keep_their_spaces() {
    for (field, form) in
        all(documents("fr")).into_iter().flatten().flat_map(|(f, s)| s.into_iter().map(move |s| (f, s)))
    {
        let plain: Vec<char> = form.replace("https:", "").chars().collect();
        for two in plain.windows(2) {
            let wanted = match two {
                [before, ';' | '!' | '?'] => *before == '\u{202f}',
                [before, ':' | '»'] => *before == '\u{a0}',
                ['«', after] => *after == '\u{a0}',
                _ => true,
            };
            assert!(wanted, "{field}: {form}");
        }
    }
}

#[test]
fn a_language_without_a_table_is_english() {
    let tongue = Tongue::new("cs");
    assert!(tongue.is_english());
    assert_eq!((tongue.number(1_304), tongue.size(320_900)), ("1,304".to_owned(), "320.9 kB".to_owned()));
    assert_eq!(Tongue::new("fr").size(320_900), "320,9\u{a0}ko");
    assert_eq!(Tongue::new("de").measure("1024.5"), "1024,5");
}
