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
        let wide = (area.w * 0.33).min(Mm(64.0).pt());
        let high = grid.y(grid.rows) - area.y;
        let (w, h) = ((area.w * 0.27).min(Mm(56.0).pt()), (grid.pitch * 4.0).min(high * 0.5));
        // The thought stands at the height of the middle of all boxes: as many branches lead up as down.
        let among = area.y + grid.pitch * (1.0 + step * (n - 1) as f64 / 2.0);
        let middle = Point::new(area.centre().x, between(among, area.y + h / 2.0, area.y + high - h / 2.0));
        let heart = Rect::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h);
        let mut boxes = Vec::new();
        for (side, own) in sides.into_iter().enumerate() {
            let x = if side == 0 { area.x } else { area.right() - wide };
            let first = step * (n - own) as f64 / 2.0;
            for i in 0..own {
                let own = grid.across(x, wide).lower(first + i as f64 * step);
                let seat = own.band(0, 2);
                let inner = if side == 0 { seat.right() } else { seat.x };
                branch(d, middle, Point::new(inner, seat.centre().y), (heart.w / 2.0, heart.h / 2.0), stroke);
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

/// A line with a bow from the middle to a box: it leaves the middle on the side of the box.
fn branch(d: &mut Drawing, middle: Point, to: Point, half: (f64, f64), stroke: Stroke) {
    let away = between(to.y - middle.y, -half.1, half.1) * 0.5;
    let side = if to.x < middle.x { -1.0 } else { 1.0 };
    let from = Point::new(middle.x + side * half.0 * 0.7, middle.y + away);
    let bend = (to.x - from.x) * 0.55;
    let bow = Seg::Cubic(Point::new(from.x + bend, from.y), Point::new(to.x - bend, to.y), to);
    d.stroke(Path(vec![Seg::Move(from), bow]), Stroke { width: stroke.width * 1.4, ..stroke });
}
