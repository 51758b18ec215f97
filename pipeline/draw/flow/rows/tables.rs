//! Tables: columns by what they need, rows on the grid, a head that is repeated.

use super::{Composer, Place, Row, cost};
use crate::flow::lines::Setter;
use crate::flow::parse::{Side, Span};
use crate::flow::readable;
use base::model::drawing::Stroke;
use std::rc::Rc;

impl Composer<'_, '_> {
    pub(super) fn table(&mut self, sides: &[Side], head: &[Vec<Span>], rows: &[Vec<Vec<Span>>], place: &Place) {
        let columns = sides.len();
        let pad = self.context.size * 0.9;
        let bold = |cells: &[Vec<Span>]| -> Vec<Vec<Span>> {
            let strong = |spans: &Vec<Span>| spans.iter().cloned().map(|s| Span { bold: true, ..s }).collect();
            cells.iter().map(strong).collect()
        };
        let head = bold(head);
        let setter = Setter { fonts: self.context.fonts, text_style: self.text_style(place, self.context.size, None) };
        let mut extents = vec![(0.0_f64, 0.0_f64); columns];
        for row in std::iter::once(&head).chain(rows) {
            for (extent, cell) in extents.iter_mut().zip(row) {
                let (widest, all) = setter.extent(cell);
                *extent = (extent.0.max(widest), extent.1.max(all));
            }
        }
        let widths = widths(&extents, place.width - pad * columns.saturating_sub(1) as f64);
        let has_head = head.iter().any(|c| !c.is_empty());
        let first = self.rows.len();
        let mut top: Option<Rc<Row>> = None;
        if has_head {
            let mut row = self.table_row(&head, sides, &widths, pad, place, true);
            top = Some(Rc::new(row.clone()));
            row.gap = self.half();
            self.rows.push(row);
        }
        for (i, cells) in rows.iter().enumerate() {
            let mut row = self.table_row(cells, sides, &widths, pad, place, false);
            row.break_cost = (i > 0 || !has_head).then_some(cost::ITEM);
            row.head = top.clone();
            if i == 0 && !has_head {
                row.gap = self.half();
            }
            self.rows.push(row);
        }
        // Never a single row of a table in a column of its own.
        let last = self.rows.len() - 1;
        if last > first + 1 {
            self.rows[last].break_cost = None;
        }
    }

    /// A row of a table: text on the grid, a rule half-way to the next row's capitals.
    fn table_row(
        &mut self,
        cells: &[Vec<Span>],
        sides: &[Side],
        widths: &[f64],
        pad: f64,
        place: &Place,
        head: bool,
    ) -> Row {
        let (line, drop, size) = (self.line, self.drop(), self.context.size);
        let mut set = Vec::new();
        for (cell, width) in cells.iter().zip(widths) {
            set.push(self.lines(cell, place, *width, size, None));
        }
        let most = set.iter().map(Vec::len).max().unwrap_or(0).max(1);
        let height = most as f64 * line + self.half();
        let mut row = self.row(place, 0.0, height);
        let mut x = place.left;
        for ((lines, width), side) in set.iter().zip(widths).zip(sides) {
            for (i, l) in lines.iter().enumerate() {
                let shift = match side {
                    Side::Left => 0.0,
                    Side::Centre => (width - l.width) / 2.0,
                    Side::Right => width - l.width,
                };
                self.draw_at(&mut row, l, x + shift, (i + 1) as f64 * line - drop, line);
            }
            x += width + pad;
        }
        let right = x - pad;
        let y = most as f64 * line - drop + (2.0 * drop + self.half()) / 2.0;
        let style = self.context.style;
        let pen = if head {
            Stroke::new(1.0, readable(style.accent, style.paper, style.ink, 3.0))
        } else {
            Stroke::new(0.5, style.rule)
        };
        row.drawing.line(place.left, y, right, y, pen);
        row
    }
}

/// Widths for columns by their widest word and their whole text, in a room of this width. A table that is narrower
/// than the room stays so; otherwise every column gets its widest word, and the rest is shared out by how much
/// more each one would like.
fn widths(extents: &[(f64, f64)], room: f64) -> Vec<f64> {
    let all: f64 = extents.iter().map(|e| e.1).sum();
    if all <= room {
        return extents.iter().map(|e| e.1).collect();
    }
    let least: f64 = extents.iter().map(|e| e.0).sum();
    if least >= room {
        // Words will be cut; at least they are cut alike.
        return extents.iter().map(|e| room * e.0 / least).collect();
    }
    let share = (room - least) / (all - least);
    extents.iter().map(|e| e.0 + (e.1 - e.0) * share).collect()
}
