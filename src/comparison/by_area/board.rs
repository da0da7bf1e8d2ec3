//! A board of which some areas are known.

use super::super::subject::labels_apart;
use super::super::{CompareError, Subject};
use super::data::{AreaBoard, AreaSource, Described, KnownBed};
use super::side::Side;
use crate::board::{Band, Board, Construction, FilledLength, PerBand, RecordedArea};
use crate::comparison::recorded_beside;
use crate::conformity::FreeArea;
use crate::geometry::{Bed, Spider};
use crate::units::Uncertainty;

/// A board that takes part in a comparison by areas.
#[derive(Clone, Debug)]
pub struct AreaSubject {
    label: String,
    name: Option<String>,
    file: String,
    construction: Construction,
    is_nominal: bool,
    filled: Vec<FilledLength>,
    whole: Option<Box<Subject>>,
    beds: PerBand<Option<Known>>,
}

/// Where a band's areas come from.
#[derive(Clone, Debug)]
enum Known {
    Rings(Box<FreeArea>),
    Recorded(RecordedArea),
}

impl AreaSubject {
    /// A board from its file, however little of it is known.
    pub fn of_board(board: &Board) -> Result<Self, CompareError> {
        match Subject::of_board(board) {
            Ok(subject) => Ok(Self::of(subject)),
            Err(CompareError::HalfMeasured { .. }) => Ok(Self {
                label: board.id.clone(),
                name: board.hangs(),
                file: board.document.source.name().to_owned(),
                beds: known(&board.construction),
                construction: board.construction.clone(),
                is_nominal: false,
                filled: Vec::new(),
                whole: None,
            }),
            Err(other) => Err(other),
        }
    }

    /// A board of which everything is known.
    pub fn of(subject: Subject) -> Self {
        Self {
            label: subject.label.clone(),
            name: subject.name.clone(),
            file: subject.file.clone(),
            beds: known(&subject.construction),
            construction: subject.construction.clone(),
            is_nominal: subject.is_nominal,
            filled: subject.filled.clone(),
            whole: Some(Box::new(subject)),
        }
    }

    /// What it is called.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// The board with all that can be asked of one, if every wire of it is known.
    pub fn whole(&self) -> Option<&Subject> {
        self.whole.as_deref()
    }

    /// Its lengths.
    pub(super) const fn construction(&self) -> &Construction {
        &self.construction
    }

    /// Whether it is exact by definition.
    pub(super) const fn is_nominal(&self) -> bool {
        self.is_nominal
    }

    /// The recorded area's uncertainty of a band, in mm².
    pub(super) fn recorded_uncertainty(&self, band: Band) -> Option<Uncertainty> {
        match self.beds[band].as_ref()? {
            Known::Recorded(own) => own.uncertainty,
            Known::Rings(_) => None,
        }
    }

    /// Whether any area is known.
    pub(super) fn has(&self, band: Band) -> bool {
        self.beds[band].is_some()
    }

    /// One bed's area, and how it moves.
    pub(super) fn bed(&self, bed: Bed) -> Option<(f64, Side)> {
        let band = bed.band();
        Some(match self.beds[band].as_ref()? {
            Known::Rings(free) => {
                let own = free.area.beds.get(bed.sector())?;
                let side = Side::of_lengths(free.bed_slopes(bed.sector()));
                (own.free.as_mm2(), side)
            }
            Known::Recorded(own) => (own.bed.as_mm2(), Side::of_recorded(band)),
        })
    }

    /// The mean bed of a band, and how it moves.
    pub(super) fn mean_bed(&self, band: Band) -> Option<(f64, Side)> {
        Some(match self.beds[band].as_ref()? {
            Known::Rings(free) => {
                let beds = free.area.beds.len().max(1) as f64;
                let side = Side::of_lengths(free.slopes()).times(1.0 / beds);
                (free.area.mean_bed().as_mm2(), side)
            }
            Known::Recorded(own) => (own.bed.as_mm2(), Side::of_recorded(band)),
        })
    }

    /// What is known of it.
    pub(super) fn board(&self) -> AreaBoard {
        let bed = |band: Band| {
            let (bed_mm2, side) = self.mean_bed(band)?;
            let u = side.uncertainty(self).filter(|_| !self.is_nominal);
            Some(KnownBed {
                band,
                bed_mm2,
                expanded_uncertainty_mm2: u.map(|u| u.expanded().expanded),
                source: match self.beds[band].as_ref()? {
                    Known::Rings(_) => AreaSource::Rings,
                    Known::Recorded(_) => AreaSource::Recorded,
                },
            })
        };
        AreaBoard {
            label: self.label.clone(),
            name: self.name.clone(),
            file: Some(self.file.clone()),
            described: if self.is_nominal {
                Described::Nominal
            } else {
                Described::File
            },
            beds: Band::ALL.into_iter().filter_map(bed).collect(),
            beside: recorded_beside(&self.construction),
            lacks: self.construction.lacks(),
            has_rings: self.construction.has_rings(),
            filled: self.filled.clone(),
        }
    }
}

/// The areas of every band that rings give, or else the file records.
fn known(construction: &Construction) -> PerBand<Option<Known>> {
    let spider = Spider::of(construction);
    PerBand::from_fn(|band| {
        let rings = FreeArea::of(construction, &spider, band);
        let rings = rings.map(|free| Known::Rings(Box::new(free)));
        rings.or_else(|| construction.areas[band].clone().map(Known::Recorded))
    })
}

/// Tells boards apart that are called the same: by their files, and where one file is
/// named twice, by which of them it is.
pub fn tell_areas_apart(mut subjects: Vec<AreaSubject>) -> Vec<AreaSubject> {
    let called = subjects.iter().map(|own| (&*own.label, &*own.file));
    let labels = labels_apart(&called.collect::<Vec<_>>());
    for (subject, label) in subjects.iter_mut().zip(labels) {
        subject.label = label;
    }
    subjects
}
