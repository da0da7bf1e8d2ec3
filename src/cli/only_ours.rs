//! `--only-ours`: for hooks, which hand over every file of a kind that was changed.

use std::fs::File;
use std::path::PathBuf;

use clap::Args;
use ringrule::document::FileKind;

use super::context::{Context, Found, Inputs, STANDARD_INPUT};

/// Which files are passed over.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct OnlyOurs {
    /// Pass over files that do not claim to be for Ringrule: YAML without a line
    /// `format: ringrule/…`, CSV without a sheet's head row. Hooks need this, since they
    /// hand over every YAML and CSV file that was changed; if none is left, all is well.
    #[arg(long)]
    only_ours: bool,
}

impl OnlyOurs {
    /// Takes out the files that claim to be nothing of ours, or of another kind than these.
    /// Whether that leaves nothing to look at, and that is in order.
    pub(super) fn pass_over(
        self,
        found: &mut Found,
        kinds: &[FileKind],
        context: &mut Context,
    ) -> bool {
        if !self.only_ours {
            return false;
        }
        let before = found.files.len();
        let inputs = context.inputs();
        found.files.retain(|path| is_ours(path, kinds, &inputs));
        let nothing_left = found.files.is_empty() && found.invalid_files.is_empty();
        if nothing_left && before > 0 {
            context.note(&match before {
                1 => "the file is passed over: it does not claim to be one of ours".to_owned(),
                _ => format!("all {before} files are passed over: none claims to be one of ours"),
            });
        }
        nothing_left
    }
}

fn is_ours(path: &PathBuf, kinds: &[FileKind], inputs: &Inputs) -> bool {
    if path.as_os_str() == STANDARD_INPUT {
        return true;
    }
    match inputs.csv(path, None) {
        Ok(source) => FileKind::claimed(source.text(), kinds),
        // No text claims nothing; what is not there at all is said where it is read.
        Err(_) => path.is_dir() || File::open(path).is_err(),
    }
}
