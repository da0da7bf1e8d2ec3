//! Percentages of a table: how far areas may deviate.

use super::BandLimit;
use super::file::{BandEntry, PercentText};
use super::limit_reader::NO_ROOM;
use super::reader::Reader;
use crate::board::LengthText;
use crate::document::{Fault, Located, PlainOr};
use crate::units::{NotationFault, Percent, parse_percent};

/// The percentage that is all of it. An area can lose no more, and house rule: a board of
/// which one has twice its size is none.
pub(super) const WHOLE: f64 = 100.0;

impl Reader<'_> {
    pub(super) fn percent(&mut self, text: &Located<PercentText>) -> Option<Percent> {
        let fault = match &text.value.0 {
            LengthText::Number(number) => NotationFault::NoPercentSign(number.to_string()),
            LengthText::Text(words) => match parse_percent(words) {
                Ok(percent) if percent.value() >= 0.0 => return Some(percent),
                Ok(_) => {
                    self.problem(
                        Fault::OutOfRange,
                        text.span,
                        format!("`{words}` is negative"),
                        "write the size of the deviation without a sign",
                    );
                    return None;
                }
                Err(fault) => fault,
            },
        };
        self.problem(
            Fault::Notation,
            text.span,
            fault.to_string(),
            &fault.remedy(),
        );
        None
    }

    /// How far an area may deviate, without a sign.
    pub(super) fn deviation(&mut self, text: &Located<PercentText>) -> Option<Percent> {
        let percent = self.percent(text)?;
        if percent.value() <= WHOLE {
            return Some(percent);
        }
        self.problem(
            Fault::OutOfRange,
            text.span,
            format!("no area deviates by {percent} on a board that anybody throws at"),
            "write a percentage up to 100 %, such as 5 %",
        );
        None
    }

    pub(super) fn band(&mut self, entry: &BandEntry) -> Option<BandLimit> {
        let area = entry.area.as_ref()?;
        let (lower, upper) = match &area.value {
            PlainOr::Plain(text) => {
                let text = Located {
                    value: text.clone(),
                    span: area.span,
                };
                let both = self.deviation(&text)?;
                (both, both)
            }
            PlainOr::Group(group) => {
                let lower = self.deviation(group.lower.as_ref()?);
                let upper = self.deviation(group.upper.as_ref()?);
                (lower?, upper?)
            }
        };
        if lower.value() + upper.value() == 0.0 {
            let message = "no band has the nominal area to the last digit".to_owned();
            self.problem(Fault::OutOfRange, area.span, message, NO_ROOM);
            return None;
        }
        Some(BandLimit {
            lower: -lower,
            upper,
            source: self.source(entry.source.as_ref()),
            place: self.place(area.span),
        })
    }
}
