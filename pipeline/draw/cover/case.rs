//! The case of a closed book: the page that it fills, how round its corners are, and which edge its spine lies at.

use base::model::Size;
use base::model::product::{Coil, PageSetup, Style};

/// The edge of a book that its spine lies at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Side {
    /// At the left, as a book that opens to the side.
    #[default]
    Left,
    /// Along the top, as a pad whose papers are turned over it.
    Top,
}

impl Side {
    /// Where the spine of papers lies that this coil holds: a closed book has it where the open one has its rings.
    pub fn of(coil: Coil) -> Side {
        match coil {
            Coil::Top => Side::Top,
            Coil::Middle | Coil::None => Side::Left,
        }
    }

    /// What layouts of pictures call it.
    pub fn name(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Top => "top",
        }
    }

    /// The side that is called so.
    pub fn named(name: &str) -> Option<Side> {
        [Side::Left, Side::Top].into_iter().find(|side| side.name() == name)
    }

    /// The radii of a board's corners, clockwise from the upper left one: those by the spine are sharper.
    pub fn radii(self, outer: f64) -> [f64; 4] {
        let inner = outer * 0.45;
        match self {
            Side::Left => [inner, outer, outer, inner],
            Side::Top => [inner, inner, outer, outer],
        }
    }
}

/// How a closed book lies on its page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Case {
    /// The size of the page that it fills.
    pub size: Size,
    /// Whether the page stands for two papers: the closed book fills it all the same, its label stays narrow.
    pub spread: bool,
    /// The radius of its outer corners in points.
    pub corner: f64,
    /// Where its spine lies.
    pub spine: Side,
}

impl Case {
    /// That of a notebook whose pages are set up so.
    pub fn of(page: &PageSetup, style: &Style) -> Case {
        Case { size: page.size, spread: page.spread, corner: style.corner.pt(), spine: Side::of(page.coil) }
    }
}
