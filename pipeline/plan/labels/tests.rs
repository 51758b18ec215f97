//! Labels of tabs on every size of page: never too small on a phone, never out of their tab, never cut without a word.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::frame::{Frame, MonthRoom};
use base::model::product::{Coil, Edge, Hand, PageSetup};
use base::model::{Mm, Size};
use draw::built_in;
use std::collections::BTreeMap;

/// Page sizes in mm: phones, A6, A5, a tablet both ways, A4.
const SIZES: [(f64, f64); 9] = [
    (70.0, 140.0),
    (75.0, 150.0),
    (75.0, 162.0),
    (90.0, 195.0),
    (105.0, 148.0),
    (148.0, 210.0),
    (180.0, 240.0),
    (240.0, 180.0),
    (210.0, 297.0),
];

const SHAPES: [TabShape; 6] =
    [TabShape::Rounded, TabShape::Square, TabShape::Arched, TabShape::Scalloped, TabShape::Slanted, TabShape::Ribbon];

/// Names: short, of two words, of one long word, of several words, alike in their first ones, of a script without spaces.
const NAMES: [&[&str]; 6] = [
    &["Beds", "Ideas", "Rope"],
    &["Seed tin", "Lent out", "Bread & butter", "To borrow"],
    &["Correspondence", "Ink", "Neighbourhood", "Tea", "Hats", "Ports"],
    &["What the weather did to the plot", "Week by week", "Shed and tools", "Beds"],
    &["Project for the spring", "Project for the autumn", "Rope", "Tides"],
    &["家計簿と予定", "読書", "旅の記録と写真"],
];

fn fonts(name: &str) -> Fonts {
    let family = built_in::family(name).unwrap();
    let files = Role::ALL.map(|role| (role, vec![built_in::font(family.face(role)).unwrap()]));
    Fonts::open(&BTreeMap::from(files)).unwrap()
}

fn page((w, h): (f64, f64), hand: Hand) -> PageSetup {
    PageSetup {
        size: Size::new(Mm(w).pt(), Mm(h).pt()),
        named: format!("{w} × {h} mm"),
        spread: w > 200.0,
        toolbar_edge: Edge::Top,
        toolbar: Mm(8.0),
        coil: if w > 200.0 { Coil::Middle } else { Coil::Top },
        hand,
        right_to_left: false,
    }
}

fn check(fonts: &Fonts, row: Row, names: &[String]) {
    let numbers: Vec<String> = (1..=names.len()).map(|n| n.to_string()).collect();
    let set = TabLabels::set(fonts, row, Some(names.to_vec()), numbers.clone());
    let tab = row.tabs[0];
    let (along, across) = if row.flat { (tab.w, tab.h) } else { (tab.h, tab.w) };
    let seen = tab::shown(across);
    let at = Setting::new(Role::LabelBold, set.size, Rgb::BLACK).tracked(0.02);
    let phone = is_phone(row.scale);
    if set.upright {
        assert!(set.long.is_some(), "{names:?} are numbers, and nobody is told");
        if phone {
            let wide = if row.flat { along } else { tab::depth_for_number(row.shape, seen, along) };
            let widest = |at: Setting| numbers.iter().map(|n| at.width(fonts, n)).fold(0.0, f64::max);
            let high = if row.flat { across } else { along };
            assert!(widest(at) <= wide + 1e-6 && set.size <= high, "{row:?}");
            let no_room = widest(at.sized(LEAST_TYPE)) > wide || high * 0.95 < LEAST_TYPE;
            assert!(set.size >= LEAST_TYPE - 1e-9 || no_room, "{} on {row:?}", set.size);
        }
        return;
    }
    let floor = if phone { LEAST_TYPE } else { LEAST_LABEL };
    assert!(set.size >= floor - 1e-9, "{} on {row:?}", set.size);
    for (i, (name, lines)) in names.iter().zip(&set.lines).enumerate() {
        for (k, line) in lines.iter().enumerate() {
            // The first of two lines is the outer one; in a row either may be.
            let side = if row.flat { 0.5 } else { 0.5 - k as f64 };
            let off = side * set.step + set.size * 0.35;
            let most = match lines.len() {
                1 => along * tab::room_for_label(row.shape),
                _ => tab::length_at(row.shape, seen, along, seen / 2.0 + off),
            };
            assert!(at.width(fonts, line) <= most + 1e-6, "“{line}” leaves its tab of {most} on {row:?}");
        }
        let deep = set.size + set.step * (lines.len() - 1) as f64;
        assert!(deep <= tab::depth_for_label(row.shape, seen, along) + 1e-6, "{lines:?} on {row:?}");
        assert!(set.step >= set.size * tab::LEAST_STEP - 1e-9, "{row:?}");
        let shown = lines.join(" ");
        let cut = set.cut.iter().any(|(index, whole, by)| *index == i && whole == name && *by > 0.0);
        assert!(shown == *name || lines.concat() == *name || cut, "“{name}” became {lines:?}, and nobody is told");
        if phone && cut && shown != numbers[i] {
            let kept = shown.strip_suffix('…').unwrap();
            let next = name.strip_prefix(kept).and_then(|rest| rest.chars().next()).unwrap();
            let apart = !next.is_alphanumeric() || draw::breaks::is_wide(next);
            assert!(apart, "“{name}” is cut within a word: “{shown}”");
            let twice = set.lines.iter().enumerate().filter(|(k, other)| *k != i && *other == lines).count();
            assert_eq!(twice, 0, "“{shown}” stands on two tabs");
        }
    }
    assert!(!(phone && row.series && !set.cut.is_empty()), "{names:?}");
}

fn row_of<'t>(frame: &Frame, tabs: &'t [Rect], shape: TabShape) -> Row<'t> {
    Row { tabs, scale: frame.scale, shape, flat: false, series: false }
}

/// So many names of a list, told apart by what stands at their end once they are used up.
fn named(list: &[&str], count: usize) -> Vec<String> {
    let name = |i: usize| match (list[i % list.len()], i / list.len()) {
        (name, 0) => name.to_owned(),
        (name, again) => format!("{name} {again}"),
    };
    (0..count).map(name).collect()
}

#[test]
fn labels_are_read_on_every_page() {
    let families = ["Noto Sans", "Work Sans", "Karla"].map(fonts);
    let months: [&[&str]; 2] = [
        &["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sept", "Oct", "Nov", "Dec"],
        &[
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ],
    ];
    for (n, size) in SIZES.into_iter().enumerate() {
        let fonts = &families[n % families.len()];
        let hand = if n % 2 == 0 { Hand::Right } else { Hand::Left };
        // Larger pages have more room: two shapes are enough of them.
        let shapes: Vec<TabShape> = SHAPES.into_iter().step_by(if size.0 > 110.0 { 5 } else { 1 }).collect();
        let page = page(size, hand);
        for shape in shapes {
            for count in [1, 4, 11, 24] {
                let plain = Frame::new(&page, Mm(2.0), count);
                let dated = MonthRoom { count: 12, edge: None };
                let full = Frame::with_rows(&page, Mm(2.0), count, dated, true);
                for frame in [&plain, &full] {
                    let flat = frame.row.is_some_and(|row| !row.months);
                    let inner = frame.tabs_within(count.min(8));
                    for list in NAMES {
                        check(fonts, Row { flat, ..row_of(frame, &frame.tabs, shape) }, &named(list, count));
                        if !inner.is_empty() {
                            check(fonts, Row { flat: true, ..row_of(frame, &inner, shape) }, &named(list, inner.len()));
                        }
                    }
                    for list in months.into_iter().filter(|_| !frame.months.is_empty()) {
                        let flat = frame.row.is_some_and(|row| row.months);
                        let row = Row { flat, series: true, ..row_of(frame, &frame.months, shape) };
                        check(fonts, row, &named(list, frame.months.len()));
                    }
                }
            }
        }
    }
}

#[test]
fn no_number_stands_among_names_where_all_are_whole_in_type_that_is_a_little_smaller() {
    let fonts = fonts("Noto Sans");
    let names = ["Beds", "Sowing", "Neighbours", "Water", "Tools", "Diary"].map(str::to_owned).to_vec();
    let numbers: Vec<String> = (1..=6).map(|n| n.to_string()).collect();
    let (mut whole, mut numbered) = (0, 0);
    for high in 50..140 {
        let tabs = vec![Rect::new(0.0, 0.0, Mm(7.0).pt(), Mm(f64::from(high) / 5.0).pt()); 6];
        let row = Row { tabs: &tabs, scale: 1.0, shape: TabShape::Rounded, flat: false, series: false };
        let set = TabLabels::set(&fonts, row, Some(names.clone()), numbers.clone());
        if set.upright {
            continue;
        }
        whole += usize::from(set.cut.is_empty());
        for (i, _, _) in set.cut.iter().filter(|(i, ..)| set.lines[*i] == [numbers[*i].clone()]) {
            numbered += 1;
            let smaller = Setting::new(Role::LabelBold, set.size * 0.81, Rgb::BLACK).tracked(0.02);
            assert!(smaller.width(&fonts, &names[*i]) > tabs[0].h - ENDS, "{} at {high}", names[*i]);
        }
    }
    // Both kinds of tabs were met.
    assert!(whole > 9 && numbered > 0, "{whole} {numbered}");
}

#[test]
fn on_a_phone_a_name_is_cut_after_a_word_before_a_number_stands_there() {
    let fonts = fonts("Noto Sans");
    let tabs = vec![Rect::new(0.0, 0.0, Mm(6.1).pt(), Mm(18.0).pt()); 4];
    let row = Row { tabs: &tabs, scale: 0.5, shape: TabShape::Rounded, flat: false, series: false };
    let names = ["Reading through the autumn", "Correspondence", "Tea", "Hats"].map(str::to_owned).to_vec();
    let numbers: Vec<String> = (1..=4).map(|n| n.to_string()).collect();
    let set = TabLabels::set(&fonts, row, Some(names), numbers.clone());
    let lines: Vec<String> = set.lines.iter().map(|lines| lines.join(" ")).collect();
    assert_eq!(lines, ["Reading through…", "2", "Tea", "Hats"]);
    assert!(!set.upright && set.size == LEAST_TYPE && set.cut.len() == 2);
    // What counts something is numbered throughout.
    let months = ["September of the coming year", "Oct", "Nov", "Dec"].map(str::to_owned).to_vec();
    let set = TabLabels::set(&fonts, Row { series: true, ..row }, Some(months), numbers);
    assert!(set.upright && set.long.is_some());
}

/// Tabs of a phone with eight sections, and of an A5 and a landscape page, on every shape: names of a few words are whole there, in
/// two lines where one is too short, and can be read.
#[test]
fn names_of_a_few_words_are_whole_on_every_page() {
    let names = ["Kitchen", "Studio hours", "Journeys", "Money and bills", "Garden", "Reading", "Odds and ends"];
    let names = names.map(str::to_owned).to_vec();
    let numbers: Vec<String> = (1..=names.len()).map(|n| n.to_string()).collect();
    for fonts in ["Noto Sans", "Work Sans", "Karla", "Nunito"].map(fonts) {
        for (size, shape) in
            [(75.0, 150.0), (148.0, 210.0), (240.0, 180.0)].into_iter().flat_map(|size| SHAPES.map(|s| (size, s)))
        {
            let frame = Frame::new(&page(size, Hand::Right), Mm(3.0), 8);
            let set = TabLabels::set(&fonts, row_of(&frame, &frame.tabs, shape), Some(names.clone()), numbers.clone());
            assert!(
                !set.upright && set.cut.is_empty() && set.size >= LEAST_TYPE,
                "{size:?} {shape:?}: {:?}",
                set.lines
            );
            for (name, lines) in names.iter().zip(&set.lines) {
                assert_eq!(lines.join(" "), *name, "{size:?} {shape:?}");
            }
        }
    }
}
