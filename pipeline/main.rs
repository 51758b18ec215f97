//! The program: arguments in, exit code out.

use clap::Parser;
use sheafwright::cli::{args::Args, learn, run};
use std::process::ExitCode;

fn main() -> ExitCode {
    // A shell that asks what may stand next gets its answer, and nothing else is done.
    learn::answer();
    ExitCode::from(run::run(Args::parse()))
}
