//! Limits on lengths and mountings, as they stand in a table file.

use std::collections::HashSet;

use super::file::{LimitEntry, TableFile, ToleranceGroup};
use super::reader::Reader;
use super::{Demand, Interval, Limit, Measurand, When};
use crate::board::{LengthText, WireText};
use crate::document::{Fault, Located, PlainOr, Span};
use crate::units::Length;

/// The largest length that a limit can sensibly have. House rule: twice the
/// diameter of any board.
const MOST_OF_A_BOARD: Length = Length::mm(1000.0);

/// What to do about a tolerance of zero.
pub(super) const NO_ROOM: &str =
    "write how far a board may deviate, as a tolerance above zero on one side at least";

impl Reader<'_> {
    pub(super) fn limit(
        &mut self,
        name: &str,
        entry: &LimitEntry,
        file: &TableFile,
    ) -> Option<Limit> {
        let span = self.key_span("limits", name);
        if name.trim().is_empty() {
            self.problem(
                Fault::Notation,
                span,
                "this limit has no name".to_owned(),
                "name it, such as `treble_width`: reports say which limit a board breaks",
            );
        }
        let measurand = entry.measurand?;
        let edge = match (&entry.edge, measurand.needs_edge()) {
            (Some(edge), true) => Some(edge.value),
            (None, false) => None,
            (None, true) => {
                self.problem(
                    Fault::MissingKey,
                    span,
                    format!("`{name}` does not say to which edge the {measurand} is taken"),
                    "add `edge: inside`, `outside` or `apex`",
                );
                return None;
            }
            (Some(edge), false) => {
                self.problem(
                    Fault::Contradiction,
                    edge.span,
                    format!("the {measurand} has no edge"),
                    "remove `edge`",
                );
                return None;
            }
        };
        if let Some(allowed) = &entry.allowed
            && measurand != Measurand::Mounting
        {
            self.problem(
                Fault::Contradiction,
                allowed.span,
                format!("`allowed` is for the mounting; the {measurand} is no word"),
                "write a tolerance instead",
            );
            return None;
        }
        let of = self.extent(measurand, entry);
        let ring = self.only_for(measurand, entry);
        let demand = match measurand {
            Measurand::Mounting => self.allowed(name, entry, span)?,
            Measurand::SectorAngle => self.turned(name, entry, span)?,
            Measurand::BedArea => self.beds(name, entry, span)?,
            _ => Demand::Within(self.interval(name, measurand, entry, file, span)?),
        };
        let nominal = entry.nominal.as_ref();
        let nominal = nominal.filter(|_| matches!(demand, Demand::Within(_)));
        let nominal = nominal.and_then(|text| self.bound(measurand, text, file));
        let when = entry.when.as_ref();
        Some(Limit {
            name: name.to_owned(),
            measurand,
            edge,
            of,
            ring,
            when: When {
                mounting: when.and_then(|when| when.mounting),
                profile: when.and_then(|when| when.profile),
            },
            demand,
            nominal,
            source: self.source(entry.source.as_ref()),
            place: self.place(span),
        })
    }

    fn allowed(&mut self, name: &str, entry: &LimitEntry, span: Span) -> Option<Demand> {
        if let (Some(allowed), None, None) = (&entry.allowed, &entry.nominal, &entry.tolerance) {
            let distinct: HashSet<_> = allowed.value.iter().collect();
            if !distinct.is_empty() && distinct.len() == allowed.value.len() {
                return Some(Demand::OneOf(allowed.value.clone()));
            }
        }
        self.problem(
            Fault::OneOf,
            span,
            format!("`{name}` limits the mounting, which is a word and not a length"),
            "write `allowed: [embedded]`, naming each mounting once, and no tolerance",
        );
        None
    }

    /// A bound as a length; gauges only where the measurand is a wire.
    fn bound(
        &mut self,
        measurand: Measurand,
        text: &Located<WireText>,
        file: &TableFile,
    ) -> Option<Length> {
        if measurand.is_gauge() {
            return self.lengths(file).wire(text).map(|size| size.width);
        }
        let plain = Located {
            value: text.value.0.clone(),
            span: text.span,
        };
        self.lengths(file).length(&plain)
    }

    fn interval(
        &mut self,
        name: &str,
        measurand: Measurand,
        entry: &LimitEntry,
        file: &TableFile,
        span: Span,
    ) -> Option<Interval> {
        let one_of = |reader: &mut Self| {
            reader.problem(
                Fault::OneOf,
                span,
                format!("`{name}` does not say which values conform"),
                "write `nominal: 8.0 mm` with `tolerance: 0.2 mm` or `tolerance: { lower: 0.1 mm, \
                 upper: 0.3 mm }`, or `tolerance: { min: 7.8 mm, max: 8.2 mm }` alone",
            );
            None
        };
        let Some(tolerance) = &entry.tolerance else {
            return one_of(self);
        };
        let around = |nominal: Length, below: Length, above: Length| Interval {
            lower: Some(nominal - below),
            upper: Some(nominal + above),
        };
        let interval = match (&entry.nominal, &tolerance.value) {
            (Some(nominal), PlainOr::Plain(text)) => {
                let nominal = self.bound(measurand, nominal, file);
                let text = Located {
                    value: text.clone(),
                    span: tolerance.span,
                };
                let both = self.distance(&text, file);
                around(nominal?, both?, both?)
            }
            (
                Some(nominal),
                PlainOr::Group(ToleranceGroup {
                    lower: Some(lower),
                    upper: Some(upper),
                    min: None,
                    max: None,
                }),
            ) => {
                let nominal = self.bound(measurand, nominal, file);
                let (below, above) = (self.distance(lower, file), self.distance(upper, file));
                around(nominal?, below?, above?)
            }
            (
                None,
                PlainOr::Group(ToleranceGroup {
                    lower: None,
                    upper: None,
                    min,
                    max,
                }),
            ) if min.is_some() || max.is_some() => {
                let min = min.as_ref().map(|text| self.bound(measurand, text, file));
                let max = max.as_ref().map(|text| self.bound(measurand, text, file));
                Interval {
                    lower: match min {
                        Some(min) => Some(min?),
                        None => None,
                    },
                    upper: match max {
                        Some(max) => Some(max?),
                        None => None,
                    },
                }
            }
            _ => return one_of(self),
        };
        if let Some(least) = interval.lower.filter(|least| *least > Length::ZERO)
            && measurand.is_of_a_ring()
        {
            self.problem(
                Fault::Contradiction,
                tolerance.span,
                format!(
                    "`{name}` asks for {measurand} of {least:.3} at least; the best ring has none"
                ),
                "write the greatest value that conforms alone, such as `tolerance: { max: 1 mm }`",
            );
            return None;
        }
        self.check_interval(name, measurand, interval, tolerance.span)
    }

    /// Bounds must be lengths that a board can have, the right way round.
    fn check_interval(
        &mut self,
        name: &str,
        measurand: Measurand,
        interval: Interval,
        span: Span,
    ) -> Option<Interval> {
        for bound in [interval.lower, interval.upper].into_iter().flatten() {
            let none_at_best = measurand.is_of_a_ring();
            let too_small = bound < Length::ZERO || (bound == Length::ZERO && !none_at_best);
            if too_small || bound > MOST_OF_A_BOARD {
                self.problem(
                    Fault::OutOfRange,
                    span,
                    format!("`{name}` sets a bound of {bound:.3}, which no board can have"),
                    "check the unit and the decimal point",
                );
                return None;
            }
        }
        if let Interval {
            lower: Some(lower),
            upper: Some(upper),
        } = interval
            && lower > upper
        {
            let remedy = if measurand.is_gauge() {
                "a higher gauge number is a thinner wire: `min` is the thinnest, such as 18 SWG, \
                 `max` the thickest, such as 16 SWG"
            } else {
                "`min` is the least value that conforms, `max` the greatest"
            };
            self.problem(
                Fault::LimitsInverted,
                span,
                format!("the least value, {lower:.3}, is above the greatest, {upper:.3}"),
                remedy,
            );
            return None;
        }
        // A wire that is named by its gauge has one thickness; what is measured never has.
        if let Interval {
            lower: Some(lower),
            upper: Some(upper),
        } = interval
            && lower == upper
            && !measurand.is_gauge()
        {
            let message = format!("no board has a {measurand} of {lower:.3} to the last digit");
            self.problem(Fault::OutOfRange, span, message, NO_ROOM);
            return None;
        }
        Some(interval)
    }

    /// A distance from a nominal value: never negative.
    fn distance(&mut self, text: &Located<LengthText>, file: &TableFile) -> Option<Length> {
        let distance = self.lengths(file).length(text)?;
        if distance >= Length::ZERO {
            return Some(distance);
        }
        self.problem(
            Fault::LimitsInverted,
            text.span,
            format!("the tolerance {distance} is negative"),
            "write the distance from the nominal value without a sign",
        );
        None
    }
}
