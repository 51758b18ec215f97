//! What every other crate stands on: the hand-over types and units, digests, colour, the reading of tables into types, and the way to a product's files.
//!
//! No input or output happens here: `files` only says what a stage may ask for, the program answers.

pub mod checksum;
pub mod colour;
pub mod deflate;
pub mod files;
pub mod keys;
pub mod model;
pub mod reading;
pub mod text;
