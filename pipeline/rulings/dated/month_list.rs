//! A month as a list: a row for each day.

use super::super::params::{Colour, pen};
use super::super::parts::{gutter, on_frame};
use super::events::marks_in;
use super::sheet::{Sheet, figure, fitting, line_at};
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell, WeekRow};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// A row for each day, in two columns on a wide page and where rows would be too low, in one on each paper of a spread; in more
/// where rows could not be tapped.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct MonthList {
    /// Whether weeks have their number, where the product counts them.
    week_numbers: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for MonthList {
    fn default() -> MonthList {
        MonthList { week_numbers: true, weight: None, colour: None }
    }
}

impl Ruling for MonthList {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for MonthList {
    const KINDS: &'static [DatedKind] = &[DatedKind::Month];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let body = sheet.body(0);
        let areas = context.areas.len();
        let two = areas == 1 && (body.w > body.h * 1.1 || body.h / 31.0 < Mm(5.6).pt());
        // As many columns more as rows need that can be tapped.
        let rows = |columns: usize| 31_usize.div_ceil(areas * columns);
        let least = if two { 2 } else { 1 };
        let beside = (least..4).find(|n| body.h / rows(*n) as f64 >= sheet.least_tap()).unwrap_or(least);
        let each = rows(beside);
        let columns: Vec<Rect> = (0..areas)
            .flat_map(|i| sheet.body(i).columns(beside, if beside > 1 { gutter(body) } else { 0.0 }))
            .collect();
        let row = body.h / each as f64;
        let days: Vec<(&DayCell, &WeekRow)> =
            page.month.rows.iter().flat_map(|w| w.days.iter().map(move |d| (d, w))).filter(|(d, _)| d.inside).collect();
        for (c, column) in columns.iter().enumerate() {
            // Rules of days that every month has; those of the last ones are their own.
            let count = 28_usize.saturating_sub(c * each).min(each);
            for n in 1..=count {
                let y = column.y + n as f64 * row;
                sheet.out.ground.line(column.x, y, column.right(), y, sheet.context.pen.rule());
            }
            for (n, (day, week)) in days.iter().skip(c * each).take(each).enumerate() {
                let area = Rect::new(column.x, column.y + n as f64 * row, column.w, row);
                if n >= count {
                    sheet.out.layer.line(area.x, area.bottom(), area.right(), area.bottom(), sheet.context.pen.rule());
                }
                let starts = day.day == 1 || day.weekday == 0;
                self.row(&mut sheet, day, starts.then_some(*week), area);
            }
        }
        sheet.out
    }
}

impl MonthList {
    fn row(&self, sheet: &mut Sheet, day: &DayCell, week: Option<&WeekRow>, area: Rect) {
        let (pen, context, page) = (sheet.pen(), sheet.context, sheet.page);
        let size = (area.h * 0.62).min(sheet.pitch * 0.72);
        let set = Setting::new(Role::Heading, size, pen.ink);
        let (number, name) = (size * 1.35, sheet.label.size * 2.6);
        let date = (number + name).min(area.w * 0.5).max(Mm(7.0).pt().min(area.w));
        let field = Rect { w: date, ..area };
        let wash = sheet.wash();
        if day.weekend {
            sheet.out.layer.fill(Path::rect(field), wash);
        }
        let colour = day.events.iter().find(|e| e.holiday).map_or(pen.ink, |e| sheet.written(e.colour));
        figure(
            &mut sheet.out.layer,
            context,
            Setting { colour, ..set },
            &day.number,
            Rect { w: number.min(date), ..area },
        );
        let names: Vec<[&str; 3]> =
            page.weekdays.iter().map(|d| [d.short.as_str(), d.short.as_str(), d.narrow.as_str()]).collect();
        let room = Rect { x: area.x + number, w: (date - number).max(0.0), ..area };
        let (small, names) = fitting(context, sheet.label, &names, room.w * 0.9);
        let base = area.centre().y + set.sized(size.min(area.h / 1.1)).cap(context.fonts) / 2.0;
        if let Some(name) = names.get(day.weekday) {
            line_at(&mut sheet.out.layer, context, small, name, room, base, Align::Left);
        }
        sheet.tap(field, day.leads());
        let mut rest = area.inset_each(date + size * 0.3, 0.0, 0.0, 0.0);
        if let Some(number) = week.and_then(|w| w.number.as_ref()).filter(|_| self.week_numbers) {
            let word = page.week_word.as_deref().unwrap_or_default();
            let text = format!("{word}{number}");
            let set = sheet.label.sized(sheet.label.size * 0.9);
            let wide = Mm(8.0).pt().min(area.w * 0.16);
            let seat = Rect { x: area.right() - wide, w: wide, ..area };
            figure(&mut sheet.out.layer, context, set, &text, seat);
            sheet.tap(seat, week.and_then(|w| w.place.as_deref()));
            rest.w -= wide + size * 0.2;
        }
        self.events(sheet, day, rest);
    }

    /// Whether the first event of a day fits its row whole.
    fn whole(&self, sheet: &Sheet, day: &DayCell, rest: Rect, tail: f64, set: Setting) -> bool {
        day.events.first().is_some_and(|e| sheet.fits(e, Rect { w: rest.w - tail, ..rest }, set))
    }

    /// Events side by side, as many as have room; where not even one has, a mark for each.
    fn events(&self, sheet: &mut Sheet, day: &DayCell, rest: Rect) {
        if sheet.small() || day.events.is_empty() || rest.w <= 0.0 {
            return;
        }
        let set = sheet.event_set(rest.h * 0.5);
        let base = rest.centre().y + set.cap(sheet.context.fonts) / 2.0;
        let mut x = rest.x;
        let mut shown = 0;
        let tail = if day.events.len() > 1 { set.size * 1.8 } else { 0.0 };
        if !self.whole(sheet, day, rest, tail, set) {
            let marks: Vec<_> = day.events.iter().map(|e| sheet.mark(e.colour)).collect();
            marks_in(&mut sheet.out.layer, &marks, rest);
            return;
        }
        for event in &day.events {
            let text = event.time.as_deref().map_or(event.name.clone(), |t| format!("{t} {}", event.name));
            let wide = set.width(sheet.context.fonts, &text) + set.size * 1.3;
            let left = rest.right() - tail - x;
            if wide > left && shown > 0 {
                break;
            }
            sheet.event(event, Rect { x, w: wide.min(left), ..rest }, set, base);
            x += wide;
            shown += 1;
        }
        sheet.more(day.events.len() - shown, Rect { x: rest.right() - tail, w: tail, ..rest });
    }
}
