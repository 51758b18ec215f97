//! An open page under a date: companions, journals.

use super::super::params::{Colour, Pitch, pen};
use super::super::parts::{Grid, near_frame, on_frame, thin};
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage};
use base::model::drawing::Shape;
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext, fits};
use serde::Deserialize;

/// What there is to write on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
enum Style {
    /// Rules from side to side.
    #[default]
    Lines,
    /// Dots in rows and columns.
    Dots,
    /// Squares.
    Squares,
    /// Nothing.
    Blank,
}

/// A page to write on below its date.
#[derive(Debug, Default, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedNotes {
    /// Lines, dots, squares, or blank.
    style: Style,
    /// Distance of the lines or dots; by default that of the page's grid, and 5 mm for dots and squares.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Ruling for DatedNotes {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedNotes {
    const KINDS: &'static [DatedKind] =
        &[DatedKind::Day, DatedKind::Week, DatedKind::Month, DatedKind::Quarter, DatedKind::Year];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let whole = &context.areas;
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        for (area, paper) in whole.iter().enumerate() {
            let body = sheet.body(area);
            let to_the_end = Rect { h: paper.bottom() - body.y, ..body };
            let own = self.pitch.map(Pitch::pt);
            match self.style {
                // What is drawn there has the same foot as all pages.
                Style::Blank => sheet.out.free.push(to_the_end),
                Style::Lines => {
                    let grid = Grid::new(body, own.unwrap_or(sheet.pitch));
                    sheet.lines(&grid, 1, grid.rows);
                }
                Style::Dots | Style::Squares => {
                    let pitch = own.unwrap_or(Mm(5.0).pt());
                    let step = pitch * thin(sheet.pen(), pitch) as f64;
                    // Even margins left and right; the first row a pitch below the head.
                    let (columns, (rows, _)) = (fits(body.w, step), near_frame(to_the_end, step, 0.0));
                    if columns == 0 || rows == 0 {
                        continue;
                    }
                    let left = body.x + (body.w - columns as f64 * step) / 2.0;
                    let right = left + columns as f64 * step;
                    let (x, y) = (|c: usize| left + c as f64 * step, |r: usize| body.y + r as f64 * step);
                    if self.style == Style::Squares {
                        for r in 1..=rows {
                            sheet.out.ground.line(left, y(r), right, y(r), sheet.context.pen.grid());
                        }
                        for c in 0..=columns {
                            sheet.out.ground.line(x(c), body.y, x(c), y(rows), sheet.context.pen.grid());
                        }
                        continue;
                    }
                    let half = sheet.pen().dot_size / 2.0;
                    let inside = |p: &Point| {
                        p.x - half >= body.x && p.x + half <= body.right() && p.y + half <= to_the_end.bottom()
                    };
                    let at = (1..=rows).flat_map(|r| (0..=columns).map(move |c| (c, r)));
                    let at = at.map(|(c, r)| Point::new(x(c), y(r))).filter(inside).collect();
                    let pen = sheet.pen();
                    sheet.out.ground.push(Shape::Dots { at, diameter: pen.dot_size, colour: pen.dot });
                }
            }
        }
        sheet.out
    }
}
