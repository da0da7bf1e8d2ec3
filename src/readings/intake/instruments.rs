//! The instruments that rows of a workbook name. One is described once, or in the
//! same way each time.

use std::collections::HashMap;

use super::columns::FactColumn;
use super::rows::ReadRow;
use crate::document::{Fault, Problem, Span};
use crate::units::Instrument;

/// Instruments by their names, as the rows of one workbook describe them.
pub(super) struct Instruments(HashMap<String, (Instrument, Span)>);

impl Instruments {
    /// Every instrument that a row describes. A second description that says
    /// something else is a problem of its row.
    pub(super) fn of(rows: &mut [ReadRow]) -> Self {
        let mut known: HashMap<String, (Instrument, Span)> = HashMap::new();
        for row in rows {
            let own = described(row);
            let Some(name) = own.name.clone() else {
                continue;
            };
            let span = row.facts.get(FactColumn::Instrument);
            let span = span.map_or(row.id_span, |cell| cell.span);
            if own.resolution.is_none() && own.max_error.is_none() && own.calibrated.is_none() {
                continue;
            }
            match known.get(&name) {
                None => {
                    known.insert(name, (own, span));
                }
                Some((other, first)) if *other != own => {
                    let message = format!("`{name}` is described otherwise in another row");
                    let remedy = "describe an instrument once, or in the same way each time; give different \
                                  instruments different names";
                    let problem = Problem::new(Fault::Contradiction, span, message, remedy);
                    row.problems.add(problem.and(*first, "the other row"));
                }
                Some(_) => {}
            }
        }
        Self(known)
    }

    /// What a row was taken with.
    pub(super) fn of_row(&self, row: &ReadRow) -> Instrument {
        let text = row.facts.text(FactColumn::Instrument);
        let known = text.as_ref().and_then(|name| self.0.get(&name.value));
        if let Some((known, _)) = known {
            return known.clone();
        }
        let mut nothing = crate::document::Problems::default();
        read(row, &mut nothing)
    }
}

fn described(row: &mut ReadRow) -> Instrument {
    let mut problems = crate::document::Problems::default();
    let own = read(row, &mut problems);
    row.problems.extend(problems);
    own
}

fn read(row: &ReadRow, problems: &mut crate::document::Problems) -> Instrument {
    Instrument {
        name: row
            .facts
            .text(FactColumn::Instrument)
            .map(|name| name.value),
        resolution: row.facts.length(FactColumn::Resolution, problems),
        max_error: row.facts.length(FactColumn::MaxError, problems),
        calibrated: row.facts.day(FactColumn::Calibrated, row.days, problems),
        ..Instrument::default()
    }
}
