//! Arguments in, exit code out.

// Beside the lints of Cargo.toml: a test may stop at an index, a program may not.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

mod cli;
#[cfg(feature = "desk")]
mod desk;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    let arguments = cli::Arguments::try_parse().unwrap_or_else(|error| {
        if error.use_stderr() {
            // What is wrong is said with the arguments in it: they shall not move a
            // terminal's cursor, or begin a line.
            let safe = std::env::args_os().map(|argument| cli::harmless(&argument));
            if let Err(error) = cli::Arguments::try_parse_from(safe) {
                error.exit();
            }
        }
        error.exit()
    });
    cli::run(&arguments).into()
}
