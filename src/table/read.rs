//! From the raw file to a table, with every problem collected.

use std::sync::{Arc, LazyLock};

use super::built_in::BuiltIn;
use super::file::TableFile;
use super::reader::Reader;
use super::{BandLimit, Citation, Decision, Limit, Shelf};
use crate::board::{Construction, Mounting, PerBand, Profile};
use crate::document::{
    Document, Fault, InvalidFile, InvalidFiles, Located, Passage, Problem, Problems, Shape, Source,
    parse,
};
use crate::units::Uncertainty;

/// How many tables may extend one another. House rule: nobody needs three.
const LONGEST_CHAIN: usize = 8;

/// The board that a table describes when every limit is met exactly.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Nominal {
    /// How it is built.
    pub construction: Construction,
    /// On whose word.
    pub source: Citation,
    /// Where it is written.
    pub place: Passage,
}

/// How well the thickness of a wire is known that was named by its gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum GaugeUncertainty {
    /// It counts as exact.
    Exact,
    /// So well.
    Known(Uncertainty),
}

/// A tolerance table, with everything that it extends folded in.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Table {
    /// What reports call it.
    pub title: String,
    /// Where its numbers come from unless a limit says otherwise.
    pub source: Citation,
    /// This table's file first, then the files that it extends.
    pub documents: Vec<Arc<Document>>,
    /// The decision rule.
    pub decision: Decision,
    /// Who agreed that it is used.
    pub agreed_by: Option<String>,
    /// How well the thickness of a wire is known that was named by its gauge;
    /// without a word on it the board's house rule holds.
    pub gauge_uncertainty: Option<GaugeUncertainty>,
    /// The limits, in the order of the files, extended ones first.
    pub limits: Vec<Limit>,
    /// The nominal board for staples.
    pub staples: Option<Nominal>,
    /// The nominal board for embedded strips.
    pub embedded: Option<Nominal>,
    /// Limits on band areas that the table gives itself.
    pub bands: PerBand<Option<BandLimit>>,
}

impl Table {
    /// Reads a table and what it extends, or says everything that is wrong
    /// with each of the files.
    pub fn read(source: Source, shelf: &dyn Shelf) -> Result<Self, InvalidFiles> {
        Self::from_document(&Arc::new(parse(source)?), shelf)
    }

    /// Reads a table from a parsed file.
    pub fn from_document(
        document: &Arc<Document>,
        shelf: &dyn Shelf,
    ) -> Result<Self, InvalidFiles> {
        Self::read_chain(document, shelf, &mut Vec::new())
    }

    /// The limits that are for boards of this kind, in the order of the table.
    pub fn limits_for(&self, mounting: Mounting, profile: Profile) -> impl Iterator<Item = &Limit> {
        self.limits
            .iter()
            .filter(move |limit| limit.when.matches(mounting, profile))
    }

    /// The nominal board for a mounting.
    pub const fn nominal(&self, mounting: Mounting) -> Option<&Nominal> {
        match mounting {
            Mounting::Staples => self.staples.as_ref(),
            Mounting::Embedded => self.embedded.as_ref(),
        }
    }

    fn read_chain(
        document: &Arc<Document>,
        shelf: &dyn Shelf,
        chain: &mut Vec<String>,
    ) -> Result<Self, InvalidFiles> {
        chain.push(document.source.name().to_owned());
        let mut problems = Problems::default();
        let file = shape().read::<TableFile>(document, &mut problems);
        let mut invalid_files = Vec::new();
        let extends = file.as_ref().and_then(|file| file.extends.as_ref());
        let base = extends.and_then(|extends| {
            let source = fetch_base(extends, document, shelf, chain, &mut problems)?;
            let base = parse(source).map_err(InvalidFiles::from);
            let base = base.and_then(|base| Self::read_chain(&Arc::new(base), shelf, chain));
            base.map_err(|InvalidFiles(faulty)| invalid_files.extend(faulty))
                .ok()
        });
        let table = file.and_then(|file| {
            let mut reader = Reader {
                document,
                problems: &mut problems,
                source: None,
            };
            reader.table(&file, base)
        });
        if let Err(invalid_file) = problems.into_result_in(document) {
            invalid_files.insert(0, invalid_file);
        }
        if !invalid_files.is_empty() {
            return Err(InvalidFiles(invalid_files));
        }
        let incomplete = |message: &str, remedy: &str| {
            let problem = Problem::new(Fault::MissingKey, document.root.span, message, remedy);
            InvalidFiles::from(InvalidFile::of(Arc::clone(&document.source), problem))
        };
        let table = table.ok_or_else(|| {
            incomplete(
                "this tolerance table is not complete",
                "compare it with the schema: `ringrule schema table` prints it",
            )
        })?;
        if table.limits.is_empty() && table.bands.iter().all(|(_, limit)| limit.is_none()) {
            return Err(incomplete(
                "this table checks nothing",
                "add `limits:`, or `extends:` with a table that has some",
            ));
        }
        Ok(table)
    }
}

/// The shape of a table file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<TableFile>("A tolerance table, for Ringrule"));
    &SHAPE
}

/// The text of the extended table. A fault in the path is this file's problem.
fn fetch_base(
    extends: &Located<String>,
    document: &Document,
    shelf: &dyn Shelf,
    chain: &[String],
    problems: &mut Problems,
) -> Option<Source> {
    let mut fault = |message: String, remedy: &str| {
        problems.add(Problem::new(Fault::Extends, extends.span, message, remedy));
        None
    };
    let source = match shelf.fetch(document.source.name(), &extends.value) {
        Ok(source) => source,
        Err(why) => match BuiltIn::named(&extends.value) {
            // A file wins where there is one, even one that cannot be used.
            Some(built_in) if why.is_absence() => built_in.source(),
            _ => return fault(why.message(), why.remedy()),
        },
    };
    if chain.iter().any(|name| name == source.name()) {
        let ring = chain.join(", then ");
        return fault(
            format!("the tables extend one another in a ring: {ring}"),
            "remove one of the `extends`",
        );
    }
    if chain.len() >= LONGEST_CHAIN {
        return fault(
            format!("more than {LONGEST_CHAIN} tables extend one another"),
            "merge some of them",
        );
    }
    Some(source)
}
