//! Device-independent drawing: fonts and shaping, text layout, colour, and drawings as SVG.
//!
//! Nothing here knows of PDF or of pages in a file; `rulings`, `plan` and `render` all draw with it.

pub mod artwork;
pub mod breaks;
pub mod built_in;
pub mod characters;
pub mod cover;
pub mod flat;
pub mod flow;
pub mod fonts;
pub mod limits;
mod lots;
pub mod metal;
pub mod mirror;
pub mod motifs;
pub mod paper;
pub mod pen;
pub mod rules;
pub mod ruling;
mod shaping;
pub mod sheet_layout;
pub mod shots;
mod source_span;
pub mod specimen;
pub mod svg;
pub mod svg_loader;
pub mod template;
pub mod text;
pub mod variable;
pub mod web_font;

pub use fonts::Fonts;
pub use pen::Pen;
