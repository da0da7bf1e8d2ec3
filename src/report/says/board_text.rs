//! One board, as an organiser reads it at a venue.

use std::fmt::{self, Write};

use super::phrases;
use crate::board::Board;
use crate::conformity::{
    AgainstNominal, Assessment, BandFinding, BandOutcome, BoundsOrigin, ComparedBand, FreeArea,
    LengthFinding, LimitFinding, Missing, Outcome, Suspicion, Verdict,
};
use crate::report::escape;
use crate::report::says::reasons::{self, WORTH_NAMING};
use crate::report::says::simulation_text::write_simulation;
use crate::report::style::Style;

/// How much is printed of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// The line of verdict alone.
    Verdict,
    /// Also the bands and whatever does not conform.
    Deviations,
    /// Also every check that conforms.
    Everything,
}

/// Writes one board.
pub fn write_board(
    out: &mut dyn Write,
    assessment: &Assessment<'_>,
    detail: Detail,
) -> fmt::Result {
    Writer {
        out,
        assessment,
        board: assessment.board,
        detail,
    }
    .write()
}

pub(in crate::report) struct Writer<'w, 'a> {
    pub(in crate::report) out: &'w mut dyn Write,
    pub(in crate::report) assessment: &'a Assessment<'a>,
    pub(in crate::report) board: &'a Board,
    detail: Detail,
}

impl Writer<'_, '_> {
    fn write(&mut self) -> fmt::Result {
        let detail = self.detail;
        self.verdict_line()?;
        if detail == Detail::Verdict {
            return Ok(());
        }
        self.uncertainties()?;
        self.bands(&self.assessment.bands)?;
        self.tally()?;
        let assessment = self.assessment;
        for finding in &assessment.limits {
            let verdict = finding.outcome.verdict();
            if detail == Detail::Everything || verdict != Some(Verdict::Conforms) {
                self.limit(finding)?;
            } else if let Outcome::Length(length) = &finding.outcome
                && length.contradiction.is_some()
            {
                self.limit(finding)?;
            }
        }
        for finding in &assessment.bands {
            self.band_deviation(finding)?;
        }
        self.not_checked()?;
        if let Some(against) = &assessment.against {
            self.against(against)?;
        }
        if let Some(simulation) = &assessment.simulation {
            write_simulation(self.out, assessment, simulation)?;
        }
        if let Some(suspicion) = &assessment.suspicion {
            self.suspicion(suspicion)?;
        }
        writeln!(self.out)
    }

    fn verdict_line(&mut self) -> fmt::Result {
        let verdict = self.assessment.verdict;
        let word = Style::Verdict(verdict).paint(format!("{:<16}", verdict.to_string()));
        let id = Style::Strong.paint(escape::terminal(&self.board.id).into_owned());
        write!(self.out, "{word}  {id}")?;
        if let Some(name) = &self.board.name {
            write!(self.out, "  {}", escape::terminal(name))?;
        }
        let file = escape::terminal(self.board.document.source.name()).into_owned();
        let mut facts = format!("{file}; {}", phrases::build(&self.board.construction));
        if let Some(made) = self.board.made {
            write!(facts, "; made {made}")?;
        }
        writeln!(self.out, "\n{:18}{}", "", Style::Faint.paint(facts))
    }

    /// What the uncertainties rest on, where the file does not state each one.
    fn uncertainties(&mut self) -> fmt::Result {
        let words = phrases::uncertainty_basis(self.board);
        if words.is_empty() {
            return Ok(());
        }
        let words = escape::terminal(&words).into_owned();
        writeln!(self.out, "{:18}{}", "", Style::Faint.paint(words))
    }

    /// The bands beside another nominal board.
    fn against(&mut self, against: &AgainstNominal<'_>) -> fmt::Result {
        let head = format!(
            "beside the table's nominal board for {} (a comparison, without a verdict)",
            against.mounting
        );
        writeln!(self.out, "\n  {}", Style::Strong.paint(head))?;
        self.bands(&against.bands)?;
        for finding in &against.bands {
            self.band_deviation(finding)?;
        }
        Ok(())
    }

    fn bands(&mut self, bands: &[BandFinding<'_>]) -> fmt::Result {
        let head = format!(
            "    {:<14}{:>10}{:>9}{:>11}{:>12}   {:<19}{}",
            "band", "free mm²", "metal", "nominal", "deviation", "conforms within", "verdict"
        );
        writeln!(self.out, "\n{}", Style::Faint.paint(head.trim_end()))?;
        for finding in bands {
            let name = format!("    {:<14}", finding.band.name());
            match &finding.outcome {
                BandOutcome::Compared(band) => {
                    write!(
                        self.out,
                        "{name}{}{:>11.1}{:>12}   ",
                        area_columns(&band.free),
                        band.nominal.as_mm2(),
                        phrases::signed(band.deviation),
                    )?;
                    let within = phrases::within(band.bounds.as_ref());
                    write!(self.out, "{within:<19}")?;
                    if let Some(verdict) = band.verdict {
                        write!(self.out, "{}", Style::Verdict(verdict).paint(verdict))?;
                    }
                    writeln!(self.out)?;
                }
                BandOutcome::NoNominal(free) => {
                    let columns = area_columns(free);
                    writeln!(self.out, "{name}{columns}   the table has no nominal board")?;
                }
                BandOutcome::NotChecked(_) => {
                    let words = Style::Caution.paint("not checked");
                    writeln!(self.out, "{name}{:>10}{:>54}{words}", "–", "")?;
                }
            }
        }
        Ok(())
    }

    fn tally(&mut self) -> fmt::Result {
        let tally = self.assessment.tally();
        let mut parts = vec![format!(
            "{} of {} checks conform",
            tally.conform,
            tally.total()
        )];
        for (count, words) in [
            (tally.do_not_conform, "do not conform"),
            (tally.inconclusive, "inconclusive"),
            (tally.not_checked, "not checked"),
        ] {
            if count > 0 {
                let words = if words.starts_with("do") && count == 1 {
                    "does not conform"
                } else {
                    words
                };
                parts.push(format!("{count} {words}"));
            }
        }
        writeln!(self.out, "    {}", parts.join(", "))
    }

    fn limit(&mut self, finding: &LimitFinding<'_>) -> fmt::Result {
        let subject = phrases::subject(finding);
        match &finding.outcome {
            Outcome::Length(length) => self.length(finding, &subject, length)?,
            Outcome::Mounting { found, verdict } => {
                let head = format!("{subject}: {found}");
                self.headline(Some(*verdict), &head)?;
            }
            // Listed together, below.
            Outcome::NotChecked(_) => return Ok(()),
        }
        self.row(
            "limit",
            &phrases::place(&finding.limit.place),
            &finding.limit.name,
        )?;
        self.row("source", "", &finding.limit.source.to_string())
    }

    fn length(
        &mut self,
        finding: &LimitFinding<'_>,
        subject: &str,
        length: &LengthFinding,
    ) -> fmt::Result {
        let decimals = phrases::decimals(finding.limit.measurand);
        let interval = phrases::interval(length.interval, decimals);
        let value = phrases::value(length, decimals);
        let verdict = length.decided.verdict;
        let head = if verdict == Verdict::DoesNotConform && length.excess.as_mm() != 0.0 {
            let beyond = phrases::beyond(length.excess, decimals);
            format!("{subject}: {value}, {beyond} {interval}")
        } else {
            format!("{subject}: {value}; limits {interval}")
        };
        self.headline(Some(verdict), &head)?;
        if verdict == Verdict::Inconclusive && length.contradiction.is_none() {
            self.because(length.decided.probability, &length.inputs)?;
            let limits = (length.interval.lower, length.interval.upper);
            self.would_decide(length.value, limits, "mm", length.uncertainty)?;
        }
        self.probability(verdict, length.decided.probability)?;
        if self.shows_uncertainty(verdict) && length.uncertainty.is_some() {
            self.contributions(&length.contributions)?;
        }
        self.inputs("measured", &length.inputs)?;
        if let Some(contradiction) = &length.contradiction {
            let words = format!(
                "the radii give {:.2}; the two may differ by {:.2}: measure again",
                contradiction.other, contradiction.allowed
            );
            self.row("but", "", &words)?;
            self.inputs("", &contradiction.inputs)?;
        }
        Ok(())
    }

    fn band_deviation(&mut self, finding: &BandFinding<'_>) -> fmt::Result {
        match &finding.outcome {
            BandOutcome::Compared(band) => {
                let deviates = !matches!(band.verdict, Some(Verdict::Conforms));
                let worth = band
                    .drivers
                    .iter()
                    .any(|d| d.share.value().abs() >= WORTH_NAMING);
                let shown = if band.verdict.is_some() {
                    deviates
                } else {
                    worth
                };
                if self.detail == Detail::Everything || shown {
                    self.compared(finding, band)?;
                }
                Ok(())
            }
            // Listed together, below.
            BandOutcome::NoNominal(_) | BandOutcome::NotChecked(_) => Ok(()),
        }
    }

    /// Where the uncertainty comes from is said where it prevents a decision, and
    /// wherever everything was asked for.
    fn shows_uncertainty(&self, verdict: Verdict) -> bool {
        verdict == Verdict::Inconclusive || self.detail == Detail::Everything
    }

    /// The probability of conformity, where it is not part of the reason.
    fn probability(&mut self, verdict: Verdict, probability: Option<f64>) -> fmt::Result {
        match probability {
            Some(p) if self.detail == Detail::Everything && verdict != Verdict::Inconclusive => {
                let words = format!("probability {:.1} %", 100.0 * p);
                self.row("conformity", "", &words)
            }
            _ => Ok(()),
        }
    }

    /// Everything that the file does not let us check, and what it would take.
    fn not_checked(&mut self) -> fmt::Result {
        let assessment = self.assessment;
        if assessment.tally().not_checked == 0 {
            return Ok(());
        }
        self.headline(None, "never counted as passed; measure to decide:")?;
        for finding in &assessment.limits {
            if let Outcome::NotChecked(missing) = &finding.outcome {
                let place = phrases::place(&finding.limit.place);
                let subject = phrases::subject(finding);
                self.needs(
                    &subject,
                    missing,
                    &format!("{} at {place}", finding.limit.name),
                )?;
            }
        }
        for finding in &assessment.bands {
            if let BandOutcome::NotChecked(missing) = &finding.outcome {
                self.needs(&format!("{} area", finding.band), missing, "")?;
            }
        }
        Ok(())
    }

    fn needs(&mut self, subject: &str, missing: &[Missing], limit: &str) -> fmt::Result {
        let words = format!("      {subject}: needs {}", reasons::needs(missing));
        let limit = if limit.is_empty() {
            String::new()
        } else {
            format!("  ({limit})")
        };
        let limit = escape::terminal(&limit);
        writeln!(
            self.out,
            "{}{}",
            escape::terminal(&words),
            Style::Faint.paint(limit)
        )
    }

    fn compared(&mut self, finding: &BandFinding<'_>, band: &ComparedBand<'_>) -> fmt::Result {
        let deviation = phrases::deviation(band);
        let head = format!("{} area: {deviation}", finding.band);
        match band.verdict {
            Some(verdict) => self.headline(Some(verdict), &head)?,
            None => writeln!(self.out, "\n  {}", Style::Strong.paint(head))?,
        }
        match (band.verdict, band.contradicted_by) {
            (_, Some(other)) => {
                let words = format!(
                    "by the direct widths it would be {}: measure again",
                    phrases::signed(other)
                );
                self.row("but", "", &words)?;
            }
            (Some(Verdict::Inconclusive), None) => {
                let limits = band.bounds.map_or((None, None), |b| (b.lower, b.upper));
                let inputs: Vec<_> = band.free.inputs().collect();
                self.because(band.probability, &inputs)?;
                self.would_decide(band.deviation, limits, "%", band.uncertainty)?;
            }
            _ => {}
        }
        if let Some(verdict) = band.verdict {
            self.probability(verdict, band.probability)?;
            if self.shows_uncertainty(verdict) && band.uncertainty.is_some() {
                self.contributions(&band.contributions)?;
            }
        }
        match band.bounds.map(|bounds| bounds.origin) {
            Some(BoundsOrigin::Given(limit)) => {
                self.row("limit", &phrases::place(&limit.place), "band area")?;
                self.row("source", "", &limit.source.to_string())?;
            }
            Some(BoundsOrigin::Derived) => {
                let words = "derived: the extremes that boards within the table's limits can have";
                self.row("limit", "", words)?;
            }
            None => {}
        }
        let mut label = "driven by";
        for driver in &band.drivers {
            if driver.share.value().abs() < WORTH_NAMING {
                continue;
            }
            let Some(input) = self.board.construction.input(driver.input) else {
                continue;
            };
            let place = self.input_place(driver.input);
            let decimals = if input.wire.is_some() { 3 } else { 2 };
            let words = format!(
                "{} {:.decimals$} (nominal {:.decimals$}): {} of area",
                input.quantity,
                input.value,
                driver.nominal,
                phrases::signed(driver.share)
            );
            self.row(label, &place, &words)?;
            label = "";
        }
        Ok(())
    }

    fn suspicion(&mut self, suspicion: &Suspicion) -> fmt::Result {
        let head = reasons::suspicion(suspicion);
        writeln!(
            self.out,
            "\n  {}",
            Style::Caution.paint(format!("suspicion  {head}"))
        )?;
        self.row(
            "",
            "",
            "look again which edge was touched, and correct `edge:` if need be",
        )
    }
}

/// Free area and metal share of a band.
fn area_columns(free: &FreeArea) -> String {
    let metal = free.area.metal_share();
    let metal = metal.map_or_else(|| "–".to_owned(), |share| share.to_string());
    format!("{:>10.1}{metal:>9}", free.area.free.as_mm2())
}
