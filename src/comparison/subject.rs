//! A board that takes part in a comparison.

use super::CompareError;
use crate::board::{Board, Construction, FilledLength, Metal, Mounting};
use crate::geometry::Spider;
use crate::play::{Face, Setup};
use crate::table::Table;
use crate::units::Instrument;

/// A board with its face, and what its metal does.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Subject {
    /// What to call it: its id, or which nominal board it is.
    pub label: String,
    /// Where it hangs, or whose nominal board it is.
    pub name: Option<String>,
    /// The file that it was described in.
    pub file: String,
    /// How it is built.
    pub construction: Construction,
    /// What it was measured with, in the order of its file.
    pub instruments: Vec<Instrument>,
    /// What metal does to a dart.
    pub metal: Metal,
    /// Who said so.
    pub metal_from: MetalFrom,
    /// Whether it is exact by definition: a nominal board was not measured.
    pub is_nominal: bool,
    /// Lengths that were not measured, but taken from a nominal board.
    pub filled: Vec<FilledLength>,
    face: Face,
}

/// Who said what metal does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum MetalFrom {
    /// Nobody: the program's default.
    Default,
    /// The board's file.
    File,
    /// Whoever started the run.
    Run,
}

impl Subject {
    /// A board from its file.
    pub fn of_board(board: &Board) -> Result<Self, CompareError> {
        Ok(Self {
            label: board.id.clone(),
            name: board.hangs(),
            file: board.document.source.name().to_owned(),
            face: face(&board.id, &board.construction)?,
            construction: board.construction.clone(),
            instruments: board.instruments.clone(),
            metal: board.metal.unwrap_or_default(),
            metal_from: board.metal.map_or(MetalFrom::Default, |_| MetalFrom::File),
            is_nominal: false,
            filled: Vec::new(),
        })
    }

    /// A board from its file, completed from a table's nominal board of its mounting: what
    /// was not measured of rings and wires is nominal, and states no uncertainty.
    pub fn of_completed(board: &Board, table: &Table) -> Result<Self, CompareError> {
        let own = &board.construction;
        if own.lacks().is_empty() {
            return Self::of_board(board);
        }
        let (label, mounting) = (board.id.clone(), own.mounting);
        if !own.has_rings() {
            return Err(CompareError::NothingToComplete { label, mounting });
        }
        let nominal = Self::of_nominal(table, mounting)?.construction;
        if nominal.profile != own.profile {
            return Err(CompareError::OtherProfile {
                label,
                board: own.profile,
                title: table.title.clone(),
                nominal: nominal.profile,
            });
        }
        let mut completed = board.clone();
        let filled;
        (completed.construction, filled) = own.filled_from(&nominal);
        if let Some((inner, outer)) = completed.construction.overlapping() {
            return Err(CompareError::DoesNotFit {
                label,
                inner,
                outer,
            });
        }
        Ok(Self {
            filled,
            ..Self::of_board(&completed)?
        })
    }

    /// A table's nominal board.
    pub fn of_nominal(table: &Table, mounting: Mounting) -> Result<Self, CompareError> {
        let nominal = match mounting {
            Mounting::Staples => &table.staples,
            Mounting::Embedded => &table.embedded,
        };
        let Some(nominal) = nominal else {
            return Err(CompareError::NoNominal {
                title: table.title.clone(),
                mounting,
            });
        };
        let label = format!("nominal:{mounting}");
        Ok(Self {
            face: face(&label, &nominal.construction)?,
            label,
            name: Some(table.title.clone()),
            file: nominal.place.document.source.name().to_owned(),
            construction: nominal.construction.clone(),
            instruments: Vec::new(),
            metal: Metal::default(),
            metal_from: MetalFrom::Default,
            is_nominal: true,
            filled: Vec::new(),
        })
    }

    /// The nominal board of a table with this mounting, by the word in files.
    pub fn of_nominal_word(table: &Table, mounting: &str) -> Result<Self, CompareError> {
        let known = Mounting::ALL
            .into_iter()
            .find(|known| known.key() == mounting);
        let mounting = known.ok_or_else(|| CompareError::NoMounting(mounting.to_owned()))?;
        Self::of_nominal(table, mounting)
    }

    /// The same board with metal as the run says.
    #[must_use]
    pub fn with_metal(mut self, metal: Metal) -> Self {
        self.metal = metal;
        self.metal_from = MetalFrom::Run;
        self
    }

    /// Its face.
    pub const fn face(&self) -> &Face {
        &self.face
    }

    /// The same board with other lengths, in mm, one for each that was recorded.
    #[cfg(test)]
    #[allow(clippy::expect_used)]
    pub(super) fn with_lengths(&self, lengths: &[f64]) -> Self {
        let mut moved = self.clone();
        let inputs = moved.construction.inputs.iter_mut();
        for (input, length) in inputs.zip(lengths) {
            input.value = crate::units::Length::mm(*length);
        }
        moved.face = face(&self.label, &moved.construction).expect("a sound board");
        moved
    }

    /// Its face with metal at its own setting, or at the one given.
    pub(super) fn setup(&self, metal: Option<Metal>) -> Setup<'_> {
        Setup {
            face: &self.face,
            metal: metal.unwrap_or(self.metal),
        }
    }
}

/// Tells subjects apart that are called the same: by their files, and where one file is
/// named twice, by which of them it is.
pub fn tell_apart(mut subjects: Vec<Subject>) -> Vec<Subject> {
    let called = subjects
        .iter()
        .map(|subject| (&*subject.label, &*subject.file));
    let labels = labels_apart(&called.collect::<Vec<_>>());
    for (subject, label) in subjects.iter_mut().zip(labels) {
        subject.label = label;
    }
    subjects
}

/// The same of boards by what they are called and their files.
pub(super) fn labels_apart(boards: &[(&str, &str)]) -> Vec<String> {
    let apart = |(index, own): (usize, &(&str, &str))| {
        let (label, file) = own;
        if boards.iter().filter(|other| other.0 == *label).count() < 2 {
            return (*label).to_owned();
        }
        let twins = boards.iter().filter(|other| *other == own).count();
        let before = boards.iter().take(index).filter(|other| *other == own);
        let which = match (twins, before.count()) {
            (2.., before @ 1..) => format!(", {}", before + 1),
            _ => String::new(),
        };
        format!("{label} ({file}{which})")
    };
    boards.iter().enumerate().map(apart).collect()
}

/// The mounting in a name such as `nominal:staples`; nothing in a file's.
pub fn nominal_mounting(name: &str) -> Option<&str> {
    name.strip_prefix("nominal:")
}

/// Sets metal as a run says: for all boards (`lost`, `glances`, `30 %`), or for
/// the one with an id (`FL-03=lost`).
pub fn set_metal(subjects: Vec<Subject>, setting: &str) -> Result<Vec<Subject>, CompareError> {
    let split = setting.rsplit_once('=');
    let (id, word) = split.map_or((None, setting), |(id, word)| (Some(id), word));
    let metal: Metal = word.parse()?;
    if let Some(id) = id
        && !subjects.iter().any(|subject| subject.label == id)
    {
        let known: Vec<&str> = subjects.iter().map(|s| s.label.as_str()).collect();
        return Err(CompareError::NoBoard {
            id: id.to_owned(),
            known: known.join(", "),
        });
    }
    let set = |subject: Subject| match id {
        Some(id) if subject.label != id => subject,
        _ => subject.with_metal(metal),
    };
    Ok(subjects.into_iter().map(set).collect())
}

fn face(label: &str, construction: &Construction) -> Result<Face, CompareError> {
    let lacks = construction.lacks();
    if !lacks.is_empty() {
        return Err(CompareError::HalfMeasured {
            label: label.to_owned(),
            lacks,
            has_rings: construction.has_rings(),
        });
    }
    Face::of(&Spider::of(construction)).map_err(|source| CompareError::Face {
        label: label.to_owned(),
        source,
    })
}
