//! What the program understands and shows: arguments, progress, reports for people and for other programs.

pub mod args;
mod catalogue;
mod change;
pub mod diff_report;
pub mod facts;
mod launch;
pub mod learn;
mod many;
mod names;
mod notes;
mod origin;
mod outcome;
mod packs;
mod progress;
mod redate;
pub mod release;
pub mod report;
pub mod run;
pub mod sarif;
pub mod schema;
mod serve;
mod stages;
mod summary;
mod table;
mod watch;
