//! The outline of a tab: how far it stands out of the papers, where it joins them, and the shape of its outer side.

use base::model::drawing::{Path, Seg, Turn};
use base::model::look::TabShape;
use base::model::{Mm, Point, Rect};

/// The edge of the papers that a tab stands out of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// The right one.
    Right,
    /// The left one.
    Left,
    /// The top one.
    Top,
    /// The bottom one.
    Bottom,
}

impl Edge {
    /// Which way a label is read there.
    pub fn turn(self) -> Turn {
        if self == Edge::Left { Turn::Up } else { Turn::Down }
    }
}

/// How far a tab is seen that is not the open one, of the room that it has: the open one is 2 mm longer.
pub fn shown(room: f64) -> f64 {
    room - Mm(2.0).pt().min(room * 0.25)
}

/// Where a tab sits.
#[derive(Clone, Copy, Debug)]
pub struct Seat {
    /// Its room, from the papers outwards.
    pub place: Rect,
    /// Which edge it stands out of.
    pub edge: Edge,
    /// Whether its section is open.
    pub current: bool,
    /// Whether paper lies over its inner end.
    pub tucked: bool,
    /// Corner radius of the papers in points.
    pub corner: f64,
    /// Its outer side.
    pub shape: TabShape,
}

impl Seat {
    /// What is seen of it.
    pub fn face(&self) -> Rect {
        let p = self.place;
        let upright = matches!(self.edge, Edge::Right | Edge::Left);
        let room = if upright { p.w } else { p.h };
        let reach = if self.current { room } else { shown(room) };
        match self.edge {
            Edge::Right => Rect { w: reach, ..p },
            Edge::Left => Rect { x: p.right() - reach, w: reach, ..p },
            Edge::Top => Rect { y: p.bottom() - reach, h: reach, ..p },
            Edge::Bottom => Rect { h: reach, ..p },
        }
    }

    /// Where its label stands: what is seen of it, but for the notch of a ribbon.
    pub fn label(&self) -> Rect {
        let f = self.face();
        if self.shape != TabShape::Ribbon {
            return f;
        }
        match self.edge {
            Edge::Right => Rect { w: f.w - notch(f.w, f.h), ..f },
            Edge::Left => f.inset_each(notch(f.w, f.h), 0.0, 0.0, 0.0),
            Edge::Top => f.inset_each(0.0, notch(f.h, f.w), 0.0, 0.0),
            Edge::Bottom => Rect { h: f.h - notch(f.h, f.w), ..f },
        }
    }

    /// Its outline. The open one joins its page: its inner side is square and covers the edge of the paper; the others go on
    /// below the paper.
    pub fn outline(&self) -> Path {
        let inner = match (self.current, self.tucked) {
            (true, _) => 0.7,
            // Below the papers it stands clear of their corners, and its tap area must not reach into the foot.
            (false, true) if self.edge == Edge::Bottom => (self.corner + 1.0).min(3.0),
            (false, true) => self.corner + 1.0,
            (false, false) => 0.0,
        };
        let f = self.face();
        let (across, along) = match self.edge {
            Edge::Right | Edge::Left => (f.w, f.h),
            Edge::Top | Edge::Bottom => (f.h, f.w),
        };
        let r = (across * 0.26).min(along * 0.3).min(self.corner.max(1.5));
        let radii = |r: f64| match self.edge {
            Edge::Right => [0.0, r, r, 0.0],
            Edge::Left => [r, 0.0, 0.0, r],
            Edge::Top => [r, r, 0.0, 0.0],
            Edge::Bottom => [0.0, 0.0, r, r],
        };
        let whole = match self.edge {
            Edge::Right => Rect { x: f.x - inner, w: f.w + inner, ..f },
            Edge::Left => Rect { w: f.w + inner, ..f },
            Edge::Top => Rect { h: f.h + inner, ..f },
            Edge::Bottom => Rect { y: f.y - inner, h: f.h + inner, ..f },
        };
        match self.shape {
            TabShape::Rounded => Path::rounded_each(whole, radii(r)),
            TabShape::Square => Path::rect(whole),
            shape => self.shaped(shape, f, inner, Point::new(across, along)),
        }
    }

    /// The outlines that are more than a rectangle. They are thought of as standing out to the right: `u` goes outwards from the
    /// paper's edge, `v` along it.
    fn shaped(&self, shape: TabShape, f: Rect, inner: f64, size: Point) -> Path {
        let (reach, along) = (size.x, size.y);
        let at = |u: f64, v: f64| match self.edge {
            Edge::Right => Point::new(f.x + u, f.y + v),
            Edge::Left => Point::new(f.right() - u, f.y + v),
            Edge::Top => Point::new(f.x + v, f.bottom() - u),
            Edge::Bottom => Point::new(f.x + v, f.y + u),
        };
        let mut segs = vec![Seg::Move(at(-inner, 0.0))];
        match shape {
            TabShape::Arched => {
                // Two quarters of an ellipse; control points at 0.5523 of its half axes.
                let (base, half, k) = (reach * 0.4, along / 2.0, 0.5523);
                let deep = reach - base;
                segs.push(Seg::Line(at(base, 0.0)));
                segs.push(Seg::Cubic(at(base + deep * k, 0.0), at(reach, half * (1.0 - k)), at(reach, half)));
                segs.push(Seg::Cubic(at(reach, half * (1.0 + k)), at(base + deep * k, along), at(base, along)));
            }
            TabShape::Scalloped => {
                let bows = ((along / (reach * 0.8)).round() as usize).clamp(2, 7);
                let (base, step) = (reach * 0.8, along / bows as f64);
                segs.push(Seg::Line(at(base, 0.0)));
                for bow in 0..bows {
                    let (from, to) = (bow as f64 * step, (bow + 1) as f64 * step);
                    // A bow that is 0.75 of its control points' height high reaches the tab's full width.
                    let out = base + (reach - base) / 0.75;
                    segs.push(Seg::Cubic(at(out, from), at(out, to), at(base, to)));
                }
            }
            TabShape::Slanted => {
                let lean = (along * 0.14).min(reach * 0.6);
                segs.push(Seg::Line(at(reach, lean)));
                segs.push(Seg::Line(at(reach, along - lean)));
            }
            // What is neither is a ribbon's end.
            TabShape::Ribbon | TabShape::Rounded | TabShape::Square => {
                let notch = notch(reach, along);
                segs.push(Seg::Line(at(reach, 0.0)));
                segs.push(Seg::Line(at(reach - notch, along / 2.0)));
                segs.push(Seg::Line(at(reach, along)));
            }
        }
        segs.push(Seg::Line(at(-inner, along)));
        segs.push(Seg::Close);
        Path(segs)
    }
}

/// How deep a ribbon's end is cut.
fn notch(reach: f64, along: f64) -> f64 {
    (reach * NOTCH).min(along * NOTCH)
}

/// The share of a ribbon that its notch takes.
const NOTCH: f64 = 0.3;

/// How much of a tab's width its label may take in this shape.
pub fn depth_for_label(shape: TabShape) -> f64 {
    if shape == TabShape::Ribbon { 1.0 - NOTCH } else { 0.8 }
}

/// How much of a tab's width an upright number may take in this shape: all of it but a notch.
pub fn depth_for_number(shape: TabShape) -> f64 {
    if shape == TabShape::Ribbon { 1.0 - NOTCH } else { 1.0 }
}

/// How much of a tab's length its label may take in this shape.
pub fn room_for_label(shape: TabShape) -> f64 {
    match shape {
        TabShape::Arched => 0.82,
        TabShape::Slanted => 0.86,
        TabShape::Rounded | TabShape::Square | TabShape::Scalloped | TabShape::Ribbon => 1.0,
    }
}
