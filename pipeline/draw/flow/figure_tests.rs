//! Pictures of pages: beside their steps or above them, never over a word, never away from their heading.
#![allow(clippy::unwrap_used)]

use super::tests::{FONTS, frames, ink, runs, style};
use super::*;
use base::model::{Role, TextRun};
use proptest::prelude::*;

const PAGES: [Size; 5] = [
    Size::new(680.0, 510.0),
    Size::new(420.0, 595.0),
    Size::new(255.0, 553.0),
    Size::new(298.0, 420.0),
    Size::new(842.0, 595.0),
];

/// Sets a text with pictures called `page:0`, `page:1` … of pages of this size. Their sizes in points are those of the page.
fn set(markdown: &str, count: usize, page: Size, text: f64) -> Vec<FlowPage> {
    let style = style();
    let figure = |i: usize| {
        let part = FlowPart { form: i, at: Point::default(), scale: 1.0 };
        (format!("page:{i}"), FlowFigure { size: page, least: page.w * 0.22, parts: vec![part] })
    };
    let context = FlowContext {
        frames: frames(page),
        fonts: &FONTS,
        style: &style,
        size: text,
        even: true,
        digits: base::model::words::DIGITS,
        right_to_left: false,
        figures: (0..count).map(figure).collect(),
        known_figures: Vec::new(),
        picture_share: 1.0,
    };
    layout(markdown, &BTreeMap::new(), &context).unwrap()
}

/// Pictures of a page: their numbers and where they are.
fn pictures(on: &FlowPage, page: Size) -> Vec<(usize, Rect)> {
    let placed = |shape: &Shape| match shape {
        Shape::Form { form, at, scale } => Some((*form, Rect::new(at.x, at.y, page.w * scale, page.h * scale))),
        _ => None,
    };
    on.drawing.shapes.iter().filter_map(placed).collect()
}

/// A section: a heading with a word of its own, a picture, perhaps a paragraph, steps of so many words.
fn section(number: usize, (paragraph, steps): &(usize, Vec<usize>)) -> String {
    let words = |n: usize| (0..n).map(|i| ["tap", "the", "coloured", "edge"][i % 4]).collect::<Vec<_>>().join(" ");
    let steps: Vec<String> =
        steps.iter().enumerate().map(|(i, n)| format!("{}. s{number}x{i} {}", i + 1, words(*n))).collect();
    let paragraph = if *paragraph > 0 { format!("{}\n\n", words(*paragraph)) } else { String::new() };
    format!("## Heading{number}\n\n![](page:{number})\n\n{paragraph}{}\n\n", steps.join("\n"))
}

/// The column in which something lies: page and frame.
fn column_of(pages: &[FlowPage], page: Size, is: impl Fn(&TextRun) -> bool) -> Option<(usize, usize)> {
    pages.iter().enumerate().find_map(|(n, on)| {
        let run = runs(on).into_iter().find(|run| is(run))?;
        Some((n, frame_of(page, run.at)))
    })
}

fn frame_of(page: Size, at: Point) -> usize {
    frames(page).iter().position(|f| f.contains(Rect::new(at.x, at.y, 0.0, 0.0), 0.5)).unwrap()
}

fn check(sections: &[(usize, Vec<usize>)], page: Size, text: f64) -> Result<(), TestCaseError> {
    let markdown: String = sections.iter().enumerate().map(|(i, s)| section(i, s)).collect();
    let pages = set(&markdown, sections.len(), page, text);
    let mut seen = Vec::new();
    for (n, on) in pages.iter().enumerate() {
        for (form, at) in pictures(on, page) {
            seen.push(form);
            prop_assert!(frames(page).iter().any(|f| f.contains(at, 0.3)), "{at:?} leaves its column");
            prop_assert!(at.w > page.w * 0.15, "{at:?} is too small to see anything");
            for run in runs(on) {
                prop_assert!(!at.overlaps(ink(run).inset(0.05)), "“{}” lies on a picture", run.text);
            }
            // Heading, picture and the first two steps are in one column.
            let own = Some((n, frame_of(page, Point::new(at.x, at.y))));
            let heading = format!("Heading{form}");
            prop_assert_eq!(column_of(&pages, page, |run| run.text.trim() == heading), own);
            for step in 0..sections[form].1.len().min(2) {
                let name = format!("s{form}x{step}");
                prop_assert_eq!(column_of(&pages, page, |run| run.text.split(' ').any(|w| w == name)), own, "{}", name);
            }
        }
        // No column ends with a heading.
        for frame in frames(page) {
            let inside = |run: &&TextRun| frame.contains(Rect::new(run.at.x, run.at.y, 0.0, 0.0), 0.5);
            let last = runs(on).into_iter().filter(inside).max_by(|a, b| a.at.y.total_cmp(&b.at.y));
            let numeral = |run: &TextRun| run.text.chars().all(|c| c.is_ascii_digit());
            prop_assert!(last.is_none_or(|run| run.role != Role::Heading || numeral(run)), "{:?}", last);
        }
    }
    seen.sort_unstable();
    prop_assert_eq!(seen, (0..sections.len()).collect::<Vec<_>>());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn pictures_keep_to_their_steps(
        sections in proptest::collection::vec((0usize..30, proptest::collection::vec(1usize..24, 2..5)), 1..7),
        page in 0usize..PAGES.len(),
    ) {
        let page = PAGES[page];
        check(&sections, page, page.w.min(page.h) / 54.0)?;
    }
}

#[test]
fn steps_stand_beside_a_picture_where_there_is_room_and_below_it_elsewhere() {
    let markdown = section(0, &(12, vec![9, 14, 9]));
    for (page, beside) in PAGES.into_iter().zip([false, true, true, true, false]) {
        let pages = set(&markdown, 1, page, page.w.min(page.h) / 54.0);
        let (_, at) = pictures(&pages[0], page)[0];
        let step = runs(&pages[0]).into_iter().find(|run| run.text.contains("s0x0")).unwrap();
        assert_eq!(step.at.x < at.x && step.at.y < at.bottom(), beside, "{page:?} {at:?} {step:?}");
        assert_eq!(step.at.y > at.bottom(), !beside);
        if beside {
            // The picture ends where the column does, and its upper edge is as high as the capitals beside it.
            assert!((at.right() - frames(page)[0].right()).abs() < 0.01);
            let first = runs(&pages[0]).into_iter().filter(|run| run.role == Role::Label).map(|run| ink(run).y);
            assert!((first.fold(f64::INFINITY, f64::min) - at.y).abs() < 0.1);
        }
    }
}
