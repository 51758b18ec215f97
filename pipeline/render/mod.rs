//! What the plan asks for becomes bytes: PDF files, stickers, texts.

pub mod stickers;
