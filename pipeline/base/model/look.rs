//! What a style does beside colours and type: the shape of tabs, what holds the papers, how things are headed, ruled and
//! divided. The default of each is what a product without a look has.

use super::finish::Finish;
use super::units::Rgb;
use crate::keys::Described;
use serde::Deserialize;

/// All manners of a style.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Manner {
    /// The outer side of tabs.
    pub tabs: TabShape,
    /// What holds the papers.
    pub binding: Binding,
    /// What rings, wires and discs are made of, or the thread's colour.
    pub metal: Metal,
    /// The grain of the papers.
    pub grain: Grain,
    /// The titles of index, overview and named pages.
    pub heading: Heading,
    /// The rules that are written on.
    pub rules: Rules,
    /// The face of a divider.
    pub divider: Divider,
    /// The entries of the index.
    pub index: Index,
    /// How the notebook's cover is drawn where the manifest does not say it.
    pub cover: Option<Cover>,
    /// The colour of its board, likewise.
    pub board: Option<Rgb>,
    /// What boards are made of where a cover does not say it.
    pub material: Material,
    /// What is done to boards, likewise.
    pub finish: Finish,
    /// The small labels of page designs.
    pub capitals: Capitals,
}

/// Which figures stand among words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Figures {
    /// As high as capitals, all on the line.
    Lining,
    /// As high as small letters, some of them above or below the line.
    Oldstyle,
}

/// The small labels of page designs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Capitals {
    /// As they are written.
    #[default]
    Plain,
    /// Small capitals in the place of small letters.
    Small,
}

/// What a board is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Material {
    /// Smooth board.
    #[default]
    Plain,
    /// Woven cloth.
    Linen,
    /// Brown paper with fibres in it, in the board's own colour.
    Kraft,
    /// Pebbled leather.
    Leather,
    /// Wood with its grain from top to foot.
    Wood,
}

/// The outer side of a tab.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum TabShape {
    /// Rounded corners.
    #[default]
    Rounded,
    /// Sharp corners.
    Square,
    /// One arch from corner to corner.
    Arched,
    /// Three bows.
    Scalloped,
    /// Sides that run together.
    Slanted,
    /// A ribbon's end, cut in.
    Ribbon,
}

/// What holds the papers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Binding {
    /// Stout rings through round holes.
    #[default]
    Rings,
    /// Pairs of thin wires.
    Wire,
    /// One wire that winds from hole to hole.
    Spiral,
    /// Discs that papers are pressed on.
    Discs,
    /// Stitches of thread in the fold.
    Thread,
    /// Nothing to be seen but the fold.
    None,
}

/// What a binding is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Metal {
    /// Silver.
    #[default]
    Silver,
    /// Brass.
    Brass,
    /// Black.
    Black,
    /// Copper.
    Copper,
    /// White.
    White,
}

/// The grain of a paper, so quiet that nobody reads or writes worse for it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Grain {
    /// Smooth.
    #[default]
    Smooth,
    /// The close lines of a sieve, with a stronger one every inch across them.
    Laid,
    /// Short fibres and flecks, as in paper made of old paper.
    Flecked,
    /// The tooth of paper for watercolours.
    ColdPressed,
    /// Clouded and spotted, as paper is that has lain for long.
    Aged,
}

/// The titles of index, overview and named pages.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Heading {
    /// A large title.
    #[default]
    Plain,
    /// A title on a band of the accent's tint.
    Band,
    /// A title with a line that swings below it.
    Flourish,
    /// A title in a box.
    Boxed,
    /// A title beside an upright stroke of the accent.
    Side,
}

/// The rules that are written on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Rules {
    /// Lines.
    #[default]
    Line,
    /// Rows of dots.
    Dotted,
    /// Dashes.
    Dashed,
    /// Two thin lines.
    Paired,
}

/// The face of a divider.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Divider {
    /// The whole paper in the section's tint.
    #[default]
    Full,
    /// An arched window.
    Arch,
    /// A band across.
    Band,
    /// Two fine frames.
    Frame,
    /// A disc behind the number.
    Disc,
}

/// The entries of the index.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Index {
    /// Boxes with a number on the section's colour.
    #[default]
    Boxes,
    /// Lines with a number in the section's colour.
    Lines,
    /// Discs with the number, and a line.
    Discs,
    /// Cards with a strip of the section's colour on top.
    Cards,
}

/// A pattern of covers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Pattern {
    /// Dots in staggered rows.
    Dots,
    /// Slanting stripes.
    Stripes,
    /// Overlapping scales.
    Scales,
    /// Small leaves.
    Leaves,
    /// A checked cloth.
    Gingham,
    /// Waves across.
    Waves,
    /// Zigzags across.
    Chevrons,
    /// Quilted diamonds with a dot in each.
    Lattice,
    /// Short bars that lean to and fro, as woven.
    Twill,
    /// Three arcs within each other.
    Arches,
    /// Ranges of hills in the lower half.
    Hills,
    /// Flowers of five petals.
    Blossoms,
    /// Stars, large and small.
    Stars,
    /// Short slanting strokes.
    Rain,
    /// Chips of stone in three tones.
    Terrazzo,
    /// Stems and flowers that grow from the foot.
    Meadow,
    /// Sprays of stems and flowers in two corners.
    Sprays,
    /// A garland of leaves and flowers round the label.
    Garland,
}

impl Pattern {
    /// Whether its motifs stand apart, so that nothing of it lies along the edges.
    pub fn stands_alone(self) -> bool {
        use Pattern::{Blossoms, Dots, Garland, Lattice, Leaves, Meadow, Rain, Sprays, Stars, Terrazzo};
        matches!(self, Dots | Leaves | Lattice | Blossoms | Stars | Rain | Terrazzo | Meadow | Sprays | Garland)
    }

    /// All of them.
    pub const ALL: [Pattern; 18] = [
        Pattern::Dots,
        Pattern::Stripes,
        Pattern::Scales,
        Pattern::Leaves,
        Pattern::Gingham,
        Pattern::Waves,
        Pattern::Chevrons,
        Pattern::Lattice,
        Pattern::Twill,
        Pattern::Arches,
        Pattern::Hills,
        Pattern::Blossoms,
        Pattern::Stars,
        Pattern::Rain,
        Pattern::Terrazzo,
        Pattern::Meadow,
        Pattern::Sprays,
        Pattern::Garland,
    ];
}

/// How a cover is drawn where the manifest does not say it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Cover {
    /// One colour.
    Flat,
    /// One colour with an elastic band.
    Banded,
    /// A frame of lines.
    Framed,
    /// Dots in staggered rows.
    Dots,
    /// Slanting stripes.
    Stripes,
    /// Overlapping scales.
    Scales,
    /// Small leaves.
    Leaves,
    /// A checked cloth.
    Gingham,
    /// Waves across.
    Waves,
    /// Zigzags across.
    Chevrons,
    /// Quilted diamonds with a dot in each.
    Lattice,
    /// Short bars that lean to and fro, as woven.
    Twill,
    /// Three arcs within each other.
    Arches,
    /// Ranges of hills in the lower half.
    Hills,
    /// Flowers of five petals.
    Blossoms,
    /// Stars, large and small.
    Stars,
    /// Short slanting strokes.
    Rain,
    /// Chips of stone in three tones.
    Terrazzo,
    /// Stems and flowers that grow from the foot.
    Meadow,
    /// Sprays of stems and flowers in two corners.
    Sprays,
    /// A garland of leaves and flowers round the label.
    Garland,
}

impl Cover {
    /// Its pattern, if it has one.
    pub fn pattern(self) -> Option<Pattern> {
        Some(match self {
            Cover::Flat | Cover::Banded | Cover::Framed => return None,
            Cover::Dots => Pattern::Dots,
            Cover::Stripes => Pattern::Stripes,
            Cover::Scales => Pattern::Scales,
            Cover::Leaves => Pattern::Leaves,
            Cover::Gingham => Pattern::Gingham,
            Cover::Waves => Pattern::Waves,
            Cover::Chevrons => Pattern::Chevrons,
            Cover::Lattice => Pattern::Lattice,
            Cover::Twill => Pattern::Twill,
            Cover::Arches => Pattern::Arches,
            Cover::Hills => Pattern::Hills,
            Cover::Blossoms => Pattern::Blossoms,
            Cover::Stars => Pattern::Stars,
            Cover::Rain => Pattern::Rain,
            Cover::Terrazzo => Pattern::Terrazzo,
            Cover::Meadow => Pattern::Meadow,
            Cover::Sprays => Pattern::Sprays,
            Cover::Garland => Pattern::Garland,
        })
    }
}
