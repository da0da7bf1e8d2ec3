//! A board that takes part in a comparison.

use super::CompareError;
use crate::board::{Board, Construction, Metal, Mounting};
use crate::geometry::Spider;
use crate::play::{Face, Setup};
use crate::table::Table;

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
    /// What metal does to a dart.
    pub metal: Metal,
    /// Who said so.
    pub metal_from: MetalFrom,
    /// Whether it is exact by definition: a nominal board was not measured.
    pub is_nominal: bool,
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
            metal: board.metal.unwrap_or_default(),
            metal_from: board.metal.map_or(MetalFrom::Default, |_| MetalFrom::File),
            is_nominal: false,
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
            metal: Metal::default(),
            metal_from: MetalFrom::Default,
            is_nominal: true,
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
    let labels: Vec<String> = subjects
        .iter()
        .map(|subject| subject.label.clone())
        .collect();
    let files: Vec<String> = subjects
        .iter()
        .map(|subject| subject.file.clone())
        .collect();
    let pairs = || labels.iter().zip(&files);
    for (index, subject) in subjects.iter_mut().enumerate() {
        let alike = pairs()
            .filter(|(label, _)| **label == subject.label)
            .count();
        if alike < 2 {
            continue;
        }
        let same =
            |(label, file): &(&String, &String)| **label == subject.label && **file == subject.file;
        let twins = pairs().filter(same).count();
        let before = pairs().take(index).filter(same).count();
        let which = match (twins, before) {
            (2.., before @ 1..) => format!(", {}", before + 1),
            _ => String::new(),
        };
        subject.label = format!("{} ({}{which})", subject.label, subject.file);
    }
    subjects
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
    Face::of(&Spider::of(construction)).map_err(|source| CompareError::Face {
        label: label.to_owned(),
        source,
    })
}
