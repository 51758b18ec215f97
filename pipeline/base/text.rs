//! What a stage may ask of fonts without knowing them.

use crate::model::Role;

/// Widths of text in the fonts of a product.
pub trait Widths {
    /// Width of a line in points, at a size in points with tracking in em between glyphs.
    fn width(&self, role: Role, text: &str, size: f64, tracking: f64) -> f64;
}
