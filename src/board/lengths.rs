//! Lengths of a file, with their uncertainties, every problem collected.

use super::Basis;
use super::file::{
    LengthEntry, LengthText, StatedUncertainty, UncertaintyEntry, WireEntry, WireText,
};
use super::usual::{Range, Ranges};
use crate::document::{Fault, Located, PlainOr, Problem, Problems, Span};
use crate::units::{
    Length, LengthUnit, NotationFault, Series, Uncertainty, WireSize, parse_length, parse_wire,
};

/// The coverage factor of an uncertainty that states none. House rule of the
/// format.
const DEFAULT_COVERAGE: f64 = 2.0;

/// A length with its uncertainty, and what both rest on.
pub(crate) struct Evaluated {
    pub(crate) value: Length,
    pub(crate) uncertainty: Option<Uncertainty>,
    pub(crate) basis: Basis,
}

/// Reads lengths in a file's units, collecting what is wrong with them.
pub(crate) struct Lengths<'a> {
    /// The unit of bare numbers, if the file states one.
    pub(crate) unit: Option<LengthUnit>,
    /// Whether a missing unit has been reported already, as a missing key.
    pub(crate) unit_is_missing: bool,
    pub(crate) problems: &'a mut Problems,
    /// The uncertainty that the file states for every length.
    pub(crate) file_wide: Option<Uncertainty>,
    /// The type B uncertainty of the file's instrument.
    pub(crate) instrument: Option<Uncertainty>,
    /// The step of its display in mm; zero if not known.
    pub(crate) step: f64,
}

impl Lengths<'_> {
    fn notation(&mut self, span: Span, fault: &NotationFault) {
        self.problems.add(Problem::new(
            Fault::Notation,
            span,
            fault.to_string(),
            fault.remedy(),
        ));
    }

    /// Any finite length, negative ones included.
    pub(crate) fn length(&mut self, text: &Located<LengthText>) -> Option<Length> {
        match (&text.value, self.unit) {
            (LengthText::Number(number), Some(unit)) => Some(unit.length(*number)),
            (LengthText::Number(_), None) if self.unit_is_missing => None,
            (LengthText::Number(number), None) => {
                self.notation(text.span, &NotationFault::NoUnit(number.to_string()));
                None
            }
            (LengthText::Text(words), _) => match parse_length(words) {
                Ok(length) => Some(length),
                Err(fault) => {
                    self.notation(text.span, &fault);
                    None
                }
            },
        }
    }

    /// A length that some board could have.
    pub(crate) fn within(&mut self, text: &Located<LengthText>, range: Range) -> Option<Length> {
        let length = self.length(text)?;
        self.check(length, text.span, range)
    }

    pub(crate) fn check(&mut self, length: Length, span: Span, range: Range) -> Option<Length> {
        if range.contains(length) {
            return Some(length);
        }
        self.problems.add(Problem::new(
            Fault::OutOfRange,
            span,
            format!("{} mm is not a possible {}", length.as_mm(), range.what),
            format!(
                "expected {} to {} mm: check the unit and the decimal point",
                range.least, range.most
            ),
        ));
        None
    }

    /// An uncertainty as it is stated.
    pub(crate) fn uncertainty(&mut self, entry: &UncertaintyEntry) -> Option<Uncertainty> {
        let (text, factor, degrees) = match &entry.value {
            PlainOr::Plain(text) => (located(text, entry.span), DEFAULT_COVERAGE, None),
            PlainOr::Group(StatedUncertainty {
                expanded: Some(text),
                k,
                degrees_of_freedom,
                standard: None,
            }) => (
                text.clone(),
                k.unwrap_or(DEFAULT_COVERAGE),
                *degrees_of_freedom,
            ),
            PlainOr::Group(StatedUncertainty {
                expanded: None,
                k: None,
                degrees_of_freedom,
                standard: Some(text),
            }) => (text.clone(), 1.0, *degrees_of_freedom),
            PlainOr::Group(_) => {
                self.problems.add(Problem::new(
                    Fault::OneOf,
                    entry.span,
                    "an uncertainty is either expanded or standard",
                    "write `{ expanded: 0.05, k: 2 }` or `{ standard: 0.025 }`",
                ));
                return None;
            }
        };
        let stated = self.within(&text, Ranges::UNCERTAINTY)?;
        let degrees = degrees.unwrap_or(f64::INFINITY);
        Some(Uncertainty::with_degrees(stated.as_mm() / factor, degrees))
    }

    /// A length or the mean of readings, with the uncertainty that it has: its
    /// own, the file's, or the instrument's.
    pub(crate) fn evaluate(
        &mut self,
        entry: &LengthEntry,
        own: Option<&UncertaintyEntry>,
        range: Range,
    ) -> Option<Evaluated> {
        match &entry.value {
            PlainOr::Plain(text) => {
                let value = self.within(&located(text, entry.span), range);
                let (uncertainty, basis) = self.stated(own);
                let value = value?;
                Some(Evaluated {
                    value,
                    uncertainty,
                    basis,
                })
            }
            PlainOr::Group(group) => {
                let readings = group.readings.as_deref().unwrap_or_default();
                self.readings(readings, own, range)
            }
        }
    }

    /// The uncertainty of a single value.
    fn stated(&mut self, own: Option<&UncertaintyEntry>) -> (Option<Uncertainty>, Basis) {
        if let Some(entry) = own {
            return (self.uncertainty(entry), Basis::Stated);
        }
        match (self.file_wide, self.instrument) {
            (Some(u), _) => (Some(u), Basis::FileWide),
            (None, Some(u)) => (Some(u), Basis::Instrument),
            (None, None) => (None, Basis::Unstated),
        }
    }

    /// The mean of readings. Their scatter (type A) and what an uncertainty
    /// beside them, the instrument or the file says (type B) count together; a
    /// single reading has the latter alone.
    fn readings(
        &mut self,
        readings: &[Located<LengthText>],
        own: Option<&UncertaintyEntry>,
        range: Range,
    ) -> Option<Evaluated> {
        let lengths: Vec<_> = readings
            .iter()
            .map(|text| self.within(text, range))
            .collect();
        let type_b = match own {
            Some(entry) => self.uncertainty(entry),
            None => self.instrument.or(self.file_wide),
        };
        let lengths: Option<Vec<f64>> = lengths
            .into_iter()
            .map(|length| length.map(Length::as_mm))
            .collect();
        let series = Series::new(lengths?).ok()?.with_step(self.step);
        let parts: Vec<_> = series
            .type_a()
            .into_iter()
            .chain(type_b)
            .map(|u| (1.0, u))
            .collect();
        // Equal readings and no instrument: nothing is known, which is not the
        // same as certainty.
        let uncertainty = Uncertainty::combined(parts);
        let uncertainty = (uncertainty.standard() > 0.0).then_some(uncertainty);
        Some(Evaluated {
            value: Length::mm(series.mean()),
            uncertainty,
            basis: Basis::Readings { series, type_b },
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

    /// A wire with its uncertainty, and where it is written.
    pub(crate) fn wire_entry(&mut self, entry: &WireEntry) -> Option<(Evaluated, WireSize, Span)> {
        let (text, own) = match &entry.value {
            PlainOr::Plain(text) => (
                Located {
                    value: text.clone(),
                    span: entry.span,
                },
                None,
            ),
            PlainOr::Group(group) => match (&group.size, &group.readings) {
                (Some(size), None) => (size.clone(), group.uncertainty.as_ref()),
                (None, Some(readings)) => {
                    let own = group.uncertainty.as_ref();
                    let evaluated = self.readings(readings, own, Ranges::WIRE)?;
                    let size = WireSize {
                        width: evaluated.value,
                        gauge: None,
                    };
                    return Some((evaluated, size, entry.span));
                }
                _ => {
                    self.problems.add(Problem::new(
                        Fault::OneOf,
                        entry.span,
                        "a wire has either a size or readings of it",
                        "write `{ size: 16 SWG }` or `{ readings: [1.62, 1.63] }`",
                    ));
                    return None;
                }
            },
        };
        let size = self.wire(&text);
        let (uncertainty, basis) = self.stated(own);
        let size = size?;
        // The instrument did not measure a wire that was identified by name.
        let (uncertainty, basis) = match (size.gauge, basis) {
            (Some(_), Basis::Instrument) => (None, Basis::Unstated),
            (_, basis) => (uncertainty, basis),
        };
        let evaluated = Evaluated {
            value: size.width,
            uncertainty,
            basis,
        };
        Some((evaluated, size, text.span))
    }
}

fn located(text: &LengthText, span: Span) -> Located<LengthText> {
    Located {
        value: text.clone(),
        span,
    }
}
