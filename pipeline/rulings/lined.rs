//! Rules across the page: blank, lined, margin-ruled, and lined below a title and a date.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, Type, field, fields_beside, head_rows, strong, thin};
use super::{Ruling, RulingContext};
use base::colour;
use base::keys::Described;
use base::model::drawing::Stroke;
use base::model::{Drawing, Mm};
use draw::Pen;
use serde::Deserialize;

/// Nothing at all.
#[derive(Debug, Default, Deserialize, Described)]
#[serde(deny_unknown_fields)]
pub struct Blank {}

impl Ruling for Blank {
    fn draw(&self, _: &RulingContext) -> Drawing {
        Drawing::new()
    }
}

/// Rules from edge to edge.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Lined {
    /// Distance of the rules; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the rules in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the rules.
    colour: Option<Colour>,
}

impl Default for Lined {
    fn default() -> Lined {
        Lined { pitch: Pitch::COLLEGE, weight: None, colour: None }
    }
}

impl Ruling for Lined {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        for area in &context.areas {
            rules(&mut d, &pen, &Grid::new(*area, self.pitch.pt()), 1);
        }
        d
    }
}

/// Rules from line `first` of the grid to its last.
pub(super) fn rules(d: &mut Drawing, pen: &Pen, grid: &Grid, first: usize) {
    for i in (first..=grid.rows).step_by(thin(pen, grid.pitch)) {
        d.line(grid.area.x, grid.y(i), grid.area.right(), grid.y(i), pen.rule());
    }
}

/// Where the margin line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
enum Side {
    /// On the left of each paper.
    Left,
    /// On the right of each paper.
    Right,
    /// On the outer side of both papers of a spread; on the left of a single page.
    Outer,
    /// On the inner side of both papers of a spread; on the left of a single page.
    Inner,
}

/// Rules with a margin line.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct MarginRuled {
    /// Distance of the rules; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the rules in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the rules.
    colour: Option<Colour>,
    /// Distance of the margin line from the side in mm; a fifth of the width, at most 25 mm, by default.
    /// Range: 5 to 80 mm.
    margin: Option<Mm>,
    /// Where it stands: left, right, outer or inner; by default away from the hand that writes.
    side: Option<Side>,
    /// Its colour; the accent by default.
    margin_colour: Option<Colour>,
}

impl Default for MarginRuled {
    fn default() -> MarginRuled {
        MarginRuled { pitch: Pitch::COLLEGE, weight: None, colour: None, margin: None, side: None, margin_colour: None }
    }
}

impl Ruling for MarginRuled {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        let own = self.margin_colour.map_or(colour::mix(pen.paper, pen.accent, 0.72), |c| c.0);
        for (i, area) in context.areas.iter().enumerate() {
            let grid = Grid::new(*area, self.pitch.pt());
            rules(&mut d, &pen, &grid, 1);
            let margin = self.margin.map_or((area.w * 0.2).min(Mm(25.0).pt()), Mm::pt).min(area.w / 2.0);
            let second = i == 1;
            let right = match self.side {
                None => context.left,
                Some(Side::Left) => false,
                Some(Side::Right) => true,
                Some(Side::Outer) => second,
                Some(Side::Inner) => context.areas.len() == 2 && !second,
            };
            let x = if right { area.right() - margin } else { area.x + margin };
            // It reaches a pitch above the first rule, like the sheet's head, and ends on the last rule.
            d.line(x, area.y, x, grid.y(grid.rows), Stroke::new(pen.weight * 1.5, own));
        }
        d
    }
}

/// Rules below a head with a title and a date.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Titled {
    /// Distance of the rules; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the rules in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the rules.
    colour: Option<Colour>,
    /// Label of the title's field; empty for none.
    title: String,
    /// Label of the date's field; empty for none.
    date: String,
    /// Height of the head in rows.
    /// Range: 1 to 6.
    head: Option<usize>,
}

impl Default for Titled {
    fn default() -> Titled {
        Titled {
            pitch: Pitch::COLLEGE,
            weight: None,
            colour: None,
            title: "Title".into(),
            date: "Date".into(),
            head: None,
        }
    }
}

impl Ruling for Titled {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        for area in &context.areas {
            let grid = Grid::new(*area, self.pitch.pt());
            let head = self.head.unwrap_or_else(|| head_rows(*area, grid.pitch)).min(grid.rows);
            if head > 0 {
                let set = Type::new(*area, grid.pitch, &pen).label;
                let context = context.with(pen);
                let (title, date) = fields_beside(&context, set, grid.band(0, head), [&self.title, &self.date]);
                field(&mut d, &context, set, &self.title, title);
                field(&mut d, &context, set, &self.date, date);
            }
            rules(&mut d, &pen, &grid, head + 1);
            if context.pen.small && head > 0 {
                // The head must show at a glance.
                d.line(area.x, grid.y(head), area.right(), grid.y(head), strong(&pen));
            }
        }
        d
    }
}
