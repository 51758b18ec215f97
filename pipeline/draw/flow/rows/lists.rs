//! Lists: bullets and numbers that hang beside their text, and steps with large numerals.

use super::{Composer, Place, cost};
use crate::flow::parse::Block;
use crate::flow::readable;
use crate::text::{Align, Setting};
use base::model::drawing::Stroke;
use base::model::words::in_digits;
use base::model::{Point, Role, Shape};

/// A list of so many items is a short one.
const SHORT: usize = 6;

/// A face whose figures are narrower than this is a narrow one, in sizes of type.
const NARROW: f64 = 0.42;

impl Composer<'_, '_> {
    pub(super) fn list(&mut self, first: Option<u64>, apart: bool, items: &[Vec<Block>], place: &Place) {
        let (size, half) = (self.context.size, self.half());
        // A numbered list that is no part of another thing is a row of steps.
        let steps = first.is_some() && place.lists == 0 && place.bars.is_empty();
        let number = |i: usize| first.map(|f| in_digits(&(f + i as u64).to_string(), self.context.digits));
        let numeral = self.numeral();
        let label = Setting::new(Role::Label, size, self.context.style.ink);
        let fonts = self.context.fonts;
        let widest = (0..items.len())
            .filter_map(number)
            .map(|n| if steps { numeral.width(fonts, &n) } else { label.width(fonts, &format!("{n}.")) })
            .fold(0.0, f64::max);
        let indent = if steps { widest + size * 0.9 } else { (widest + size * 0.5).max(size * 1.2) };
        let mut inside = place.clone();
        inside.left += indent;
        inside.width -= indent;
        inside.lists += 1;
        let after_heading = self.rows.last().is_some_and(|r| r.heading);
        let mut starts = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            let from = self.rows.len();
            self.blocks(item, &inside);
            if from == self.rows.len() {
                // An item without a word still has its number or bullet.
                let row = self.row(&inside, 0.0, self.line);
                self.rows.push(row);
            }
            if steps {
                self.step(from, &number(i).unwrap_or_default(), place.left + widest, numeral);
            } else {
                self.mark(from, number(i), place, widest);
            }
            starts.push(from);
        }
        // Items of one line stand close, like a shopping list; longer ones need air to be told apart.
        let long = starts.windows(2).any(|w| w[1] - w[0] > 1) || starts.last().is_some_and(|s| self.rows.len() - s > 1);
        let apart = apart || steps || (long && place.lists == 0);
        // Beside pictures of pages a short one rather goes on to the next column than that it is torn apart.
        let guide = !self.context.figures.is_empty() && self.context.frames.len() > 1;
        let short = guide && items.len() <= SHORT && place.lists == 0 && place.bars.is_empty();
        for (i, from) in starts.iter().enumerate() {
            let to = starts.get(i + 1).copied().unwrap_or(self.rows.len());
            let row = &mut self.rows[*from];
            row.gap = match i {
                0 if steps && !after_heading => 2.0 * half,
                0 if place.lists > 0 => 0.0,
                0 => half,
                _ if apart => half,
                _ => 0.0,
            };
            row.break_cost = match i {
                0 => Some(cost::INSIDE),
                // Beside and below pictures a heading keeps two steps.
                1 if steps && !self.context.figures.is_empty() => None,
                // Nor does its last item stand alone.
                _ if i + 1 == starts.len() && !self.context.figures.is_empty() => None,
                _ if short => Some(cost::SHORT_LIST),
                1 => Some(cost::LONELY_ITEM),
                _ if i + 1 == starts.len() => Some(cost::LONELY_ITEM),
                _ => Some(cost::ITEM),
            };
            // A short item is not torn apart.
            if to - from <= 4 {
                self.rows[from + 1..to].iter_mut().for_each(|row| row.break_cost = None);
            } else if short {
                let lines = self.rows[from + 1..to].iter_mut();
                lines.for_each(|row| row.break_cost = row.break_cost.map(|own| own.max(cost::SHORT_LIST)));
            }
        }
    }

    /// Numerals of steps: 1.6 times the text.
    fn numeral(&self) -> Setting {
        let style = self.context.style;
        // Where capitals are tall, no taller than the line has room above its baseline.
        let fonts = self.context.fonts;
        // A narrow face is too thin for a single numeral among text.
        let narrow = Setting::new(Role::Heading, 1.0, style.ink).width(fonts, "0") < NARROW;
        let role = if narrow { Role::LabelBold } else { Role::Heading };
        let cap = fonts.metrics(role).cap.max(0.2);
        let size = (self.context.size * 1.6).min((self.line - self.drop()) / cap);
        // What is large may be paler (WCAG 2.2, 1.4.3: from 18 points on).
        let ratio = if size < 18.0 { 4.5 } else { 3.0 };
        Setting::new(role, size, readable(style.accent, style.paper, style.ink, ratio))
    }

    /// Puts a numeral beside the first line of a step, on its baseline. The first two lines of a step stay together.
    fn step(&mut self, from: usize, number: &str, right: f64, numeral: Setting) {
        let baseline = self.line - self.drop();
        if let Some(second) = self.rows.get_mut(from + 1) {
            second.break_cost = None;
        }
        let fonts = self.context.fonts;
        numeral.draw(&mut self.rows[from].drawing, fonts, number, right, baseline, Align::Right);
    }

    /// Puts a number or a bullet before the first line of an item. Bullets are drawn, since not every font has one.
    fn mark(&mut self, from: usize, number: Option<String>, place: &Place, widest: f64) {
        let (size, fonts) = (self.context.size, self.context.fonts);
        let baseline = self.line - self.drop();
        let ink = self.context.style.ink;
        let accent = readable(self.context.style.accent, self.context.style.paper, ink, 3.0);
        let middle = baseline - fonts.metrics(Role::Label).x * size / 2.0;
        let drawing = &mut self.rows[from].drawing;
        match number {
            Some(n) => {
                let label = Setting::new(Role::Label, size, ink);
                label.draw(drawing, fonts, &format!("{n}."), place.left + widest, baseline, Align::Right);
            }
            None if place.lists == 0 => {
                let at = vec![Point::new(place.left + size * 0.32, middle)];
                drawing.push(Shape::Dots { at, diameter: size * 0.34, colour: accent });
            }
            None => {
                let pen = Stroke::new(size * 0.09, accent);
                drawing.line(place.left + size * 0.12, middle, place.left + size * 0.62, middle, pen);
            }
        }
    }
}
