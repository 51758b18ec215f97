//! Pages of the kit on areas of every size, in every language, and what is composed in a manifest.

#![allow(clippy::unwrap_used)]

use super::super::TABLE;
use super::super::tests::{assert_inside, composed, context, table};
use base::model::drawing::{Seg, Shape};
use base::model::words::templates::{LANGUAGES, TemplateWords};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::find;

fn drawn(name: &str, with: &str, areas: Vec<Rect>) -> Drawing {
    find(TABLE, name).unwrap().draw(&table(with), &context(areas, None)).unwrap()
}

fn area(w: f64, h: f64) -> Rect {
    Rect::new(40.0, 50.0, Mm(w).pt(), Mm(h).pt())
}

fn texts(d: &Drawing) -> Vec<(String, f64)> {
    d.shapes.iter().filter_map(|s| if let Shape::Text(t) = s { Some((t.text.clone(), t.size)) } else { None }).collect()
}

/// Strips and scraps of paper on which hardly anything fits: still nothing leaves them.
#[test]
fn narrow_and_low_areas_hold_every_ruling() {
    for w in [12.0, 16.0, 21.0, 28.0, 36.0, 47.0, 61.0, 80.0] {
        for h in [12.0, 19.0, 31.0, 50.0, 80.0, 130.0, 200.0, 305.0] {
            // Those that are not composed are meant for 20 mm and more.
            let wide = w >= 20.0 && h >= 20.0;
            for entry in TABLE.iter().filter(|e| wide || composed(e.name)) {
                let areas = vec![area(w, h)];
                let d = entry.draw(&toml::Table::new(), &context(areas.clone(), None)).unwrap();
                assert_inside(entry.name, &d, &areas);
            }
        }
    }
}

/// Areas of a tablet's pages: upright and lying, A5 and A4, one paper of a spread, half a page.
const TABLETS: [(f64, f64); 6] =
    [(125.0, 185.0), (185.0, 125.0), (180.0, 260.0), (265.0, 175.0), (110.0, 150.0), (150.0, 100.0)];

/// No word of the tool is cut or set smaller than 6.5 points, in any language whose letters the test's fonts have.
#[test]
fn words_are_whole_and_readable_in_every_language() {
    for language in LANGUAGES.into_iter().filter(|l| !["ar", "he", "ja"].contains(l)) {
        for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
            for (w, h) in TABLETS {
                let d = drawn(entry.name, &format!("language = '{language}'"), vec![area(w, h)]);
                // Half a page has no room for all parts of a long one: those are left out whole, and told.
                let cut = d.cuts.iter().filter(|c| !c.shown.is_empty() || w > 180.0);
                let whole: Vec<&str> = cut.map(|c| c.whole.as_str()).collect();
                assert!(whole.is_empty(), "{} in {language} on {w} x {h} mm: {whole:?}", entry.name);
                let small = texts(&d).into_iter().find(|(_, size)| *size < 6.5 - 1e-9);
                assert_eq!(small, None, "{} in {language} on {w} x {h} mm", entry.name);
            }
        }
    }
}

#[test]
fn every_language_has_words_of_its_own() {
    for language in LANGUAGES.into_iter().filter(|l| *l != "en") {
        let (own, english) = (TemplateWords::of(language), TemplateWords::of("en"));
        assert_ne!(own.shopping, english.shopping, "{language}");
        assert!(own.caution.chars().count() > 20, "{language}");
    }
    assert_ne!(TemplateWords::of("pt").breakfast, TemplateWords::of("pt-PT").breakfast);
}

/// The heads of a page and its rows: what there is no height for is left out with its head.
#[test]
fn no_head_stands_alone() {
    let parts = "parts = [{ part = 'lines', label = 'First' }, { part = 'ticks', label = 'Second' }]";
    let said = |rows: f64| -> Vec<String> {
        let d = drawn("parts", parts, vec![area(100.0, rows * 7.1)]);
        texts(&d).into_iter().map(|(text, _)| text).collect()
    };
    assert_eq!(said(12.5), ["First", "Second"]);
    assert_eq!(said(5.5), ["First"]);
    assert!(said(2.5).is_empty());
}

/// Where the paper of a phone that is 9 : 19.5 leaves room, in mm.
const PHONE: (f64, f64) = (64.0, 165.0);

/// What a page draws fills the frame that all templates share: from the left edge to the right one on every paper, and down to
/// the last line of the grid. So no column is empty, no table ends above the foot, and nothing jumps when a page is turned.
#[test]
fn pages_fill_the_frame() {
    let pages = TABLE.iter().filter(|e| e.name != "parts" && composed(e.name) || e.name == "mind-map");
    for entry in pages {
        for (w, h) in [&TABLETS[..], &[PHONE]].concat() {
            for second in [false, true] {
                let first = area(w, h);
                let mut areas = vec![first];
                areas.extend(second.then(|| Rect { x: first.right() + 40.0, ..first }));
                let d = entry.draw(&toml::Table::new(), &context(areas.clone(), None)).unwrap();
                let at: Vec<_> = d.shapes.iter().flat_map(|s| super::super::tests::reach(s).0).collect();
                for paper in &areas {
                    let on = || at.iter().filter(|p| p.x >= paper.x - 1.0 && p.x <= paper.right() + 1.0);
                    let (left, right) =
                        (on().map(|p| p.x).fold(f64::MAX, f64::min), on().map(|p| p.x).fold(0.0, f64::max));
                    let foot = on().map(|p| p.y).fold(0.0, f64::max);
                    let last = paper.y + (paper.h / Mm(7.1).pt()).floor() * Mm(7.1).pt();
                    let off = [left - paper.x, paper.right() - right, last - foot];
                    // Labels have a tail below the line that they stand on; a bar ends a little above it.
                    assert!(off.iter().all(|v| v.abs() < 4.0), "{} on {areas:?}: {off:?}", entry.name);
                }
            }
        }
    }
}

/// All days of a week stand on every page, in every table that has them.
#[test]
fn no_day_of_a_week_is_lost() {
    for (w, h) in [&TABLETS[..3], &[PHONE]].concat() {
        for (name, times) in [("sleep-and-water", 2), ("meal-plan", 1)] {
            let said = texts(&drawn(name, "", vec![area(w, h)]));
            for day in ["Monday", "Thursday", "Sunday"] {
                let n = said.iter().filter(|(text, _)| text == day).count();
                assert_eq!(n, times, "{day} of {name} on {w} x {h} mm");
            }
        }
    }
}

/// On a phone's page: what a log is for stays, what there is no room for is told, and sections are whole.
#[test]
fn narrow_pages_keep_what_they_are_for() {
    let page = |name: &str| drawn(name, "", vec![area(PHONE.0, PHONE.1)]);
    for (name, last) in [("reading-log", "Stars"), ("film-log", "Stars"), ("symptom-log", "Strength")] {
        let d = page(name);
        assert!(texts(&d).iter().any(|(text, _)| text == last), "{name}");
        assert!(!d.cuts.is_empty() && d.cuts.iter().all(|c| c.shown.is_empty() && c.by > 0.0), "{name}: {:?}", d.cuts);
    }
    let goals = texts(&page("goals"));
    let times = |word: &str| goals.iter().filter(|(text, _)| text == word).count();
    assert_eq!([times("Goal"), times("Steps"), times("Why")], [3; 3]);
    let scale = texts(&page("training-log"));
    assert!(scale.iter().any(|(text, _)| text == "10"), "{scale:?}");
    let key = texts(&page("mood-year"));
    assert!(["Bright", "Good", "Even", "Low", "Hard"].iter().all(|mood| key.iter().any(|(text, _)| text == mood)));
}

/// Circles to fill in are all there, or there are none: half of them would count wrongly.
#[test]
fn circles_are_never_too_few() {
    for w in [30.0, 40.0, 52.0, 64.0, 90.0, 125.0] {
        let parts = "parts = [{ part = 'table', labels = ['', 'Hours'], names = ['Mon', 'Tue'], holds = ['text', 'dots'], \
                     count = 10 }]";
        let d = drawn("parts", parts, vec![area(w, 60.0)]);
        let circle = |s: &&Shape| matches!(s, Shape::Path { path, .. } if path.0.iter().filter(|s| matches!(s, Seg::Cubic(..))).count() == 4);
        let n = d.shapes.iter().filter(circle).count();
        assert!(n == 0 || n == 20, "{n} circles on {w} mm");
    }
}

/// Labels of a phone's page are 8 points high, those in tables at least 6.5; on a tablet's page 7.
#[test]
fn labels_are_as_large_as_the_page_allows() {
    for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
        let named = |w: f64, h: f64| texts(&drawn(entry.name, "", vec![area(w, h)]));
        for (w, h) in &TABLETS[..4] {
            let read = |(text, size): &(String, f64)| *size >= 7.0 - 1e-9 || text.parse::<u32>().is_ok();
            assert!(named(*w, *h).iter().all(read), "{} on {w} x {h} mm", entry.name);
        }
        let tables =
            ["bills", "gift-list", "ledger", "inventory", "reading-log", "film-log", "symptom-log", "savings-goal"];
        let least = if tables.contains(&entry.name) { 6.5 } else { 7.0 };
        // Numbers in circles are as large as the circles.
        let read = |(text, size): &(String, f64)| *size < least - 1e-9 && text.parse::<u32>().is_err();
        let small = named(PHONE.0, PHONE.1).into_iter().find(read);
        assert_eq!(small, None, "{}", entry.name);
    }
}

/// Parts beside each other stand below each other where there is no width for both; on two papers both are used.
#[test]
fn parts_go_where_there_is_room() {
    let parts = "parts = [{ part = 'lines', label = 'Ebb' }, { part = 'lines', label = 'Flow', beside = true }]";
    let places = |areas: Vec<Rect>| -> Vec<(f64, f64)> {
        let d = drawn("parts", parts, areas);
        d.shapes.iter().filter_map(|s| if let Shape::Text(t) = s { Some((t.at.x, t.at.y)) } else { None }).collect()
    };
    let wide = places(vec![area(120.0, 100.0)]);
    assert!(wide[0].1 == wide[1].1 && wide[0].0 < wide[1].0);
    let narrow = places(vec![area(60.0, 100.0)]);
    assert!(narrow[0].1 < narrow[1].1 && narrow[0].0 == narrow[1].0);
    let second = Rect { x: 600.0, ..area(120.0, 100.0) };
    let both = places(vec![area(120.0, 100.0), second]);
    assert!(both[1].0 >= 600.0 && both[0].1 == both[1].1);
}

#[test]
fn her_own_headings_take_the_place_of_the_words() {
    let d = drawn("recipe", "headings = ['Tart', '', 'Oven']", vec![area(125.0, 185.0)]);
    let said: Vec<String> = texts(&d).into_iter().map(|(text, _)| text).collect();
    assert_eq!(said, ["Tart", "Oven", "Ingredients", "Method", "Notes"]);
    let d = drawn("recipe", "language = 'sv'", vec![area(125.0, 185.0)]);
    assert!(texts(&d).iter().any(|(text, _)| text == "Gör så här"));
}
