//! `ringrule licences`, also `ringrule --licences`.

use clap::Args;

use super::context::{Context, Ending};

/// Written by `.ci/licences`; a crate that is added makes it stale, which `.ci/run` tells.
const LICENCES: &str = include_str!("../licences.txt");

/// Print the licences of the program, of the typeface in its drawings and PDFs, and of every
/// crate that is built into it on any platform.
#[derive(Debug, Args)]
pub(crate) struct LicencesCommand {}

impl LicencesCommand {
    // A method, as with every other command.
    #[allow(clippy::unused_self, reason = "commands are called alike")]
    pub(crate) fn run(&self, context: &mut Context) -> Ending {
        context.report(LICENCES);
        Ending::Good
    }
}
