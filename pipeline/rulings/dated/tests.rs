//! Every dated ruling on every kind of area, with the pages of real years: nothing leaves the areas, every day is
//! tapped once, no two tap areas meet, grounds are the same.

#![allow(clippy::unwrap_used)]

mod frame;
mod planner;

use super::super::DATED;
use super::super::tests::{FONTS, STYLE, areas, assert_inside, context, level_lines, reach, table};
use base::colour;
use base::model::dated::{DatedKind, DatedPage, MonthData};
use base::model::drawing::{Shape, TextRun};
use base::model::product::Style;
use base::model::{Mm, Rect, Rgb};
use base::reading::Reading;
use calendar::Weekday;
use draw::Pen;
use draw::ruling::{DatedDrawing, DatedEntry, RulingContext};
use planner::{Kinds, pages};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A year that begins on a Friday and has a month of four rows, weeks from Monday.
static YEAR: LazyLock<Vec<DatedPage>> = LazyLock::new(|| pages("2027-01", 12, Weekday::Monday, "en-GB"));

/// A school year over two years, weeks from Sunday, a clock of twelve hours.
static SCHOOL: LazyLock<Vec<DatedPage>> = LazyLock::new(|| pages("2026-08", 12, Weekday::Sunday, "en-US"));

fn entry(name: &str) -> &'static DatedEntry {
    DATED.iter().find(|e| e.entry.name == name).unwrap()
}

/// The first writing areas of pages that people buy, in mm: phone, 4:3 both ways, A5, A4; then spreads.
fn sizes() -> Vec<(&'static str, Vec<Rect>)> {
    let area = |w: f64, h: f64| vec![Rect::new(30.0, 28.0, Mm(w).pt(), Mm(h).pt())];
    let spread = |w: f64, h: f64| {
        let one = area(w, h)[0];
        vec![one, Rect { x: one.right() + 42.0, ..one }]
    };
    vec![
        ("phone", area(52.0, 126.0)),
        ("tablet-upright", area(143.0, 209.0)),
        ("tablet-wide", area(200.0, 149.0)),
        ("a5", area(116.0, 183.0)),
        ("a4", area(167.0, 261.0)),
        ("a4-wide", area(253.0, 175.0)),
        ("spread-4x3", spread(88.0, 149.0)),
        ("spread-a4", spread(114.0, 175.0)),
    ]
}

/// Every page of a kind that a ruling takes, with its drawing.
fn drawn<'p>(
    entry: &DatedEntry,
    with: &str,
    areas: &[Rect],
    pages: &'p [DatedPage],
) -> Vec<(&'p DatedPage, DatedDrawing)> {
    let context = context(areas.to_vec(), None);
    let with = table(with);
    let of = pages.iter().filter(|p| entry.kinds.contains(&p.kind) && p.nth == 1);
    of.map(|page| (page, entry.draw(&with, &context, page).unwrap())).collect()
}

fn assert_held(name: &str, page: &DatedPage, d: &DatedDrawing, areas: &[Rect]) {
    let name = format!("{name} {}", page.place);
    assert_inside(&name, &d.ground, areas);
    assert_inside(&name, &d.layer, areas);
    assert!(d.free.iter().all(|free| areas.iter().any(|a| a.contains(*free, 1e-3))), "{name}: {:?}", d.free);
    for (i, (tap, place)) in d.taps.iter().enumerate() {
        assert!(areas.iter().any(|a| a.contains(*tap, 1e-3)), "{name}: {tap:?} to {place}");
        assert!(tap.w > 0.0 && tap.h > 0.0 && !place.is_empty(), "{name}: {tap:?} to {place:?}");
        for (other, to) in &d.taps[..i] {
            let common = tap.crossing(*other);
            assert!(common.w < 1e-6 || common.h < 1e-6, "{name}: {place} {tap:?} and {to} {other:?} on {areas:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn everything_lies_within_the_areas(areas in areas(), pick in any::<prop::sample::Index>(), small in proptest::option::of(0.06..0.5)) {
        let context = context(areas.clone(), small);
        for entry in DATED {
            for year in [&*YEAR, &*SCHOOL] {
                let of: Vec<&DatedPage> = year.iter().filter(|p| entry.kinds.contains(&p.kind)).collect();
                let page = *pick.get(&of);
                let d = entry.draw(&toml::Table::new(), &context, page).unwrap();
                assert_held(entry.entry.name, page, &d, &areas);
            }
        }
    }
}

#[test]
fn every_page_of_a_year_holds_at_every_size() {
    for (size, areas) in sizes() {
        for entry in DATED {
            for (page, d) in drawn(entry, "", &areas, &YEAR) {
                assert_held(&format!("{} at {size}", entry.entry.name), page, &d, &areas);
            }
        }
    }
}

/// A planner of few months has months no larger than others, and lines to write on in what they leave free.
#[test]
fn what_a_short_year_leaves_free_is_ruled() {
    for months in [1, 2, 3, 5, 7] {
        let short = pages("2027-03", months, Weekday::Monday, "en-GB");
        for (size, areas) in sizes() {
            for (page, d) in drawn(entry("year"), "", &areas, &short) {
                assert_held(size, page, &d, &areas);
                let rules = level_lines(&d.ground);
                let days: Vec<Rect> =
                    d.taps.iter().filter(|(_, to)| to.starts_with("day/")).map(|(tap, _)| *tap).collect();
                for day in &days {
                    let strikes = |[from, to, y]: &[f64; 3]| {
                        from.min(*to) < day.right() - 1.0
                            && from.max(*to) > day.x + 1.0
                            && *y > day.y + 1.0
                            && *y < day.bottom() - 1.0
                    };
                    assert!(!rules.iter().any(strikes), "{months} months, {size}: {day:?}");
                }
                let area = *areas.last().unwrap();
                let end = days.iter().filter(|day| day.x >= area.x).map(|day| day.bottom()).fold(area.y, f64::max);
                let free = area.bottom() - end > Mm(40.0).pt();
                let below = rules.iter().filter(|rule| rule[0].min(rule[1]) >= area.x - 1e-6 && rule[2] > end).count();
                assert!(!free || below >= 2, "{months} months, {size}: {below} rules below {end}");
            }
        }
    }
}

#[test]
fn areas_narrower_than_any_page_hold_too() {
    for width in (20..80).step_by(3) {
        for height in [20.0, 45.0, 130.0, 210.0, 305.0] {
            let areas = vec![Rect::new(0.0, 0.0, Mm(f64::from(width)).pt(), Mm(height).pt())];
            for entry in DATED {
                for year in [&*YEAR, &*SCHOOL] {
                    let pages = drawn(entry, "", &areas, year);
                    // Pages of each kind that it takes: years and quarters are few.
                    for (page, d) in pages.iter().step_by(pages.len() / 8 + 1) {
                        assert_held(entry.entry.name, page, d, &areas);
                    }
                }
            }
        }
    }
}

/// The days that a page is about, each once.
fn days(page: &DatedPage) -> Vec<String> {
    let of = |months: &[MonthData]| -> Vec<String> {
        let days = months.iter().flat_map(|m| m.rows.iter().flat_map(|r| &r.days));
        days.filter(|d| d.inside).filter_map(|d| d.leads().map(str::to_owned)).collect()
    };
    match page.kind {
        DatedKind::Year | DatedKind::Quarter => of(&page.months),
        DatedKind::Month => of(std::slice::from_ref(&page.month)),
        DatedKind::Week => {
            page.week.iter().flat_map(|w| &w.days).filter_map(|d| d.leads().map(str::to_owned)).collect()
        }
        DatedKind::Day => Vec::new(),
    }
}

#[test]
fn every_day_of_a_page_is_tapped_once() {
    for (size, areas) in sizes() {
        for entry in DATED.iter().filter(|e| e.entry.name != "notes") {
            // Small months show days of their own, again.
            let with = "small-months = false";
            let with = if entry.entry.reads(&toml::from_str(with).unwrap()) { with } else { "" };
            for (page, d) in drawn(entry, with, &areas, &YEAR).into_iter().chain(drawn(entry, with, &areas, &SCHOOL)) {
                let mut found: BTreeMap<&str, usize> = BTreeMap::new();
                for (_, place) in &d.taps {
                    *found.entry(place).or_default() += 1;
                }
                for day in days(page) {
                    assert_eq!(
                        found.get(day.as_str()),
                        Some(&1),
                        "{} at {size}: {day} on {}",
                        entry.entry.name,
                        page.place
                    );
                }
            }
        }
    }
}

#[test]
fn grounds_are_the_same_for_pages_that_are_laid_out_alike() {
    for (size, areas) in sizes() {
        for entry in DATED {
            let mut grounds: BTreeMap<(DatedKind, Vec<usize>), _> = BTreeMap::new();
            for (page, d) in drawn(entry, "", &areas, &YEAR) {
                let rows = match page.kind {
                    DatedKind::Quarter => page.months.iter().map(|m| m.rows.len()).collect(),
                    DatedKind::Month => vec![page.month.rows.len()],
                    _ => Vec::new(),
                };
                let first = grounds.entry((page.kind, rows)).or_insert_with(|| d.ground.clone());
                assert_eq!(*first, d.ground, "{} at {size}: {}", entry.entry.name, page.place);
            }
            let months = grounds.keys().filter(|(kind, _)| *kind == DatedKind::Month).count();
            assert!(months <= 3, "{}: {months} grounds", entry.entry.name);
        }
    }
}

#[test]
fn steps_and_small_months_lead_where_the_calendar_says() {
    let areas = sizes()[1].1.clone();
    for entry in DATED {
        for (page, d) in drawn(entry, "", &areas, &YEAR) {
            for step in [&page.previous, &page.next, &page.up].into_iter().flatten().chain(&page.companions) {
                let count = d.taps.iter().filter(|(_, place)| *place == step.place).count();
                assert!(count >= 1, "{}: nothing on {} leads to {}", entry.entry.name, page.place, step.place);
            }
        }
    }
}

#[test]
fn arrows_are_wide_enough_to_be_tapped() {
    for (size, areas) in sizes() {
        let (page, d) = drawn(entry("day"), "", &areas, &YEAR).swap_remove(40);
        let next = page.next.as_ref().unwrap();
        let (tap, _) = d.taps.iter().find(|(_, place)| *place == next.place).unwrap();
        assert!(tap.w >= Mm(7.9).pt() && tap.h >= Mm(8.0).pt(), "{size}: {tap:?}");
    }
}

/// Sizes that can be read: nothing below 5 pt, headings at least twice as large as labels.
#[test]
fn type_can_be_read() {
    for (size, areas) in sizes() {
        for entry in DATED {
            for (page, d) in drawn(entry, "", &areas, &YEAR).into_iter().take(3) {
                for shape in d.ground.shapes.iter().chain(&d.layer.shapes) {
                    let Shape::Text(text) = shape else { continue };
                    assert!(text.size >= 4.9, "{} at {size}: {:?} in {} pt", entry.entry.name, text.text, text.size);
                    assert!(!reach(shape).0.is_empty());
                }
                let largest = d.layer.shapes.iter().filter_map(|s| if let Shape::Text(t) = s { Some(t) } else { None });
                let largest = largest.max_by(|a, b| a.size.total_cmp(&b.size)).unwrap();
                assert!(
                    largest.text.contains(&page.heading),
                    "{} at {size}: {:?} leads",
                    entry.entry.name,
                    largest.text
                );
            }
        }
    }
}

/// Every text keeps 4.5 : 1 to what it stands on, on light and on dark paper: the paper and the wash, or the ink on which
/// the own day stands.
#[test]
fn text_stands_out_from_light_and_dark_paper() {
    let (night, chalk) = (Rgb::new(0x22, 0x24, 0x2b), Rgb::new(0xe9, 0xe6, 0xdd));
    let light = (STYLE.paper, STYLE.ink);
    for (paper, ink) in [light, (night, chalk)] {
        let style = Style { paper, ink, rule: colour::at_contrast(paper, ink, 1.9), ..STYLE.clone() };
        let areas = sizes()[1].1.clone();
        let context = RulingContext { pen: Pen::new(&style), ..context(areas, None) };
        for entry in DATED {
            for page in YEAR.iter().filter(|p| entry.kinds.contains(&p.kind)).step_by(9) {
                let d = entry.draw(&toml::Table::new(), &context, page).unwrap();
                for shape in d.ground.shapes.iter().chain(&d.layer.shapes) {
                    let Shape::Text(text) = shape else { continue };
                    let ratio = colour::contrast(text.colour, paper).max(colour::contrast(text.colour, ink));
                    assert!(ratio >= 4.45, "{} {:?}: {ratio:.2}", entry.entry.name, text.text);
                }
            }
        }
    }
}

/// Numbers in cells that are written in: a corner of at least 7 mm, and the writing space left free.
#[test]
fn numbers_are_tapped_in_their_corner() {
    for (size, areas) in sizes().into_iter().filter(|(size, _)| *size != "phone") {
        for (page, d) in drawn(entry("month"), "small-months = false\nweek-numbers = false", &areas, &YEAR) {
            let days: Vec<Rect> =
                d.taps.iter().filter(|(_, place)| place.starts_with("day/")).map(|(tap, _)| *tap).collect();
            let least = Mm(7.0).pt() - 1e-6;
            assert!(days.iter().all(|t| t.w >= least && t.h >= least), "{size}: {}", page.place);
            // From one row to the next.
            let mut rows: Vec<f64> = days.iter().map(|t| t.y).collect();
            rows.sort_by(f64::total_cmp);
            rows.dedup_by(|a, b| (*a - *b).abs() < 1.0);
            let height = rows[1] - rows[0];
            assert!(days.iter().all(|t| t.h <= height * 0.6), "{size}: {} rows of {height}", page.place);
        }
    }
}

/// The names of the days over a month keep apart.
#[test]
fn days_over_a_month_keep_apart() {
    for (size, areas) in sizes() {
        for (page, d) in drawn(entry("month"), "small-months = false\nweek-numbers = false", &areas, &YEAR) {
            let runs = d.ground.shapes.iter().filter_map(|s| if let Shape::Text(run) = s { Some(run) } else { None });
            let day = |run: &&TextRun| {
                let text = run.text.as_str();
                page.weekdays.iter().any(|w| [&w.name, &w.short, &w.narrow].into_iter().any(|name| name == text))
            };
            let names: Vec<&TextRun> = runs.filter(day).collect();
            assert_eq!(names.len(), 7, "{size}: {}", page.place);
            for pair in names.windows(2) {
                let width = FONTS.width(pair[0].role, &pair[0].text, pair[0].size, pair[0].tracking);
                let gap = (pair[1].at.x - pair[0].at.x - width) / Mm(1.0).pt();
                assert!(gap >= 2.0 - 1e-6, "{size}: {gap:.2} mm after {:?}", pair[0].text);
            }
        }
    }
}

/// Days and months are named in one form on a page, on both papers of a spread: all of them whole, or all of them short.
#[test]
fn names_of_a_page_have_one_form() {
    let narrow = [48.0, 60.0, 74.0].map(|w| {
        let one = Rect::new(30.0, 28.0, Mm(w).pt(), Mm(149.0).pt());
        ("narrow spread", vec![one, Rect { x: one.right() + 42.0, ..one }])
    });
    for (size, areas) in sizes().into_iter().chain(narrow) {
        for name in ["month", "month-list", "week", "week-rows", "week-hours", "open-week", "wall-plan"] {
            for (page, d) in drawn(entry(name), "", &areas, &YEAR).into_iter().step_by(4) {
                let all = d.ground.shapes.iter().chain(&d.layer.shapes);
                let said: Vec<&str> =
                    all.filter_map(|s| if let Shape::Text(run) = s { Some(run.text.as_str()) } else { None }).collect();
                // On other pages than the wall plan small months have names of their own.
                let days: Vec<(&str, &str)> = match name {
                    "wall-plan" => page.months.iter().map(|m| (m.name.as_str(), m.short.as_str())).collect(),
                    _ => page.weekdays.iter().map(|d| (d.name.as_str(), d.short.as_str())).collect(),
                };
                // An event of these dates is called Good Friday.
                let whole =
                    days.iter().any(|(whole, short)| whole != short && *whole != "Friday" && said.contains(whole));
                let short = days.iter().any(|(whole, short)| whole != short && said.contains(short));
                assert!(!(whole && short), "{name} at {size}, {}: {said:?}", page.place);
            }
        }
    }
}

/// The words of a page by the lines on which they stand, for those that a crowded cell cannot name.
#[test]
fn a_crowded_day_says_how_many_more() {
    let crowded = planner::crowded(&YEAR, "2027-03-17", 9);
    for name in ["month", "month-list", "week", "week-rows", "open-week", "week-hours", "wall-plan", "day"] {
        let entry = entry(name);
        for (page, d) in drawn(entry, "", &sizes()[1].1, &crowded) {
            let about = match page.kind {
                DatedKind::Year => page.place == "year/2027",
                DatedKind::Month => page.place == "month/2027-03",
                DatedKind::Week => page.place == "week/2027-W11",
                _ => page.place == "day/2027-03-17",
            };
            let texts = |d: &DatedDrawing| -> Vec<String> {
                let runs = d.layer.shapes.iter();
                runs.filter_map(|s| if let Shape::Text(t) = s { Some(t.text.clone()) } else { None }).collect()
            };
            let said = texts(&d);
            let more = said.iter().find_map(|t| t.strip_prefix('+')?.parse::<usize>().ok());
            let named = said.iter().filter(|t| t.starts_with("Errand")).count();
            if about {
                // The columns of a wall plan are too narrow for names here: marks stand in their place.
                let marked = name == "wall-plan" && named == 0 && more.is_none();
                assert!(marked || more.unwrap_or(0) + named == 9, "{name}: {said:?}");
            }
        }
    }
}

#[test]
fn bad_parameters_are_refused_in_words() {
    for (name, with, says) in [
        ("month", "{ rows = 5 }", "\"fit\" or 6"),
        ("month", "{ rows = 'all' }", "\"fit\" or 6"),
        ("day", "{ from = 12, to = 9 }", "from 12 to 9"),
        ("week-hours", "{ to = 24 }", "0 to 23"),
        ("day", "{ count = 0 }", "1 to 12"),
        ("notes", "{ pitch = 1 }", "2 to 50 mm"),
        ("notes", "{ style = 'graph' }", "squares"),
        ("year", "{ weight = 9 }", "0.1 to 4 pt"),
        ("year", "{ month = 'a' }", "month"),
    ] {
        let value = toml::de::DeValue::parse(with).unwrap();
        let said = match entry(name).entry.check(Reading::of(&value)) {
            Err(e) => format!("{} {}", e.message(), e.help().unwrap_or_default()),
            Ok(Err(text)) => text,
            Ok(Ok(())) => String::new(),
        };
        assert!(said.contains(says), "{name} {with}: {said:?}");
    }
}

#[test]
fn an_undated_drawing_has_no_date() {
    let area = vec![Rect::new(0.0, 0.0, 400.0, 560.0)];
    for entry in DATED {
        let d = entry.entry.draw(&toml::Table::new(), &context(area.clone(), None)).unwrap();
        assert_inside(entry.entry.name, &d, &area);
        assert!(!d.shapes.is_empty(), "{}", entry.entry.name);
        entry.entry.draw(&toml::Table::new(), &context(Vec::new(), None)).unwrap();
    }
}

/// A weekend that shares its page: both days are named on it, and nothing leaves the areas.
#[test]
fn a_weekend_shares_its_page() {
    let joined = planner::joined();
    for (size, areas) in sizes() {
        for name in ["day", "two-days"] {
            for (page, d) in drawn(entry(name), "", &areas, &joined).into_iter().filter(|(p, _)| p.days.len() == 2) {
                assert_held(&format!("{name} at {size}"), page, &d, &areas);
                for day in &page.days {
                    let text = format!("{} {}", page.weekdays[day.weekday].short, day.number);
                    let said = d.layer.shapes.iter().any(|s| matches!(s, Shape::Text(t) if t.text == text));
                    assert!(said, "{name} at {size}: {text} on {}", page.place);
                }
            }
        }
    }
    assert_eq!(joined.iter().filter(|p| p.days.len() == 2).count(), 4);
}

/// Below the head of a blank page another ruling may be drawn: one area for each of the page, from the line under the
/// head to the foot, and nothing else is in it.
#[test]
fn a_blank_page_leaves_its_areas_free() {
    for (size, areas) in sizes() {
        for (page, d) in drawn(entry("notes"), "style = 'blank'", &areas, &YEAR).into_iter().step_by(50) {
            assert_eq!(d.free.len(), areas.len(), "{size}: {}", page.place);
            for (free, area) in d.free.iter().zip(&areas) {
                assert!((free.bottom() - area.bottom()).abs() < 1e-6 && free.h > area.h * 0.8, "{size}: {free:?}");
                for shape in &d.layer.shapes {
                    assert!(reach(shape).0.iter().all(|p| p.y <= free.y + 1e-6), "{size}: {shape:?}");
                }
                assert!(d.taps.iter().all(|(tap, _)| !tap.overlaps(Rect { y: free.y + 1e-6, ..*free })), "{size}");
            }
        }
    }
}

#[test]
fn every_kind_of_page_has_a_drawing() {
    for kind in Kinds::ALL {
        assert!(DATED.iter().any(|e| e.kinds.first() == Some(&kind)), "{kind:?}");
    }
    let mut names: Vec<&str> = DATED.iter().map(|e| e.entry.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), DATED.len());
}

/// Whatever leads to a day, a week or a month is at least as large as a finger can tell from its neighbours: 14 CSS pixels on a screen
/// of 1,180 for the longer side, with every drawing, size, start of the week and with numbers of weeks.
#[test]
fn days_can_be_tapped_at_every_size() {
    let saturday = pages("2026-08", 3, Weekday::Saturday, "en-GB");
    for (size, areas) in sizes() {
        let least = 14.0 * context(areas.clone(), None).long_side / 1180.0;
        for entry in DATED {
            for pages in [&YEAR[..], &SCHOOL[..], &saturday[..]] {
                for (page, d) in drawn(entry, "", &areas, pages) {
                    for (tap, place) in &d.taps {
                        let side = tap.w.min(tap.h);
                        let name = entry.entry.name;
                        assert!(
                            side >= least,
                            "{name} at {size}: {side:.1} of {least:.1} pt to {place} on {}",
                            page.place
                        );
                    }
                }
            }
        }
    }
}
