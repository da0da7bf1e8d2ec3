//! What people took, from the file to values: all of a file's rows together,
//! because they borrow each other's scatter.

use super::entries::{LengthEntry, WireEntry};
use super::evaluate::sharing;
use super::evaluated::{Beside, Evaluated};
use super::file::RadiusEntry;
use super::lengths::Lengths;
use super::read_construction::ConstructionFile;
use super::readings_file::TakenEntry;
use super::taken::{Taken, Taking};
use super::usual::{Range, Ranges};
use super::{Basis, Cause, ErrorPart, RingWire, Sharing};
use crate::document::{Fault, PlainOr, Problem, Span, day};
use crate::measurement::{Cell, EvaluatedRow, Measured, evaluate};
use crate::units::{Instrument, Length, Series, Uncertainty};

/// A length that people took, as it stands in the file.
struct Row<'f> {
    span: Span,
    taken: &'f [TakenEntry],
    beside: Beside<'f>,
    range: Range,
}

impl Lengths<'_> {
    /// Evaluates every length of the file that people took; each is then found
    /// by its place.
    pub(super) fn read_taken(&mut self, file: &ConstructionFile<'_>) {
        let rows = rows(file);
        if rows.is_empty() {
            return;
        }
        let takings: Vec<Vec<Taking>> = rows.iter().map(|row| self.takings(row)).collect();
        if !self.problems.is_empty() {
            return;
        }
        let measured = self.measured(&takings);
        let evaluation = evaluate(&measured);
        let of_all = rows.iter().zip(&takings).zip(evaluation.rows);
        for ((row, takings), found) in of_all {
            let evaluated = self.together(takings.clone(), found);
            self.taken
                .extend(evaluated.map(|evaluated| (row.span, evaluated)));
        }
    }

    /// What people took of the length that stands there.
    pub(super) fn taken_at(&mut self, span: Span) -> Option<Evaluated> {
        let index = self.taken.iter().position(|(place, _)| *place == span)?;
        Some(self.taken.swap_remove(index).1)
    }

    fn takings(&mut self, row: &Row<'_>) -> Vec<Taking> {
        if let Some(stated) = row.beside.uncertainty {
            self.problems.add(Problem::new(
                Fault::Contradiction,
                stated.span,
                "what people took has the uncertainty that follows from it",
                "remove `uncertainty`, and describe the instruments that they used",
            ));
        }
        let takings = row.taken.iter();
        let takings = takings.filter_map(|entry| self.taking(entry, row));
        takings.collect()
    }

    fn taking(&mut self, entry: &TakenEntry, row: &Row<'_>) -> Option<Taking> {
        let beside = Beside {
            instrument: entry.instrument.as_ref().or(row.beside.instrument),
            uncertainty: None,
        };
        let instrument = self.instrument(beside);
        let date = entry.date.as_ref();
        let date = date.and_then(|date| day(date, self.problems));
        let by = entry.by.as_ref()?;
        if by.value.trim().is_empty() {
            self.problems.add(Problem::new(
                Fault::Notation,
                by.span,
                "nobody is named who took these readings",
                "write the name, such as `by: A. Ashdown`",
            ));
        }
        let texts = entry.readings.as_deref().unwrap_or_default();
        let lengths: Vec<_> = texts
            .iter()
            .map(|text| self.within(text, row.range).map(Length::as_mm))
            .collect();
        let series = Series::new(lengths.into_iter().collect::<Option<_>>()?).ok()?;
        Some(Taking {
            by: by.value.trim().to_owned(),
            date,
            instrument,
            value: self.corrected(Length::mm(series.mean()), instrument),
            series,
            weight: 0.0,
            repeatability: None,
            places: texts.iter().map(|text| text.span).collect(),
        })
    }

    /// The same for the evaluation: people and instruments by number.
    fn measured<'t>(&self, takings: &'t [Vec<Taking>]) -> Vec<Vec<Measured<'t>>> {
        let mut people: Vec<&str> = Vec::new();
        let mut number = |name: &'t str| {
            let known = people.iter().position(|known| *known == name);
            known.unwrap_or_else(|| {
                people.push(name);
                people.len() - 1
            })
        };
        let mut rows = Vec::with_capacity(takings.len());
        for (row, takings) in takings.iter().enumerate() {
            let measured = takings.iter().map(|taking| {
                let described = self.described(taking.instrument);
                let correction = described.and_then(|known| known.correction);
                Measured {
                    cell: Cell {
                        row,
                        person: number(&taking.by),
                        series: &taking.series,
                        step: described.and_then(|i| i.resolution).map(Length::as_mm),
                        max_error: described.and_then(|i| i.max_error).map(Length::as_mm),
                    },
                    // Without a name it may be any of the others.
                    instrument: taking
                        .instrument
                        .filter(|_| described.is_some_and(|known| known.name.is_some())),
                    correction: correction.map_or(0.0, |known| known.value.as_mm()),
                    of_the_correction: correction
                        .and_then(|known| known.uncertainty)
                        .map_or(0.0, Uncertainty::standard),
                }
            });
            rows.push(measured.collect());
        }
        rows
    }

    /// The value of one length, and the causes of its error.
    fn together(&self, mut takings: Vec<Taking>, row: EvaluatedRow) -> Option<Evaluated> {
        let combined = row.combined?;
        for (index, taking) in takings.iter_mut().enumerate() {
            taking.weight = combined.weights.get(index).copied().unwrap_or_default();
            let contribution = row.contributions.get(index);
            taking.repeatability = contribution.and_then(|of| of.repeatability);
        }
        let own = |cause, u| ErrorPart::own(cause, u);
        let mut errors = Vec::new();
        if let Some(components) = &combined.uncertainty {
            errors.push(own(Cause::Scatter, components.scatter));
            let resolution = Uncertainty::finite(components.resolution);
            errors.push(own(Cause::Resolution, resolution));
            errors.push(own(Cause::BetweenPeople, components.between));
            for part in &components.instruments {
                let taking = takings.get(part.first);
                if let Some(index) = taking.and_then(|taking| taking.instrument) {
                    errors.extend(self.shares(index, part.standard));
                }
            }
            errors.retain(|part| part.uncertainty.standard() > 0.0);
        }
        let is_bare = |index: &usize| {
            let known = self.described(Some(*index));
            known.is_none_or(|known| known.type_b().is_none())
        };
        if takings
            .iter()
            .all(|of| of.instrument.is_none_or(|i| is_bare(&i)))
        {
            let stated = self.file_wide.map(|u| own(Cause::Stated, u));
            errors.extend(stated);
        }
        let first = takings.first()?.instrument;
        let same = takings.iter().all(|taking| taking.instrument == first);
        let basis = Basis::Taken(Box::new(Taken {
            takings,
            agreement: row.agreement,
            components: combined.uncertainty,
        }));
        Some(Evaluated {
            value: Length::mm(combined.value),
            errors,
            basis,
            instrument: first.filter(|_| same),
            places: Vec::new(),
        })
    }

    /// What an instrument's errors add to a weighted value: `standard` of them
    /// in all, shared out as their variances are.
    fn shares(&self, index: usize, standard: f64) -> Vec<ErrorPart> {
        let Some(described) = self.described(Some(index)) else {
            return Vec::new();
        };
        let correction = described.correction.and_then(|known| known.uncertainty);
        let correction = correction.map_or(0.0, Uncertainty::standard);
        let error = described.error_part().unwrap_or(0.0);
        let whole = libm::hypot(error, correction);
        let part = |cause, size: f64, of_correction| ErrorPart {
            cause,
            uncertainty: Uncertainty::finite((standard * size / whole).abs()),
            sharing: sharing_of(described, index, of_correction),
        };
        let parts = [
            part(Cause::PermissibleError, error, false),
            part(Cause::Correction, correction, true),
        ];
        let sizeable = |part: &ErrorPart| part.uncertainty.standard() > 0.0;
        parts.into_iter().filter(sizeable).collect()
    }
}

/// Of an instrument that nobody named it is not known which other lengths it
/// took.
fn sharing_of(described: &Instrument, index: usize, of_correction: bool) -> Sharing {
    match sharing(described, index, of_correction) {
        Sharing::Common(error) if described.name.is_none() => Sharing::Unknown(error),
        known => known,
    }
}

fn rows<'f>(file: &ConstructionFile<'f>) -> Vec<Row<'f>> {
    let mut rows = Vec::new();
    let wires = file.wires.into_iter().flat_map(|wires| {
        let own = RingWire::ALL.into_iter().map(|ring| wires.get(ring));
        [wires.rings.as_ref(), wires.sectors.as_ref()]
            .into_iter()
            .chain(own)
    });
    rows.extend(wires.flatten().filter_map(wire));
    let rings = file.rings.into_iter().flat_map(|rings| {
        let entries = RingWire::ALL.into_iter().map(|ring| rings.get(ring));
        entries.flatten()
    });
    rows.extend(rings.flat_map(ring).flatten());
    let widths = file.widths.into_iter();
    let widths = widths.flat_map(|widths| [widths.treble.as_ref(), widths.double.as_ref()]);
    rows.extend(widths.flatten().filter_map(|entry| {
        let beside = Beside {
            uncertainty: entry.uncertainty.as_ref(),
            instrument: entry.instrument.as_ref(),
        };
        length(entry.width.as_ref()?, beside, Ranges::WIDTH)
    }));
    rows.extend(
        file.overall
            .and_then(|(diameter, beside)| length(diameter, beside, Ranges::OVERALL)),
    );
    rows
}

fn wire(entry: &WireEntry) -> Option<Row<'_>> {
    let PlainOr::Group(group) = &entry.value else {
        return None;
    };
    Some(Row {
        span: entry.span,
        taken: group.taken.as_deref()?,
        beside: Beside {
            uncertainty: group.uncertainty.as_ref(),
            instrument: group.instrument.as_ref(),
        },
        range: Ranges::WIRE,
    })
}

fn ring(entry: &RadiusEntry) -> [Option<Row<'_>>; 2] {
    let beside = Beside {
        uncertainty: entry.uncertainty.as_ref(),
        instrument: entry.instrument.as_ref(),
    };
    let both = [(&entry.radius, 1.0), (&entry.diameter, 2.0)];
    both.map(|(text, factor)| length(text.as_ref()?, beside, Ranges::RADIUS.scaled(factor)))
}

fn length<'f>(entry: &'f LengthEntry, beside: Beside<'f>, range: Range) -> Option<Row<'f>> {
    let PlainOr::Group(group) = &entry.value else {
        return None;
    };
    Some(Row {
        span: entry.span,
        taken: group.taken.as_deref()?,
        beside,
        range,
    })
}
