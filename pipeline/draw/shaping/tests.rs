//! Lines of text against the cases of the Unicode Character Database.

#![allow(clippy::unwrap_used)]

use super::features;
use crate::built_in::Family;
use crate::fonts::{has_figures, has_small_capitals};
use crate::{Fonts, built_in};
use base::model::Role;
use base::model::look::Figures;
use base::model::product::FontFile;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let font =
        FontFile { from: "Noto Sans".into(), bytes: notosans::REGULAR_TTF.into(), built_in: true, figures: None };
    Fonts::open(&Role::ALL.into_iter().map(|role| (role, vec![font.clone()])).collect::<BTreeMap<_, _>>()).unwrap()
});

/// A sample of BidiCharacterTest.txt: characters; direction of the paragraph; its level; levels; visual order.
const CASES: &str = include_str!("../../../tests/fixtures/unicode/BidiCharacterTest.txt");

/// In labels the figures of every typeface that has figures for tables (OpenType `tnum`) are of one width; titles keep theirs.
#[test]
fn figures_of_labels_stand_below_each_other() {
    let mut proportional = 0;
    for family in &built_in::FAMILIES {
        let files = Role::ALL.map(|role| (role, built_in::font(family.face(role)).into_iter().collect()));
        let fonts = Fonts::open(&files.into()).unwrap();
        let face = rustybuzz::Face::from_slice(&fonts.file(Role::Label).bytes, 0).unwrap();
        let tag = rustybuzz::ttf_parser::Tag::from_bytes(b"tnum");
        // Figures without letters have no script: a font that keeps the feature for Latin has none for them.
        let tabular = face.tables().gsub.is_some_and(|table| {
            let script = table.scripts.find(rustybuzz::ttf_parser::Tag::from_bytes(b"DFLT"));
            let of_all = script.and_then(|s| s.default_language).map(|language| language.feature_indices);
            of_all.is_some_and(|list| list.into_iter().any(|i| table.features.get(i).is_some_and(|f| f.tag == tag)))
        });
        let widths = |role| {
            let mut all: Vec<i64> =
                ('0'..='9').map(|c| (1e6 * fonts.width(role, &c.to_string(), 1.0, 0.0)).round() as i64).collect();
            all.sort_unstable();
            all.dedup();
            all.len()
        };
        assert!(!tabular || widths(Role::Label) == 1, "{}", family.name);
        proportional += usize::from(tabular && widths(Role::Heading) > 1);
    }
    assert!(proportional >= 3, "{proportional}");
}

/// Each glyph says which characters it stands for: read from left to right, they must stand as the algorithm has it. A
/// mark for the direction goes before what the case wants to run another way than its first strong character does; it
/// resolves what follows as the beginning of such a paragraph would (rules X10 and W1).
#[test]
fn glyphs_stand_in_the_order_of_the_bidirectional_algorithm() {
    let mut read = 0;
    for line in CASES.lines().filter(|l| !l.is_empty() && !l.starts_with('#')) {
        let fields: Vec<&str> = line.split(';').collect();
        let mark = ["\u{200e}", "\u{200f}", ""][fields[1].parse::<usize>().unwrap()];
        let chars: String =
            fields[0].split(' ').map(|c| char::from_u32(u32::from_str_radix(c, 16).unwrap()).unwrap()).collect();
        let levels: Vec<Option<u8>> = fields[3].split(' ').map(|l| l.parse().ok()).collect();
        let wanted: Vec<usize> = fields[4].split_whitespace().map(|n| n.parse().unwrap()).collect();
        let text = format!("{mark}{chars}");
        let numbers: BTreeMap<usize, usize> =
            chars.char_indices().enumerate().map(|(n, (at, _))| (at + mark.len(), n)).collect();
        let mut found: Vec<usize> = Vec::new();
        let mut before = None;
        for glyph in FONTS.shape(Role::Label, &text).iter() {
            // A letter and its mark may share their characters.
            if before.replace(glyph.cluster.clone()) == Some(glyph.cluster.clone()) {
                continue;
            }
            let mut these: Vec<usize> = numbers.range(glyph.cluster.clone()).map(|(_, n)| *n).collect();
            if these.first().is_some_and(|n| levels[*n].is_some_and(|l| l % 2 == 1)) {
                these.reverse();
            }
            // What the algorithm takes out stands nowhere.
            found.extend(these.into_iter().filter(|n| levels[*n].is_some()));
        }
        assert_eq!(found, wanted, "{line}");
        read += 1;
    }
    assert!(read > 400, "{read} cases");
}

/// Letters that join are never set apart, whatever the tracking of the line; others are.
#[test]
fn tracking_leaves_joined_letters_alone() {
    let wider = |text: &str| FONTS.width(Role::Label, text, 10.0, 0.1) - FONTS.width(Role::Label, text, 10.0, 0.0);
    assert!((wider("مارس")).abs() < 1e-9);
    assert!((wider("Beet") - 3.0).abs() < 1e-9);
}

/// The fonts of a typeface in every role, with these figures asked for.
fn set_in(family: &Family, figures: Option<Figures>) -> Fonts {
    let file = |role| built_in::font(family.face(role)).map(|file| FontFile { figures, ..file });
    Fonts::open(&Role::ALL.map(|role| (role, file(role).into_iter().collect())).into()).unwrap()
}

/// Glyphs of a text, without anything else of them.
fn ids(fonts: &Fonts, role: Role, text: &str) -> Vec<u16> {
    fonts.shape(role, text).iter().map(|glyph| glyph.id).collect()
}

const WITHOUT_WORDS: [&str; 5] = ["347", "12–18", "7 / 9", "½ + 3", "2027-03-14"];
const WITH_WORDS: [&str; 4] = ["Week 47", "7 am", "März 2027", "3 Äpfel"];

#[test]
fn of_each_kind_of_figures_one_feature_is_asked_for_and_small_capitals_for_words_alone() {
    let all = Role::ALL.into_iter().chain([Role::SmallCapitals]);
    for role in all {
        for figures in [None, Some(Figures::Lining), Some(Figures::Oldstyle)] {
            let usual = if role.stands_in_columns() { vec![*b"tnum"] } else { vec![*b"lnum"] };
            for text in WITHOUT_WORDS {
                assert_eq!(features(role, text, figures), usual, "{role:?} {text}");
            }
            for text in WITH_WORDS {
                let mut wanted = match figures {
                    Some(Figures::Lining) => vec![*b"lnum"],
                    Some(Figures::Oldstyle) => vec![*b"onum"],
                    None if role.stands_in_columns() => vec![*b"tnum"],
                    None => Vec::new(),
                };
                wanted.extend((role == Role::SmallCapitals).then_some(*b"smcp"));
                assert_eq!(features(role, text, figures), wanted, "{role:?} {text}");
            }
        }
    }
}

/// Small capitals are other glyphs than small letters, where a typeface has them; in others the label is set as it is written.
/// Either way each glyph says the letters of the text, as they are written.
#[test]
fn small_capitals_are_set_where_there_are_some_and_say_what_is_written() {
    let mut having = 0;
    for family in &built_in::FAMILIES {
        let fonts = set_in(family, None);
        let has = has_small_capitals(&fonts.file(Role::Label).bytes);
        having += usize::from(has);
        for text in ["amber", "zone", "quaffing", "Straße", "Äpfel im Korb", "12 eggs"] {
            let (plain, small) = (ids(&fonts, Role::Label, text), ids(&fonts, Role::SmallCapitals, text));
            let name = family.name;
            assert!(has == (plain != small) || name == "Patrick Hand", "{name}: {text}");
            let glyphs = fonts.shape(Role::SmallCapitals, text);
            assert!(glyphs.iter().all(|glyph| glyph.id != 0), "{name}: {text}");
            let mut said = String::new();
            let mut seen = BTreeSet::new();
            for glyph in glyphs.iter().filter(|glyph| seen.insert(glyph.cluster.start)) {
                said.push_str(&glyph.says(text));
            }
            assert_eq!(said, text, "{name}");
        }
        // Capitals and figures are as they are anyway.
        for text in WITHOUT_WORDS {
            assert_eq!(ids(&fonts, Role::Label, text), ids(&fonts, Role::SmallCapitals, text), "{}", family.name);
        }
    }
    assert!(having >= 4, "{having}");
}

/// How far the last glyph of a text reaches below the line, in em.
fn depth(fonts: &Fonts, role: Role, text: &str) -> f64 {
    let glyphs = fonts.shape(role, text);
    let bounds = fonts.outline(glyphs.last().unwrap(), 1.0).bounds();
    bounds.bottom()
}

#[test]
fn figures_among_words_are_those_that_are_asked_for_where_the_typeface_has_them() {
    let mut both = 0;
    for family in &built_in::FAMILIES {
        let [plain, lining, oldstyle] =
            [None, Some(Figures::Lining), Some(Figures::Oldstyle)].map(|figures| set_in(family, figures));
        let bytes = &plain.file(Role::Label).bytes;
        let has = [Figures::Lining, Figures::Oldstyle].map(|figures| has_figures(bytes, figures));
        assert!(has.contains(&true), "{}", family.name);
        both += usize::from(has == [true, true]);
        for role in [Role::Heading, Role::Label, Role::SmallCapitals] {
            // Labels in small capitals may have figures of their own.
            let small = role == Role::SmallCapitals;
            if has[0] {
                assert!(depth(&lining, role, "Week 47") < 0.06, "{} {role:?}", family.name);
            }
            if has[1] && !small {
                assert!(depth(&oldstyle, role, "Week 47") > 0.06, "{} {role:?}", family.name);
            }
            // Those of tables and calendars are the same as ever.
            for text in WITHOUT_WORDS {
                let usual = ids(&plain, role, text);
                assert_eq!(ids(&lining, role, text), usual, "{} {role:?} {text}", family.name);
                assert_eq!(ids(&oldstyle, role, text), usual, "{} {role:?} {text}", family.name);
            }
        }
        // What cannot be had changes nothing.
        for (fonts, has) in [(&lining, has[0]), (&oldstyle, has[1])] {
            assert!(has || ids(fonts, Role::Heading, "Week 47") == ids(&plain, Role::Heading, "Week 47"));
        }
    }
    assert!(both >= 8, "{both}");
}
