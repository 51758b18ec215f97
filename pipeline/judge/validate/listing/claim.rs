//! What a sentence claims.

use super::vocabulary::Lexicon;
use super::words::{Bound, Noun};

/// A number and what it counts.
#[derive(Debug, PartialEq)]
pub struct Claim {
    pub number: u64,
    pub noun: Noun,
    pub bound: Bound,
    /// Whether words between number and noun may mean some and not all: `12 lined pages`.
    pub some: bool,
    /// Whether it is said of each of several things.
    pub each: bool,
    /// Column of the number, from 1.
    pub column: usize,
    pub width: usize,
    /// With which words it was read.
    pub lexicon: Lexicon,
    /// Where the claim begins and ends in the line, in bytes.
    pub from: usize,
    pub to: usize,
}
