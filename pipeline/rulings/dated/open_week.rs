//! A week as a page of boxes.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, on_frame};
use super::sheet::{Sheet, seated};
use super::small::HEIGHT;
use super::week::day_head;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage};
use base::model::drawing::Path;
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use serde::Deserialize;

/// Seven boxes and one for notes.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedOpenWeek {
    /// Head of the box for notes; empty for none.
    notes: String,
    /// Whether a small month stands in the box for notes where there is room.
    small_months: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for DatedOpenWeek {
    fn default() -> DatedOpenWeek {
        DatedOpenWeek { notes: "Notes".into(), small_months: true, weight: None, colour: None }
    }
}

impl Ruling for DatedOpenWeek {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedOpenWeek {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let (columns, rows) = match (context.areas.len(), context.areas[0]) {
            (1, a) if a.w > a.h * 1.1 => (4, 2),
            (1, _) => (2, 4),
            (_, a) if a.w > a.h * 1.1 => (2, 2),
            _ => (1, 4),
        };
        let each = columns * rows;
        for area in 0..context.areas.len() {
            let body = sheet.body(area);
            let gap = (sheet.pitch * 0.4).min(body.h * 0.02);
            let body = body.inset_each(0.0, gap, 0.0, 0.0);
            let (across, down) = (body.columns(columns, gap), body.rows(rows, gap));
            for i in 0..each {
                let slot = area * each + i;
                let room = Rect { x: across[i % columns].x, w: across[i % columns].w, ..down[i / columns] };
                self.open_box(&mut sheet, slot, room);
            }
        }
        sheet.out
    }
}

impl DatedOpenWeek {
    fn open_box(&self, sheet: &mut Sheet, slot: usize, room: Rect) {
        let page = sheet.page;
        let (pen, context) = (sheet.pen(), sheet.context);
        let radius = context.corner.min(sheet.pitch * 0.35).min(room.w / 4.0);
        let head = Rect { h: (sheet.pitch * 1.2).min(room.h * 0.4), ..room };
        let day = page.week.as_ref().and_then(|w| w.days.get(slot));
        let wash = sheet.wash();
        if day.is_some_and(|d| d.weekend) {
            sheet.out.ground.fill(Path::rounded(room, radius), wash);
        }
        sheet.out.ground.stroke(Path::rounded(room, radius), pen.rule());
        let Some(day) = day else {
            if self.notes.is_empty() {
                return;
            }
            let pad = sheet.pitch * 0.3;
            let seat = head.inset_each(pad, 0.0, pad, 0.0);
            let inner = room.inset_each(pad, pad, pad, pad * 0.5);
            // In a high box the small month stands at the foot, in a wide one at the right.
            let high = inner.h > inner.w * 1.4;
            let width = if high { inner.w } else { inner.h.min(inner.w * 0.5) }.min(Mm(52.0).pt());
            seated(&mut sheet.out.ground, context, sheet.name, &self.notes, Rect { w: seat.w * 0.45, ..seat });
            if self.small_months && sheet.small_fits(width, width * HEIGHT) {
                let y = if high { inner.bottom() - width } else { inner.y };
                let corner = Rect::new(inner.right() - width, y, width, inner.bottom() - y);
                sheet.small_months(corner, width, 1);
            }
            return;
        };
        sheet.out.ground.line(head.x, head.bottom(), head.right(), head.bottom(), pen.grid());
        let pad = sheet.pitch * 0.3;
        let rest = Rect::new(room.x + pad, head.bottom(), room.w - 2.0 * pad, room.bottom() - head.bottom());
        let set = sheet.event_set(sheet.pitch * 0.46);
        let grid = Grid::new(rest.inset_each(0.0, set.size * 0.25, 0.0, 0.0), set.size * 1.5);
        let more = sheet.events_on_lines(&day.events, &grid, 0, (grid.rows / 2).max(1));
        day_head(sheet, slot, day, head, more);
    }
}
