//! The tolerance table that a command takes.

use std::path::{Path, PathBuf};

use clap::Args;

/// Which table.
#[derive(Debug, Args)]
pub(super) struct TableChoice {
    /// The tolerance table: a file, or the name of one that is built in (`ringrule tables` lists
    /// them). Left out, the one that the settings file names (`ringrule.yaml` in the first path's
    /// folder or above).
    #[arg(long, short, value_name = "TABLE")]
    table: Option<PathBuf>,
}

impl TableChoice {
    pub(super) fn named(&self) -> Option<&Path> {
        self.table.as_deref()
    }
}
