//! The question of the evening: which boards may be used, which may not and why,
//! and which must be measured again, by venue.

use super::{people, phrases, reasons};
use crate::board::{Due, DueState};
use crate::conformity::{Assessment, BandOutcome, LimitFinding, Outcome, Verdict};
use crate::report::escape;
use crate::report::fit::lines;
use crate::report::page::TextLayout;
use crate::report::style::Style;

/// What a board's id and use take up before the reason, in columns.
const HANG: usize = 4;

/// Whether a board may be used, as far as the table goes. Small: a run over many
/// boards keeps one for each.
#[derive(Clone, Debug)]
pub struct Usage {
    pub(in crate::report) verdict: Verdict,
    pub(in crate::report) id: String,
    pub(in crate::report) venue: Option<String>,
    /// Where in the venue, or what people call it.
    pub(in crate::report) position: Option<String>,
    /// What speaks most against it, in one line.
    pub(in crate::report) reason: Option<String>,
    /// How long its inspection is valid, where settings say.
    due: Option<Due>,
}

impl Usage {
    pub(in crate::report) const GOOD: &str = "may be used";
    pub(in crate::report) const BAD: &str = "may not be used";
    pub(in crate::report) const AGAIN: &str = "measure again";

    /// What the evening needs to know of a board.
    pub fn of(assessment: &Assessment<'_>) -> Self {
        let board = assessment.board;
        let at_venue = board.position.clone().or_else(|| board.name.clone());
        Self {
            verdict: assessment.verdict,
            id: board.id.clone(),
            venue: board.venue.clone(),
            position: match board.venue {
                Some(_) => at_venue,
                None => board.hangs(),
            },
            reason: reason(assessment),
            due: None,
        }
    }

    /// The same where settings say how long an inspection is valid.
    #[must_use]
    pub fn with_due(self, due: Option<Due>) -> Self {
        Self { due, ..self }
    }

    /// The house in which it hangs.
    pub fn venue(&self) -> Option<&str> {
        self.venue.as_deref()
    }

    /// Where in the house, or what people call it.
    pub fn position(&self) -> Option<&str> {
        self.position.as_deref()
    }

    /// What speaks against it, and whether it is due.
    pub fn remarks(&self) -> Option<String> {
        let due = self.due.and_then(|due| match due.state {
            DueState::Valid => None,
            DueState::Due => Some(format!("due: its inspection is valid until {}", due.until)),
            DueState::Overdue => Some(format!(
                "overdue: its inspection was valid until {}",
                due.until
            )),
        });
        match (&self.reason, due) {
            (Some(reason), Some(due)) if self.is_overdue() => Some(format!("{due}; {reason}")),
            (Some(reason), Some(due)) => Some(format!("{reason}; {due}")),
            (reason, due) => due.or_else(|| reason.clone()),
        }
    }

    pub(in crate::report) const fn due(&self) -> Option<Due> {
        self.due
    }

    pub(in crate::report) fn may_be_used(&self) -> bool {
        self.words() == Self::GOOD
    }

    fn is_overdue(&self) -> bool {
        self.due.is_some_and(|due| due.state == DueState::Overdue)
    }

    /// Whether it may be used, in a few words.
    pub fn words(&self) -> &'static str {
        match self.verdict {
            // An inspection that is no longer valid says nothing.
            Verdict::Conforms if self.is_overdue() => Self::AGAIN,
            Verdict::Conforms => Self::GOOD,
            Verdict::DoesNotConform => Self::BAD,
            Verdict::Inconclusive => Self::AGAIN,
        }
    }
}

/// Boards by venue, in the order in which each venue is met first; those without
/// a venue come last.
pub(in crate::report) fn by_venue<'u>(
    all: impl IntoIterator<Item = &'u Usage>,
) -> Vec<(Option<&'u str>, Vec<&'u Usage>)> {
    let mut venues: Vec<(Option<&str>, Vec<&Usage>)> = Vec::new();
    for usage in all {
        let venue = usage.venue.as_deref();
        match venues.iter_mut().find(|(known, _)| *known == venue) {
            Some((_, boards)) => boards.push(usage),
            None => venues.push((venue, vec![usage])),
        }
    }
    venues.sort_by_key(|(venue, _)| venue.is_none());
    venues
}

/// Every board in a line or two, under its venue.
pub fn usage_text(all: &[Usage], layout: TextLayout) -> String {
    let mut out = String::new();
    for (venue, boards) in by_venue(all) {
        let venue = venue.unwrap_or("boards without a venue");
        out += &format!("{}\n", Style::Strong.paint(escape::terminal(venue)));
        for usage in boards {
            let word = Style::Verdict(usage.verdict).paint(format!("{:<15}", usage.words()));
            let position = usage.position.as_deref();
            let position = position.map_or_else(String::new, |words| format!("  {words}"));
            let named = format!("{}{position}", usage.id);
            out += &format!("  {word}  {}\n", escape::terminal(&named));
            let room = layout.columns().saturating_sub(HANG);
            let remarks = usage.remarks();
            for line in remarks.iter().flat_map(|words| lines(words, room)) {
                out += &format!("{:HANG$}{}\n", "", Style::Faint.paint(line));
            }
        }
        out.push('\n');
    }
    out
}

/// What speaks most against a board; of one that conforms, what has to be said
/// beside its verdict.
fn reason(assessment: &Assessment<'_>) -> Option<String> {
    let sought = assessment.verdict;
    let beside = people::beside_the_verdict(assessment).into_iter().next();
    if sought == Verdict::Conforms {
        return beside;
    }
    let limits = assessment.limits.iter();
    let mut limits: Vec<_> = limits
        .filter(|finding| against(finding.outcome.verdict(), sought))
        .collect();
    // What lies farthest outside comes first; a stable order keeps the table's.
    limits.sort_by(|a, b| farness(b).total_cmp(&farness(a)));
    let bands = assessment.bands.iter();
    let bands = bands.filter(|finding| match &finding.outcome {
        BandOutcome::Compared(band) => band.verdict == Some(sought),
        _ => false,
    });
    let bands: Vec<_> = bands.collect();
    let count = limits.len() + bands.len();
    let limit = limits.first().map(|finding| of_limit(finding));
    let first = limit.or_else(|| {
        let BandOutcome::Compared(band) = &bands.first()?.outcome else {
            return None;
        };
        let name = bands.first()?.band;
        Some(format!("{name} area: {}", phrases::deviation(band)))
    });
    let first = first.or(beside)?;
    Some(match count {
        0 | 1 => first,
        2 => format!("{first}, and 1 more check"),
        more => format!("{first}, and {} more checks", more - 1),
    })
}

/// Whether a check speaks against a board with this verdict: what could not be
/// checked leaves a board undecided.
fn against(found: Option<Verdict>, sought: Verdict) -> bool {
    match found {
        Some(verdict) => verdict == sought,
        None => sought == Verdict::Inconclusive,
    }
}

fn farness(finding: &LimitFinding<'_>) -> f64 {
    match &finding.outcome {
        Outcome::Length(length) => length.excess.abs().as_mm(),
        _ => 0.0,
    }
}

fn of_limit(finding: &LimitFinding<'_>) -> String {
    let subject = phrases::subject(finding);
    let words = match &finding.outcome {
        Outcome::Length(length) if length.decided.verdict == Verdict::DoesNotConform => {
            phrases::beyond(
                length.excess,
                phrases::places(length, finding.limit.measurand),
            )
        }
        Outcome::NotChecked(missing) => format!("not checked, needs {}", reasons::needs(missing)),
        Outcome::Mounting { found, .. } => found.to_string(),
        _ if finding.outcome.is_contradicted() => {
            "its recorded lengths contradict one another".to_owned()
        }
        Outcome::Length(_) | Outcome::Bed(_) => match finding.outcome.verdict() {
            Some(Verdict::Inconclusive) => "measured too coarsely to decide".to_owned(),
            _ => "beyond its limits".to_owned(),
        },
    };
    format!("{subject}: {words}")
}
