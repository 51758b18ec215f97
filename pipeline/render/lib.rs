//! What the plan asks for becomes bytes: PDF files and stickers.

pub mod pdf;
pub mod stickers;
