//! Judging: `validate` holds facts against the catalogue of checks and against what was planned, `diff` holds two
//! bundles against each other.
//!
//! Neither draws anything: how wide a text is, they ask what the caller hands in.

pub mod diff;
pub mod validate;
