//! The program: arguments in, exit code out.

use clap::Parser;
use sheafwright::cli::{args::Args, learn, run};
use std::process::ExitCode;

// Pages are drawn into large pictures that live a moment. The system's allocator gives each back to the system and asks for
// it again, which took a quarter of a build.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    // A shell that asks what may stand next gets its answer, and nothing else is done.
    learn::answer();
    ExitCode::from(run::run(Args::parse()))
}
