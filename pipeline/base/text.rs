//! What a stage may ask of fonts without knowing them.

use crate::model::Role;
use crate::model::product::Style;

/// Widths of text in the fonts of a product.
pub trait Widths {
    /// Width of a line in points, at a size in points with tracking in em between glyphs.
    fn width(&self, role: Role, text: &str, size: f64, tracking: f64) -> f64;
}

/// Opens the fonts of a style; `None` when one of them is missing or no font.
pub type OpenFonts<'a> = &'a dyn Fn(&Style) -> Option<Box<dyn Widths>>;
