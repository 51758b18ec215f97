//! Pictures of pages: beside the steps that they show where the column is wide enough for both, above them where it is not.

use super::{Composer, Place, measure};
use crate::flow::parse::Block;
use crate::flow::{FlowFigure, figure_shapes};
use base::model::{Point, Role};

/// Characters of a line of text beside a picture at least.
const LEAST_CHARACTERS: f64 = 42.0;
/// The same beside a picture that is enlarged because its page has room.
const FEWEST_CHARACTERS: f64 = 34.0;
/// In a column that is too narrow for so many: the share of it that text keeps at least.
const NARROW: f64 = 0.6;
/// The width of a picture beside text at most, as a share of the column, and that of an enlarged one.
const BESIDE: (f64, f64) = (0.42, 0.5);
/// The height of a picture, as a share of the column's, beside its text and above it.
const HIGHEST: (f64, f64) = (0.56, 0.5);
/// An upright picture by itself in a narrow column is at least so wide, as a share of that, unless it would be higher than so.
const ALONE: (f64, f64) = (0.7, 0.66);

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

    /// Sets a picture with the blocks that belong to it: beside the first of them, or above them.
    pub(super) fn figure(&mut self, figure: &FlowFigure, text: &[Block], place: &Place) {
        let ratio = figure.size.h / figure.size.w.max(1.0);
        let (column, share) = (self.column, self.context.picture_share);
        let size = self.context.size;
        let gap = size * 2.2;
        let full = measure(self.context.fonts, size);
        let of_line = |characters: f64| full * characters / super::MOST_CHARACTERS;
        let least = of_line(LEAST_CHARACTERS).min(column.w * NARROW);
        let widest = (column.w * BESIDE.0).min(column.h * HIGHEST.0 / ratio).min(column.w - gap - least);
        // Small ones are still seen.
        let most = (widest * share).max(figure.least.min(widest * 0.75));
        // An enlarged one still leaves lines that can be read.
        let room = column.w - gap - least.min(of_line(FEWEST_CHARACTERS));
        let largest = (column.w * BESIDE.1).min(column.h * HIGHEST.0 / ratio).min(room).max(most);
        let most = (most * figure.enlarged).min(largest);
        let from = self.rows.len();
        // Which way it stands does not hang on how large it is this time.
        let wanted = if text.is_empty() || widest < figure.least {
            self.above(figure, text, place)
        } else {
            let beside = Place { width: (column.w - gap - most).min(full), ..place.clone() };
            self.beside(figure, text, (place, &beside), most)
        };
        // A picture keeps to what it shows; all of it stays together where that leaves the column room for a heading.
        let whole = self.height(from) <= column.h - 3.5 * self.line;
        let mut high = 0.0;
        for (i, row) in self.rows[from..].iter_mut().enumerate() {
            if i > 0 {
                row.inside = true;
                high += row.gap;
                if whole || high < wanted {
                    row.break_cost = None;
                }
            }
            high += row.height;
        }
    }

    /// A picture over its text, or by itself; gives its height.
    fn above(&mut self, figure: &FlowFigure, text: &[Block], place: &Place) -> f64 {
        let ratio = figure.size.h / figure.size.w.max(1.0);
        let (column, share) = (self.column, self.context.picture_share);
        let whole = if place.left > 0.0 { place.width } else { column.w };
        let fitting = whole.min(column.h * HIGHEST.1 / ratio) * share * figure.enlarged;
        let narrow = ratio > 1.0 && column.w < measure(self.context.fonts, self.context.size);
        let least = if narrow { (whole * ALONE.0).min(column.h * ALONE.1 / ratio) } else { 0.0 };
        let w = fitting.max(least).min(whole).min(column.h * ALONE.1 / ratio);
        let high = self.halves(w * ratio);
        let mut row = self.row(place, self.half() * 1.5, high);
        row.drawing.shapes.extend(figure_shapes(figure, Point::new(place.left, (high - w * ratio) / 2.0), w));
        self.rows.push(row);
        let from = self.rows.len();
        self.blocks(text, place);
        if let Some(next) = self.rows.get_mut(from) {
            next.gap = next.gap.max(self.line);
            next.break_cost = None;
        }
        high
    }

    /// A picture that is so wide, beside its text; gives how far it reaches down. What belongs to it and finds no room beside it
    /// goes on below, as wide as other text.
    fn beside(&mut self, figure: &FlowFigure, text: &[Block], (place, beside): (&Place, &Place), w: f64) -> f64 {
        let from = self.rows.len();
        // Its upper edge stands as high as the capitals of the first line.
        let top = self.line - self.drop() - self.cap(Role::Label, self.context.size);
        let wanted = top + w * figure.size.h / figure.size.w.max(1.0);
        let mut taken = 0;
        while taken < text.len() && self.height(from) < wanted {
            self.blocks(&text[taken..=taken], beside);
            taken += 1;
        }
        let lacks = wanted - self.height(from);
        if lacks > 0.0 {
            let row = self.row(place, 0.0, self.halves(lacks));
            self.rows.push(row);
        }
        if let Some(row) = self.rows.get_mut(from) {
            row.drawing.shapes.extend(figure_shapes(figure, Point::new(self.column.w - w, top), w));
        }
        self.blocks(&text[taken..], place);
        wanted
    }

    /// How high the rows from one on are, without the gap above the first.
    fn height(&self, from: usize) -> f64 {
        let rows = self.rows.get(from..).unwrap_or_default();
        rows.iter().enumerate().map(|(i, row)| row.height + if i > 0 { row.gap } else { 0.0 }).sum()
    }
}
