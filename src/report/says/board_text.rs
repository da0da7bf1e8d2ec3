//! One board, as an organiser reads it at a venue.

use std::fmt::{self, Write};

use super::board_rows::Writer;
use super::{people, phrases, uneven};
use crate::conformity::{
    Assessment, BandFinding, BandOutcome, BoundsOrigin, ComparedBand, LengthFinding, LimitFinding,
    Outcome, Suspicion, Verdict,
};
use crate::report::escape;
use crate::report::page::TextLayout;
use crate::report::says::reasons::{self, Grounds, WORTH_NAMING};
use crate::report::style::Style;
use crate::units::Area;

/// How much is printed of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Nothing of the board by itself: the run ends with its use, by venue.
    Venues,
    /// The line of verdict alone.
    Verdict,
    /// Also the bands and everything that does not conform.
    Deviations,
    /// Also every check that conforms.
    Everything,
}

/// Columns before the facts below the line of verdict.
const FACTS: usize = 18;

/// What the table of bands needs side by side.
const TABLE: usize = 91;

/// One board.
pub fn board_text(assessment: &Assessment<'_>, detail: Detail, layout: TextLayout) -> String {
    let mut out = String::new();
    // Writing into a string cannot fail.
    let _ = write_board(&mut out, assessment, detail, layout);
    out
}

fn write_board(
    out: &mut String,
    assessment: &Assessment<'_>,
    detail: Detail,
    layout: TextLayout,
) -> fmt::Result {
    let mut writer = Writer {
        out,
        board: assessment.board,
        decision: assessment.table.decision,
        columns: layout.columns(),
        everything: detail == Detail::Everything,
    };
    writer.verdict_line(assessment)?;
    if detail == Detail::Verdict {
        return Ok(());
    }
    writer.findings(assessment)?;
    writeln!(out)
}

impl Writer<'_, '_> {
    fn verdict_line(&mut self, assessment: &Assessment<'_>) -> fmt::Result {
        let (board, verdict) = (self.board, assessment.verdict);
        let word = Style::Verdict(verdict).paint(format!("{:<16}", verdict.to_string()));
        let id = Style::Strong.paint(escape::terminal(&board.id).into_owned());
        write!(self.out, "{word}  {id}")?;
        if let Some(name) = board.hangs() {
            write!(self.out, "  {}", escape::terminal(&name))?;
        }
        let file = board.document.source.name();
        let mut facts = format!("{file}; {}", phrases::build(&board.construction));
        if let Some(made) = board.made {
            write!(facts, "; made {made}")?;
        }
        if let Some(probability) = phrases::board_probability(assessment) {
            write!(facts, "; {probability}")?;
        }
        writeln!(self.out)?;
        self.fact(Style::Faint, &facts)?;
        for words in people::beside_the_verdict(assessment) {
            self.fact(Style::Caution, &words)?;
        }
        Ok(())
    }

    /// A line below the line of verdict.
    fn fact(&mut self, style: Style, words: &str) -> fmt::Result {
        self.hang(format!("{:FACTS$}", ""), FACTS, Some(style), words)
    }

    fn findings(&mut self, assessment: &Assessment<'_>) -> fmt::Result {
        // What the uncertainties come from, where the file does not state each.
        for words in phrases::uncertainty_basis(self.board, &assessment.construction) {
            self.fact(Style::Faint, &words)?;
        }
        writeln!(self.out)?;
        self.bands(&assessment.bands)?;
        self.hang("    ", 4, None, &tally(assessment))?;
        for finding in &assessment.limits {
            let conforms = finding.outcome.verdict() == Some(Verdict::Conforms);
            if self.everything || !conforms || finding.outcome.is_contradicted() {
                self.limit(finding)?;
            }
        }
        self.deviations(&assessment.bands)?;
        self.not_checked(assessment)?;
        if let Some(against) = &assessment.against {
            self.title(&format!(
                "against the table's nominal board for {} (a comparison, without a verdict)",
                against.mounting
            ))?;
            self.bands(&against.bands)?;
            self.deviations(&against.bands)?;
        }
        if let Some(simulation) = &assessment.simulation {
            self.title(&format!(
                "by Monte Carlo, {} draws, seed {}; standard uncertainties u (k = 1), interval \
                 95.45 %",
                simulation.draws, simulation.seed
            ))?;
            self.simulation(assessment, simulation)?;
        }
        match &assessment.suspicion {
            Some(suspicion) => self.suspicion(suspicion),
            None => Ok(()),
        }
    }

    /// The bands, one a row: areas and verdicts side by side where there is room,
    /// otherwise areas above verdicts.
    fn bands(&mut self, bands: &[BandFinding<'_>]) -> fmt::Result {
        let areas = |finding: &BandFinding<'_>| {
            let (free, nominal) = match &finding.outcome {
                BandOutcome::Compared(band) => (Some(&band.free), Some(band.nominal)),
                BandOutcome::NoNominal(free) => (Some(free.as_ref()), None),
                BandOutcome::NotComputable(_) | BandOutcome::NotChecked(_) => (None, None),
            };
            let mm2 = |area: Area| format!("{:.1}", area.as_mm2());
            let metal = free.and_then(|free| free.area.metal_share());
            let free = free.map_or_else(|| NONE.to_owned(), |free| mm2(free.area.free));
            let metal = metal.map_or_else(|| NONE.to_owned(), |share| share.to_string());
            let nominal = nominal.map_or_else(|| NONE.to_owned(), mm2);
            format!("{free:>10}{metal:>9}{nominal:>11} ")
        };
        let verdicts = |finding: &BandFinding<'_>| match &finding.outcome {
            BandOutcome::Compared(band) => {
                let deviation = phrases::signed(band.deviation);
                let within = phrases::within(band.bounds.as_ref());
                let verdict = band.verdict.map(|v| Style::Verdict(v).paint(v).to_string());
                let verdict = verdict.unwrap_or_default();
                format!("{deviation:>9}  {within:<16}{verdict}")
            }
            BandOutcome::NoNominal(_) => format!("{NONE:>9}  the table has no nominal board"),
            BandOutcome::NotComputable(_) => format!("{NONE:>9}  not computable, no limit"),
            BandOutcome::NotChecked(_) => {
                format!("{NONE:>9}{:18}{}", "", Style::Caution.paint("not checked"))
            }
        };
        let area_head = format!("{:>10}{:>9}{:>11} ", "free mm²", "metal", "nominal");
        let verdict_head = format!("{:>9}  {:<16}verdict", "deviation", "conforms within");
        let parts: Vec<(String, Vec<String>)> = if self.columns >= TABLE {
            let rows = bands.iter().map(|band| areas(band) + &verdicts(band));
            vec![(area_head + &verdict_head, rows.collect())]
        } else {
            let area_rows = bands.iter().map(areas).collect();
            let verdict_rows = bands.iter().map(verdicts).collect();
            vec![(area_head, area_rows), (verdict_head, verdict_rows)]
        };
        for (index, (head, rows)) in parts.into_iter().enumerate() {
            if index > 0 {
                writeln!(self.out)?;
            }
            let head = format!("    {:<13}{head}", "band");
            writeln!(self.out, "{}", Style::Faint.paint(head.trim_end()))?;
            for (finding, row) in bands.iter().zip(rows) {
                let row = format!("    {:<13}{row}", finding.band);
                writeln!(self.out, "{}", row.trim_end())?;
            }
        }
        Ok(())
    }

    fn title(&mut self, words: &str) -> fmt::Result {
        self.hang("\n  ", 2, Some(Style::Strong), words)
    }

    fn limit(&mut self, finding: &LimitFinding<'_>) -> fmt::Result {
        let subject = phrases::subject(finding);
        match &finding.outcome {
            Outcome::Length(length) => self.length(finding, &subject, length)?,
            Outcome::Mounting { found, verdict } => {
                self.headline(Some(*verdict), &format!("{subject}: {found}"))?;
            }
            Outcome::Bed(found) => {
                let words = format!(
                    "{subject}: {}; limits {}",
                    uneven::bed_value(found),
                    uneven::bed_interval(found.lower, found.upper)
                );
                self.headline(Some(found.decided.verdict), &words)?;
                if let Some(words) = uneven::failing(found) {
                    self.row("beds", "", &words)?;
                }
                self.inputs("measured", &found.inputs())?;
            }
            // Listed together, below.
            Outcome::NotChecked(_) => return Ok(()),
        }
        let limit = finding.limit;
        self.row("limit", &limit.place.to_string(), &limit.name)?;
        self.row("source", "", &limit.source.to_string())
    }

    fn length(
        &mut self,
        finding: &LimitFinding<'_>,
        subject: &str,
        length: &LengthFinding,
    ) -> fmt::Result {
        let decimals = phrases::decimals(finding.limit.measurand);
        let interval = phrases::interval(length.interval, decimals);
        let places = phrases::places(length, finding.limit.measurand);
        let value = phrases::value(length, places);
        let verdict = length.decided.verdict;
        let head = if verdict == Verdict::DoesNotConform && length.excess.as_mm() != 0.0 {
            let beyond = phrases::beyond(length.excess, places);
            format!("{subject}: {value}, {beyond} {interval}")
        } else {
            format!("{subject}: {value}; limits {interval}")
        };
        self.headline(Some(verdict), &head)?;
        self.grounds(&Grounds::of_length(length))?;
        self.inputs("measured", &length.inputs)?;
        if let Some(words) = uneven::places_judged(length, places) {
            self.row("places", "", &words)?;
        }
        if let Some(contradiction) = &length.contradiction {
            let words = phrases::contradiction(self.board, contradiction);
            self.row("but", "", &words)?;
            self.inputs("", &contradiction.inputs)?;
        }
        Ok(())
    }

    /// Bands whose deviation is worth a word.
    fn deviations(&mut self, bands: &[BandFinding<'_>]) -> fmt::Result {
        for finding in bands {
            // What was not checked is listed below, together.
            let BandOutcome::Compared(band) = &finding.outcome else {
                continue;
            };
            let mut shares = band.drivers.iter().map(|driver| driver.share.value().abs());
            let shown = match band.verdict {
                Some(verdict) => verdict != Verdict::Conforms,
                None => shares.any(|share| share >= WORTH_NAMING),
            } || uneven::extreme_beds(finding.band, band).is_some();
            if self.everything || shown {
                self.compared(finding, band)?;
            }
        }
        Ok(())
    }

    fn compared(&mut self, finding: &BandFinding<'_>, band: &ComparedBand<'_>) -> fmt::Result {
        let head = format!("{} area: {}", finding.band, phrases::deviation(band));
        match band.verdict {
            Some(verdict) => self.headline(Some(verdict), &head)?,
            None => self.title(&head)?,
        }
        if let Some(words) = uneven::extreme_beds(finding.band, band) {
            self.row("beds", "", &words)?;
        }
        if let Some(other) = band.contradicted_by {
            let other = phrases::signed(other);
            let words = format!(
                "the recorded lengths contradict one another: without one of them it would be \
                 {other}; measure again"
            );
            self.row("but", "", &words)?;
        }
        if let Some(grounds) = Grounds::of_band(band) {
            self.grounds(&grounds)?;
        }
        match band.bounds.map(|bounds| bounds.origin) {
            Some(BoundsOrigin::Given(limit)) => {
                self.row("limit", &limit.place.to_string(), "band area")?;
                self.row("source", "", &limit.source.to_string())?;
            }
            Some(BoundsOrigin::Derived) => {
                let words = "derived: the extremes that boards within the table's limits can have";
                self.row("limit", "", words)?;
                if let Some(words) = reasons::moving_bounds(band) {
                    self.row("", "", &words)?;
                }
            }
            None => {}
        }
        let mut label = "driven by";
        for driver in &band.drivers {
            let input = self.board.construction.input(driver.input);
            let worth = driver.share.value().abs() >= WORTH_NAMING;
            let Some(input) = input.filter(|_| worth) else {
                continue;
            };
            let decimals = phrases::input_decimals(input);
            let words = format!(
                "{} {:.decimals$} (nominal {:.decimals$}): {} alone",
                input.name(),
                input.value,
                driver.nominal,
                phrases::signed(driver.share)
            );
            self.row(label, &self.input_place(driver.input), &words)?;
            label = "";
        }
        Ok(())
    }

    /// Everything that the file does not let us check, and what it would take.
    fn not_checked(&mut self, assessment: &Assessment<'_>) -> fmt::Result {
        if assessment.tally().not_checked == 0 {
            return Ok(());
        }
        self.headline(None, "never counted as passed; measure to decide:")?;
        for (words, limit) in reasons::unchecked(assessment) {
            let limit = limit.map(|limit| format!("  ({} at {})", limit.name, limit.place));
            let words = words + &limit.unwrap_or_default();
            self.hang(format!("{:6}", ""), 8, None, &words)?;
        }
        Ok(())
    }

    fn suspicion(&mut self, suspicion: &Suspicion) -> fmt::Result {
        let head = Style::Caution.paint("suspicion");
        let words = reasons::suspicion(suspicion);
        self.hang(format!("\n  {head}  "), 13, Some(Style::Caution), &words)?;
        let words = "look again which edge was touched, and correct `edge:` if need be";
        self.row("", "", words)
    }
}

fn tally(assessment: &Assessment<'_>) -> String {
    let tally = assessment.tally();
    let mut words = format!("{} of {} checks conform", tally.conform, tally.total());
    for (count, one, more) in [
        (tally.do_not_conform, "does not conform", "do not conform"),
        (tally.inconclusive, "inconclusive", "inconclusive"),
        (tally.not_checked, "not checked", "not checked"),
    ] {
        if count > 0 {
            words.push_str(", ");
            words.push_str(&phrases::count(count, one, more));
        }
    }
    words
}

const NONE: &str = "–";
