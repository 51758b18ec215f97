//! Packing: which files go into which upload slot, the archives themselves, and the record of the bundle.
pub mod archive;
pub mod bins;
pub mod slots;
