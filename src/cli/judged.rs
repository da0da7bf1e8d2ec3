//! What a run over boards has come to so far, in every format that was asked for.

use ringrule::board::Due;
use ringrule::conformity::{Accepted, Assessment};
use ringrule::document::InvalidFile;
use ringrule::report::{
    Counts, Detail, FindingChecks, FindingsReport, Usage, board_text, budget_text, check_heads,
    check_rows, invalid_rows, summary_text, usage_text, use_rows, venue_rows,
};
use ringrule::table::Table;

use super::context::{Context, Ending, Stop};
use super::formats::Findings;

pub(super) struct Judged<'t> {
    /// None if it could not be read.
    table: Option<&'t Table>,
    accepted: Accepted,
    detail: Detail,
    budgets: &'t [String],
    findings: Findings,
    json: Option<FindingsReport>,
    checks: Option<FindingChecks>,
    rows: Option<String>,
    counts: Counts,
    /// The use of each board, where that is what is printed.
    usages: Vec<Usage>,
    /// Whether a run without a board passes.
    may_be_empty: bool,
    ending: Ending,
}

impl<'t> Judged<'t> {
    /// Puts together what was asked for and nothing else.
    pub(super) fn new(
        table: Option<&'t Table>,
        findings: Findings,
        accepted: Accepted,
        detail: Detail,
    ) -> Self {
        Self {
            table,
            accepted,
            detail,
            budgets: &[],
            json: findings.json(|| FindingsReport::new(table)),
            checks: findings.checks(|| FindingChecks::new(accepted)),
            rows: findings.rows(check_heads),
            findings,
            counts: Counts::default(),
            usages: Vec::new(),
            may_be_empty: false,
            ending: Ending::Good,
        }
    }

    /// Also prints the uncertainty budgets of the checks of these names.
    pub(super) fn with_budgets(mut self, names: &'t [String]) -> Self {
        self.budgets = names;
        self
    }

    pub(super) fn leave_out<'a>(
        &mut self,
        invalid_files: impl IntoIterator<Item = &'a InvalidFile>,
        context: &mut Context,
    ) {
        for invalid_file in invalid_files {
            self.counts.invalid_files += 1;
            self.ending = Ending::Unusable;
            if let Some(json) = &mut self.json {
                json.leave_out(invalid_file);
            }
            if let Some(checks) = &mut self.checks {
                checks.leave_out(invalid_file);
            }
            if let Some(rows) = &mut self.rows {
                *rows += &invalid_rows(invalid_file);
            }
            context.invalid_file(invalid_file);
        }
    }

    pub(super) fn add(
        &mut self,
        assessment: &Assessment<'_>,
        due: Option<Due>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        self.counts.add(assessment);
        if !assessment.passes(self.accepted) {
            self.ending = self.ending.max(Ending::Findings);
        }
        if let Some(json) = &mut self.json {
            json.add(assessment);
        }
        if let Some(checks) = &mut self.checks {
            checks.add(assessment);
        }
        if let Some(rows) = &mut self.rows {
            *rows += &check_rows(assessment);
        }
        if self.detail == Detail::Venues || self.findings.has_workbook() {
            self.usages.push(Usage::of(assessment).with_due(due));
        }
        if self.detail == Detail::Venues {
            return Ok(());
        }
        let text = |layout| {
            let text = board_text(assessment, self.detail, layout);
            text + &budget_text(assessment, self.budgets, layout)
        };
        self.findings.text(text, context)
    }

    /// Lets a run without a board pass.
    pub(super) const fn nothing_is_in_order(&mut self) {
        self.may_be_empty = true;
    }

    pub(super) fn end(mut self, context: &mut Context) -> Result<Ending, Stop> {
        let counts = &self.counts;
        if counts.boards() == 0 && counts.invalid_files == 0 && !self.may_be_empty {
            context.complain("there was no board to check: name board files or their folder");
            self.ending = Ending::Unusable;
        }
        if let Some(table) = self.table.filter(|_| counts.boards() > 0) {
            let apart = if self.detail == Detail::Verdict {
                "\n"
            } else {
                ""
            };
            let usages = match self.detail {
                Detail::Venues => self.usages.as_slice(),
                _ => &[],
            };
            let text =
                |layout| usage_text(usages, layout) + apart + &summary_text(counts, table, layout);
            self.findings.text(text, context)?;
        }
        let json = self.json.map(|json| json.to_json());
        let checks = self.checks.as_ref().map(FindingChecks::checks);
        let rows = self.rows.as_deref().unwrap_or_default();
        let (boards, venues) = (use_rows(&self.usages), venue_rows(&self.usages));
        let sheets = [("checks", rows), ("boards", &boards), ("venues", &venues)];
        self.findings.finish(json, &sheets, checks, context)?;
        Ok(self.ending)
    }
}
