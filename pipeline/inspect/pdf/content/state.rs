//! The part of the graphics state that matters to the checks.

use super::extent::{Box4, Matrix};
use base::model::units::Rgb;

/// The part of the graphics state that matters here.
#[derive(Clone, Copy)]
pub(super) struct State {
    pub(super) matrix: Matrix,
    pub(super) clip: Option<Box4>,
    pub(super) line_width: f64,
    pub(super) font: Option<usize>,
    /// Whether codes number the glyphs of the font.
    pub(super) numbers_glyphs: bool,
    pub(super) size: f64,
    /// `Tc`, `Tw`, `Tz` as a factor, `Ts`.
    pub(super) letter_gap: f64,
    pub(super) word_gap: f64,
    pub(super) stretch: f64,
    pub(super) rise: f64,
    /// Whether text leaves no mark (`Tr` 3 and 7).
    pub(super) unseen: bool,
    /// The colour of fills, where it is plain RGB or grey.
    pub(super) colour: Option<Rgb>,
    /// How many numbers of `sc` make such a colour: 1 or 3, or 0 in other spaces.
    pub(super) components: usize,
    /// Whether fills cover what lies beneath.
    pub(super) opaque: bool,
}

impl State {
    /// The state in which a stream begins.
    pub(super) const START: State = State {
        matrix: Matrix::IDENTITY,
        clip: None,
        line_width: 1.0,
        font: None,
        numbers_glyphs: false,
        size: 0.0,
        letter_gap: 0.0,
        word_gap: 0.0,
        stretch: 1.0,
        rise: 0.0,
        unseen: false,
        colour: Some(Rgb::BLACK),
        components: 1,
        opaque: true,
    };
}
