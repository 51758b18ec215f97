//! Pictures of pages: beside the steps that they show where the column is wide enough for both, above them where it is not.

use super::{Composer, Place, Row, measure};
use crate::flow::parse::Block;
use crate::flow::{FlowFigure, figure_shapes};
use base::model::{Point, Role};

/// Characters of a line of text beside a picture at least.
const LEAST_CHARACTERS: f64 = 42.0;
/// The width of a picture beside text, as a share of the column: what it may take, and what it must have to be worth it.
const BESIDE: (f64, f64) = (0.42, 0.27);
/// The height of a picture, as a share of the column's, beside its text and above it.
const HIGHEST: (f64, f64) = (0.56, 0.5);

impl Composer<'_, '_> {
    /// The picture of pages that a block is, and what of the blocks after it belongs to it.
    pub(super) fn figure_of<'b>(&self, blocks: &'b [Block], place: &Place) -> Option<(FlowFigure, &'b [Block])> {
        let (Block::Picture(name, _), rest) = blocks.split_first()? else { return None };
        let figure = self.context.figures.get(name)?;
        // Within a list or a quotation it stands by itself.
        if place.lists > 0 || !place.bars.is_empty() {
            return Some((figure.clone(), &[]));
        }
        let ends = |block: &Block| !matches!(block, Block::Paragraph(_) | Block::List(..) | Block::Lines(_));
        Some((figure.clone(), &rest[..rest.iter().position(ends).unwrap_or(rest.len())]))
    }

    /// Sets a picture with the first of the blocks that belong to it; gives how many blocks stand beside it.
    pub(super) fn figure(&mut self, figure: &FlowFigure, text: &[Block], place: &Place) -> usize {
        let ratio = figure.size.h / figure.size.w.max(1.0);
        let (column, share) = (self.column, self.context.picture_share);
        let size = self.context.size;
        let gap = size * 2.2;
        let full = measure(self.context.fonts, size);
        let least = full * LEAST_CHARACTERS / super::MOST_CHARACTERS;
        let most = (column.w * BESIDE.0 * share).min(column.h * HIGHEST.0 * share / ratio).min(column.w - gap - least);
        if text.is_empty() || most < column.w * BESIDE.1 {
            let w = place.width.min(column.h * HIGHEST.1 / ratio) * share;
            let mut row = self.row(place, self.half() * 1.5, self.halves(w * ratio));
            row.drawing.shapes.extend(figure_shapes(figure, Point::new(place.left, 0.0), w));
            let below = self.halves(w * ratio) - w * ratio;
            // It stands on the line of text above the next one, not higher.
            for shape in &mut row.drawing.shapes {
                *shape = crate::flow::moved(shape, 0.0, below / 2.0);
            }
            self.rows.push(row);
            return 0;
        }
        let beside = Place { width: (column.w - gap - most).min(full), ..place.clone() };
        let from = self.rows.len();
        // Its upper edge stands as high as the capitals of the first line.
        let top = self.line - self.drop() - self.cap(Role::Label, size);
        let wanted = top + most * ratio;
        let mut taken = 0;
        // Whatever else belongs to it goes on below it, as wide as other text.
        while taken < text.len() && self.height(from) < wanted {
            self.blocks(&text[taken..=taken], &beside);
            taken += 1;
        }
        let lacks = wanted - self.height(from);
        if lacks > 0.0 {
            let row = Row { break_cost: None, ..self.row(place, 0.0, self.halves(lacks)) };
            self.rows.push(row);
        }
        let left = column.w - most;
        let mut high = 0.0;
        for (i, row) in self.rows[from..].iter_mut().enumerate() {
            if i == 0 {
                row.drawing.shapes.extend(figure_shapes(figure, Point::new(left, top), most));
            } else {
                high += row.gap;
                if high < wanted {
                    row.break_cost = None;
                }
            }
            high += row.height;
        }
        taken
    }

    /// How high the rows from one on are, without the gap above the first.
    fn height(&self, from: usize) -> f64 {
        let rows = self.rows.get(from..).unwrap_or_default();
        rows.iter().enumerate().map(|(i, row)| row.height + if i > 0 { row.gap } else { 0.0 }).sum()
    }
}
