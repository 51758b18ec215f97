//! What every other crate stands on: the hand-over types and units, digests, colour, and the way to a product's files.
//!
//! No input or output happens here: `files` only says what a stage may ask for, the program answers.

pub mod checksum;
pub mod colour;
pub mod files;
pub mod model;
pub mod text;
