//! Places where lines end, against the cases of the Unicode Character Database and the habits of several scripts.

#![allow(clippy::unwrap_used)]

use super::*;
use crate::Fonts;
use crate::text::Setting;
use base::model::product::FontFile;
use base::model::{Rgb, Role};
use std::collections::BTreeMap;
use std::sync::LazyLock;

static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let font =
        FontFile { from: "Noto Sans".into(), bytes: notosans::REGULAR_TTF.into(), built_in: true, figures: None };
    Fonts::open(&Role::ALL.into_iter().map(|role| (role, vec![font.clone()])).collect::<BTreeMap<_, _>>()).unwrap()
});

/// A sample of LineBreakTest.txt: characters with ÷ and × between them.
const CASES: &str = include_str!("../../../tests/fixtures/unicode/LineBreakTest.txt");

/// The text of each case and the places where a line may end.
fn cases() -> Vec<(String, Vec<usize>)> {
    let case = |line: &str| {
        let (mut text, mut ends) = (String::new(), Vec::new());
        for field in line.split_whitespace() {
            match field {
                "÷" => ends.push(text.len()),
                "×" => {}
                code => text.push(char::from_u32(u32::from_str_radix(code, 16).unwrap()).unwrap()),
            }
        }
        (text, ends)
    };
    CASES.lines().filter(|l| !l.starts_with('#')).map(case).collect()
}

fn set() -> Setting {
    Setting::new(Role::Label, 10.0, Rgb::new(0, 0, 0))
}

#[test]
fn lines_end_where_the_algorithm_allows_it() {
    let cases = cases();
    assert!(cases.len() > 900, "{} cases", cases.len());
    for (text, wanted) in cases {
        assert_eq!(ends(&text), wanted, "{text:?}");
    }
}

/// Wrapped as narrowly as can be, no line begins where the algorithm forbids it, and nothing but spaces is lost.
#[test]
fn no_wrapped_line_begins_where_none_may() {
    let ink = |text: &str| text.chars().filter(|c| !is_space(*c) && *c != SOFT_HYPHEN).collect::<String>();
    for (text, allowed) in cases() {
        let lines = set().wrap(&FONTS, &text, 0.0);
        let mut rest = text.as_str();
        for line in &lines {
            rest = rest.trim_start_matches(is_space);
            let at = text.len() - rest.len();
            // Spaces at the beginning of a text are no line.
            let first = text[..at].chars().all(is_space);
            assert!(first || allowed.contains(&at), "{text:?}: {line:?} begins at {at}, not at {allowed:?}");
            let mut left = ink(line).chars().count() - usize::from(line.ends_with('-') && !text.contains('-'));
            while left > 0 || rest.starts_with(SOFT_HYPHEN) {
                let c = rest.chars().next().unwrap();
                left -= usize::from(!is_space(c) && c != SOFT_HYPHEN);
                rest = &rest[c.len_utf8()..];
            }
        }
        assert_eq!(ink(rest), "", "{text:?}");
    }
}

fn texts(text: &str) -> Vec<(&str, bool)> {
    pieces(text).into_iter().map(|p| (p.text, p.inside)).collect()
}

#[test]
fn a_mark_stays_with_what_it_belongs_to() {
    // French, with no-break spaces and with plain ones.
    assert_eq!(
        texts("Notes\u{a0}: le «\u{202f}jour\u{202f}»"),
        [("Notes\u{a0}:", false), ("le", false), ("«\u{202f}jour\u{202f}»", false)]
    );
    assert_eq!(texts("Prêt ! Oui"), [("Prêt !", false), ("Oui", false)]);
    assert_eq!(texts("320\u{a0}kB, to-do"), [("320\u{a0}kB,", false), ("to-", false), ("do", true)]);
}

/// JIS X 4051: no line begins with a closing bracket, a comma, a full stop, a small kana or a long-vowel mark, and none ends
/// with an opening bracket.
#[test]
fn japanese_breaks_between_characters_but_not_before_these() {
    let text = "三月十四日、日曜日。「ページ」を（開く）ちょっとメモ・A5サイズ";
    let whole: String = pieces(text).iter().map(|p| p.text).collect();
    assert_eq!(whole, text);
    assert!(pieces(text).len() > 15);
    for piece in pieces(text) {
        let (first, last) = (piece.text.chars().next().unwrap(), piece.text.chars().next_back().unwrap());
        assert!(!"、。」）ゃゅょっッー・".contains(first), "{piece:?}");
        assert!(!"「（".contains(last), "{piece:?}");
        assert!(!piece.inside, "{piece:?}");
    }
    assert!(texts(text).contains(&("A5", false)), "{:?}", texts(text));
}

#[test]
fn a_word_is_broken_inside_only_where_it_is_wider_than_the_line() {
    let wrap = |text: &str, width: f64| set().wrap(&FONTS, text, width);
    let wide = |text: &str| set().width(&FONTS, text);
    assert_eq!(wrap("My to-do list", wide("My to-")), ["My", "to-do", "list"]);
    assert_eq!(wrap("Wochen-Übersicht", wide("Übersicht") + 1.0), ["Wochen-", "Übersicht"]);
    assert_eq!(wrap("Gewohn\u{ad}heits\u{ad}buch", wide("Gewohnheits-") + 0.1), ["Gewohnheits-", "buch"]);
    assert_eq!(wrap("Gewohn\u{ad}heits\u{ad}buch", wide("Gewohnheitsbuch") + 0.1), ["Gewohnheitsbuch"]);
    assert_eq!(set().wrap_to(&FONTS, "Wochen-Übersicht am Montag", 1.0, 2), ["Wochen-", "Übersicht am Montag"]);
}
