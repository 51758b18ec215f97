//! How densely a page is set. Nothing with a name is to be left out: a page is tried in one way after the other, the airiest
//! first, until everything stands on it. Only where no way does is something left out, and told.

use super::super::params::Pitch;
use super::super::parts::phone;
use base::model::{Mm, Rect};

/// What the parts of a page are granted, the least first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ease {
    /// Names need not all stand: what has no room is left out.
    Part,
    /// As [`Ease::Written`], and tables with the same names of rows are one.
    Joined,
    /// As [`Ease::Bare`], and columns are as narrow as can be: where circles have no room in one line a number is written.
    Written,
    /// A line or a row each, rows of one line.
    Bare,
    /// A line or a row each, rows as high as what they hold.
    Close,
    /// Two lines or rows each.
    Usual,
    /// As many as one likes to have on a phone's page.
    Easy,
}

/// A way to set a page.
#[derive(Clone, Copy, Debug)]
pub struct Way {
    /// Distance of the lines in points; as asked for where there is none.
    pub pitch: Option<f64>,
    /// What its parts are granted.
    pub ease: Ease,
    /// Rows above a name at the least.
    pub air: f64,
    /// Rows above what has no name at the least.
    pub space: f64,
}

/// The ways for a page whose lines are so far apart. Only the house's own distance gives way: one that was asked for is kept.
pub fn ways(pitch: f64, area: Rect) -> Vec<Way> {
    let way = |mm: Option<f64>, ease, air, space| Way { pitch: mm.map(|mm| Mm(mm).pt()), ease, air, space };
    if (pitch - Pitch::COLLEGE.pt()).abs() > 1e-9 {
        return vec![
            way(None, Ease::Usual, 0.0, 1.0),
            way(None, Ease::Bare, 0.0, 1.0),
            way(None, Ease::Written, 0.0, 1.0),
            way(None, Ease::Joined, 0.0, 1.0),
            way(None, Ease::Part, 0.0, 1.0),
        ];
    }
    if !phone(area) {
        return vec![
            way(None, Ease::Usual, 0.5, 1.0),
            way(Some(6.35), Ease::Usual, 0.5, 1.0),
            way(Some(6.35), Ease::Bare, 0.5, 0.5),
            way(Some(5.9), Ease::Bare, 0.5, 0.5),
            way(Some(5.5), Ease::Bare, 0.0, 0.5),
            way(Some(5.5), Ease::Written, 0.0, 0.5),
            way(Some(5.9), Ease::Joined, 0.5, 0.5),
            way(Some(5.5), Ease::Joined, 0.0, 0.5),
            way(Some(5.9), Ease::Part, 0.0, 0.5),
            way(None, Ease::Part, 0.0, 1.0),
        ];
    }
    vec![
        way(None, Ease::Easy, 0.5, 0.5),
        way(Some(6.35), Ease::Easy, 0.5, 0.5),
        way(None, Ease::Usual, 0.5, 0.5),
        way(Some(6.35), Ease::Usual, 0.5, 0.5),
        way(Some(5.9), Ease::Usual, 0.5, 0.5),
        way(Some(5.5), Ease::Usual, 0.5, 0.5),
        way(Some(5.5), Ease::Close, 0.5, 0.5),
        way(Some(5.5), Ease::Bare, 0.5, 0.5),
        way(Some(5.5), Ease::Bare, 0.0, 0.5),
        way(Some(5.5), Ease::Written, 0.5, 0.5),
        way(Some(5.5), Ease::Written, 0.0, 0.5),
        way(None, Ease::Joined, 0.5, 0.5),
        way(Some(5.9), Ease::Joined, 0.5, 0.5),
        way(Some(5.5), Ease::Joined, 0.0, 0.5),
        way(Some(5.5), Ease::Part, 0.0, 0.5),
    ]
}
