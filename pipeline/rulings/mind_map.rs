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
        // A branch is a box two rows high with lines below it, and a free row.
        let each = grid.rows / sides[0].max(1);
        if each < 3 {
            return super::lined::rules(d, pen, &grid, 1);
        }
        let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
        let wide = (area.w * 0.33).min(Mm(64.0).pt());
        let high = grid.y(grid.rows) - area.y;
        let (w, h) = ((area.w * 0.27).min(Mm(56.0).pt()), (grid.pitch * 4.0).min(high * 0.5));
        let middle = Point::new(area.centre().x, area.y + high / 2.0);
        let heart = Rect::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h);
        let mut boxes = Vec::new();
        for (side, n) in sides.into_iter().enumerate() {
            let (least, over) = (grid.rows / n.max(1), grid.rows % n.max(1));
            let mut next = 0;
            for i in 0..n {
                // Rows that are left over go to the last ones: the map ends where the page ends.
                let (top, each) = (next, least + usize::from(i >= n - over));
                next += each;
                let x = if side == 0 { area.x } else { area.right() - wide };
                let own = grid.across(x, wide);
                let seat = own.band(top, top + 2);
                let lines = top + 3..=top + each - usize::from(i + 1 < n);
                let inner = if side == 0 { seat.right() } else { seat.x };
                branch(d, middle, Point::new(inner, seat.centre().y), (heart.w / 2.0, heart.h / 2.0), stroke);
                for line in lines.filter(|l| l.is_multiple_of(thin(pen, grid.pitch))) {
                    d.line(own.area.x, grid.y(line), own.area.right(), grid.y(line), pen.rule());
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
