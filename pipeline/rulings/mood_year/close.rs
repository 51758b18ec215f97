//! A year in colours on the low page of a phone, where boxes of their own would be too small for a pen: fields that share their
//! lines fill the paper from side to side, and the key above them is one row of fields with words below.

use super::super::RulingContext;
use super::super::parts::{Type, least_type, name_room, phone, say, thin, together};
use base::model::drawing::{Path, Stroke};
use base::model::{Drawing, Mm, Point, Rect};
use draw::text::{Align, Setting};

/// Height of a page on which boxes of their own are large enough: days 4.5 mm apart, below key and names of months.
const ROOMY: Mm = Mm(31.0 * 4.5 + 15.0);

/// The least page that is set so; smaller ones are strips on which there is room for no names.
const LEAST: (Mm, Mm) = (Mm(40.0), Mm(80.0));

/// Of the key: height of its fields, that of the words below them, the air below these, and between the fields.
const SWATCH: Mm = Mm(3.4);
const WORD: Mm = Mm(2.8);
const AIR: Mm = Mm(1.4);
const GAP: Mm = Mm(1.5);

/// Height of the names of months.
const HEAD: Mm = Mm(3.2);

/// Days of the longest month.
const LONGEST: usize = 31;

/// A month of the area: which name is its own, and how many days it has.
#[derive(Clone, Copy)]
pub struct Own {
    /// Its place among the names.
    pub name: usize,
    /// Its days.
    pub days: usize,
}

/// Whether such an area is set closely.
pub fn suits(area: Rect) -> bool {
    phone(area) && area.h < ROOMY.pt() && area.w >= LEAST.0.pt() && area.h >= LEAST.1.pt()
}

/// Draws key and days of these months. All names of the year are given, so that all months are named alike.
pub fn draw(d: &mut Drawing, context: &RulingContext, area: Rect, key: &[String], names: &[String], months: &[Own]) {
    let ink = ink(context, area);
    let number = Setting { colour: context.pen.quiet, ..ink };
    let side = (number.width(context.fonts, "30") / 0.8).min(area.w * 0.3);
    let body = area.inset_each(side, legend(d, context, ink, area, key), 0.0, 0.0);
    let room = body.inset_each(0.0, HEAD.pt(), 0.0, 0.0);
    let cell = Point::new(room.w / months.len().max(1) as f64, room.h / LONGEST as f64);
    fields(d, context, room, cell, months);
    let (set, cut) = together(context, ink, names, name_room(cell.x));
    for (i, month) in months.iter().enumerate() {
        let seat = Rect::new(room.x + i as f64 * cell.x, body.y, cell.x, HEAD.pt());
        say(d, context, set, cut.get(month.name).map_or("", String::as_str), seat, Align::Centre);
    }
    // Where rows are lower than a numeral only every fifth, with the room of its neighbours.
    let fifth = cell.y <= number.size * 1.25;
    let more = if fifth { cell.y } else { 0.0 };
    for day in (1..=LONGEST).filter(|day| !fifth || day.is_multiple_of(5)) {
        let y = room.y + (day - 1) as f64 * cell.y - more;
        let seat = Rect::new(area.x, y, side * 0.8, cell.y + 2.0 * more);
        say(d, context, number, &day.to_string(), seat, Align::Right);
    }
}

/// Type of all words.
fn ink(context: &RulingContext, area: Rect) -> Setting {
    let page = context.areas.first().copied().unwrap_or(area);
    let set = Type::new(page, Mm(7.0).pt(), &context.pen).label;
    Setting { colour: context.pen.ink, ..set.sized(set.size.min(8.6)) }.tracked(0.0)
}

/// The key: fields to colour, each as wide as its word below it needs, in two or three rows where the words need it. Gives its
/// height.
fn legend(d: &mut Drawing, context: &RulingContext, set: Setting, area: Rect, key: &[String]) -> f64 {
    let gap = GAP.pt();
    let row = |rows: usize| key.len().div_ceil(rows).max(1);
    let wide = |set: Setting, word: &String| set.width(context.fonts, word);
    // What of its size the type has in which the words of each row have room.
    let share = |rows: usize| {
        let of = |words: &[String]| {
            let all: f64 = words.iter().map(|word| wide(set, word)).sum();
            (area.w - gap * (words.len() - 1) as f64) / all.max(1.0)
        };
        key.chunks(row(rows)).map(of).fold(1.0, f64::min)
    };
    let least = least_type(area).min(set.size);
    let rows = (1..=3).find(|rows| set.size * share(*rows) >= least - 1e-9).unwrap_or(3);
    let set = set.sized((set.size * share(rows)).max(least));
    let (high, step) = (SWATCH.pt(), SWATCH.pt() + WORD.pt() + AIR.pt());
    let stroke = Stroke::new(context.pen.weight * 1.1, context.pen.dot);
    for (r, words) in key.chunks(row(rows)).enumerate() {
        let all: f64 = words.iter().map(|word| wide(set, word)).sum();
        let free = area.w - gap * (words.len() - 1) as f64;
        // What is left over widens all fields alike; words that are too long share what there is.
        let (more, scale) = if all <= free { ((free - all) / words.len() as f64, 1.0) } else { (0.0, free / all) };
        let mut x = area.x;
        for word in words {
            let field = Rect::new(x, area.y + r as f64 * step, (wide(set, word) * scale + more).max(0.0), high);
            d.stroke(Path::rounded(field, (field.w.min(high) * 0.2).min(context.corner)), stroke);
            say(d, context, set, word, Rect { y: field.bottom(), h: WORD.pt(), ..field }, Align::Centre);
            x += field.w + gap;
        }
    }
    step * key.len().div_ceil(row(rows)) as f64
}

/// The fields of the days: lines that neighbours share, each as far as months have the day. Every fifth is a little stronger.
fn fields(d: &mut Drawing, context: &RulingContext, room: Rect, cell: Point, months: &[Own]) {
    let pen = &context.pen;
    let line = Stroke::new(pen.weight * 1.1, pen.rule);
    let (x, y) = (|i: usize| room.x + i as f64 * cell.x, |day: usize| room.y + day as f64 * cell.y);
    let every = thin(pen, cell.y);
    for day in (0..=LONGEST).filter(|day| day.is_multiple_of(every) || *day == LONGEST) {
        let stroke = if day.is_multiple_of(5) && (5..30).contains(&day) {
            Stroke::new(pen.weight * 1.9, pen.rule)
        } else {
            line
        };
        let mut from = None;
        for i in 0..=months.len() {
            let has = months.get(i).is_some_and(|month| month.days >= day);
            match from {
                None if has => from = Some(i),
                Some(start) if !has => {
                    d.line(x(start), y(day), x(i), y(day), stroke);
                    from = None;
                }
                _ => {}
            }
        }
    }
    for i in (0..=months.len()).step_by(thin(pen, cell.x)) {
        let beside = [i.checked_sub(1), Some(i)].into_iter().flatten().filter_map(|i| months.get(i));
        let long = beside.map(|month| month.days).max().unwrap_or(0);
        d.line(x(i), y(0), x(i), y(long), line);
    }
}
