//! A year in colours: a small box for each day, with a key of what a colour means.

mod close;

use super::kit::shortened;
use super::params::{Colour, labels, length, named, pen};
use super::parts::{Type, least_type, name_room, on_frame, say, thin, together};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::calendar::MONTHS;
use base::model::drawing::{Path, Stroke};
use base::model::words::templates::TemplateWords;
use base::model::{Drawing, Mm, Rect};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// The seat of a line of type of this size in its middle, moved up where rows are hardly as high as type: the last line of all stays
/// above the foot.
fn above_foot(seat: Rect, size: f64, area: Rect) -> Rect {
    let below = seat.centre().y + size * 0.65 - area.bottom();
    Rect { y: seat.y - below.max(0.0), ..seat }
}

/// Days of each month; February has its 29th, since the page knows no year.
const DAYS: [usize; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// How much of the column at the side the numbers of days take.
const NUMBERS: f64 = 0.8;

/// A box for each day of a year, to be coloured in, with a key.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct MoodYear {
    /// Names of the months, January first whatever month the year begins with.
    months: Vec<String>,
    /// The month that the year begins with.
    /// Range: 1 to 12.
    first_month: usize,
    /// What the colours of the key mean, 2 to 8 of them; five moods by default.
    key: Option<Vec<String>>,
    /// Language of the moods; that of the product by default.
    language: Option<String>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for MoodYear {
    fn default() -> MoodYear {
        MoodYear { months: named(&MONTHS), first_month: 1, key: None, language: None, weight: None, colour: None }
    }
}

impl Ruling for MoodYear {
    fn check(&self) -> Result<(), String> {
        labels("months", self.months.len(), 12, "one for each month from January")?;
        self.key.as_ref().map_or(Ok(()), |key| length("key", key.len(), 2..=8))
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let order: Vec<usize> = (0..12).map(|i| (i + self.first_month - 1) % 12).collect();
        // Over two papers half a year stands on each.
        for (area, months) in context.areas.iter().zip(order.chunks(12 / context.areas.len().clamp(1, 2))) {
            if close::suits(*area) {
                let names: Vec<String> = order.iter().filter_map(|month| self.months.get(*month).cloned()).collect();
                let place = |month: &usize| order.iter().position(|other| other == month).unwrap_or(0);
                let own = |month: &usize| close::Own { name: place(month), days: DAYS[*month] };
                let own: Vec<close::Own> = months.iter().map(own).collect();
                close::draw(&mut d, context, *area, &self.key(), &names, &own);
                continue;
            }
            let legend = self.legend(&mut d, context, *area);
            self.days(&mut d, context, area.inset_each(0.0, legend, 0.0, 0.0), &order, months);
        }
        d
    }
}

impl MoodYear {
    fn key(&self) -> Vec<String> {
        let w = TemplateWords::of(self.language.as_deref().unwrap_or("en"));
        let moods = [w.mood_best, w.mood_good, w.mood_even, w.mood_low, w.mood_worst];
        self.key.clone().unwrap_or_else(|| named(&moods))
    }

    /// The key: a box to colour and what it means, in two or three rows where the words need it. Gives its height.
    fn legend(&self, d: &mut Drawing, context: &RulingContext, area: Rect) -> f64 {
        let key = self.key();
        let set = Type::new(area, Mm(7.0).pt(), &context.pen).label;
        let set = Setting { colour: context.pen.ink, ..set.sized(set.size.clamp(7.0, 8.6)) };
        let most = Mm(9.0).pt().min(area.h * 0.12);
        let form = |rows: usize| {
            let columns = area.columns(key.len().div_ceil(rows), 0.0);
            let side = Mm(4.2).pt().min(most * 0.7).min(columns[0].w * 0.4);
            let room = (columns[0].w - side * 1.9).max(0.0);
            (shortened(context.fonts, set, &key, room), columns, side, room)
        };
        let least = least_type(area);
        let whole = |rows: &usize| {
            let (set, texts) = form(*rows).0;
            area.h > most * 6.0 && texts == key && set.size >= least - 1e-9
        };
        let rows = (1..=3).find(whole).unwrap_or(1);
        let ((mut set, mut texts), columns, side, room) = form(rows);
        if set.size < least {
            (set, texts) = together(context, set.sized(least), &key, room);
        }
        let step = side * 1.45;
        for (i, text) in texts.iter().enumerate() {
            let column = columns[i % columns.len()];
            let seat = Rect::new(column.x, area.y + (i / columns.len()) as f64 * step, side, side);
            boxes(d, context, &[seat]);
            say(d, context, set, text, Rect { x: column.x + side * 1.45, w: room, h: side, ..seat }, Align::Left);
        }
        most + (rows - 1) as f64 * step
    }

    /// Months beside each other, or below each other where the area is wide. All months of the year, in their order, are named
    /// alike, whichever of them stand on this area.
    fn days(&self, d: &mut Drawing, context: &RulingContext, area: Rect, order: &[usize], months: &[usize]) {
        let pen = &context.pen;
        let wide = area.w > area.h * 1.2;
        let n = months.len() as f64;
        let names: Vec<String> = order.iter().filter_map(|m| self.months.get(*m).cloned()).collect();
        let page = context.areas.first().copied().unwrap_or(area);
        let set = Type::new(page, Mm(7.0).pt(), pen).label;
        let ink = Setting { colour: pen.ink, ..set.sized(set.size.min(8.6)) }.tracked(0.0);
        let number = Setting { colour: pen.quiet, ..ink };
        let widest = number.width(context.fonts, "30");
        let side_label = if wide {
            (area.w * 0.09).min(Mm(22.0).pt())
        } else {
            (area.w * 0.06).min(Mm(7.0).pt()).max(widest / NUMBERS).min(area.w * 0.3)
        };
        let top_label = Mm(6.0).pt().min(area.h * 0.08);
        let room = area.inset_each(side_label, top_label, 0.0, 0.0);
        let (across, down) = if wide { (31.0, n) } else { (n, 31.0) };
        let (w, h) = (room.w / across, room.h / down);
        // Wide pages have room for squares only in one direction: boxes may be higher than wide, within reason.
        let (bw, bh) = (w.min(h * 2.6), h.min(w * 1.7));
        let gap = (bw.min(bh) * 0.12).min(Mm(0.9).pt());
        // The last row ends on the foot, however low the boxes are kept: what is left over is air between the rows.
        let step = if down > 1.0 { (room.h + gap - bh) / (down - 1.0) } else { bh };
        let cell = |c: f64, r: f64| Rect::new(room.x + c * w, room.y + r * step, w, bh);
        let mut all = Vec::new();
        let every = thin(pen, bw.min(bh) * 0.8);
        for (i, month) in months.iter().enumerate() {
            for day in (0..DAYS[*month]).step_by(every) {
                let at = if wide { cell(day as f64, i as f64) } else { cell(i as f64, day as f64) };
                let extra = (every - 1) as f64;
                let at =
                    if wide { Rect { w: at.w * (1.0 + extra), ..at } } else { Rect { h: at.h * (1.0 + extra), ..at } };
                let at = Rect { w: at.w.min(room.right() - at.x), h: at.h.min(room.bottom() + gap - at.y), ..at };
                all.push(at.inset(gap));
            }
        }
        boxes(d, context, &all);
        let label_room = if wide { side_label * 0.94 } else { name_room(w) };
        let (head, cut) = together(context, ink, &names, label_room);
        let first = order.iter().position(|m| months.first() == Some(m)).unwrap_or(0);
        for (i, text) in cut.iter().skip(first).take(months.len()).enumerate() {
            let seat = if wide {
                above_foot(Rect { x: area.x, w: label_room, ..cell(0.0, i as f64) }, head.size, area)
            } else {
                Rect { y: area.y, h: top_label, ..cell(i as f64, 0.0) }
            };
            say(d, context, head, text, seat, if wide { Align::Left } else { Align::Centre });
        }
        // Where boxes are small only every fifth number, with the room of its neighbours.
        let fifth = if wide { widest >= w * 0.95 } else { bh <= number.size * 1.25 };
        for day in (1..=31).filter(|day| !fifth || day % 5 == 0) {
            let at = f64::from(day - 1);
            let more = if fifth { 1.0 } else { 0.0 };
            let seat = if wide {
                let seat = cell(at, 0.0);
                Rect { x: seat.x - more * w, y: area.y, w: seat.w + 2.0 * more * w, h: top_label }
            } else {
                let seat = cell(0.0, at);
                let seat =
                    Rect { x: area.x, y: seat.y - more * step, w: side_label * NUMBERS, h: seat.h + 2.0 * more * step };
                above_foot(seat, number.size, area)
            };
            say(d, context, number, &day.to_string(), seat, if wide { Align::Centre } else { Align::Right });
        }
    }
}

/// Boxes with soft corners, in one path.
fn boxes(d: &mut Drawing, context: &RulingContext, all: &[Rect]) {
    let mut path = Path::default();
    for r in all.iter().filter(|r| r.w > 0.0 && r.h > 0.0) {
        path.0.extend(Path::rounded(*r, (r.w.min(r.h) * 0.2).min(context.corner)).0);
    }
    if !path.0.is_empty() {
        d.stroke(path, Stroke::new(context.pen.weight * 1.1, context.pen.dot));
    }
}
