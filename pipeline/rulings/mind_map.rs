//! A mind map: a thought in the middle, branches at both sides, lines for what belongs to each.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, thin};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::units::between;
use base::model::{Drawing, Mm, Point, Rect};
use serde::Deserialize;

/// A thought in the middle with branches at both sides.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct MindMap {
    /// Branches, 2 to 12; by default as many as there is height for, at most 8.
    /// Range: 2 to 12.
    branches: Option<usize>,
    /// Distance of the lines of a branch; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for MindMap {
    fn default() -> MindMap {
        MindMap { branches: None, pitch: Pitch::COLLEGE, weight: None, colour: None }
    }
}

impl Ruling for MindMap {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &context.with(pen(&context.pen, self.weight, self.colour));
        for area in &context.areas {
            self.map(&mut d, context, *area);
        }
        d
    }
}

impl MindMap {
    fn map(&self, d: &mut Drawing, context: &RulingContext, area: Rect) {
        let (pen, grid) = (&context.pen, Grid::new(area, self.pitch.pt()));
        let most = (grid.rows / 4).clamp(1, 4);
        let sides = match self.branches {
            Some(n) => [n.div_ceil(2), n / 2],
            None => [most, most],
        };
        // A branch is a box two rows high with lines below it, and at least a free row. All branches are alike; what is
        // left over is air between them. Where one side has fewer they stand between those of the other.
        let n = sides[0].max(1);
        if grid.rows / n < 3 {
            return super::lined::rules(d, pen, &grid, 1);
        }
        let lines = ((grid.rows + 1) / n).saturating_sub(3);
        let step = (grid.rows - n * (2 + lines)) as f64 / (n - 1).max(1) as f64 + (2 + lines) as f64;
        let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
        let high = grid.y(grid.rows) - area.y;
        let (w, h) = ((area.w * 0.26).min(Mm(56.0).pt()), (grid.pitch * 4.0).min(high * 0.5));
        // Between the thought and the boxes the lines have room to pass.
        let passage = (area.w - w) / 2.0 - PASSAGE.pt();
        let wide = (area.w * 0.33).min(Mm(64.0).pt()).min(passage).max(area.w * 0.2);
        // The thought stands at the height of the middle of all boxes: as many branches lead up as down.
        let among = area.y + grid.pitch * (1.0 + step * (n - 1) as f64 / 2.0);
        let middle = Point::new(area.centre().x, between(among, area.y + h / 2.0, area.y + high - h / 2.0));
        let heart = Rect::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h);
        let mut boxes = Vec::new();
        for (side, count) in sides.into_iter().enumerate() {
            let x = if side == 0 { area.x } else { area.right() - wide };
            let first = step * (n - count) as f64 / 2.0;
            for i in 0..count {
                let own = grid.across(x, wide).lower(first + i as f64 * step);
                let seat = own.band(0, 2);
                let inner = if side == 0 { seat.right() } else { seat.x };
                // The lines of a side begin spread over it, in the order of their boxes.
                let turn = ((2 * i + 1) as f64 / count as f64 - 1.0) * STEEPEST.to_radians();
                branch(d, heart, Point::new(inner, seat.centre().y), turn, stroke);
                for line in (1..=lines).filter(|l| l.is_multiple_of(thin(pen, grid.pitch))) {
                    d.line(own.area.x, own.y(2 + line), own.area.right(), own.y(2 + line), pen.rule());
                }
                boxes.push(seat);
            }
        }
        for seat in boxes {
            d.fill_stroke(Path::rounded(seat, seat.h * 0.3), pen.paper, stroke);
        }
        let bold = Stroke::new(pen.weight * 2.4, pen.dot);
        d.fill_stroke(Path::ellipse(heart), pen.paper, bold);
    }
}

/// The least room between the thought and the boxes at its sides.
const PASSAGE: Mm = Mm(4.5);

/// How steeply the highest and the lowest line could leave the thought, in degrees from the level.
const STEEPEST: f64 = 80.0;

/// A line with a bow from the outline of the thought to a box. The steeper it begins, the longer it keeps to the middle: it
/// passes the boxes between with room to spare, and arrives level.
fn branch(d: &mut Drawing, heart: Rect, to: Point, turn: f64, stroke: Stroke) {
    let (sin, cos) = libm::sincos(turn);
    let middle = heart.centre();
    let side = if to.x < middle.x { -1.0 } else { 1.0 };
    let from = Point::new(middle.x + side * heart.w / 2.0 * cos, middle.y + heart.h / 2.0 * sin);
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let steep = sin.abs();
    let leaves = Point::new(from.x + dx * 0.5 * (1.0 - steep), from.y + dy * 0.7 * steep);
    let bow = Seg::Cubic(leaves, Point::new(to.x - dx * 0.6, to.y), to);
    d.stroke(Path(vec![Seg::Move(from), bow]), Stroke { width: stroke.width * 1.4, ..stroke });
}
