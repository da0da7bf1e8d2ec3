//! From what stands in a file to a value and the causes of its error.

use super::bearing::read_bearing;
use super::entries::{LengthEntry, WireEntry};
use super::error_part::{Cause, CommonError, ErrorPart, GaugeGround, Sharing};
use super::evaluated::{Beside, Evaluated, EvaluatedPlace};
use super::length_text::{LengthText, WireText};
use super::lengths::{Lengths, located};
use super::read_instruments::find;
use super::readings_file::PlacedReading;
use super::usual::{Range, Ranges};
use super::{Basis, Bearing};
use crate::document::{Fault, Located, PlainOr, Problem, Span};
use crate::units::{
    Errors, Instrument, Length, NotationFault, Series, Uncertainty, WireSize, parse_wire,
};

/// The standard uncertainty of a wire that was named by its gauge, where neither
/// file nor table says how good gauges are, in mm. House rule: expanded (k = 2),
/// 0.03 mm, about what drawn wire is sold to.
const GAUGE: f64 = 0.015;

/// Whether other lengths have an instrument's error.
pub(super) const fn sharing(described: &Instrument, index: usize, of_correction: bool) -> Sharing {
    if of_correction {
        return Sharing::Common(CommonError::Correction(index));
    }
    let error = CommonError::Instrument(index);
    match described.errors {
        Errors::Unknown => Sharing::Unknown(error),
        Errors::Independent => Sharing::Own,
        Errors::Common => Sharing::Common(error),
    }
}

impl Lengths<'_> {
    /// A length or the mean of readings, with the uncertainty that it has: its
    /// own, the file's, or the instrument's.
    pub(crate) fn evaluate(
        &mut self,
        entry: &LengthEntry,
        beside: Beside<'_>,
        range: Range,
    ) -> Option<Evaluated> {
        match &entry.value {
            PlainOr::Plain(text) => {
                let value = self.within(&located(text, entry.span), range);
                let evaluated = self.plain_value(value.unwrap_or_default(), beside);
                value.map(|_| evaluated)
            }
            PlainOr::Group(group) => match (&group.readings, &group.taken) {
                (Some(readings), None) => self.readings_or_places(readings, beside, range),
                (None, Some(_)) => self.taken_at(entry.span),
                // What is wrong with either has been said.
                _ if self.problems.has_within(entry.span) => None,
                _ => {
                    self.problems.add(Problem::new(
                        Fault::OneOf,
                        entry.span,
                        "a length has either readings or what several people have taken",
                        "write `{ readings: [107.02, 106.98] }` or `{ taken: [{ by: …, readings: \
                         […] }] }`",
                    ));
                    None
                }
            },
        }
    }

    /// A single value with the uncertainty that it has.
    pub(super) fn plain_value(&mut self, value: Length, beside: Beside<'_>) -> Evaluated {
        let instrument = self.instrument(beside);
        let (errors, basis) = self.stated(beside, instrument);
        Evaluated {
            value: self.corrected(value, instrument),
            errors,
            basis,
            instrument,
            places: Vec::new(),
        }
    }

    /// Readings of one length, or of one length at several places.
    fn readings_or_places(
        &mut self,
        readings: &[Located<PlainOr<LengthText, PlacedReading>>],
        beside: Beside<'_>,
        range: Range,
    ) -> Option<Evaluated> {
        let mut plain = Vec::new();
        let mut placed = Vec::new();
        for reading in readings {
            match &reading.value {
                PlainOr::Plain(text) => plain.push(located(text, reading.span)),
                PlainOr::Group(group) => placed.push((group, reading.span)),
            }
        }
        match (plain.first(), placed.first()) {
            (Some(without), Some(_)) => {
                self.problems.add(Problem::new(
                    Fault::Contradiction,
                    without.span,
                    "this reading does not say where it was taken, and others of its length do",
                    "write `{ at: 20, value: … }` for each reading, or for none",
                ));
                None
            }
            (None, Some(_)) => self.readings_at_places(&placed, beside, range),
            _ => self.readings(&plain, beside, range),
        }
    }

    /// Readings at several places: the same place read again is repeatability,
    /// which all places share; another place is form.
    fn readings_at_places(
        &mut self,
        readings: &[(&PlacedReading, Span)],
        beside: Beside<'_>,
        range: Range,
    ) -> Option<Evaluated> {
        let instrument = self.instrument(beside);
        let type_b = self.beside_readings(beside, instrument);
        let mut places: Vec<(Bearing, Vec<(f64, Span)>)> = Vec::new();
        let mut whole = true;
        for (reading, _) in readings {
            let value = reading
                .value
                .as_ref()
                .and_then(|text| self.within(text, range));
            let at = reading.at.as_ref();
            let at = at.and_then(|text| read_bearing(text, self.problems));
            let (Some(value), Some(at)) = (value, at) else {
                whole = false;
                continue;
            };
            let span = reading
                .value
                .as_ref()
                .map(|text| text.span)
                .unwrap_or_default();
            let own = (value.as_mm(), span);
            match places
                .iter_mut()
                .find(|(known, _)| known.is_or_faces(at, beside.across))
            {
                Some((_, values)) => values.push(own),
                None => places.push((at, vec![own])),
            }
        }
        if !whole {
            return None;
        }
        let series: Option<Vec<Series>> = places
            .iter()
            .map(|(_, values)| Series::new(values.iter().map(|own| own.0).collect()).ok())
            .collect();
        let series = series?;
        let repeatability = Series::pooled(&series);
        let mean = series.iter().map(Series::mean).sum::<f64>() / series.len().max(1) as f64;
        let at_places = places
            .into_iter()
            .zip(series)
            .map(|((at, values), series)| {
                let n = series.readings().len() as f64;
                let scatter = repeatability.map(|s| {
                    Uncertainty::with_degrees(s.standard() / libm::sqrt(n), s.degrees_of_freedom())
                });
                let scatter = scatter.map(|u| ErrorPart::own(Cause::Scatter, u));
                let span = values.first().map(|own| own.1).unwrap_or_default();
                EvaluatedPlace {
                    at,
                    span,
                    evaluated: Evaluated {
                        value: self.corrected(Length::mm(series.mean()), instrument),
                        errors: scatter.into_iter().chain(type_b.clone()).collect(),
                        basis: Basis::Readings {
                            series,
                            places: values.iter().map(|own| own.1).collect(),
                        },
                        instrument,
                        places: Vec::new(),
                    },
                }
            });
        let places: Vec<EvaluatedPlace> = at_places.collect();
        Some(Evaluated {
            value: self.corrected(Length::mm(mean), instrument),
            errors: type_b,
            basis: Basis::Unstated,
            instrument,
            places,
        })
    }

    /// The type B part beside readings.
    fn beside_readings(&mut self, beside: Beside<'_>, instrument: Option<usize>) -> Vec<ErrorPart> {
        let stated = |u: Uncertainty| vec![ErrorPart::own(Cause::Stated, u)];
        match beside.uncertainty {
            Some(entry) => self.uncertainty(entry).map(stated).unwrap_or_default(),
            None => match self.type_b(instrument) {
                known if !known.is_empty() => known,
                _ => self.file_wide.map(stated).unwrap_or_default(),
            },
        }
    }

    /// The instrument that a length was taken with.
    pub(super) fn instrument(&mut self, beside: Beside<'_>) -> Option<usize> {
        match beside.instrument {
            Some(name) => find(self.names, &name.value, name.span, self.problems),
            None => self.usual,
        }
    }

    pub(super) fn described(&self, instrument: Option<usize>) -> Option<&Instrument> {
        self.instruments.get(instrument?)
    }

    /// The value with the instrument's correction.
    pub(super) fn corrected(&self, value: Length, instrument: Option<usize>) -> Length {
        let known = self.described(instrument).and_then(|i| i.correction);
        known.map_or(value, |correction| value + correction.value)
    }

    /// What an instrument adds to a length taken with it (type B).
    fn type_b(&self, instrument: Option<usize>) -> Vec<ErrorPart> {
        let (Some(index), Some(described)) = (instrument, self.described(instrument)) else {
            return Vec::new();
        };
        let part = |cause, uncertainty, of_correction| ErrorPart {
            cause,
            uncertainty,
            sharing: sharing(described, index, of_correction),
        };
        let resolution = described.resolution_part().map(Uncertainty::finite);
        let error = described.error_part().map(Uncertainty::finite);
        let correction = described.correction.and_then(|known| known.uncertainty);
        let resolution = resolution.map(|u| ErrorPart::own(Cause::Resolution, u));
        let error = error.map(|u| part(Cause::PermissibleError, u, false));
        let correction = correction.map(|u| part(Cause::Correction, u, true));
        let parts = resolution.into_iter().chain(error).chain(correction);
        parts.collect()
    }

    /// The errors of a single value. An instrument that the length itself names
    /// comes before what the file states for all.
    fn stated(&mut self, beside: Beside<'_>, instrument: Option<usize>) -> (Vec<ErrorPart>, Basis) {
        let stated = |u| ErrorPart::own(Cause::Stated, u);
        if let Some(entry) = beside.uncertainty {
            let own = self.uncertainty(entry).map(stated);
            return (own.into_iter().collect(), Basis::Stated);
        }
        if beside.instrument.is_none()
            && let Some(u) = self.file_wide
        {
            return (vec![stated(u)], Basis::FileWide);
        }
        let errors = self.type_b(instrument);
        let basis = if errors.is_empty() {
            Basis::Unstated
        } else {
            Basis::Instrument
        };
        (errors, basis)
    }

    /// The mean of readings. Their scatter (type A) and what an uncertainty
    /// beside them, the instrument or the file says (type B) count together; a
    /// single reading has the latter alone.
    fn readings(
        &mut self,
        readings: &[Located<LengthText>],
        beside: Beside<'_>,
        range: Range,
    ) -> Option<Evaluated> {
        let instrument = self.instrument(beside);
        let lengths: Vec<_> = readings
            .iter()
            .map(|text| self.within(text, range))
            .collect();
        let type_b = self.beside_readings(beside, instrument);
        let lengths: Option<Vec<f64>> = lengths
            .into_iter()
            .map(|length| length.map(Length::as_mm))
            .collect();
        let series = Series::new(lengths?).ok()?;
        // Equal readings and no instrument: nothing is known, which is not the
        // same as certainty.
        let scatter = series.type_a().filter(|u| u.standard() > 0.0);
        let scatter = scatter.map(|u| ErrorPart::own(Cause::Scatter, u));
        Some(Evaluated {
            value: self.corrected(Length::mm(series.mean()), instrument),
            errors: scatter.into_iter().chain(type_b).collect(),
            basis: Basis::Readings {
                series,
                places: readings.iter().map(|text| text.span).collect(),
            },
            instrument,
            places: Vec::new(),
        })
    }

    /// A wire's size.
    pub(crate) fn wire(&mut self, text: &Located<WireText>) -> Option<WireSize> {
        let size = match &text.value.0 {
            LengthText::Number(number) => {
                // `16` in a file of millimetres is a gauge without its system
                // far more often than a wire as thick as a finger.
                let width = self.length(&located(&text.value.0, text.span))?;
                if width.as_mm() > Ranges::WIRE.most {
                    self.notation(text.span, &NotationFault::NoGaugeSystem(number.to_string()));
                    return None;
                }
                WireSize { width, gauge: None }
            }
            LengthText::Text(words) => match parse_wire(words) {
                Ok(size) => size,
                Err(fault) => {
                    self.notation(text.span, &fault);
                    return None;
                }
            },
        };
        self.check(size.width, text.span, Ranges::WIRE)?;
        Some(size)
    }

    /// A wire with the causes of its error, and where it is written.
    pub(crate) fn wire_entry(&mut self, entry: &WireEntry) -> Option<(Evaluated, WireSize, Span)> {
        let (text, beside) = match &entry.value {
            PlainOr::Plain(text) => {
                let text = Located {
                    value: text.clone(),
                    span: entry.span,
                };
                (text, Beside::default())
            }
            PlainOr::Group(group) => {
                let beside = Beside {
                    uncertainty: group.uncertainty.as_ref(),
                    instrument: group.instrument.as_ref(),
                    across: false,
                };
                match (&group.size, &group.readings, &group.taken) {
                    (Some(size), None, None) => (size.clone(), beside),
                    (None, Some(readings), None) => {
                        let evaluated = self.readings(readings, beside, Ranges::WIRE)?;
                        let size = WireSize::from(evaluated.value);
                        return Some((evaluated, size, entry.span));
                    }
                    (None, None, Some(_)) => {
                        let evaluated = self.taken_at(entry.span)?;
                        let size = WireSize::from(evaluated.value);
                        return Some((evaluated, size, entry.span));
                    }
                    _ => {
                        self.problems.add(Problem::new(
                            Fault::OneOf,
                            entry.span,
                            "a wire has a size, readings of it, or what several people have taken",
                            "write `{ size: 16 SWG }` or `{ readings: [1.62, 1.63] }`",
                        ));
                        return None;
                    }
                }
            }
        };
        let mut size = self.wire(&text)?;
        // No instrument measured a wire that was named by its gauge.
        let instrument = match size.gauge {
            Some(_) => None,
            None => self.instrument(beside),
        };
        let (errors, basis) = match (size.gauge, beside.uncertainty) {
            (Some(_), None) => {
                let ground = GaugeGround::HouseRule;
                let part = ErrorPart::own(Cause::Gauge(ground), Uncertainty::finite(GAUGE));
                (vec![part], Basis::Gauge(ground))
            }
            _ => self.stated(beside, instrument),
        };
        size.width = self.corrected(size.width, instrument);
        let evaluated = Evaluated {
            value: size.width,
            errors,
            basis,
            instrument,
            places: Vec::new(),
        };
        Some((evaluated, size, text.span))
    }
}
