//! The uncertainty budget of a check: what its uncertainty is made of.

use crate::board::{Band, Cause, Construction, Distribution, GaugeGround, Linear};
use crate::conformity::{Assessment, BandOutcome, BudgetLine, Outcome, Verdict, budget};
use crate::document::nearest;
use crate::report::page::{
    Block, Cell, Column, ColumnKind, Grid, Part, Row, TextLayout, text_part,
};
use crate::report::says::phrases;
use crate::table::Table;
use crate::units::Uncertainty;

/// A check whose uncertainty can be taken apart.
struct Budgeted {
    /// What it is asked for by.
    name: String,
    /// The heading of its budget.
    title: String,
    form: Linear,
    uncertainty: Uncertainty,
    unit: &'static str,
    is_decided: bool,
}

/// A name by which a budget was asked for that no check of a table has.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the table has no check called `{name}`: {remedy}")]
pub struct NoSuchCheck {
    /// The name.
    pub name: String,
    /// The names that there are.
    pub remedy: String,
}

/// Whether budgets can be asked for by these names: a limit's, which may be
/// followed by `/` and a wire, a band's with the word `area`, or `all`.
pub fn check_budget_names(table: &Table, names: &[String]) -> Result<(), NoSuchCheck> {
    let limits = table.limits.iter().map(|limit| limit.name.clone());
    let bands = Band::ALL.map(|band| format!("{band} area"));
    let known: Vec<String> = limits.chain(bands).chain(["all".to_owned()]).collect();
    for name in names {
        let limit = name
            .split_once('/')
            .map_or(name.as_str(), |(limit, _)| limit);
        if !known.iter().any(|known| known == limit) {
            let known: Vec<&str> = known.iter().map(String::as_str).collect();
            return Err(NoSuchCheck {
                name: name.clone(),
                remedy: nearest(name, &known),
            });
        }
    }
    Ok(())
}

/// The budgets of a board's checks by their names, as text; nothing where the
/// board has no such check.
pub fn budget_text(assessment: &Assessment<'_>, names: &[String], layout: TextLayout) -> String {
    if names.is_empty() {
        return String::new();
    }
    let is_asked = |check: &Budgeted| {
        let of_limit = |name: &String| check.name.split_once('/').is_some_and(|(of, _)| of == name);
        let mut names = names.iter();
        names.any(|name| name == "all" || *name == check.name || of_limit(name))
    };
    let checks = checks(assessment);
    let asked = checks.iter().filter(|check| is_asked(check));
    let blocks: Vec<Block> = asked
        .map(|check| Block::Grid(grid(check, &assessment.construction)))
        .collect();
    if blocks.is_empty() {
        return String::new();
    }
    let part = Part {
        anchor: String::new(),
        title: format!("Uncertainty budgets of {}", assessment.board.id),
        kicker: String::new(),
        foot: String::new(),
        on_one_page: false,
        listed: None,
        blocks,
    };
    text_part(&part, layout) + "\n"
}

/// The budgets of the checks that are in doubt or do not conform.
pub(super) fn annex(assessment: &Assessment<'_>) -> Vec<Block> {
    let checks = checks(assessment);
    let open = checks.iter().filter(|check| !check.is_decided);
    let grids = open.map(|check| Block::Grid(grid(check, &assessment.construction)));
    Block::section("Uncertainty budgets", grids)
}

fn checks(assessment: &Assessment<'_>) -> Vec<Budgeted> {
    let conforms = |verdict| verdict == Some(Verdict::Conforms);
    let lengths = assessment.limits.iter().filter_map(|finding| {
        let Outcome::Length(length) = &finding.outcome else {
            return None;
        };
        Some(Budgeted {
            name: phrases::key(finding),
            title: phrases::subject(finding),
            form: length.form.clone(),
            uncertainty: length.uncertainty?,
            unit: "mm",
            is_decided: conforms(finding.outcome.verdict()),
        })
    });
    let bands = assessment.bands.iter().filter_map(|finding| {
        let BandOutcome::Compared(band) = &finding.outcome else {
            return None;
        };
        let nominal = band.nominal.as_mm2();
        Some(Budgeted {
            name: format!("{} area", finding.band),
            title: format!("{} area, in percent of the nominal one", finding.band),
            form: Linear::default().plus(100.0 / nominal, &band.free.slopes()),
            uncertainty: band.uncertainty?,
            unit: "%",
            is_decided: band.verdict.is_none() || conforms(band.verdict),
        })
    });
    lengths.chain(bands).collect()
}

/// What contributes less than this share of the standard uncertainty has no row of its own.
/// House rule: its square is a millionth of the whole.
const SMALL: f64 = 0.001;

/// One check's budget: a row for each independent cause, and their sum.
fn grid(check: &Budgeted, construction: &Construction) -> Grid {
    let lines = budget(&check.form, &construction.inputs);
    let least = SMALL * check.uncertainty.standard();
    let (large, small): (Vec<_>, Vec<_>) =
        lines.iter().partition(|line| line.contribution() >= least);
    // One alone takes no more room than what would be said of it.
    let (large, small) = match small.len() {
        0 | 1 => (lines.iter().collect(), Vec::new()),
        _ => (large, small),
    };
    let mut rows: Vec<Row> = large
        .iter()
        .map(|line| row(line, check, construction))
        .collect();
    if !small.is_empty() {
        let squares = small.iter().map(|line| line.contribution().powi(2));
        let others = [
            format!("{} others", small.len()),
            "each below a thousandth of the whole".to_owned(),
            String::new(),
            String::new(),
            String::new(),
            format!("{:.5}", libm::sqrt(squares.sum())),
        ];
        let key = format!("{}/others", check.name);
        rows.push(Row::keyed(key, others.map(Cell::Text).into()));
    }
    let coverage = check.uncertainty.expanded();
    let sum = [
        "together".to_owned(),
        format!(
            "U = {:.4}, k = {}",
            coverage.expanded,
            phrases::factor(coverage)
        ),
        String::new(),
        degrees(check.uncertainty),
        String::new(),
        format!("{:.5}", check.uncertainty.standard()),
    ];
    rows.push(Row::keyed(
        "together".to_owned(),
        sum.map(Cell::Text).into(),
    ));
    let unit = check.unit;
    Grid {
        caption: format!(
            "Uncertainty budget: {}. Contributions in {unit}; their squares add up to that of \
             the standard uncertainty.",
            check.title
        ),
        rows,
        columns: vec![
            Column::new("quantity", ColumnKind::Head, 30.0),
            Column::new("cause", ColumnKind::Words, 26.0),
            Column::new("u, mm", ColumnKind::Figures, 12.0),
            Column::new("ν", ColumnKind::Figures, 8.0),
            Column::new("sensitivity", ColumnKind::Figures, 12.0),
            Column::new("contribution", ColumnKind::Figures, 12.0),
        ],
    }
}

fn row(line: &BudgetLine, check: &Budgeted, construction: &Construction) -> Row {
    let quantities = line.inputs.iter().filter_map(|&id| construction.input(id));
    let quantities: Vec<String> = quantities
        .map(|input| format!("{} {:.3}", input.name(), input.value.as_mm()))
        .collect();
    let quantities = quantities.join("; ");
    let cells = [
        quantities.clone(),
        format!("{}, {}", cause(line.cause), distribution(line)),
        format!("{:.5}", line.uncertainty.standard()),
        degrees(line.uncertainty),
        format!("{:+.3}", line.sensitivity),
        format!("{:.5}", line.contribution()),
    ];
    let key = format!("{}/{quantities}/{}", check.name, cause(line.cause));
    Row::keyed(key, cells.map(Cell::Text).into())
}

/// What causes an error, in words.
fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Stated => "as stated",
        Cause::Scatter => "scatter of readings",
        Cause::BetweenPeople => "between people",
        Cause::Resolution => "resolution",
        Cause::PermissibleError => "permissible error",
        Cause::Correction => "correction",
        Cause::Temperature => "temperature of measurement",
        Cause::Expansion => "coefficient of expansion",
        Cause::InstrumentExpansion => "instrument's expansion",
        Cause::Gauge(GaugeGround::Table) => "gauge, by the table",
        Cause::Gauge(GaugeGround::HouseRule) => "gauge, house rule",
    }
}

fn distribution(line: &BudgetLine) -> &'static str {
    match line.distribution {
        Distribution::Rectangular => "rectangular",
        Distribution::Normal if line.uncertainty.degrees_of_freedom().is_finite() => "Student's t",
        Distribution::Normal => "normal",
    }
}

fn degrees(uncertainty: Uncertainty) -> String {
    let degrees = uncertainty.degrees_of_freedom();
    if degrees.is_finite() {
        format!("{degrees:.0}")
    } else {
        "∞".to_owned()
    }
}
