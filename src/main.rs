//! Arguments in, exit code out.

mod cli;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    cli::run(&cli::Arguments::parse()).into()
}
