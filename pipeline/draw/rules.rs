//! The manner of rules: dots, dashes or pairs in the place of the lines that are written on.

use crate::Pen;
use base::model::Point;
use base::model::drawing::{Drawing, Path, Seg, Shape, Stroke};
use base::model::look::Rules;
use base::model::units::Mm;

/// Shorter lines are no rules: they stay as they are.
const LEAST: Mm = Mm(6.0);

/// Redraws the rules of a page design in this manner. Rules are the level lines in the pen's own width and colour; frames, grids and
/// heavier lines stay, and so do the small pictures, where nobody would see it.
pub fn redraw(drawing: &mut Drawing, manner: Rules, pen: &Pen) {
    if manner == Rules::Line || pen.small {
        return;
    }
    let (mut dots, mut dashes) = (Vec::new(), Vec::new());
    let mut kept = Vec::with_capacity(drawing.shapes.len());
    for shape in std::mem::take(&mut drawing.shapes) {
        match rule(&shape, pen) {
            None => kept.push(shape),
            Some((from, to)) => match manner {
                Rules::Dotted => dots.extend(along(from, to, 3.6)),
                Rules::Dashed => dashes.extend(dashed(from, to)),
                Rules::Paired | Rules::Line => {
                    for up in [0.0, 2.1] {
                        dashes.extend([
                            Seg::Move(Point::new(from.x, from.y - up)),
                            Seg::Line(Point::new(to.x, to.y - up)),
                        ]);
                    }
                }
            },
        }
    }
    drawing.shapes = kept;
    if !dots.is_empty() {
        drawing.push(Shape::Dots { at: dots, diameter: pen.weight * 1.9, colour: pen.dot });
    }
    if !dashes.is_empty() {
        let width = if manner == Rules::Paired { pen.weight * 0.8 } else { pen.weight * 1.15 };
        drawing.stroke(Path(dashes), Stroke::new(width, pen.rule));
    }
}

/// The ends of a shape that is a rule, left one first.
fn rule(shape: &Shape, pen: &Pen) -> Option<(Point, Point)> {
    let Shape::Path { path, fill: None, stroke: Some(stroke) } = shape else { return None };
    let [Seg::Move(a), Seg::Line(b)] = path.0.as_slice() else { return None };
    let own = stroke.colour == pen.rule && (stroke.width - pen.weight).abs() < 1e-6;
    let level = (a.y - b.y).abs() < 1e-6 && (a.x - b.x).abs() >= LEAST.pt();
    (own && level).then_some(if a.x <= b.x { (*a, *b) } else { (*b, *a) })
}

/// Points from end to end, both included, about so far apart.
fn along(from: Point, to: Point, step: f64) -> Vec<Point> {
    let n = ((to.x - from.x) / step).round().max(1.0);
    (0..=n as usize).map(|i| Point::new(from.x + (to.x - from.x) * i as f64 / n, from.y)).collect()
}

/// Dashes that begin and end with a whole one.
fn dashed(from: Point, to: Point) -> Vec<Seg> {
    let (dash, gap) = (5.4, 3.0);
    let length = to.x - from.x;
    let n = ((length + gap) / (dash + gap)).round().max(1.0);
    let scale = length / (n * (dash + gap) - gap);
    (0..n as usize)
        .flat_map(|i| {
            let x = from.x + i as f64 * (dash + gap) * scale;
            [Seg::Move(Point::new(x, from.y)), Seg::Line(Point::new(x + dash * scale, from.y))]
        })
        .collect()
}
