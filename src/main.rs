//! Arguments in, exit code out.

mod cli;
#[cfg(feature = "desk")]
mod desk;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    cli::run(&cli::Arguments::parse()).into()
}
