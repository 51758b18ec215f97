//! The program: arguments in, exit code out.

use clap::Parser;
use sheafwright::cli::{args::Args, run};
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(run::run(Args::parse()))
}
