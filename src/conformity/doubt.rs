//! What becomes of findings where lengths contradict one another.

use super::Verdict;
use super::finding::{Contradiction, LengthFinding};
use super::lengths::lengths;
use super::measured::WirePart;
use crate::board::{Adjustment, Condition, Construction, InputId};
use crate::table::{Decision, Limit};
use crate::units::Length;

/// What a board would be without one of the lengths that contradict one another.
/// Empty where none do.
pub(super) struct Doubt<'b> {
    adjustment: Option<&'b Adjustment>,
    others: Vec<(InputId, Construction)>,
}

impl<'b> Doubt<'b> {
    pub(super) fn of(construction: &'b Construction) -> Self {
        let adjustment = construction.adjustment.as_deref();
        let adjustment = adjustment.filter(|adjustment| adjustment.contradicts);
        let suspects = adjustment.into_iter().flat_map(Adjustment::suspects);
        let without = |id| Some((id, construction.without(id)?));
        Self {
            others: suspects.filter_map(without).collect(),
            adjustment,
        }
    }

    pub(super) fn others(&self) -> impl Iterator<Item = &Construction> {
        self.others.iter().map(|(_, other)| other)
    }

    /// Which of the lengths is wrong cannot be told from the file: where the
    /// verdict depends on that, there is none.
    pub(super) fn cast(
        &self,
        length: &mut LengthFinding,
        limit: &Limit,
        part: Option<WirePart>,
        rule: Decision,
    ) {
        let Some(adjustment) = self.adjustment else {
            return;
        };
        let mut farthest = Length::ZERO;
        for (id, other) in &self.others {
            let (lengths, _) = lengths(limit, length.interval, other, rule);
            let Some((_, found)) = lengths.into_iter().find(|(same, _)| *same == part) else {
                continue;
            };
            if found.decided.verdict != length.decided.verdict {
                length.decided.verdict = Verdict::Inconclusive;
            }
            let away = (found.value - length.value).abs();
            let names =
                |condition: &&Condition| condition.form.terms().iter().any(|(i, _)| i == id);
            let condition = adjustment.conditions.iter().find(names);
            if let Some(condition) = condition
                && away > farthest
            {
                farthest = away;
                length.contradiction = Some(Contradiction {
                    without: *id,
                    other: found.value,
                    misfit: condition.misfit,
                    allowed: condition.allowed,
                    inputs: found.inputs,
                });
            }
        }
    }
}
