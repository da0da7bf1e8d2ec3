//! The results of a run, each in its form: begun before anything is worked out,
//! so that what may not be written is known by then, and written together.

use std::path::Path;

use indicatif::ProgressBar;
use ringrule::report::TextLayout;

use super::{Claim, Context, Outputs, Stop, screen};

/// Results that have their places. One without a file is for standard output.
pub(crate) struct Results<F> {
    outputs: Option<Outputs>,
    all: Vec<(Option<Claim>, F)>,
}

impl<F: Copy> Results<F> {
    /// Every result, in the order in which they were begun.
    pub(crate) fn all(&self) -> &[(Option<Claim>, F)] {
        &self.all
    }

    /// Progress over so many boards, if the terminal is not for a result.
    pub(crate) fn progress(&self, boards: usize) -> ProgressBar {
        screen::progress(self.outputs.as_ref().map_or(0, |_| boards))
    }

    /// Whether any result has such a form.
    pub(crate) fn any(&self, of: impl Fn(F) -> bool) -> bool {
        self.all.iter().any(|&(_, form)| of(form))
    }
}

impl Context {
    /// Begins the file of every result, or says which cannot be written.
    pub(crate) fn begin<P: AsRef<Path>, F>(
        &mut self,
        forms: impl IntoIterator<Item = (Option<P>, F)>,
        overwrite: bool,
    ) -> Result<Results<F>, Stop> {
        let mut outputs = None;
        let mut all = Vec::new();
        for (path, form) in forms {
            let claim = path.map(|path| {
                let outputs = outputs.get_or_insert_with(|| self.outputs(overwrite));
                outputs.claim(path.as_ref())
            });
            all.push((claim.transpose()?, form));
        }
        Ok(Results { outputs, all })
    }

    /// Adds to a result.
    pub(crate) fn put(&mut self, claim: Option<&Claim>, bytes: &[u8]) -> Result<(), Stop> {
        match claim {
            Some(claim) => claim.append(bytes)?,
            None => self.screen.bytes(bytes),
        }
        Ok(())
    }

    /// Adds text with colours to every result of this form. Text in a file is as
    /// wide whatever the terminal, and has no colours.
    pub(crate) fn put_text<F: Copy + PartialEq>(
        &mut self,
        results: &Results<F>,
        text: F,
        make: impl Fn(TextLayout) -> String,
    ) -> Result<(), Stop> {
        for (claim, _) in results.all.iter().filter(|(_, form)| *form == text) {
            match claim {
                Some(claim) => claim.append_text(&make(TextLayout::default()))?,
                None => self.report(&make(Self::layout())),
            }
        }
        Ok(())
    }

    /// Makes every result and writes it: all files or none.
    pub(crate) fn write<F>(
        &mut self,
        results: Results<F>,
        make: impl Fn(&F, TextLayout, &mut Self) -> Result<Vec<u8>, Stop>,
    ) -> Result<(), Stop> {
        for (claim, form) in &results.all {
            let layout = claim
                .as_ref()
                .map_or_else(Self::layout, |_| TextLayout::default());
            let bytes = make(form, layout, self)?;
            self.put(claim.as_ref(), &bytes)?;
        }
        self.keep_all(results)
    }

    /// Gives the file of every result its name.
    pub(crate) fn keep_all<F>(&mut self, results: Results<F>) -> Result<(), Stop> {
        results.outputs.map_or(Ok(()), |outputs| self.keep(outputs))
    }
}
