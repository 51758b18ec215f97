//! Isometric grid and hexagon grid: lattices of triangles and of hexagons.

use super::params::{Colour, pen};
use super::parts::{clip, near_frame, thin};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::{Path, Shape};
use base::model::{Drawing, Mm, Point, Rect};
use draw::Pen;
use draw::ruling::fits;
use serde::Deserialize;

/// Height of an equilateral triangle of side 1.
const TALL: f64 = 0.866_025_403_784_438_6;

/// How an isometric grid is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
enum Style {
    /// Lines in three directions.
    #[default]
    Lines,
    /// A dot wherever they would cross.
    Dots,
}

/// Triangles with an upright side, for drawing solids.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Isometric {
    /// Side of a triangle in mm.
    /// Range: 2 to 50 mm.
    pitch: Mm,
    /// Lines or dots.
    style: Style,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour; lines are lighter than dots.
    colour: Option<Colour>,
}

impl Default for Isometric {
    fn default() -> Isometric {
        Isometric { pitch: Mm(5.0), style: Style::Lines, weight: None, colour: None }
    }
}

impl Ruling for Isometric {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        let side = self.pitch.pt() * thin(&pen, self.pitch.pt() * TALL * 0.55) as f64;
        for area in &context.areas {
            // From edge to edge of the frame that all templates share; a column of points stands in the middle, so that both
            // sides are cut alike.
            let (rows, lower) = near_frame(*area, side, 0.0);
            if rows == 0 || area.w < side {
                continue;
            }
            let r = Rect { y: area.y + lower, h: rows as f64 * side, ..*area };
            match self.style {
                Style::Lines => triangles(&mut d, &pen, r, side, rows),
                Style::Dots => crossings(&mut d, &pen, r, side, rows),
            }
        }
        d
    }
}

/// How many columns of points stand at either side of the middle one.
fn beside(r: Rect, side: f64) -> i64 {
    fits(r.w / 2.0, side * TALL) as i64
}

fn triangles(d: &mut Drawing, pen: &Pen, r: Rect, side: f64, rows: usize) {
    let (middle, many) = (r.centre().x, beside(r, side));
    for i in -many..=many {
        let x = middle + i as f64 * side * TALL;
        if x > r.x + 0.5 && x < r.right() - 0.5 {
            d.line(x, r.y, x, r.bottom(), pen.grid());
        }
    }
    // A slanting line climbs half a side in a column.
    let rise = r.w / 2.0 / TALL / 2.0;
    let climb = (rise / side).ceil() as i64;
    for k in -climb..=rows as i64 + climb {
        let through = r.y + k as f64 * side;
        for rise in [rise, -rise] {
            let (left, right) = (Point::new(r.x, through - rise), Point::new(r.right(), through + rise));
            if let Some((a, b)) = clip(left, right, r) {
                d.line(a.x, a.y, b.x, b.y, pen.grid());
            }
        }
    }
    d.stroke(Path::rect(r), pen.grid());
}

fn crossings(d: &mut Drawing, pen: &Pen, r: Rect, side: f64, rows: usize) {
    let (middle, many) = (r.centre().x, beside(r, side));
    let mut at = Vec::new();
    for i in -many..=many {
        let x = middle + i as f64 * side * TALL;
        let odd = i % 2 != 0;
        let down = if odd { side / 2.0 } else { 0.0 };
        for k in 0..=rows - usize::from(odd) {
            at.push(Point::new(x, r.y + k as f64 * side + down));
        }
    }
    d.push(Shape::Dots { at, diameter: pen.dot_size, colour: pen.dot });
}

/// Hexagons that stand on a corner, in staggered rows.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Hexagons {
    /// Width of a hexagon across its upright sides in mm: the distance from middle to middle.
    /// Range: 2 to 50 mm.
    pitch: Mm,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour; the lines are drawn lighter.
    colour: Option<Colour>,
}

impl Default for Hexagons {
    fn default() -> Hexagons {
        Hexagons { pitch: Mm(7.0), weight: None, colour: None }
    }
}

impl Ruling for Hexagons {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        let w = self.pitch.pt() * thin(&pen, self.pitch.pt() * 0.4) as f64;
        let side = w / (2.0 * TALL);
        for area in &context.areas {
            // Rows of n and of n - 1 hexagons take turns, so that both sides are alike.
            let n = fits(area.w, w);
            if n == 0 || area.h + 1e-6 < 2.0 * side {
                continue;
            }
            let (rows, lower) = if n == 1 { (1, 0.0) } else { near_frame(*area, 1.5 * side, 0.5 * side) };
            let from = Point::new(area.x + (area.w - n as f64 * w) / 2.0, area.y + lower);
            comb(&mut d, &pen, from, w, side, n, rows);
        }
        d
    }
}

/// Every side once: the upper zigzag and the uprights of each row, and below it what no next row draws.
fn comb(d: &mut Drawing, pen: &Pen, from: Point, w: f64, side: f64, n: usize, rows: usize) {
    for row in 0..rows {
        let narrow = row % 2 == 1;
        let (x, count) = if narrow { (from.x + w / 2.0, n - 1) } else { (from.x, n) };
        let top = from.y + row as f64 * 1.5 * side;
        let zigzag = |low: f64, high: f64| -> Vec<Point> {
            (0..=2 * count).map(|i| Point::new(x + i as f64 * w / 2.0, if i % 2 == 0 { low } else { high })).collect()
        };
        d.stroke(Path::polyline(&zigzag(top + side * 0.5, top), false), pen.grid());
        for i in 0..=count {
            let at = x + i as f64 * w;
            d.line(at, top + side * 0.5, at, top + side * 1.5, pen.grid());
        }
        let below = zigzag(top + side * 1.5, top + side * 2.0);
        if row + 1 == rows {
            d.stroke(Path::polyline(&below, false), pen.grid());
        } else if !narrow {
            // The narrower row below leaves the outer sides open.
            for ends in [&below[..2], &below[below.len() - 2..]] {
                d.stroke(Path::polyline(ends, false), pen.grid());
            }
        }
    }
}
