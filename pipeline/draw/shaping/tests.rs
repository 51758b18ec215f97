//! Lines of text against the cases of the Unicode Character Database.

#![allow(clippy::unwrap_used)]

use crate::{Fonts, built_in};
use base::model::Role;
use base::model::product::FontFile;
use std::collections::BTreeMap;
use std::sync::LazyLock;

static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let font = FontFile { from: "Noto Sans".into(), bytes: notosans::REGULAR_TTF.into(), built_in: true };
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
