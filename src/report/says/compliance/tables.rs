//! The tables of a board's part.

use crate::report::style::Mark;

use super::super::{people, phrases, reasons, uneven};
use crate::board::{Basis, Board, GaugeGround};
use crate::conformity::{
    Amount, Assessment, BandFinding, BandOutcome, BedFinding, BoundsOrigin, ComparedBand,
    LengthFinding, LimitFinding, Outcome,
};
use crate::report::page::{Cell, Column, ColumnKind, Grid, Row};
use crate::table::{Citation, Demand};
use crate::units::{Percent, Uncertainty};

const NONE: &str = "–";

pub(super) fn text(words: impl Into<String>) -> Cell {
    Cell::Text(words.into())
}

/// The sources that a table's rows refer to by number.
#[derive(Default)]
pub(super) struct Sources<'a>(Vec<&'a Citation>);

impl<'a> Sources<'a> {
    fn number(&mut self, source: &'a Citation) -> String {
        let known = self.0.iter().position(|known| *known == source);
        let index = known.unwrap_or_else(|| {
            self.0.push(source);
            self.0.len() - 1
        });
        format!("[{}]", index + 1)
    }

    pub(super) fn lines(&self) -> Vec<String> {
        let lines = self.0.iter().enumerate();
        lines.map(|(i, s)| format!("[{}] {s}", i + 1)).collect()
    }
}

/// Every limit that is for this board.
pub(super) fn limits<'a>(assessment: &'a Assessment<'_>, sources: &mut Sources<'a>) -> Grid {
    let rows = assessment.limits.iter().map(|finding| {
        let figures = match &finding.outcome {
            Outcome::Length(length) => length_cells(finding, length),
            Outcome::Mounting { found, .. } => bare(found.to_string(), finding),
            Outcome::Bed(found) => bed_cells(finding, found),
            Outcome::NotChecked(_) => bare(NONE.to_owned(), finding),
        };
        let mut cells = vec![text(phrases::subject(finding))];
        cells.extend(figures.map(text));
        cells.push(Cell::Mark(finding.outcome.verdict().into()));
        cells.push(text(sources.number(&finding.limit.source)));
        Row::keyed(phrases::key(finding), cells)
    });
    Grid {
        caption: "Every limit that is for this kind of board; lengths in mm. Deviation: from the \
                  limit's nominal value. Beyond: outside the limits. Probability: probability of \
                  conformity."
            .to_owned(),
        rows: rows.collect(),
        columns: vec![
            Column::new("limit", ColumnKind::Head, 40.0),
            Column::new("measured", ColumnKind::Figures, 9.5),
            Column::new("± U", ColumnKind::Figures, 8.5),
            Column::new("conforms within", ColumnKind::Figures, 17.0),
            Column::new("deviation", ColumnKind::Figures, 10.0),
            Column::new("beyond", ColumnKind::Figures, 8.5),
            Column::new("probability", ColumnKind::Figures, 9.5),
            Column::new("verdict", ColumnKind::Mark, 17.5),
            Column::new("source", ColumnKind::Figures, 7.0),
        ],
    }
}

fn demanded(finding: &LimitFinding<'_>) -> String {
    let limit = finding.limit;
    match &limit.demand {
        Demand::Within(interval) => {
            phrases::bare_interval(*interval, phrases::decimals(limit.measurand))
        }
        Demand::Turned { lower, upper } => {
            uneven::bed_interval(lower.map(Amount::Angle), upper.map(Amount::Angle))
        }
        Demand::Beds { lower, upper, .. } => uneven::bed_interval(
            Some(Amount::Deviation(*lower)),
            Some(Amount::Deviation(*upper)),
        ),
        Demand::OneOf(allowed) => {
            let words: Vec<_> = allowed.iter().map(ToString::to_string).collect();
            words.join(" or ")
        }
    }
}

/// A sector's angle or a bed's deviation, with their units.
fn bed_cells(finding: &LimitFinding<'_>, found: &BedFinding) -> [String; 6] {
    let none = || NONE.to_owned();
    let places = found.uncertainty.map(|u| u.expanded().expanded);
    let places = places.map_or(1, phrases::two_digits);
    let unit = found.value.unit();
    [
        match found.value {
            Amount::Angle(_) => format!("{:.places$}{unit}", found.value.number()),
            Amount::Deviation(_) => format!("{:+.places$}{unit}", found.value.number()),
        },
        expanded(found.uncertainty),
        demanded(finding),
        none(),
        none(),
        probability(found.decided.probability),
    ]
}

/// What was found and what is demanded, without figures.
fn bare(found: String, finding: &LimitFinding<'_>) -> [String; 6] {
    let none = || NONE.to_owned();
    [found, none(), demanded(finding), none(), none(), none()]
}

fn length_cells(finding: &LimitFinding<'_>, length: &LengthFinding) -> [String; 6] {
    let decimals = phrases::places(length, finding.limit.measurand);
    let value = length.value.as_mm();
    let nominal = finding.limit.nominal;
    let excess = length.excess.as_mm();
    [
        format!("{value:.decimals$}"),
        expanded(length.uncertainty),
        demanded(finding),
        nominal.map_or_else(
            || NONE.into(),
            |nominal| phrases::signed_number(value - nominal.as_mm(), decimals),
        ),
        if excess == 0.0 {
            NONE.into()
        } else {
            phrases::bare_excess(length.excess, decimals)
        },
        probability(length.decided.probability),
    ]
}

/// An expanded uncertainty, with its factor where it is not 2.
fn expanded(uncertainty: Option<Uncertainty>) -> String {
    let Some(u) = uncertainty else {
        return NONE.to_owned();
    };
    let coverage = u.expanded();
    let k = match phrases::factor(coverage).as_str() {
        "2" => String::new(),
        // A line may end before the factor, and not within it.
        other => format!(" (k\u{a0}{other})"),
    };
    if coverage.expanded == 0.0 {
        return "exact".to_owned();
    }
    let decimals = phrases::two_digits(coverage.expanded);
    format!("{:.decimals$}{k}", coverage.expanded)
}

fn percent(percent: Percent) -> String {
    phrases::signed_number(percent.value(), 1)
}

fn probability(probability: Option<f64>) -> String {
    probability.map_or_else(|| NONE.into(), |p| format!("{:.1} %", 100.0 * p))
}

/// The free areas of the six bands.
pub(super) fn bands<'a>(assessment: &'a Assessment<'_>, sources: &mut Sources<'a>) -> Grid {
    let rows = assessment.bands.iter();
    let rows = rows.map(|finding| Row::keyed(finding.band.key(), band_cells(finding, sources)));
    Grid {
        caption: "Free areas in mm²; metal, deviation and its uncertainty in percent of area. \
                  Limits without a source are derived from the limits on lengths."
            .to_owned(),
        rows: rows.collect(),
        columns: vec![
            Column::new("band", ColumnKind::Head, 13.0),
            Column::new("free", ColumnKind::Figures, 10.0),
            Column::new("nominal", ColumnKind::Figures, 10.0),
            Column::new("metal", ColumnKind::Figures, 7.5),
            Column::new("deviation", ColumnKind::Figures, 10.0),
            Column::new("± U", ColumnKind::Figures, 10.0),
            Column::new("conforms within", ColumnKind::Figures, 15.0),
            Column::new("probability", ColumnKind::Figures, 9.5),
            Column::new("verdict", ColumnKind::Mark, 17.5),
            Column::new("source", ColumnKind::Figures, 7.0),
        ],
    }
}

/// The same on a page of few figures.
pub(in crate::report) fn bands_in_short(assessment: &Assessment<'_>) -> Grid {
    let mut sources = Sources::default();
    let Grid {
        mut rows,
        mut columns,
        ..
    } = bands(assessment, &mut sources);
    // Band, free area, nominal, deviation, U, limits and verdict.
    let kept = |index: usize| !matches!(index, 3 | 7 | 9);
    let mut index = 0..;
    columns.retain(|_| index.next().is_some_and(kept));
    for row in &mut rows {
        let mut index = 0..;
        row.cells.retain(|_| index.next().is_some_and(kept));
    }
    Grid {
        caption: "Free areas in mm²; deviation and its uncertainty in percent of area.".to_owned(),
        columns,
        rows,
    }
}

fn band_cells<'a>(finding: &'a BandFinding<'_>, sources: &mut Sources<'a>) -> Vec<Cell> {
    let free = |free: &crate::conformity::FreeArea| {
        let metal = free.area.metal_share();
        (
            format!("{:.1}", free.area.free.as_mm2()),
            metal.map_or_else(|| NONE.into(), |share| format!("{:.1}", share.value())),
        )
    };
    let none = || text(NONE);
    let name = text(finding.band.name());
    match &finding.outcome {
        BandOutcome::Compared(band) => {
            let (area, metal) = free(&band.free);
            vec![
                name,
                text(area),
                text(format!("{:.1}", band.nominal.as_mm2())),
                text(metal),
                text(percent(band.deviation)),
                text(expanded(band.uncertainty)),
                text(within(band)),
                text(probability(band.probability)),
                Cell::Mark(Mark::from(&finding.outcome)),
                text(match band.bounds.map(|bounds| bounds.origin) {
                    Some(BoundsOrigin::Given(limit)) => sources.number(&limit.source),
                    _ => NONE.to_owned(),
                }),
            ]
        }
        BandOutcome::NoNominal(own) => {
            let (area, metal) = free(own);
            let mut cells = vec![name, text(area), none(), text(metal)];
            cells.extend((0..4).map(|_| none()));
            cells.extend([Cell::Mark(Mark::NoLimit), none()]);
            cells
        }
        BandOutcome::NotComputable(_) | BandOutcome::NotChecked(_) => {
            let mut cells = vec![name];
            cells.extend((0..7).map(|_| none()));
            cells.extend([Cell::Mark(Mark::from(&finding.outcome)), none()]);
            cells
        }
    }
}

fn within(band: &ComparedBand<'_>) -> String {
    let words = phrases::within(band.bounds.as_ref());
    words.trim_end_matches(" %").to_owned()
}

/// What drives each deviation; `None` if nothing is worth a line.
pub(super) fn drivers(assessment: &Assessment<'_>) -> Option<Grid> {
    let construction = &*assessment.construction;
    let mut rows = Vec::new();
    for finding in &assessment.bands {
        let BandOutcome::Compared(band) = &finding.outcome else {
            continue;
        };
        for driver in &band.drivers {
            let Some(input) = construction.input(driver.input) else {
                continue;
            };
            if driver.share.value().abs() < reasons::WORTH_NAMING {
                continue;
            }
            let decimals = phrases::input_decimals(input);
            let nominal = driver.nominal.as_mm();
            rows.push(Row::keyed(
                format!("{}/{}", finding.band.key(), input.name()),
                vec![
                    text(finding.band.name()),
                    text(input.name()),
                    text(format!("{:.decimals$}", input.value.as_mm())),
                    text(format!("{nominal:.decimals$}")),
                    text(percent(driver.share)),
                ],
            ));
        }
    }
    (!rows.is_empty()).then(|| Grid {
        caption: format!(
            "How much of each band's area deviation would vanish if this length alone were nominal, \
             in percent of area, where that is {} or more. Each is worked out with all other \
             lengths as measured, so they need not add up to the deviation.",
            reasons::WORTH_NAMING
        ),
        rows,
        columns: vec![
            Column::new("band", ColumnKind::Head, 16.0),
            Column::new("driven by", ColumnKind::Words, 34.0),
            Column::new("measured, mm", ColumnKind::Figures, 16.0),
            Column::new("nominal, mm", ColumnKind::Figures, 16.0),
            Column::new("share of area, %", ColumnKind::Figures, 18.0),
        ],
    })
}

/// Every length that the board's file records.
pub(super) fn measured(board: &Board) -> Grid {
    let lengths = board.construction.lengths();
    let rows = lengths.map(|input| {
        let decimals = phrases::input_decimals(input);
        let position = board.document.source.position(input.span.start);
        Row::keyed(
            input.name(),
            vec![
                text(input.name()),
                text(match input.wire.and_then(|wire| wire.gauge) {
                    Some(gauge) => format!("{gauge}"),
                    None => NONE.to_owned(),
                }),
                text(format!("{:.decimals$}", input.value.as_mm())),
                text(expanded(input.uncertainty)),
                text(
                    input
                        .edge
                        .map_or_else(|| NONE.into(), |edge| edge.to_string()),
                ),
                text(basis(&input.basis)),
                text(position.line.to_string()),
            ],
        )
    });
    let warm = board.temperature.filter(|of| of.expansion.is_some());
    let at = warm.map_or("", |_| ", measured ones brought to 20 °C");
    Grid {
        caption: format!(
            "Every length that the board's file records, in mm{at}, with the edge of the wire that \
             it was taken to, where its uncertainty comes from, and the line of the file."
        ),
        rows: rows.collect(),
        columns: vec![
            Column::new("length", ColumnKind::Head, 26.0),
            Column::new("gauge", ColumnKind::Figures, 10.0),
            Column::new("value", ColumnKind::Figures, 11.0),
            Column::new("± U", ColumnKind::Figures, 14.0),
            Column::new("edge", ColumnKind::Words, 10.0),
            Column::new("U comes from", ColumnKind::Words, 22.0),
            Column::new("line", ColumnKind::Figures, 7.0),
        ],
    }
}

fn basis(basis: &Basis) -> String {
    match basis {
        Basis::Unstated => "not stated".to_owned(),
        Basis::Stated => "stated for this length".to_owned(),
        Basis::FileWide => "stated for the file".to_owned(),
        Basis::Instrument => "the instrument".to_owned(),
        Basis::Gauge(GaugeGround::Table) => "the table, for gauges".to_owned(),
        Basis::Gauge(GaugeGround::HouseRule) => "house rule for gauges".to_owned(),
        Basis::Taken(taken) => people::taken(taken),
        Basis::Readings { series, .. } => match series.deviation() {
            Some(s) => format!("{} readings, s = {s:.3} mm", series.readings().len()),
            None => "one reading".to_owned(),
        },
    }
}
