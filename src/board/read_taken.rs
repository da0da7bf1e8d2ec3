//! What people took, from the file to values: all of a file's rows together,
//! because they borrow each other's scatter.

use super::bearing::read_bearing;
use super::evaluate::sharing;
use super::evaluated::{Beside, Evaluated, EvaluatedPlace};
use super::lengths::Lengths;
use super::read_construction::ConstructionFile;
use super::readings_file::TakenEntry;
use super::taken::{Taken, Taking};
use super::taken_rows::{Row, rows};
use super::{Basis, Bearing, Cause, CommonError, ErrorPart, Sharing};
use crate::document::{Fault, Problem, Span, day};
use crate::measurement::{Cell, EvaluatedRow, Measured, evaluate};
use crate::units::{Instrument, Length, Series, Uncertainty};

/// What people took of a length at one place, or without a place.
struct AtPlace {
    at: Option<Bearing>,
    takings: Vec<Taking>,
}

impl Lengths<'_> {
    /// Evaluates every length of the file that people took; each is then found
    /// by its place.
    pub(super) fn read_taken(&mut self, file: &ConstructionFile<'_>) {
        let rows = rows(file);
        if rows.is_empty() {
            return;
        }
        let taken: Vec<Vec<AtPlace>> = rows.iter().map(|row| self.places(row)).collect();
        if !self.problems.is_empty() {
            return;
        }
        // Each place is a row of its own: people are compared where they measured
        // the same, with one error rate for all places of all lengths.
        let takings: Vec<&[Taking]> = taken.iter().flatten().map(|of| &of.takings[..]).collect();
        let evaluation = evaluate(&self.measured(&takings));
        let mut found = evaluation.rows.into_iter();
        for (index, (row, places)) in rows.iter().zip(taken).enumerate() {
            let each = places.into_iter().zip(found.by_ref());
            let each = each.filter_map(|(own, found)| {
                let evaluated = self.together(own.takings, found)?;
                Some((own.at, evaluated))
            });
            let each: Vec<(Option<Bearing>, Evaluated)> = each.collect();
            let evaluated = round_the_board(index, each);
            self.taken
                .extend(evaluated.map(|evaluated| (row.span, evaluated)));
        }
    }

    /// What people took of the length that stands there.
    pub(super) fn taken_at(&mut self, span: Span) -> Option<Evaluated> {
        let index = self.taken.iter().position(|(place, _)| *place == span)?;
        Some(self.taken.swap_remove(index).1)
    }

    /// What people took of one length, place by place.
    fn places(&mut self, row: &Row<'_>) -> Vec<AtPlace> {
        if let Some(stated) = row.beside.uncertainty {
            self.problems.add(Problem::new(
                Fault::Contradiction,
                stated.span,
                "what people took has the uncertainty that follows from it",
                "remove `uncertainty`, and describe the instruments that they used",
            ));
        }
        let mut places: Vec<AtPlace> = Vec::new();
        for entry in row.taken {
            let (at, taking) = (self.at(entry, row), self.taking(entry, row));
            let (Some(at), Some(taking)) = (at, taking) else {
                continue;
            };
            let known = places.iter_mut().find(|known| match (known.at, at) {
                (Some(own), Some(at)) => own.is_or_faces(at, row.beside.across),
                (own, at) => own.is_none() && at.is_none(),
            });
            match known {
                Some(known) => known.takings.push(taking),
                None => places.push(AtPlace {
                    at,
                    takings: vec![taking],
                }),
            }
        }
        places
    }

    /// Where an entry was taken: `Some(None)` if it does not say, as no other of its
    /// length does.
    #[allow(clippy::option_option)]
    fn at(&mut self, entry: &TakenEntry, row: &Row<'_>) -> Option<Option<Bearing>> {
        let Some(text) = &entry.at else {
            let others_do = row.taken.iter().any(|other| other.at.is_some());
            if others_do {
                self.problems.add(Problem::new(
                    Fault::Contradiction,
                    entry.by.as_ref().map(|by| by.span).unwrap_or_default(),
                    "these readings do not say where they were taken, and others of their length do",
                    "add `at: 20` to each entry, or to none",
                ));
            }
            return (!others_do).then_some(None);
        };
        if !row.has_places {
            self.problems.add(Problem::new(
                Fault::Contradiction,
                text.span,
                "the thickness of a wire has no place around the board",
                "remove `at`",
            ));
            return None;
        }
        read_bearing(text, self.problems).map(Some)
    }

    fn taking(&mut self, entry: &TakenEntry, row: &Row<'_>) -> Option<Taking> {
        let beside = Beside {
            instrument: entry.instrument.as_ref().or(row.beside.instrument),
            uncertainty: None,
            across: row.beside.across,
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
    fn measured<'t>(&self, takings: &[&'t [Taking]]) -> Vec<Vec<Measured<'t>>> {
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

/// A length from what it is at each place, or the one that says no place. What
/// people do not share may be the same at every place, as a heavy hand is, or not:
/// whichever gives the larger uncertainty counts.
fn round_the_board(index: usize, each: Vec<(Option<Bearing>, Evaluated)>) -> Option<Evaluated> {
    let mut places = Vec::new();
    for (at, mut evaluated) in each {
        let Some(at) = at else {
            return Some(evaluated);
        };
        for part in &mut evaluated.errors {
            if part.cause == Cause::BetweenPeople {
                part.sharing = Sharing::Unknown(CommonError::BetweenPeople(index));
            }
        }
        let span = match &evaluated.basis {
            Basis::Taken(taken) => taken.takings.first()?.places.first().copied(),
            _ => None,
        };
        places.push(EvaluatedPlace {
            at,
            evaluated,
            span: span.unwrap_or_default(),
        });
    }
    let values = places.iter().map(|place| place.evaluated.value);
    let mean = values.sum::<Length>() * (1.0 / places.len().max(1) as f64);
    (!places.is_empty()).then_some(Evaluated {
        value: mean,
        errors: Vec::new(),
        basis: Basis::Unstated,
        instrument: None,
        places,
    })
}
