//! Tables: columns by what they need, rows on the grid, a head that is repeated. Where two columns have no room side by side, the
//! second cell of each row stands below the first.

use super::{Composer, MOST_CHARACTERS, Place, Row, cost, measure};
use crate::flow::lines::{Extent, Line, Setter};
use crate::flow::parse::{Side, Span};
use crate::flow::readable;
use base::model::drawing::Stroke;
use std::rc::Rc;

/// Characters of a line that the second of two columns has at least; with less, its cells stand below those of the first.
const LEAST_CHARACTERS: f64 = 16.0;

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
        let mut extents = vec![Extent::default(); columns];
        for row in std::iter::once(&head).chain(rows) {
            for (extent, cell) in extents.iter_mut().zip(row) {
                *extent = extent.most(setter.extent(cell));
            }
        }
        let room = place.width - pad * columns.saturating_sub(1) as f64;
        let widths = widths(&extents, room);
        let least = measure(self.context.fonts, self.context.size) * LEAST_CHARACTERS / MOST_CHARACTERS;
        // In columns beside pictures of pages a table is a list of names, and no row of it is higher than the next.
        let listed = !self.context.figures.is_empty() && self.context.frames.len() > 1;
        let stacked = are_stacked(&extents, &widths, room, if listed { f64::INFINITY } else { least });
        // Over cells that stand below each other, heads of columns say nothing.
        let has_head = !stacked && head.iter().any(|c| !c.is_empty());
        let first = self.rows.len();
        let mut top: Option<Rc<Row>> = None;
        if has_head {
            let mut row = self.table_row(&head, sides, &widths, pad, place, true);
            top = Some(Rc::new(row.clone()));
            row.gap = self.half();
            self.rows.push(row);
        }
        for (i, cells) in rows.iter().enumerate() {
            let mut row = match stacked {
                true => self.stacked_row(cells, pad, place),
                false => self.table_row(cells, sides, &widths, pad, place, false),
            };
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
        let mut set: Vec<Vec<Line>> = Vec::new();
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
        self.rule_below(&mut row, most, (place.left, x - pad), head);
        row
    }

    /// A row of two cells that stand below each other, the second a little indented.
    fn stacked_row(&mut self, cells: &[Vec<Span>], indent: f64, place: &Place) -> Row {
        let (line, drop, size) = (self.line, self.drop(), self.context.size);
        // Each line with how far it is indented.
        let mut set: Vec<(f64, Line)> = Vec::new();
        for (i, cell) in cells.iter().enumerate() {
            let left = if i == 0 { 0.0 } else { indent };
            set.extend(self.lines(cell, place, place.width - left, size, None).into_iter().map(|l| (left, l)));
        }
        let most = set.len().max(1);
        let mut row = self.row(place, 0.0, most as f64 * line + self.half());
        for (at, (left, l)) in set.iter().enumerate() {
            self.draw_at(&mut row, l, place.left + left, (at + 1) as f64 * line - drop, line);
        }
        self.rule_below(&mut row, most, (place.left, place.left + place.width), false);
        row
    }

    /// The rule below so many lines of a row, half-way to the next row's capitals.
    fn rule_below(&self, row: &mut Row, lines: usize, (left, right): (f64, f64), head: bool) {
        let drop = self.drop();
        let y = lines as f64 * self.line - drop + (2.0 * drop + self.half()) / 2.0;
        let style = self.context.style;
        let pen = if head {
            Stroke::new(1.0, readable(style.accent, style.paper, style.ink, 3.0))
        } else {
            Stroke::new(0.5, style.rule)
        };
        row.drawing.line(left, y, right, y, pen);
    }
}

/// Widths for columns by their texts, in a room of this width. A table that is narrower than the room stays so; otherwise every
/// column gets its widest word, and the rest is shared out by how much more each one would like. Where not all words have room, names of
/// files and addresses are cut before others are.
fn widths(extents: &[Extent], room: f64) -> Vec<f64> {
    let shared = |least: fn(&Extent) -> f64, most: fn(&Extent) -> f64| -> Option<Vec<f64>> {
        let [least_of_all, most_of_all]: [f64; 2] = [least, most].map(|of| extents.iter().map(of).sum());
        let share = (room - least_of_all) / (most_of_all - least_of_all);
        (least_of_all < room).then(|| extents.iter().map(|e| least(e) + (most(e) - least(e)) * share).collect())
    };
    if extents.iter().map(|e| e.all).sum::<f64>() <= room {
        return extents.iter().map(|e| e.all).collect();
    }
    let cut_alike = || {
        let least: f64 = extents.iter().map(|e| e.part).sum();
        extents.iter().map(|e| room * e.part / least).collect()
    };
    shared(|e| e.word, |e| e.all).or_else(|| shared(|e| e.part, |e| e.word)).unwrap_or_else(cut_alike)
}

/// Whether the cells of two columns stand below each other: a word would be cut side by side, or the second column be only a word or
/// two wide.
fn are_stacked(extents: &[Extent], widths: &[f64], room: f64, least: f64) -> bool {
    let ([first, second], [_, width]) = (extents, widths) else { return false };
    let fits = first.all + second.all <= room;
    let cut = first.word + second.word >= room;
    // One that is little wider, and takes three lines and more, is no better.
    let tall = *width < least * 1.7 && second.all > *width * 2.0;
    !fits && (cut || tall || *width < least.min(second.all) - 1e-6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn columns_fill_the_room_and_no_word_is_cut_that_could_stay_whole(
            columns in prop::collection::vec((1.0_f64..40.0, 0.0_f64..60.0, 0.0_f64..200.0), 1..6),
            room in 20.0_f64..400.0,
        ) {
            let extents: Vec<Extent> =
                columns.into_iter().map(|(part, word, all)| Extent { part, word: part + word, all: part + word + all }).collect();
            let sum = |of: fn(&Extent) -> f64| extents.iter().map(of).sum::<f64>();
            let widths = widths(&extents, room);
            prop_assert!((widths.iter().sum::<f64>() - room.min(sum(|e| e.all))).abs() < 1e-6);
            for (width, extent) in widths.iter().zip(&extents) {
                prop_assert!(*width <= extent.all + 1e-6);
                prop_assert!(*width >= extent.word - 1e-6 || sum(|e| e.word) >= room);
                prop_assert!(*width >= extent.part - 1e-6 || sum(|e| e.part) >= room);
            }
        }

        #[test]
        fn two_columns_stand_side_by_side_where_words_are_whole_and_the_second_is_no_sliver(
            columns in prop::collection::vec((1.0_f64..40.0, 0.0_f64..60.0, 0.0_f64..200.0), 1..5),
            room in 20.0_f64..400.0,
            least in 10.0_f64..90.0,
        ) {
            let extents: Vec<Extent> =
                columns.into_iter().map(|(part, word, all)| Extent { part, word: part + word, all: part + word + all }).collect();
            let widths = widths(&extents, room);
            let stacked = are_stacked(&extents, &widths, room, least);
            prop_assert!(!stacked || extents.len() == 2);
            if extents.len() == 2 && !stacked {
                for (width, extent) in widths.iter().zip(&extents) {
                    prop_assert!(*width >= extent.word - 1e-6);
                }
                prop_assert!(widths[1] >= least.min(extents[1].all) - 1e-5);
            }
            // What has room in one line each is never taken apart.
            prop_assert!(!stacked || extents.iter().map(|e| e.all).sum::<f64>() > room);
        }
    }
}
