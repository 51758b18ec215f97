//! What the program shows: reports for people and for other programs.

pub mod report;
pub mod sarif;
pub mod schema;
