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
const TABLES: [&str; 8] = ["de", "es", "fr", "it", "nl", "pt", "pt-PT", "sv"];

/// What varies stands in the same holes in every language; no sentence is missing or left in English as a whole document.
#[test]
fn each_language_has_the_same_holes() {
    for name in TABLES {
        let other = documents(name);
        assert!(!other.terms.governs.is_empty(), "{name}: which text governs is not said");
        for (ours, theirs) in all(&ENGLISH).into_iter().zip(all(other)) {
            for ((field, ours), (_, theirs)) in ours.iter().zip(&theirs) {
                assert!(theirs.iter().all(|t| !t.is_empty() || *field == "governs"), "{name} {field} says nothing");
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

/// A sentence that is counted has a form for each plural of CLDR that whole numbers below a million take (one and other in
/// these languages).
#[test]
fn what_is_counted_has_its_plurals() {
    for name in ["en"].iter().chain(&TABLES) {
        let documents = documents(name);
        let counts =
            [documents.guide.counts(), documents.start.counts(), documents.terms.counts(), documents.listing.counts()];
        let more = [documents.pack.counts(), documents.note.counts(), documents.pictures.counts()];
        for (field, forms) in counts.into_iter().chain(more).flatten() {
            assert_eq!(forms.len(), 2, "{name} {field}");
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

#[test]
fn a_language_without_a_table_is_english() {
    let tongue = Tongue::new("cs");
    assert!(tongue.is_english());
    assert_eq!((tongue.number(1_304), tongue.size(320_900)), ("1,304".to_owned(), "320.9 kB".to_owned()));
    assert_eq!(Tongue::new("fr").size(320_900), "320,9\u{a0}ko");
    assert_eq!(Tongue::new("de").measure("1024.5"), "1024,5");
}
