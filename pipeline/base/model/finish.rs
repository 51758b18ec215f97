//! What a bookbinder does to a finished board: the shape of its label, what is stamped into it, and what is fitted to it. The
//! default of each is a board without it.

use super::units::Rgb;
use crate::keys::Described;
use serde::Deserialize;

/// All that is done to a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Finish {
    /// The shape of the blank label.
    pub label: LabelShape,
    /// What lines, title and emblem are stamped with.
    pub foil: Foil,
    /// An emblem that is stamped into the board.
    pub stamp: Stamp,
    /// The strip along the spine.
    pub quarter: Quarter,
    /// Its colour.
    pub quarter_colour: Option<Rgb>,
    /// What guards the outer corners.
    pub corners: CornerPieces,
    /// Stitches of thread.
    pub stitching: Stitching,
    /// An elastic that holds the book shut.
    pub elastic: Elastic,
    /// How many ribbons hang out at the foot.
    pub ribbons: u8,
    /// The colour of elastic, ribbons, thread and cloth.
    pub trim: Option<Rgb>,
}

/// The shape of the blank label.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum LabelShape {
    /// A sheet of paper with a fine line round it.
    #[default]
    Rectangle,
    /// An oval.
    Oval,
    /// A sheet with a round head.
    Arch,
    /// A strip of paper tape with torn ends, to write one line on.
    Tape,
    /// A card in a frame of metal, pinned on at both sides.
    Plaque,
}

/// What is stamped into a board with heat: leaf of a metal, or of a colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Foil {
    /// None: what is stamped is pressed in blind.
    #[default]
    None,
    /// Yellow gold.
    Gold,
    /// Silver.
    Silver,
    /// Copper.
    Copper,
    /// Gold with a blush of red.
    RoseGold,
    /// Glossy black.
    Black,
    /// White with a sheen.
    Pearl,
}

/// An emblem that is stamped into a board below the label: in foil, or blind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Stamp {
    /// None.
    #[default]
    None,
    /// Two twigs with leaves that meet.
    Sprig,
    /// A disc with rays.
    Sun,
    /// A crescent with three stars.
    Moon,
    /// A star of eight points in a ring.
    Compass,
    /// A small ornament between two lines.
    Rule,
}

/// Quarter binding: a strip of another material along the spine, over the edge of the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Quarter {
    /// None: the board goes to the spine.
    #[default]
    None,
    /// Smooth cloth.
    Plain,
    /// Woven cloth.
    Linen,
    /// Paper with fibres in it.
    Kraft,
    /// Pebbled leather.
    Leather,
    /// Wood with its grain along the spine.
    Wood,
}

/// What guards the two outer corners of a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum CornerPieces {
    /// Nothing.
    #[default]
    None,
    /// Caps of metal.
    Metal,
    /// Cloth, or what the strip along the spine is made of: with a quarter binding it makes a half binding.
    Cloth,
}

/// Stitches of thread through a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Stitching {
    /// None.
    #[default]
    None,
    /// A row along the spine.
    Spine,
    /// A row round the board.
    Round,
}

/// An elastic that holds the book shut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Elastic {
    /// None.
    #[default]
    None,
    /// Along the edge that opens: upright near it, or across near the foot of a book that is bound at the top.
    Upright,
    /// Two narrow ones beside each other.
    Twin,
    /// Across the two outer corners.
    Corners,
}
