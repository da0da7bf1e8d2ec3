//! What the summary of an event keeps of a board.

use jiff::civil::Date;

use crate::board::{Band, Due};
use crate::conformity::{Assessment, BandOutcome, Tally, Verdict};
use crate::event::Event;
use crate::history::changes;
use crate::report::page::{Block, Listed, Part};
use crate::report::records::history::{InspectionRecord, SinceRecord};
use crate::report::says::history::{ChangeLine, ChangesShown, since, tally};
use crate::report::says::usage::Usage;
use crate::report::says::{people, phrases};
use crate::report::style::Mark;
use crate::units::Percent;

/// What is known of a board's inspections beside the one that is reported.
#[derive(Clone, Copy, Debug, Default)]
pub struct Past<'a> {
    /// How long the inspection is valid, where settings say.
    pub due: Option<Due>,
    /// The inspection before, judged by the same table.
    pub before: Option<&'a Assessment<'a>>,
}

/// A board in a line. Small: a run over many boards keeps one for each.
#[derive(Clone, Debug)]
pub struct BoardLine {
    /// The id.
    pub id: String,
    /// The day of its inspection.
    pub inspected: Option<Date>,
    /// Who inspected it, by its file.
    pub(super) by: Option<String>,
    /// Where it hangs.
    pub name: Option<String>,
    /// Whether it may be used.
    pub(super) usage: Usage,
    /// The board's file.
    pub file: String,
    /// The number of this board's report, if the event has one.
    pub number: Option<String>,
    /// The verdict on the whole board.
    pub verdict: Verdict,
    /// How many checks came out which way.
    pub tally: Tally,
    /// What has to be said beside the verdict.
    pub(super) beside: Vec<String>,
    /// Where its part of the report begins.
    pub(super) anchor: String,
    /// The band that deviates most, as its limits go.
    pub(super) worst: Option<WorstBand>,
    /// Every check that does not plainly conform.
    pub(super) doubtful: Vec<Doubtful>,
    /// What has changed since the inspection before, if there was one.
    pub(super) since: Option<Since>,
}

/// The inspection before, and what has changed since.
#[derive(Clone, Debug)]
pub(super) struct Since {
    pub(super) before: InspectionRecord,
    pub(super) changes: Vec<ChangeLine>,
}

impl Since {
    fn new(before: &Assessment<'_>, now: &Assessment<'_>) -> Self {
        Self {
            before: InspectionRecord::of(before),
            changes: changes(before, now).iter().map(ChangeLine::of).collect(),
        }
    }

    pub(super) fn blocks(&self) -> Vec<Block> {
        let day = self.before.inspected.as_ref();
        let day = day.map_or("", |day| day.0.as_str());
        let words = format!(
            "The inspection before was on {day}. Since then: {}.",
            tally(&self.changes)
        );
        let mut blocks = vec![Block::Text(words)];
        blocks.extend(since(&self.changes, day, ChangesShown::Beyond));
        blocks
    }

    /// How much has changed, in a line.
    pub(super) fn in_a_line(&self) -> String {
        let day = self.before.inspected.as_ref();
        let day = day.map_or("", |day| day.0.as_str());
        format!("{} (on {day})", tally(&self.changes))
    }

    pub(super) fn record(&self) -> SinceRecord {
        SinceRecord {
            before: self.before.clone(),
            changes: self
                .changes
                .iter()
                .map(|line| line.record.clone())
                .collect(),
        }
    }
}

/// The band that deviates most.
#[derive(Clone, Copy, Debug)]
pub(super) struct WorstBand {
    pub(super) band: Band,
    pub(super) deviation: Percent,
    pub(super) mark: Mark,
}

/// A check that does not plainly conform.
#[derive(Clone, Debug)]
pub(super) struct Doubtful {
    /// What is checked, the same on every board.
    pub(super) check: String,
    /// The same with the place or the bed that decided it.
    pub(super) subject: String,
    pub(super) mark: Mark,
}

impl BoardLine {
    /// The board's part of the report, from what stands in it.
    pub(super) fn part(&self, on_one_page: bool, blocks: Vec<Block>) -> Part {
        Part {
            anchor: self.anchor.clone(),
            title: self.title(),
            kicker: "Compliance report on one dartboard".to_owned(),
            foot: self.number.clone().unwrap_or_else(|| self.id.clone()),
            on_one_page,
            listed: Some(self.listed()),
            blocks,
        }
    }

    /// What its part is called.
    pub(super) fn title(&self) -> String {
        match &self.name {
            Some(name) => format!("{}, {name}", self.id),
            None => self.id.clone(),
        }
    }

    /// Where it is listed: under its venue.
    pub(super) fn listed(&self) -> Listed {
        Listed {
            group: self
                .usage
                .venue
                .clone()
                .unwrap_or_else(|| "boards without a venue".to_owned()),
            mark: self.verdict.into(),
        }
    }

    /// `again` is how many boards with the same id came before it.
    pub(super) fn new(
        assessment: &Assessment<'_>,
        event: &Event,
        index: usize,
        again: usize,
        past: Past<'_>,
    ) -> Self {
        let board = assessment.board;
        // Two boards may have one id by mistake; their reports may not bear
        // one number.
        let suffix = match again {
            0 => String::new(),
            n => format!("-{}", n + 1),
        };
        Self {
            id: board.id.clone(),
            inspected: board.key().1,
            by: board.inspection.as_ref().and_then(|own| own.by.clone()),
            name: board.hangs(),
            usage: Usage::of(assessment).with_due(past.due),
            file: board.document.source.name().to_owned(),
            number: event
                .report_number
                .as_ref()
                .map(|number| format!("{number}/{}{suffix}", board.id)),
            verdict: assessment.verdict,
            tally: assessment.tally(),
            beside: people::beside_the_verdict(assessment),
            anchor: anchor(index),
            worst: worst(assessment),
            doubtful: doubtful(assessment),
            since: past.before.map(|before| Since::new(before, assessment)),
        }
    }
}

/// Where the part on the board with this index begins.
pub(super) fn anchor(index: usize) -> String {
    format!("board-{}", index + 1)
}

fn worst(assessment: &Assessment<'_>) -> Option<WorstBand> {
    let bands = assessment.bands.iter().filter_map(|finding| {
        let BandOutcome::Compared(compared) = &finding.outcome else {
            return None;
        };
        let deviation = compared.deviation;
        let bound = compared.bounds.and_then(|bounds| {
            if deviation.value() < 0.0 {
                bounds.lower
            } else {
                bounds.upper
            }
        });
        // As a share of what is allowed on its side; where nothing is said of
        // that side, as it stands. House rule.
        let share = bound.map_or(deviation.value() / 100.0, |bound| {
            deviation.value() / bound.value()
        });
        let worst = WorstBand {
            band: finding.band,
            deviation,
            mark: Mark::from(&finding.outcome),
        };
        Some((compared.verdict, share.abs(), worst))
    });
    let worst = bands.max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    worst.map(|(_, _, worst)| worst)
}

fn doubtful(assessment: &Assessment<'_>) -> Vec<Doubtful> {
    let limits = assessment.limits.iter().map(|finding| Doubtful {
        check: phrases::check(finding),
        subject: phrases::subject(finding),
        mark: finding.outcome.verdict().into(),
    });
    let bands = assessment.bands.iter().map(|finding| Doubtful {
        check: format!("{} area", finding.band),
        subject: format!("{} area", finding.band),
        mark: Mark::from(&finding.outcome),
    });
    let all = limits.chain(bands);
    all.filter(|check| !matches!(check.mark, Mark::Conforms | Mark::NoLimit))
        .collect()
}
