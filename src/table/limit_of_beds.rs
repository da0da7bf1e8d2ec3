//! Limits on what has no length: angles of sectors and areas of beds; and which
//! places, rings and bands a limit is for.

use super::file::{LimitEntry, PercentText, ToleranceGroup};
use super::limit_reader::NO_ROOM;
use super::reader::Reader;
use super::{Demand, Extent, Measurand};
use crate::board::{LengthText, RingWire, WireText};
use crate::document::{Fault, Located, PlainOr, Span};
use crate::units::{Angle, Percent};

impl Reader<'_> {
    /// Whether the mean or every place is meant.
    pub(super) fn extent(&mut self, measurand: Measurand, entry: &LimitEntry) -> Extent {
        let Some(of) = &entry.of else {
            return Extent::Mean;
        };
        if of.value == Extent::EveryPlace && !measurand.has_places() {
            self.problem(
                Fault::Contradiction,
                of.span,
                format!("the {measurand} does not differ from place to place"),
                "remove `of`",
            );
        }
        of.value
    }

    /// The ring that a limit names; a band or a ring where none belongs is
    /// reported.
    pub(super) fn only_for(
        &mut self,
        measurand: Measurand,
        entry: &LimitEntry,
    ) -> Option<RingWire> {
        let ring = entry.ring.as_ref();
        if let Some(ring) = ring.filter(|_| !measurand.is_of_a_ring()) {
            self.problem(
                Fault::Contradiction,
                ring.span,
                format!("the {measurand} is not asked of one ring after the other"),
                "remove `ring`; it is for `ring.roundness` and `ring.offset`",
            );
        }
        let band = entry.band.as_ref();
        if let Some(band) = band.filter(|_| measurand != Measurand::BedArea) {
            self.problem(
                Fault::Contradiction,
                band.span,
                format!("the {measurand} is not asked of the beds of a band"),
                "remove `band`; it is for `bed.area`",
            );
        }
        ring.map(|ring| ring.value)
    }

    /// A limit on an angle, in degrees.
    pub(super) fn turned(&mut self, name: &str, entry: &LimitEntry, span: Span) -> Option<Demand> {
        let one =
            |reader: &mut Self, text: &Located<WireText>| reader.degrees(&text.value.0, text.span);
        let demand = match (
            &entry.nominal,
            entry.tolerance.as_ref().map(|t| (&t.value, t.span)),
        ) {
            (Some(nominal), Some((PlainOr::Plain(text), span))) => {
                let (nominal, both) = (one(self, nominal)?, self.degrees(text, span)?);
                Demand::Turned {
                    lower: Some(nominal - both),
                    upper: Some(nominal + both),
                }
            }
            (
                None,
                Some((
                    PlainOr::Group(ToleranceGroup {
                        lower: None,
                        upper: None,
                        min,
                        max,
                    }),
                    _,
                )),
            ) if min.is_some() || max.is_some() => Demand::Turned {
                lower: min.as_ref().and_then(|text| one(self, text)),
                upper: max.as_ref().and_then(|text| one(self, text)),
            },
            _ => {
                self.problem(
                    Fault::OneOf,
                    span,
                    format!("`{name}` does not say which angles conform"),
                    "write `nominal: 18°` with `tolerance: 0.5°`, or `tolerance: { min: 17.5°, \
                     max: 18.5° }` alone",
                );
                return None;
            }
        };
        if let Demand::Turned {
            lower: Some(lower),
            upper: Some(upper),
        } = demand
            && lower > upper
        {
            self.problem(
                Fault::LimitsInverted,
                span,
                format!("the least angle, {lower}, is above the greatest, {upper}"),
                "`min` is the least angle that conforms, `max` the greatest",
            );
            return None;
        }
        if let Demand::Turned {
            lower: Some(lower),
            upper: Some(upper),
        } = demand
            && lower == upper
        {
            let message = format!("no wire lies at an angle of {lower} to the last digit");
            self.problem(Fault::OutOfRange, span, message, NO_ROOM);
            return None;
        }
        Some(demand)
    }

    fn degrees(&mut self, text: &LengthText, span: Span) -> Option<Angle> {
        let number = match text {
            LengthText::Number(number) => {
                self.problem(
                    Fault::Notation,
                    span,
                    format!("`{number}` does not say that it is an angle"),
                    &format!("write `{number}°`"),
                );
                return None;
            }
            LengthText::Text(words) => {
                let words = words.trim();
                let bare = ["°", "degrees", "deg"]
                    .iter()
                    .find_map(|sign| words.strip_suffix(sign));
                bare.and_then(|bare| bare.trim().parse().ok())
            }
        };
        let degrees = number.filter(|number| (0.0..=360.0).contains(number));
        if degrees.is_none() {
            self.problem(
                Fault::Notation,
                span,
                "an angle is a number of degrees from 0 to 360".to_owned(),
                "write it with its sign, such as `18°`",
            );
        }
        degrees.map(Angle::degrees)
    }

    /// A limit on the free area of every bed.
    pub(super) fn beds(&mut self, name: &str, entry: &LimitEntry, span: Span) -> Option<Demand> {
        let percent = |reader: &mut Self, text: &LengthText, span: Span| {
            let value = PercentText(text.clone());
            reader.deviation(&Located { value, span })
        };
        let (lower, upper) = match (
            &entry.nominal,
            entry.tolerance.as_ref().map(|t| (&t.value, t.span)),
        ) {
            (None, Some((PlainOr::Plain(text), span))) => {
                let both = percent(self, text, span)?;
                (both, both)
            }
            (
                None,
                Some((
                    PlainOr::Group(ToleranceGroup {
                        lower: Some(lower),
                        upper: Some(upper),
                        min: None,
                        max: None,
                    }),
                    _,
                )),
            ) => (
                percent(self, &lower.value, lower.span)?,
                percent(self, &upper.value, upper.span)?,
            ),
            _ => {
                self.problem(
                    Fault::OneOf,
                    span,
                    format!("`{name}` does not say how far a bed's area may deviate"),
                    "write `tolerance: 5 %`, or `tolerance: { lower: 5 %, upper: 3 % }`: the \
                     nominal board of the table is what it is counted from",
                );
                return None;
            }
        };
        if lower.value() + upper.value() == 0.0 {
            let message = "no bed has the nominal area to the last digit".to_owned();
            self.problem(Fault::OutOfRange, span, message, NO_ROOM);
            return None;
        }
        Some(Demand::Beds {
            band: entry.band.as_ref().map(|band| band.value),
            lower: Percent::of(-lower.value() / 100.0).ok()?,
            upper,
        })
    }
}
