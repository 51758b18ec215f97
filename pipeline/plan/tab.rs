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

/// The smallest type of labels that is read on every page, in points.
pub const LEAST_TYPE: f64 = 7.0;

/// Distance of two lines on a tab at least, in sizes of type.
pub const LEAST_STEP: f64 = 1.05;

/// What two lines of the smallest type take across, in points.
const TWO_LINES: f64 = LEAST_TYPE * (1.0 + LEAST_STEP);

/// What stays free across the lines of a label, in points: both sides together.
const AIR: f64 = 1.5;

/// How far a tab is seen that is not the open one, of the room that it has: the open one is 2 mm longer, and less where two
/// lines of the smallest type would find no room beside that.
pub fn shown(room: f64) -> f64 {
    let spare = (room - TWO_LINES - AIR).max(Mm(0.5).pt());
    room - Mm(2.0).pt().min(spare).min(room * 0.25)
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

    /// Where its label stands: what is seen of it, but for the notch of a ribbon and the notches between scallops.
    pub fn label(&self) -> Rect {
        let f = self.face();
        let off = match self.edge {
            Edge::Right | Edge::Left => cut(self.shape, f.w, f.h),
            Edge::Top | Edge::Bottom => cut(self.shape, f.h, f.w),
        };
        match self.edge {
            Edge::Right => Rect { w: f.w - off, ..f },
            Edge::Left => f.inset_each(off, 0.0, 0.0, 0.0),
            Edge::Top => f.inset_each(0.0, off, 0.0, 0.0),
            Edge::Bottom => Rect { h: f.h - off, ..f },
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
                let (base, half, k) = (reach * BASE_OF_ARCH, along / 2.0, 0.5523);
                let deep = reach - base;
                segs.push(Seg::Line(at(base, 0.0)));
                segs.push(Seg::Cubic(at(base + deep * k, 0.0), at(reach, half * (1.0 - k)), at(reach, half)));
                segs.push(Seg::Cubic(at(reach, half * (1.0 + k)), at(base + deep * k, along), at(base, along)));
            }
            TabShape::Scalloped => {
                let bows = ((along / (reach * 0.8)).round() as usize).clamp(2, 7);
                let (base, step) = (reach - cut(shape, reach, along), along / bows as f64);
                segs.push(Seg::Line(at(base, 0.0)));
                for bow in 0..bows {
                    let (from, to) = (bow as f64 * step, (bow + 1) as f64 * step);
                    // A bow that is 0.75 of its control points' height high reaches the tab's full width.
                    let out = base + (reach - base) / 0.75;
                    segs.push(Seg::Cubic(at(out, from), at(out, to), at(base, to)));
                }
            }
            TabShape::Slanted => {
                let lean = lean(reach, along);
                segs.push(Seg::Line(at(reach, lean)));
                segs.push(Seg::Line(at(reach, along - lean)));
            }
            // What is neither is a ribbon's end.
            TabShape::Ribbon | TabShape::Rounded | TabShape::Square => {
                let notch = cut(shape, reach, along);
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

/// How deep the outer side of a tab is cut: no deeper than two lines of the smallest type leave with their air, but seen.
fn cut(shape: TabShape, reach: f64, along: f64) -> f64 {
    let wanted = match shape {
        TabShape::Ribbon => reach.min(along) * NOTCH,
        TabShape::Scalloped => reach * SCALLOP,
        TabShape::Rounded | TabShape::Square | TabShape::Arched | TabShape::Slanted => return 0.0,
    };
    wanted.min((reach - TWO_LINES - AIR).max(reach * LEAST_NOTCH))
}

/// The share of a ribbon that its notch takes.
const NOTCH: f64 = 0.3;

/// The share of a scalloped tab that the bows take.
const SCALLOP: f64 = 0.2;

/// That of a notch or of bows where there is room for little else.
const LEAST_NOTCH: f64 = 0.08;

/// The share of an arched tab that stands before its bow.
const BASE_OF_ARCH: f64 = 0.4;

/// How much of the depth of a tab in this shape its label may take. The tab is seen so deep, and is so long.
pub fn depth_for_label(shape: TabShape, reach: f64, along: f64) -> f64 {
    let left = reach - cut(shape, reach, along);
    // Two lines find room on the smallest tabs too, with less air.
    (left - AIR).max(left.min(TWO_LINES))
}

/// How much of the depth of a tab in this shape an upright number may take: all of it but what is cut out.
pub fn depth_for_number(shape: TabShape, reach: f64, along: f64) -> f64 {
    reach - cut(shape, reach, along)
}

/// How much of a tab's length its label may take in this shape, in one line.
pub fn room_for_label(shape: TabShape) -> f64 {
    match shape {
        TabShape::Arched => 0.82,
        TabShape::Slanted => 0.86,
        TabShape::Rounded | TabShape::Square | TabShape::Scalloped | TabShape::Ribbon => 1.0,
    }
}

/// How long a tab of this shape is so far from the papers.
pub fn length_at(shape: TabShape, reach: f64, along: f64, from_papers: f64) -> f64 {
    match shape {
        TabShape::Arched => {
            let base = reach * BASE_OF_ARCH;
            let out = ((from_papers - base) / (reach - base)).clamp(0.0, 1.0);
            along * (1.0 - out * out).sqrt()
        }
        TabShape::Slanted => along - 2.0 * lean(reach, along) * (from_papers / reach).clamp(0.0, 1.0),
        TabShape::Rounded | TabShape::Square | TabShape::Scalloped | TabShape::Ribbon => along,
    }
}

/// How far the ends of a slanted tab lean in.
fn lean(reach: f64, along: f64) -> f64 {
    (along * 0.14).min(reach * 0.6)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As deep as tabs are drawn: from phones to large pages, open or not, and however long.
    #[test]
    fn two_lines_of_the_smallest_type_fit_on_every_tab() {
        let shapes = [
            TabShape::Rounded,
            TabShape::Square,
            TabShape::Arched,
            TabShape::Scalloped,
            TabShape::Slanted,
            TabShape::Ribbon,
        ];
        for tenths in 61..=101 {
            let room = Mm(f64::from(tenths) / 10.0).pt();
            let seen = shown(room);
            // The open one stands out.
            assert!(room - seen >= Mm(0.5).pt() - 1e-9 && room - seen <= Mm(2.0).pt() + 1e-9, "{tenths}");
            for (shape, along) in shapes.into_iter().flat_map(|s| [30.0, 45.0, 60.0, 85.0].map(|along| (s, along))) {
                for reach in [seen, room] {
                    let depth = depth_for_label(shape, reach, along);
                    assert!(depth + 1e-6 >= TWO_LINES, "{shape:?} of {tenths} and {along}: {depth}");
                    assert!(depth <= depth_for_number(shape, reach, along));
                    // A pair of lines keeps its air from a notch wherever the tab is deep enough for both.
                    let roomy = reach >= (TWO_LINES + AIR) / (1.0 - LEAST_NOTCH);
                    assert!(!roomy || depth <= reach - cut(shape, reach, along) - AIR + 1e-9, "{shape:?} {tenths}");
                }
                // Further out it is no longer.
                let lengths: Vec<f64> =
                    (0..=20).map(|i| length_at(shape, seen, along, seen * f64::from(i) / 20.0)).collect();
                assert!(lengths[0] <= along && lengths.windows(2).all(|two| two[0] >= two[1]), "{shape:?}");
            }
        }
    }
}
