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
    set_with(markdown, count, page, text, &BTreeMap::new())
}

/// The same with pictures of other kinds.
fn set_with(
    markdown: &str,
    count: usize,
    page: Size,
    text: f64,
    others: &BTreeMap<String, Arc<Picture>>,
) -> Vec<FlowPage> {
    let style = style();
    layout(markdown, others, &context(&style, count, page, text)).unwrap()
}

/// What such a text is set on.
fn context(style: &Style, count: usize, page: Size, text: f64) -> FlowContext<'_> {
    let figure = |i: usize| {
        let part = FlowPart { form: i, at: Point::default(), scale: 1.0 };
        (format!("page:{i}"), FlowFigure { size: page, least: page.w * 0.22, enlarged: 1.0, parts: vec![part] })
    };
    FlowContext {
        frames: frames(page),
        fonts: &FONTS,
        style,
        size: text,
        even: true,
        digits: base::model::words::DIGITS,
        right_to_left: false,
        figures: (0..count).map(figure).collect(),
        known_figures: Vec::new(),
        picture_share: 1.0,
        most_pages: None,
    }
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
        // Those of a page are of one size, also where it has room for larger ones.
        let shown = pictures(on, page);
        prop_assert!(shown.windows(2).all(|two| (two[0].1.w - two[1].1.w).abs() < 0.01), "{shown:?}");
        for (form, at) in shown {
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

/// On a phone the text keeps three fifths of the width.
#[test]
fn steps_stand_beside_a_picture_on_a_phone_too() {
    let (page, text) = (Size::new(240.0, 480.0), 7.0);
    let pages = set(&section(0, &(12, vec![9, 14, 9])), 1, page, text);
    let (_, at) = pictures(&pages[0], page)[0];
    let frame = frames(page)[0];
    assert!(at.x - frame.x >= 0.6 * frame.w && (at.right() - frame.right()).abs() < 0.01, "{at:?}");
    let step = runs(&pages[0]).into_iter().find(|run| run.text.contains("s0x0")).unwrap();
    assert!(step.at.x < at.x && step.at.y < at.bottom(), "{at:?} {step:?}");
}

/// A picture that stands by itself begins where its heading and its text do, and fills most of a narrow column.
#[test]
fn a_picture_by_itself_begins_where_the_text_does() {
    let markdown = "## Covers\n\n![](page:0)\n\n## Stickers\n\nTap the coloured edge.";
    for (page, text) in
        PAGES.map(|page| (page, page.w.min(page.h) / 54.0)).into_iter().chain([(Size::new(240.0, 480.0), 7.0)])
    {
        let pages = set(markdown, 1, page, text);
        let (on, at) = pages.iter().find_map(|on| Some((on, *pictures(on, page).first()?))).unwrap();
        let frame = frames(page)[frame_of(page, Point::new(at.1.x, at.1.y))];
        assert!((at.1.x - frame.x).abs() < 0.01, "{page:?} {at:?}");
        assert!(runs(on).into_iter().all(|run| !at.1.overlaps(ink(run).inset(0.05))));
        assert!(page.w > 240.0 || at.1.w >= 0.69 * frame.w, "{page:?} {at:?}");
    }
}

/// Where a page has several columns, it costs more to end one within a short list than to leave a third of it empty; the items of a long
/// one may part.
#[test]
fn a_short_list_rather_goes_on_to_the_next_column() {
    let style = style();
    for (page, columns) in [(Size::new(680.0, 510.0), 2), (Size::new(420.0, 595.0), 1)] {
        let context = context(&style, 1, page, 9.0);
        assert_eq!(context.frames.len(), columns);
        for count in 2..10 {
            let items = "- tap the coloured edge of the page and hold it\n".repeat(count);
            let blocks = parse::blocks(&format!("## Trouble\n\n{items}\n\nwords")).unwrap();
            let (pictures, kept) = (BTreeMap::new(), rows::Kept::default());
            let frame = context.frames[0];
            let rows = Composer::new(&context, &pictures, frame, &kept).compose(&blocks).unwrap();
            let (_, list) = rows.split_last().unwrap();
            let dear = list[1..].iter().all(|row| row.break_cost.is_none_or(|cost| cost > 12.0));
            assert_eq!(dear, columns > 1 && count <= 6 || count == 2, "{count} in {columns}");
        }
    }
}

/// A guide as the tool writes them: a table of files, chapters with a picture of a page each, stickers with their names on so many
/// pictures, what to do in trouble. Gives how many pictures of pages it has.
fn guide(files: usize, chapters: usize, contact: usize) -> (String, usize) {
    let words = |n: usize| "tap the coloured edge of the page and ".chars().cycle().take(n).collect::<String>();
    let steps = |all: &[usize]| {
        let step = |(i, n): (usize, &usize)| format!("{}. {}", i + 1, words(*n));
        all.iter().enumerate().map(step).collect::<Vec<_>>().join("\n")
    };
    let list = |all: &[usize]| all.iter().map(|n| format!("- {}", words(*n))).collect::<Vec<_>>().join("\n");
    let files: String = (0..files).map(|i| format!("| file{i}.pdf | {} |\n", words(45 + i * 9))).collect();
    let mut text = vec![
        format!("# Guide\n\n{}\n\n## What you have\n\n| File | What it is |\n| --- | --- |\n{files}", words(180)),
        format!("## Unpack the files\n\n{}", steps(&[90, 120, 100])),
    ];
    let shown = [vec![140, 120, 110], vec![120, 200, 110], vec![110, 100, 90], vec![130, 110, 140, 120]];
    for (i, all) in shown.iter().cycle().take(chapters).enumerate() {
        let said = if i % 2 == 1 { format!("{}\n\n", words(60 + i * 50)) } else { String::new() };
        text.push(format!("## Chapter {i}\n\n![](page:{i})\n\n{said}{}", steps(all)));
    }
    if contact > 0 {
        let stickers = format!("## Place stickers\n\n![](page:{chapters})\n\n{}", words(110));
        text.push(format!("{stickers}\n\n{}\n\n### All stickers by name", list(&[130, 110, 150])));
        text.extend((0..contact).map(|i| format!("![](all-{i}.png)")));
    }
    text.push(format!("## If something goes wrong\n\n{}\n\n{}", list(&[150, 170, 130, 120, 140]), words(90)));
    (text.join("\n\n"), chapters + usize::from(contact > 0))
}

/// How far each page is filled, as a share: the mean of its columns.
fn fills(pages: &[FlowPage], page: Size) -> Vec<f64> {
    let columns = frames(page);
    let lowest = |on: &FlowPage, frame: &Rect| {
        let inside = |r: &Rect| frame.contains(Rect::new(r.x, r.y, 0.0, 0.0), 0.5);
        let words = runs(on).into_iter().map(ink);
        let shown = pictures(on, page).into_iter().map(|(_, at)| at);
        let others = on.drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Picture { at, .. } => Some(*at),
            _ => None,
        });
        let all = words.chain(shown).chain(others).filter(inside);
        (all.map(|r| r.bottom()).fold(frame.y, f64::max) - frame.y) / frame.h
    };
    let mean = |on: &FlowPage| columns.iter().map(|frame| lowest(on, frame)).sum::<f64>() / columns.len() as f64;
    pages.iter().map(mean).collect()
}

/// Whatever the size of the text, no page of a guide is left rather empty, and none ends with a few lines.
#[test]
fn pages_of_guides_are_filled() {
    let sizes = [Size::new(595.0, 842.0), Size::new(420.0, 595.0), Size::new(510.0, 680.0), Size::new(680.0, 510.0)];
    for page in sizes {
        let (wide, mut well, mut all) = (page.is_landscape(), 0, 0);
        for text in [0.9, 1.0, 1.1].map(|by| page.w.min(page.h) / 54.0 * by) {
            // Files, chapters, pictures of stickers.
            let kinds = [(6, 5, 0), (6, 5, 1), (9, 6, 3), (9, 6, 1), (4, 4, 6), (4, 4, 1)];
            for (files, chapters, contact) in kinds {
                let (markdown, count) = guide(files, chapters, contact);
                // Two rows of five stickers with their names.
                let picture = |i: usize| {
                    let name = format!("all-{i}.png");
                    let picture = Picture { name: name.clone(), width: 1400, height: 700, rgba: Vec::new().into() };
                    (name, Arc::new(picture))
                };
                let pages = set_with(&markdown, count, page, text, &(0..contact).map(picture).collect());
                let fills = fills(&pages, page);
                let (last, before) = fills.split_last().unwrap();
                let least = before.iter().copied().fold(1.0, f64::min);
                let floor = if wide { (0.48, 0.08) } else { (0.55, 0.2) };
                assert!(least >= floor.0 && (before.is_empty() || *last >= floor.1), "{page:?} {text}: {fills:?}");
                all += 1;
                well += usize::from(least >= 0.64);
            }
        }
        assert!(well * 3 >= all * 2, "{page:?}: only {well} of {all} guides are filled well");
    }
}
