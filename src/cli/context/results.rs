//! The results of a run, each in its form: begun before anything is worked out,
//! so that what may not be written is known by then, and written together.

use std::path::Path;

use ringrule::document::InvalidFile;
use ringrule::report::TextLayout;

use super::{Claim, Context, Outputs, Stop};

/// Results that have their places, and no content yet.
pub(crate) struct Results<F> {
    outputs: Option<Outputs>,
    all: Vec<(Option<Claim>, F)>,
}

impl Context {
    /// Begins the file of every result, or says which cannot be written; one
    /// without a file is for standard output.
    pub(crate) fn begin<'p, F>(
        &mut self,
        forms: impl IntoIterator<Item = (Option<&'p Path>, F)>,
        overwrite: bool,
    ) -> Result<Results<F>, Stop> {
        let mut outputs = None;
        let mut all = Vec::new();
        for (path, form) in forms {
            let claim = path.map(|path| {
                let outputs = outputs.get_or_insert_with(|| self.outputs(overwrite));
                outputs.claim(path)
            });
            all.push((claim.transpose()?, form));
        }
        Ok(Results { outputs, all })
    }

    /// Makes every result and writes it: all files or none. Text in a file is as
    /// wide whatever the terminal.
    pub(crate) fn write<F>(
        &mut self,
        results: Results<F>,
        make: impl Fn(&F, TextLayout, &mut Self) -> Result<Vec<u8>, Stop>,
    ) -> Result<(), Stop> {
        for (claim, form) in &results.all {
            if let Some(claim) = claim {
                let bytes = make(form, TextLayout::default(), self)?;
                claim.append(&bytes)?;
            } else {
                let bytes = make(form, Self::layout(), self)?;
                self.screen.bytes(&bytes);
            }
        }
        results.outputs.map_or(Ok(()), |outputs| self.keep(outputs))
    }
}

/// Everything that was read, or every file that could not be.
pub(crate) fn all_read<T>(
    read: impl IntoIterator<Item = Result<T, InvalidFile>>,
) -> Result<Vec<T>, Stop> {
    let mut all = Vec::new();
    let mut invalid_files = Vec::new();
    for one in read {
        match one {
            Ok(one) => all.push(one),
            Err(invalid_file) => invalid_files.push(invalid_file),
        }
    }
    if invalid_files.is_empty() {
        return Ok(all);
    }
    Err(Stop::Files(invalid_files))
}
