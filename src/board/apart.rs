//! Readings of a board that stand apart from the others of their length.

use super::{Basis, Construction, InputId};
use crate::document::Span;
use crate::measurement::{Cell, StandsApart, standing_apart_by};
use crate::units::{Instrument, Length};

/// A reading that stands apart from the others of its length.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ReadingApart {
    /// Of which length.
    pub input: InputId,
    /// Who took it, if the file says.
    pub by: Option<String>,
    /// How far it lies from the others, and against what that was judged. Its
    /// row is the index of the length, its person the place among those who
    /// took it.
    pub found: StandsApart,
    /// Where it stands.
    pub span: Span,
}

/// Finds them among each person's readings with each instrument. `by` is who
/// took the readings that name nobody.
pub(super) fn readings_apart(
    construction: &Construction,
    instruments: &[Instrument],
    by: Option<&str>,
) -> Vec<ReadingApart> {
    let inputs = construction.inputs.iter().enumerate();
    let readings = inputs.flat_map(|(row, input)| match &input.basis {
        Basis::Readings { series, places } => {
            vec![(row, 0, by, input.instrument, series, places.as_slice())]
        }
        Basis::Taken(taken) => {
            let takings = taken.takings.iter().enumerate();
            let taking = takings.map(|(person, of)| {
                let by = Some(of.by.as_str());
                let places = of.places.as_slice();
                (row, person, by, of.instrument, &of.series, places)
            });
            taking.collect()
        }
        _ => Vec::new(),
    });
    let readings: Vec<_> = readings.collect();
    let cells = readings
        .iter()
        .map(|&(row, person, by, instrument, series, _)| {
            let described = instrument.and_then(|index| instruments.get(index));
            let cell = Cell {
                row,
                person,
                series,
                step: described
                    .and_then(|known| known.resolution)
                    .map(Length::as_mm),
                max_error: described
                    .and_then(|known| known.max_error)
                    .map(Length::as_mm),
            };
            ((by, instrument), cell)
        });
    let found = standing_apart_by(cells).into_iter().filter_map(|found| {
        let of = readings
            .iter()
            .find(|of| (of.0, of.1) == (found.row, found.person))?;
        Some(ReadingApart {
            input: InputId::new(found.row),
            by: of.2.map(str::to_owned),
            span: of.5.get(found.index).copied().unwrap_or_default(),
            found,
        })
    });
    let mut found: Vec<ReadingApart> = found.collect();
    found.sort_by_key(|apart| apart.span.start);
    found
}
