//! A month as a grid of days to write in.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::cells::Cells;
use super::sheet::Sheet;
use super::small::HEIGHT;
use super::week::notes_and_months;
use super::{Ruling, head, undated};
use base::keys::{Described, Shape, Word};
use base::model::dated::{DatedKind, DatedPage};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use serde::Deserialize;
use serde::de::{Deserializer, Error, Unexpected, Visitor};
use std::fmt;

/// How many rows a month has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Rows {
    /// As many as its weeks: 4 to 6.
    #[default]
    Fit,
    /// The height of six for every month; what is left over joins the notes.
    Six,
}

impl Described for Rows {
    fn shape() -> Shape {
        let fit = Word { word: "fit", doc: "As many as its weeks: 4 to 6." };
        Shape::Either(vec![Shape::Words(vec![fit]), Shape::Numbers(&[6])])
    }
}

impl<'de> Deserialize<'de> for Rows {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Rows, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Rows;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("\"fit\" or 6")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Rows, E> {
                if v == 6 { Ok(Rows::Six) } else { Err(E::invalid_value(Unexpected::Signed(v), &self)) }
            }
            fn visit_u64<E: Error>(self, v: u64) -> Result<Rows, E> {
                if v == 6 { Ok(Rows::Six) } else { Err(E::invalid_value(Unexpected::Unsigned(v), &self)) }
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Rows, E> {
                if v == "fit" { Ok(Rows::Fit) } else { Err(E::invalid_value(Unexpected::Str(v), &self)) }
            }
        }
        from.deserialize_any(Reader)
    }
}

/// Seven columns of days; notes and the next month below, or beside on a wide page; four days on the first paper of a
/// spread, three and the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedMonth {
    /// `"fit"`, or 6: rows of every month as high as those of one with six.
    rows: Rows,
    /// Head of the notes; empty for none.
    notes: String,
    /// Whether weeks have their number, where the product counts them.
    week_numbers: bool,
    /// Whether the next month is shown small.
    small_months: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for DatedMonth {
    fn default() -> DatedMonth {
        DatedMonth {
            rows: Rows::Fit,
            notes: "Notes".into(),
            week_numbers: true,
            small_months: true,
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for DatedMonth {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedMonth {
    const KINDS: &'static [DatedKind] = &[DatedKind::Month];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let rows = page.month.rows.len().clamp(1, 6);
        let steps = if self.rows == Rows::Six { 6 } else { rows };
        let grid = sheet.grid(0);
        let (area, gap) = (grid.area, gutter(grid.area));
        let weeks = if self.week_numbers { Cells::week_width(&sheet, area.w) } else { 0.0 };
        let head = sheet.pitch.min(area.h * 0.08);
        let at = |x: f64, w: f64, tall: f64| Rect::new(x, area.y + head, w, tall * rows as f64);
        if context.areas.len() > 1 {
            let cell = (area.w - weeks) / 4.0;
            // Down to the foot, as what stands beside them.
            let tall = (area.h - head) / steps as f64;
            let other = sheet.grid(1);
            let first = Cells { area: at(area.x + weeks, cell * 4.0, tall), head, rows, days: 0..4, weeks };
            sheet.cells(&page.month, &first);
            let second = Cells { area: at(other.area.x, cell * 3.0, tall), head, rows, days: 4..7, weeks: 0.0 };
            sheet.cells(&page.month, &second);
            let x = other.area.x + cell * 3.0 + gap;
            self.aside(&mut sheet, &other.across(x, other.area.right() - x));
        } else if area.w > area.h * 1.1 {
            let days = (area.w - weeks - gap) * 0.77;
            // Down to the foot, as what stands beside them.
            let tall = (area.h - head) / steps as f64;
            sheet.cells(&page.month, &Cells { area: at(area.x + weeks, days, tall), head, rows, days: 0..7, weeks });
            let x = area.x + weeks + days + gap;
            self.aside(&mut sheet, &grid.across(x, area.right() - x));
        } else {
            let cell = (area.w - weeks) / 7.0;
            // Notes take what is left; five rows of them where days stay high enough.
            let kept = if self.notes.is_empty() { 0.0 } else { sheet.pitch * 5.0 };
            let room = area.h - head - kept.min(area.h * 0.25);
            let tall = height(&sheet, room, steps, cell * 1.6);
            let days = Cells { area: at(area.x + weeks, cell * 7.0, tall), head, rows, days: 0..7, weeks };
            let used = days.area.bottom() - area.y;
            sheet.cells(&page.month, &days);
            let from = (used / sheet.pitch - 1e-6).ceil() as usize;
            self.below(&mut sheet, &grid, from);
        }
        sheet.out
    }
}

/// Height of a row of days: as many half pitches as fit, no more than `most`.
fn height(sheet: &Sheet, room: f64, rows: usize, most: f64) -> f64 {
    let half = sheet.pitch / 2.0;
    let fit = (room / rows as f64).min(most);
    if fit < half { fit } else { ((fit + 1e-6) / half).floor() * half }
}

impl DatedMonth {
    /// Small months and notes in a column beside the days.
    fn aside(&self, sheet: &mut Sheet, grid: &Grid) {
        let mut from = 0;
        let width = grid.area.w.min(Mm(50.0).pt());
        if self.small_months && sheet.small_fits(width, width * HEIGHT) {
            let top = sheet.small_months(
                Rect { y: grid.area.y + sheet.pitch * 0.3, h: grid.area.h * 0.7, ..grid.area },
                width,
                1,
            );
            from = ((top - grid.area.y) / sheet.pitch).ceil().max(0.0) as usize;
        }
        if !self.notes.is_empty() {
            sheet.block(&self.notes, grid, from, grid.rows);
        }
    }

    /// Notes below the days, small months at their right where they have room.
    fn below(&self, sheet: &mut Sheet, grid: &Grid, from: usize) {
        let from = from.min(grid.rows);
        let area = grid.band(from, grid.rows);
        notes_and_months(sheet, &self.notes, self.small_months, area);
    }
}
