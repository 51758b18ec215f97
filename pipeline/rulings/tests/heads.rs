//! One head for all pages that have one: its line stands at one height, and what is framed below it begins on one line.

use super::{all_papers, drawn, is_phone, level_strokes, reach, runs};
use base::model::drawing::{Shape, Stroke};
use base::model::{Drawing, Mm, Rect};

/// Pages on whose first lines a title, a date, a week or a topic is written.
const HEADED: [(&str, &str); 8] = [
    ("titled", ""),
    ("cue-notes", ""),
    ("two-column-list", ""),
    ("checklist", "title = 'A list'"),
    ("day", ""),
    ("week", ""),
    ("open-week", ""),
    ("month", ""),
];

/// The strong level lines of a paper, which begin at its left side or farther right: their strokes and how far below its top they
/// lie, in mm, the highest first.
fn strong(d: &Drawing, paper: &Rect) -> Vec<(f64, Stroke)> {
    let own = |line: &[f64; 3]| line[0] >= paper.x - 1.0 && line[0] <= paper.right() + 1.0;
    let lines = level_strokes(d).into_iter().filter(|(line, stroke)| own(line) && stroke.width > 0.8);
    let mut at: Vec<(f64, Stroke)> = lines.map(|(line, stroke)| ((line[2] - paper.y) / Mm(1.0).pt(), stroke)).collect();
    at.sort_by(|a, b| a.0.total_cmp(&b.0));
    at
}

#[test]
fn the_line_of_the_head_stands_at_one_height() {
    for (size, papers) in all_papers() {
        // Two lines of college ruling; one on a phone.
        let high = if is_phone(size) { 7.1 } else { 14.2 };
        for (name, with) in HEADED {
            let d = drawn(name, with, papers.clone());
            for paper in &papers {
                let line = strong(&d, paper)[0].0;
                assert!((line - high).abs() < 0.5, "{name} on {size:?} mm: {line:.2} for {high}");
            }
        }
    }
}

/// A head that is empty above its labels is lost room on a phone.
#[test]
fn a_phone_has_no_void_head() {
    for (size, papers) in all_papers().into_iter().filter(|(size, _)| is_phone(*size)) {
        for (name, with) in HEADED.into_iter().filter(|(name, _)| *name != "two-column-list") {
            let d = drawn(name, with, papers.clone());
            let words = d.shapes.iter().filter(|shape| matches!(shape, Shape::Text(_)));
            let top = words.map(|word| reach(word).0[0].y).fold(f64::MAX, f64::min) - papers[0].y;
            assert!(top <= Mm(6.0).pt(), "{name} on {size:?} mm: {:.2} mm", top / Mm(1.0).pt());
        }
    }
}

#[test]
fn frames_below_the_head_begin_on_one_line() {
    for (size, papers) in all_papers() {
        let first = |name: &str| {
            let d = drawn(name, "", papers.clone());
            let filled = d.shapes.iter().filter_map(|shape| match shape {
                Shape::Path { path, fill: Some(_), .. } => Some(path.bounds().y),
                _ => None,
            });
            (filled.fold(f64::MAX, f64::min) - papers[0].y) / Mm(1.0).pt()
        };
        let (month, week) = (first("month"), first("open-week"));
        assert!((month - week).abs() < 0.5, "{size:?} mm: {month:.2}, {week:.2}");
    }
}

/// A distance of lines that is asked for goes on in the head, which is as high as whole lines come to that of other pages.
#[test]
fn a_head_of_other_lines_is_nearly_as_high() {
    for (size, papers) in all_papers() {
        let high = if is_phone(size) { 7.1 } else { 14.2 };
        for pitch in [4.0, 5.0, 6.35, 8.7, 10.0] {
            for name in ["titled", "cue-notes", "week", "month"] {
                let d = drawn(name, &format!("pitch = {pitch}"), papers.clone());
                let line = strong(&d, &papers[0])[0].0;
                assert!((line - high).abs() <= pitch / 2.0 + 1e-6, "{name}, {pitch} mm, on {size:?}: {line:.2}");
                assert!((line / pitch - (line / pitch).round()).abs() < 1e-6, "{name}, {pitch} mm: {line:.2}");
            }
        }
    }
}

/// Above the name of each day of a week there is the same air, the first one included: half a row more than the name's own.
#[test]
fn days_of_a_week_stand_equally_clear() {
    for (size, papers) in all_papers() {
        let d = drawn("week", "", papers.clone());
        let lines = level_strokes(&d);
        let head = papers[0].y + Mm(if is_phone(size) { 8.0 } else { 15.0 }).pt();
        let days = lines.iter().filter(|(line, stroke)| stroke.width > 0.8 && line[2] > head);
        let gaps: Vec<f64> = days
            .map(|(day, _)| {
                let above = |other: &&([f64; 3], Stroke)| {
                    let [from, to, y] = other.0;
                    from < day[1] - 1.0 && to > day[0] + 1.0 && y < day[2] - 1e-6
                };
                day[2] - lines.iter().filter(above).map(|(line, _)| line[2]).fold(f64::MIN, f64::max)
            })
            .collect();
        let pitch = gaps[0] / 1.5;
        assert!(gaps.len() >= 7, "{size:?}: {} days", gaps.len());
        assert!(gaps.iter().all(|gap| (gap - gaps[0]).abs() < 1e-6), "{size:?}: {gaps:?}");
        assert!(pitch >= Mm(5.0).pt(), "{size:?}: rows of {:.2} mm", pitch / Mm(1.0).pt());
        // What is written on the lines of the day before is not touched.
        for run in runs(&d).into_iter().filter(|run| run.text.ends_with("day")) {
            let top = reach(&Shape::Text(run.clone())).0[0].y;
            let clear = lines.iter().filter(|(line, _)| line[2] <= top).map(|(line, _)| top - line[2]);
            assert!(clear.fold(f64::MAX, f64::min) >= pitch * 0.4, "{} on {size:?}", run.text);
        }
    }
}
