//! What the program understands and shows: arguments, progress, reports for people and for other programs.

pub mod args;
pub mod diff_report;
pub mod facts;
mod outcome;
mod progress;
mod redate;
pub mod release;
pub mod report;
pub mod run;
pub mod sarif;
pub mod schema;
mod serve;
mod summary;
mod watch;
