//! Pages of the kit on areas of every size, in every language, and what is composed in a manifest.

#![allow(clippy::unwrap_used)]

mod tables;
mod ways;

use super::super::TABLE;
use super::super::tests::{NARROW_PHONE, PHONE, TABLETS, assert_inside, composed, context, level_lines, reach, table};
use base::model::drawing::{Role, Seg, Shape};
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
    // Rather both with a line each, closer together.
    assert_eq!(said(5.5), ["First", "Second"]);
    assert_eq!(said(3.0), ["First"]);
    assert!(said(1.5).is_empty());
}

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
                let at: Vec<_> = d.shapes.iter().flat_map(|s| reach(s).0).collect();
                for paper in &areas {
                    let on = || at.iter().filter(|p| p.x >= paper.x - 1.0 && p.x <= paper.right() + 1.0);
                    let (left, right) =
                        (on().map(|p| p.x).fold(f64::MAX, f64::min), on().map(|p| p.x).fold(0.0, f64::max));
                    let foot = on().map(|p| p.y).fold(0.0, f64::max);
                    let last = paper.y + (paper.h / Mm(7.1).pt()).floor() * Mm(7.1).pt();
                    let off = [left - paper.x, paper.right() - right, last - foot];
                    // Labels have a tail below the line that they stand on.
                    assert!(off.iter().all(|v| v.abs() < 4.0), "{} on {areas:?}: {off:?}", entry.name);
                }
            }
        }
    }
}

/// Names of parts: what they say, and where.
fn names(d: &Drawing) -> Vec<(String, f64, f64)> {
    let named = |s: &Shape| match s {
        Shape::Text(t) if t.role == Role::Heading => Some((t.text.clone(), t.at.x, t.at.y)),
        _ => None,
    };
    d.shapes.iter().filter_map(named).collect()
}

/// A name is no caption of what stands above it: there is more air above than between it and its own line.
#[test]
fn names_stand_apart_from_what_is_above() {
    for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
        for (w, h, least) in [(180.0, 260.0, 4.0), (125.0, 185.0, 4.0), (PHONE.0, PHONE.1, 1.9)] {
            let d = drawn(entry.name, "", vec![area(w, h)]);
            let lines = level_lines(&d);
            for (name, x, y) in names(&d) {
                let across = lines.iter().filter(|l| l[0] <= x + 1.0 && l[1] >= x + 1.0);
                let above = across.map(|l| l[2]).filter(|line| *line < y).fold(f64::MIN, f64::max);
                // No capital is higher than this.
                let free = y - 9.8 - above;
                assert!(free >= Mm(least).pt(), "{name} of {} on {w} x {h} mm: {free}", entry.name);
            }
        }
    }
}

/// Boxes of a page have the same number of lines, however many there are and whatever is left over.
#[test]
fn boxes_have_as_many_lines_as_their_siblings() {
    for name in ["birthdays", "packing-list", "shopping", "year-goals"] {
        for (w, h) in [&TABLETS[..], &[PHONE]].concat() {
            for second in [false, true] {
                let first = area(w, h);
                let mut areas = vec![first];
                areas.extend(second.then(|| Rect { x: first.right() + 40.0, ..first }));
                let d = drawn(name, "", areas);
                let (named, lines) = (names(&d), level_lines(&d));
                let count = |(_, x, y): &(String, f64, f64)| {
                    let next = named.iter().filter(|n| (n.1 - x).abs() < 1.0 && n.2 > y + 1.0).map(|n| n.2);
                    let end = next.fold(f64::MAX, f64::min);
                    let own = |l: &&[f64; 3]| l[0] < x + 30.0 && l[1] > x + 30.0 && l[2] > *y && l[2] < end;
                    lines.iter().filter(own).count()
                };
                let counts: Vec<usize> = named.iter().map(count).collect();
                assert!(counts.windows(2).all(|c| c[0] == c[1]), "{name} on {w} x {h} mm, {second}: {counts:?}");
            }
        }
    }
}

/// Cards are equally high, and the last line of each stands above its border.
#[test]
fn cards_are_alike_and_end_below_their_last_line() {
    for (name, least) in [("contacts", 4), ("password-hints", 4), ("plant-care", 5)] {
        for (w, h) in [&TABLETS[..], &[PHONE]].concat() {
            let d = drawn(name, "", vec![area(w, h)]);
            let frames = d.shapes.iter().filter_map(|s| match s {
                Shape::Path { path, .. } if path.0.iter().any(|s| matches!(s, Seg::Cubic(..))) => Some(path.bounds()),
                _ => None,
            });
            let lines = level_lines(&d);
            let mut seen = Vec::new();
            for frame in frames {
                let (left, top, foot) = (frame.x, frame.y, frame.bottom());
                let own = |l: &&[f64; 3]| l[0] > left && l[0] < left + 30.0 && l[2] > top && l[2] < foot + 1.0;
                let own: Vec<f64> = lines.iter().filter(own).map(|l| l[2]).collect();
                assert!(own.iter().all(|y| *y < foot - 5.0), "{name} on {w} x {h} mm: {own:?} above {foot}");
                seen.push((own.len(), foot - top));
            }
            let alike = |a: &(usize, f64)| a.0 == seen[0].0 && a.0 >= least && (a.1 - seen[0].1).abs() < 1e-6;
            assert!(!seen.is_empty() && seen.iter().all(alike), "{name} on {w} x {h} mm: {seen:?}");
        }
    }
}

/// Goals have the same number of steps, on one paper as on two.
#[test]
fn goals_have_as_many_steps_as_each_other() {
    for (w, h) in [&TABLETS[..4], &[PHONE]].concat() {
        for second in [false, true] {
            let first = area(w, h);
            let mut areas = vec![first];
            areas.extend(second.then(|| Rect { x: first.right() + 40.0, ..first }));
            let d = drawn("goals", "", areas);
            let steps: Vec<_> = names(&d).into_iter().filter(|(name, ..)| name == "Steps").collect();
            let boxed = |s: &Shape| match s {
                Shape::Path { path, .. } if path.0.iter().any(|s| matches!(s, Seg::Cubic(..))) => {
                    let bounds = path.bounds();
                    Some((bounds.x, bounds.y))
                }
                _ => None,
            };
            let boxes: Vec<(f64, f64)> = d.shapes.iter().filter_map(boxed).collect();
            let count = |(_, x, y): &(String, f64, f64)| {
                let next = steps.iter().filter(|n| (n.1 - x).abs() < 1.0 && n.2 > y + 1.0).map(|n| n.2);
                let end = next.fold(f64::MAX, f64::min);
                boxes.iter().filter(|b| (b.0 - x).abs() < 5.0 && b.1 > *y && b.1 < end).count()
            };
            let counts: Vec<usize> = steps.iter().map(count).collect();
            // As many on each of two papers, so that none stays free.
            assert_eq!(counts.len(), if second { 4 } else { 3 }, "on {w} x {h} mm");
            // The head of a narrow pair of papers stands on the first alone.
            let even = |c: &[usize]| c[0].abs_diff(c[1]) <= usize::from(second && w < 70.0);
            assert!(counts[0] > 0 && counts.windows(2).all(even), "on {w} x {h} mm, {second}: {counts:?}");
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
                let own = |text: &str| day == text || text.chars().count() >= 2 && day.starts_with(text);
                let n = said.iter().filter(|(text, _)| own(text)).count();
                assert_eq!(n, times, "{day} of {name} on {w} x {h} mm");
            }
        }
    }
}

/// On a phone's page: what a log is for stays, and sections are whole.
#[test]
fn narrow_pages_keep_what_they_are_for() {
    let page = |name: &str| drawn(name, "", vec![area(PHONE.0, PHONE.1)]);
    for (name, last) in [("reading-log", "Stars"), ("film-log", "Stars"), ("symptom-log", "Strength")] {
        let d = page(name);
        assert!(texts(&d).iter().any(|(text, _)| text == last), "{name}");
        assert!(d.cuts.is_empty(), "{name}: {:?}", d.cuts);
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

/// Labels are 6 points high at least on a phone's page, 7 on a tablet's.
#[test]
fn labels_are_as_large_as_the_page_allows() {
    for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
        let sizes = TABLETS[..4].iter().map(|size| (*size, 7.0));
        for ((w, h), least) in sizes.chain([(PHONE, 6.0), (NARROW_PHONE, 6.0)]) {
            // Numbers in circles are as large as the circles.
            let small = |(text, size): &(String, f64)| *size < least - 1e-9 && text.parse::<u32>().is_err();
            let small = texts(&drawn(entry.name, "", vec![area(w, h)])).into_iter().find(small);
            assert_eq!(small, None, "{} on {w} x {h} mm", entry.name);
        }
    }
}
/// Pages that are smaller than a tablet's: phones with and without tabs, A6, half of a page, A5.
const SMALL: [(f64, f64); 6] = [NARROW_PHONE, (62.0, 130.0), PHONE, (86.0, 126.0), (110.0, 150.0), (125.0, 185.0)];

/// What is seen and what is eaten on a journey is ticked alike.
#[test]
fn both_lists_of_a_day_of_a_journey_are_ticked() {
    let d = drawn("trip-day", "", vec![area(180.0, 260.0)]);
    let round = |s: &&Shape| matches!(s, Shape::Path { path, fill: None, .. } if path.0.iter().any(|s| matches!(s, Seg::Cubic(..))) && path.bounds().w < 20.0);
    assert_eq!(d.shapes.iter().filter(round).count(), 10);
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
