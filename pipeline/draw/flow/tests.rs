//! Running text: every word once and in order, nothing outside its column or on top of something else, all on one grid.
#![allow(clippy::unwrap_used)]

use super::lines::{Line, Run, TextStyle};
use super::*;
use base::model::product::FontFile;
use base::model::{Mm, Role, Size, TextRun};
use proptest::prelude::*;
use std::sync::LazyLock;

pub(super) static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let file = |name: &str, bytes: &[u8]| {
        vec![FontFile { from: name.into(), bytes: bytes.into(), built_in: true, figures: None }]
    };
    Fonts::open(&BTreeMap::from([
        (Role::Heading, file("Noto Sans Bold", notosans::BOLD_TTF)),
        (Role::HeadingItalic, file("Noto Sans Bold Italic", notosans::BOLD_ITALIC_TTF)),
        (Role::Label, file("Noto Sans", notosans::REGULAR_TTF)),
        (Role::LabelBold, file("Noto Sans Bold", notosans::BOLD_TTF)),
        (Role::LabelItalic, file("Noto Sans Italic", notosans::ITALIC_TTF)),
    ]))
    .unwrap()
});

pub(super) fn style() -> Style {
    Style {
        fonts: BTreeMap::new(),
        ink: Rgb::new(50, 50, 50),
        rule: Rgb::new(200, 200, 200),
        paper: Rgb::WHITE,
        desk: Rgb::WHITE,
        accent: Rgb::new(190, 90, 40),
        corner: Mm(2.0),
        manner: Default::default(),
    }
}

pub(super) fn frames(size: Size) -> Vec<Rect> {
    let inner = Rect::page(size).inset(30.0);
    if size.is_landscape() { inner.columns(2, 40.0) } else { vec![inner] }
}

fn set_on(markdown: &str, size: Size, text: f64) -> Result<Vec<FlowPage>, Vec<Fault>> {
    set_with(markdown, size, text, false)
}

fn set_with(markdown: &str, size: Size, text: f64, even: bool) -> Result<Vec<FlowPage>, Vec<Fault>> {
    let picture = Picture { name: "leaf.png".into(), width: 400, height: 300, rgba: Vec::new().into() };
    let pictures = BTreeMap::from([("leaf.png".to_owned(), Arc::new(picture))]);
    let style = style();
    layout(
        markdown,
        &pictures,
        &FlowContext {
            frames: frames(size),
            fonts: &FONTS,
            style: &style,
            size: text,
            even,
            digits: base::model::words::DIGITS,
            right_to_left: false,
            figures: BTreeMap::new(),
            known_figures: Vec::new(),
            picture_share: 1.0,
            most_pages: None,
        },
    )
}

const LANDSCAPE: Size = Size::new(800.0, 600.0);

pub(super) fn runs(page: &FlowPage) -> Vec<&TextRun> {
    page.drawing.shapes.iter().filter_map(|s| if let Shape::Text(run) = s { Some(run) } else { None }).collect()
}

fn words(pages: &[FlowPage]) -> Vec<String> {
    // Joined as drawn: a run without a space at its end goes on in the next one of the same line.
    let mut text = String::new();
    let mut last: Option<(f64, f64)> = None;
    for run in pages.iter().flat_map(runs) {
        if last.is_none_or(|(x, y)| (y - run.at.y).abs() > 0.01 || (run.at.x - x).abs() > 4.1) {
            text.push(' ');
        }
        text.push_str(&run.text);
        last = Some((run.at.x + FONTS.width(run.role, &run.text, run.size, 0.0), run.at.y));
    }
    text.split_whitespace().map(str::to_owned).collect()
}

/// Where a run's ink may lie: from its tallest letters to its deepest.
pub(super) fn ink(run: &TextRun) -> Rect {
    let m = FONTS.metrics(run.role);
    let width = FONTS.width(run.role, run.text.trim_end(), run.size, 0.0);
    // Figures stand on the baseline.
    let below = if run.text.chars().all(|c| c.is_ascii_digit()) { 0.02 } else { 0.2 };
    Rect::new(run.at.x, run.at.y - run.size * m.cap, width, run.size * (m.cap + below))
}

/// The box of a shape.
pub(super) fn extent(shape: &Shape) -> Rect {
    let around = |points: Vec<Point>| {
        let x = points.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let y = points.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let right = points.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
        let bottom = points.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        Rect::new(x, y, right - x, bottom - y)
    };
    match shape {
        Shape::Text(run) | Shape::GradedText { run, .. } => ink(run),
        Shape::Picture { at, .. } => *at,
        Shape::Art { clip, .. } => *clip,
        Shape::Dots { at, .. } => around(at.clone()),
        Shape::Form { at, .. } => around(vec![*at]),
        Shape::Path { path, .. } | Shape::Graded { path, .. } | Shape::Tiled { path, .. } => path.bounds(),
    }
}

fn check_geometry(pages: &[FlowPage], size: Size, text: f64) {
    let frames = frames(size);
    // Every baseline of all pages stands on one grid of half lines that begins at the top of the columns: that of the asked
    // size, or of the smaller one that spares a last page of a few lines.
    let on_grid = |text: f64| {
        let half = text * rows::LEADING / 2.0;
        let drop = half - FONTS.metrics(Role::Label).cap * text / 2.0;
        let steps = pages.iter().flat_map(|page| runs(page)).map(|run| (run.at.y + drop - frames[0].y) / half);
        steps.map(|steps| (steps - steps.round()).abs()).fold(0.0, f64::max) < 1e-3
    };
    let sizes = [1.0].into_iter().chain(super::SMALLER).map(|share| text * share);
    assert!(sizes.into_iter().any(on_grid), "baselines are off the grid");
    for page in pages {
        for shape in &page.drawing.shapes {
            let r = extent(shape);
            assert!(frames.iter().any(|f| f.contains(r, 0.3)), "{shape:?} at {r:?} leaves its column");
        }
        for (i, (a, _)) in page.links.iter().enumerate() {
            assert!(frames.iter().any(|f| f.contains(*a, 0.3)));
            for (b, _) in &page.links[i + 1..] {
                assert!(!a.inset(0.01).overlaps(b.inset(0.01)), "two links lie on each other");
            }
        }
        let runs = runs(page);
        for (i, a) in runs.iter().enumerate() {
            for b in &runs[i + 1..] {
                assert!(!ink(a).inset(0.05).overlaps(ink(b).inset(0.05)), "“{}” lies on “{}”", a.text, b.text);
            }
        }
    }
}

const SAMPLE: &str = r#"# A title

First paragraph with **bold**, *italic*, `file.pdf` and a [link](https://fernlea.example), then some more words to
make it wrap over several lines of the column, as paragraphs do.

## Steps

1. **One.** Short.
2. Two, which is long enough to need a second and perhaps a third line in its column.

   A second paragraph.
3. Three

- bullet
  - nested
    1. deep

> Somebody said this.
>
> And that.

| Name | Number |
| --- | ---: |
| left | 12 |
| longer cell | 1,234 |

![a leaf](leaf.png "The caption")

---

Write to <hello@fernlea.example>.
"#;

#[test]
fn all_of_it() {
    let pages = set_on(SAMPLE, LANDSCAPE, 10.0).unwrap();
    check_geometry(&pages, LANDSCAPE, 10.0);
    let addresses: Vec<&str> = pages.iter().flat_map(|p| &p.links).map(|(_, a)| a.as_str()).collect();
    assert_eq!(addresses, ["https://fernlea.example", "mailto:hello@fernlea.example"]);
    assert_eq!(pages.iter().flat_map(|p| &p.drawing.shapes).filter(|s| matches!(s, Shape::Picture { .. })).count(), 1);
    let words = words(&pages).join(" ");
    for part in [
        "with bold, italic, file.pdf and a link, then",
        "Name Number left 12 longer cell 1,234",
        "The caption",
        "hello@fernlea.example.",
    ] {
        assert!(words.contains(part), "{part}\n{words}");
    }
}

#[test]
fn text_style() {
    let page = &set_on("# Title\n\na **b** *c* ***d***\n\n> e *f*\n\n# *g*", LANDSCAPE, 10.0).unwrap()[0];
    let roles: Vec<(String, Role)> = runs(page).iter().map(|r| (r.text.trim().to_owned(), r.role)).collect();
    let wanted = [
        ("Title", Role::Heading),
        ("a", Role::Label),
        ("b", Role::LabelBold),
        ("c", Role::LabelItalic),
        ("d", Role::LabelBold),
        ("e", Role::LabelItalic),
        ("f", Role::Label),
        ("g", Role::HeadingItalic),
    ];
    assert_eq!(roles, wanted.map(|(t, r)| (t.to_owned(), r)));
}

/// Real quotes and dashes come out of typewriter ones.
#[test]
fn typewriter_marks() {
    let pages = set_on("\"a\" -- it's\n", LANDSCAPE, 10.0).unwrap();
    assert_eq!(words(&pages).join(" "), "“a” – it’s");
}

#[test]
fn what_cannot_be_set_is_said() {
    for (text, part) in [
        ("![x](gone.png)", "the picture “gone.png” is not there"),
        ("<b>bold</b>", "is HTML"),
        ("<div>\nx\n</div>", "is HTML"),
        ("[x](somewhere)", "leads to no address"),
        ("snowman \u{1F9C3}", "U+1F9C3"),
        (&"x".repeat(200), "is too long for a line"),
        (&format!("| a |\n| --- |\n| {} |", "word ".repeat(2_000)), "taller than the page"),
    ] {
        let faults = set_on(text, LANDSCAPE, 10.0).unwrap_err();
        assert!(faults.iter().any(|f| f.message.contains(part) && f.help.is_some()), "{part}: {faults:?}");
    }
    assert!(set_on("x", Size::new(70.0, 600.0), 10.0).unwrap_err()[0].message.contains("no room"));
    // All at once, not one a run.
    assert_eq!(set_on("<b>x</b>\n\n[x](y)", LANDSCAPE, 10.0).unwrap_err().len(), 3);
    assert!(set_on("<!-- a note to myself -->\n\nx", LANDSCAPE, 10.0).is_ok());
}

#[test]
fn long_addresses_are_cut_at_their_marks() {
    let address = format!("https://fernlea.example/{}", "path/".repeat(40));
    let pages = set_on(&format!("<{address}>"), LANDSCAPE, 10.0).unwrap();
    let drawn: String = pages.iter().flat_map(runs).map(|r| r.text.as_str()).collect();
    assert_eq!(drawn, address);
    assert!(pages[0].links.iter().all(|(_, a)| *a == address) && pages[0].links.len() > 2);
}

#[test]
fn measure_is_comfortable() {
    let text = "the quick brown fox jumps over a lazy dog ".repeat(30);
    // A column that is far too wide for reading.
    let pages = set_on(&text, Size::new(1_400.0, 1_500.0), 10.0).unwrap();
    let longest = runs(&pages[0]).iter().map(|r| r.text.trim().chars().count()).max().unwrap();
    assert!((58..=78).contains(&longest), "{longest}");
}

#[test]
fn a_table_repeats_its_head() {
    let rows: String = (0..60).map(|i| format!("| row {i} | x |\n")).collect();
    let pages = set_on(&format!("| Head | Other |\n| --- | --- |\n{rows}"), LANDSCAPE, 10.0).unwrap();
    let heads = pages.iter().flat_map(runs).filter(|r| r.text == "Head").count();
    let columns = heads;
    assert!(columns > 1);
    check_geometry(&pages, LANDSCAPE, 10.0);
    let last = format!("row {}", 59);
    assert_eq!(pages.iter().flat_map(runs).filter(|r| r.text == last).count(), 1);
}

#[test]
fn a_narrow_table_has_its_second_cells_below_the_first() {
    let (page, size) = (Size::new(200.0, 480.0), 7.0);
    let names = ["tarn-and-tide-phone-notebook.pdf", "tarn-and-tide-sticker-sheet.pdf", "stickers/"];
    let said = ["the notebook, 54 pages", "all stickers on one page", "3 stickers, a transparent PNG each"];
    let body: String = names.into_iter().zip(said).map(|(name, what)| format!("| `{name}` | {what} |\n")).collect();
    let text = format!("| File | What it is |\n| --- | --- |\n{body}");
    let pages = set_on(&text, page, size).unwrap();
    check_geometry(&pages, page, size);
    let runs = runs(&pages[0]);
    let at =
        |text: &str| runs.iter().find(|run| run.text == text).unwrap_or_else(|| panic!("{text} among {runs:?}")).at;
    for (name, what) in names.into_iter().zip(said) {
        let (first, second) = (at(name), at(what));
        assert!(second.x > first.x, "{what}");
        assert!((second.y - first.y - size * rows::LEADING).abs() < 0.01, "{what}");
    }
    // Heads of columns would say nothing there.
    assert!(runs.iter().all(|run| run.text != "File" && run.text != "What it is"));
    // On a page with room the cells stand side by side.
    let pages = set_on(&text, LANDSCAPE, size).unwrap();
    let runs = self::runs(&pages[0]);
    // Where a cell takes two lines, by its first.
    let at = |text: &str| runs.iter().find(|run| text.starts_with(&run.text)).unwrap().at;
    for (name, what) in names.into_iter().zip(said) {
        assert!((at(name).y - at(what).y).abs() < 0.01 && at(name).x < at(what).x, "{what}");
    }
}

/// The columns of some pages: texts of the lines in each.
fn columns(pages: &[FlowPage], size: Size) -> Vec<Vec<(Role, String)>> {
    let mut out = Vec::new();
    for page in pages {
        for frame in frames(size) {
            let inside: Vec<(Role, String)> = runs(page)
                .into_iter()
                .filter(|r| frame.contains(Rect::new(r.at.x, r.at.y, 0.0, 0.0), 0.5))
                .map(|r| (r.role, r.text.clone()))
                .collect();
            if !inside.is_empty() {
                out.push(inside);
            }
        }
    }
    out
}

#[test]
fn no_heading_at_the_foot_and_no_lonely_line() {
    // Paragraphs of a growing number of lines, so that the foot of the columns falls everywhere.
    for words in 3..40 {
        let paragraph = (0..words).map(|i| format!("word{i}")).collect::<Vec<_>>().join(" ");
        let text = format!("## Heading\n\n{paragraph}\n\n").repeat(30);
        let pages = set_on(&text, LANDSCAPE, 10.0).unwrap();
        for column in columns(&pages, LANDSCAPE) {
            let (first, last) = (&column[0], &column[column.len() - 1]);
            assert_ne!(last.0, Role::Heading, "{words}");
            let lines = column.iter().filter(|c| c.0 == Role::Label).count();
            // A column that begins inside of a paragraph has at least two lines of it before the next heading.
            if first.0 == Role::Label {
                let run = column.iter().take_while(|c| c.0 == Role::Label).count();
                assert!(run >= 2, "{words}: {first:?}");
            }
            let tail = column.iter().rev().take_while(|c| c.0 == Role::Label).count();
            let ends = last.1.trim_end().ends_with(&format!("word{}", words - 1));
            assert!(ends || tail >= 2, "{words}: {last:?} of {lines}");
        }
    }
}

fn word() -> impl Strategy<Value = String> {
    "[a-z]{1,12}"
}

fn text() -> impl Strategy<Value = String> {
    proptest::collection::vec(word(), 1..60).prop_map(|w| w.join(" "))
}

/// A block of Markdown, and the words that it shows.
fn block() -> impl Strategy<Value = (String, Vec<String>)> {
    let split = |t: &str| t.split(' ').map(str::to_owned).collect::<Vec<_>>();
    prop_oneof![
        (1_usize..4, proptest::collection::vec(word(), 1..7))
            .prop_map(|(n, w)| (format!("{} {}", "#".repeat(n), w.join(" ")), w)),
        text().prop_map(move |t| (t.clone(), split(&t))),
        text().prop_map(move |t| (format!("> {t}"), split(&t))),
        proptest::collection::vec(text(), 1..6).prop_map(move |items| {
            let words = items.iter().flat_map(|t| split(t)).collect();
            (items.iter().map(|t| format!("- {t}\n")).collect(), words)
        }),
        proptest::collection::vec(text(), 1..6).prop_map(move |items| {
            // The first line's words stand before or after the numeral, whichever is drawn first: numbers are
            // taken out before comparing.
            let words = items.iter().flat_map(|t| split(t)).collect();
            (items.iter().enumerate().map(|(i, t)| format!("{}. {t}\n", i + 1)).collect(), words)
        }),
        proptest::collection::vec((word(), word()), 1..9).prop_map(|rows| {
            let mut words = vec!["one".to_owned(), "two".to_owned()];
            words.extend(rows.iter().flat_map(|(a, b)| [a.clone(), b.clone()]));
            let body: String = rows.iter().map(|(a, b)| format!("| {a} | {b} |\n")).collect();
            (format!("| one | two |\n| --- | --- |\n{body}"), words)
        }),
    ]
}

/// A heading that ends a text may stand at the foot of its column: with its letters, not with their upper halves.
#[test]
fn letters_of_a_last_heading_stay_in_its_column() {
    for tenths in 70..130 {
        let size = f64::from(tenths) / 10.0;
        for paragraphs in [1, 2, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30] {
            let text = "a\n\n".repeat(paragraphs) + "# gjpqy";
            for page in [Size::new(400.0, 800.0), LANDSCAPE] {
                check_geometry(&set_on(&text, page, size).unwrap(), page, size);
            }
        }
    }
}

/// Columns that are to be even end within three lines of each other on the last page, however
/// much text there is.
#[test]
fn columns_of_the_last_page_are_even() {
    for paragraphs in 1..120 {
        let text = "a\n\n".repeat(paragraphs);
        let pages = set_with(&text, LANDSCAPE, 10.0, true).unwrap();
        assert_eq!(words(&pages).len(), paragraphs);
        let frames = frames(LANDSCAPE);
        let last = runs(pages.last().unwrap());
        let foot = |left: bool| {
            let own = last.iter().filter(|run| (run.at.x < frames[0].right()) == left);
            own.map(|run| run.at.y).fold(frames[0].y, f64::max)
        };
        let line = 10.0 * rows::LEADING;
        // A page that is all but full has nothing to even out.
        if foot(true).min(foot(false)) > frames[0].y + 0.85 * frames[0].h {
            continue;
        }
        assert!((foot(true) - foot(false)).abs() < 3.0 * line, "{paragraphs}: {} and {}", foot(true), foot(false));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_word_once_and_in_order(blocks in proptest::collection::vec(block(), 1..12), portrait in any::<bool>(), even in any::<bool>(), size in 7.0_f64..13.0) {
        // A comment between the blocks keeps two lists apart.
        let markdown = blocks.iter().map(|b| b.0.as_str()).collect::<Vec<_>>().join("\n\n<!-- - -->\n\n");
        let wanted: Vec<String> = blocks.iter().flat_map(|b| b.1.clone()).collect();
        let page = if portrait { Size::new(400.0, 800.0) } else { LANDSCAPE };
        let pages = set_with(&markdown, page, size, even).unwrap();
        check_geometry(&pages, page, size);
        let mut drawn: Vec<String> = words(&pages).into_iter().filter(|w| w.parse::<u32>().is_err()).collect();
        // Heads of tables that were repeated at the head of a column.
        if drawn.len() != wanted.len() {
            let mut kept = Vec::new();
            let mut want = wanted.iter().peekable();
            for word in drawn {
                if want.peek() == Some(&&word) {
                    want.next();
                    kept.push(word);
                } else {
                    prop_assert!(word == "one" || word == "two", "{}", word);
                }
            }
            drawn = kept;
        }
        prop_assert_eq!(drawn, wanted);
        prop_assert_eq!(pages, set_with(&markdown, page, size, even).unwrap());
    }
}

/// A line in pieces, each set by itself, as the bidirectional algorithm has the whole of it (UAX 9, with the line running from right to left).
fn assert_order(pieces: &[String]) -> Result<(), TestCaseError> {
    use unicode_bidi::{BidiInfo, Level};
    let dress = TextStyle { role: Role::Label, size: 10.0, code: false, link: None };
    let run = |text: &String| Run { text: text.clone(), text_style: dress.clone(), x: 0.0, width: 0.0 };
    let line = Line { runs: pieces.iter().map(run).collect(), width: 0.0 };
    let mut placed = line.backwards(|text, _| text.chars().count() as f64);
    // Places count from the right.
    placed.sort_by(|a, b| b.x.total_cmp(&a.x));
    let visual = |text: &str, level: Option<Level>| {
        let info = BidiInfo::new(text, level);
        let lines = info.paragraphs.iter().map(|p| info.reorder_line(p, p.range.clone()).into_owned());
        lines.collect::<String>().replace([' ', '\u{200f}'], "")
    };
    let shown: String = placed.iter().map(|run| visual(&run.text, None)).collect();
    let whole = visual(&pieces.concat(), Some(Level::rtl()));
    prop_assert_eq!(shown, whole, "{:?}", pieces);
    Ok(())
}

#[test]
fn a_line_that_begins_with_the_other_script_keeps_the_order_of_the_whole() {
    for line in [
        "help@tarn.example.",
        "PDF \u{5d9}\u{5d5}\u{5d3}\u{5e2}\u{5ea} (zip)",
        "22 MB, \u{5d0}\u{5d1} 7",
        "(PDF) \u{5d0}.",
    ] {
        assert_order(&[line.to_owned()]).unwrap();
    }
}

proptest! {
    #[test]
    fn lines_from_right_to_left_keep_the_order_of_the_whole(
        pieces in prop::collection::vec("[a-c\u{5d0}-\u{5d2}\u{627}\u{628}0-9 ,.:()@-]{1,9}", 1..4)
    ) {
        assert_order(&pieces)?;
    }
}
