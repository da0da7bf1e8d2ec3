//! A production run for other programs, `ringrule/lot/1`. The doc comments here
//! become the descriptions in its schema.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::board::TableRecord;
use super::lot_signal::SignalRecord;
use super::{DayRecord, Of, to_text};
use crate::document::Shape;
use crate::lot::{
    CONFIDENCE, Capability, Chart, Extreme, Index, Lot, LotBoard, Normality, Order, Outside,
    Series, Tolerance, Unit,
};
use crate::report::says::lot::words;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of_report::<LotReport>("A production run, from Ringrule"));
    &SHAPE
}

/// What the boards of a production run say of its process. Keys without a value are
/// left out; lists are there even when empty. Places in the run count from 1.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LotReport {
    /// `ringrule/lot/1`.
    format: String,
    /// That this is a calculation.
    notice: String,
    /// The table that says what is looked at.
    table: TableRecord,
    /// Whose order the boards are in.
    order: OrderRecord,
    /// The probability that any chart of a sound run gives a signal, from 0 to 1.
    false_alarm: f64,
    /// How many charts share it.
    charts: usize,
    /// The confidence of intervals, from 0 to 1.
    confidence: f64,
    /// Whether no chart gives a signal; `null` where nothing could be charted.
    stable: Option<bool>,
    /// The boards, in the order of the run.
    boards: Vec<RunBoardRecord>,
    /// Every limited length and band area, in the order of the table.
    measurands: Vec<SeriesRecord>,
}

#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum OrderRecord {
    File,
    Made,
}

/// A board of the run.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct RunBoardRecord {
    /// Its place in the run.
    place: usize,
    id: String,
    file: String,
    /// The year in which it was made.
    made: Option<u16>,
    /// The day of its inspection.
    inspected: Option<DayRecord>,
}

/// One measurand of all boards. Values are in its unit.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SeriesRecord {
    /// The limit's name in its table, with the part where it has several, or a band's
    /// with `.area`.
    check: String,
    /// What it is, in words.
    name: String,
    /// `mm`, or `%` of the nominal free area.
    unit: UnitRecord,
    /// The least value that conforms.
    lower: Option<f64>,
    /// The greatest value that conforms.
    upper: Option<f64>,
    /// Whether the limits differ from board to board.
    limits_differ: bool,
    /// How many values there are.
    n: usize,
    /// How many boards should have recorded it and did not.
    lacking: usize,
    mean: Option<f64>,
    /// On n − 1; left out of a single value.
    standard_deviation: Option<f64>,
    smallest: Option<ExtremeRecord>,
    largest: Option<ExtremeRecord>,
    /// The values outside their limits; left out where there are none.
    outside: Option<OutsideRecord>,
    /// The standard deviation that the measurement adds anew on every board.
    measurement_deviation: f64,
    /// How many values rest on a length without an uncertainty.
    without_uncertainty: usize,
    /// What the charts say.
    stability: StabilityRecord,
    /// Why there is no chart.
    not_charted: Option<String>,
    chart: Option<ChartRecord>,
    normality: Option<NormalityRecord>,
    capability: Option<CapabilityRecord>,
    /// Why there is no capability.
    withheld: Option<String>,
    /// The place in the run of each value.
    places: Vec<usize>,
    /// The values, in the order of the run.
    values: Vec<f64>,
}

#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
enum UnitRecord {
    #[serde(rename = "mm")]
    Mm,
    #[serde(rename = "%")]
    Percent,
}

#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum StabilityRecord {
    Stable,
    NotStable,
    NotCharted,
}

/// An extreme value.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ExtremeRecord {
    value: f64,
    /// The place in the run of its board.
    place: usize,
}

/// Values outside their limits.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct OutsideRecord {
    count: usize,
    /// Of all values, from 0 to 1.
    share: f64,
    /// What the share of the process may be, from 0 to 1.
    interval: [f64; 2],
}

/// The charts of one measurand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ChartRecord {
    /// The centre line.
    centre: f64,
    /// The standard deviation by successive differences.
    successive_deviation: f64,
    /// The limits for single values.
    limits: [f64; 2],
    /// The limits for the moving average.
    average_limits: [f64; 2],
    /// What runs are about.
    median: f64,
    /// A run of so many values on one side of the median is a signal.
    run_length: usize,
    /// The moving average after each value.
    averages: Vec<f64>,
    /// What the charts name, in the order of the run.
    signals: Vec<SignalRecord>,
}

/// How normal the values look.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct NormalityRecord {
    /// The statistic of Anderson and Darling, for an estimated mean and spread.
    anderson_darling: f64,
    /// Whether normal values exceed it in less than one run of a hundred.
    doubtful: bool,
}

/// The capability of a stable process, the measurement taken out.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct CapabilityRecord {
    /// The standard deviation of the process.
    process_deviation: f64,
    /// Cp, of two limits.
    cp: Option<IndexRecord>,
    /// Cpk; of one limit, the index of that side.
    cpk: IndexRecord,
}

/// An index of capability.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct IndexRecord {
    value: f64,
    /// As measured, nothing taken out.
    as_measured: f64,
    /// The lower end of its interval.
    lower: f64,
    /// The upper end; left out where the measurement could hide the whole spread.
    upper: Option<f64>,
}

impl LotReport {
    /// The report on a run.
    pub fn new(lot: &Lot<'_>) -> Self {
        let charted = lot.series.iter().any(|series| series.chart.is_ok());
        let boards = lot.boards.iter().enumerate();
        Self {
            format: "ringrule/lot/1".to_owned(),
            notice: "a calculation, not an official approval: the governing body's current rules \
                     prevail"
                .to_owned(),
            table: TableRecord::from(lot.table),
            order: match lot.order {
                Order::File => OrderRecord::File,
                Order::Made => OrderRecord::Made,
            },
            false_alarm: lot.false_alarm,
            charts: lot.charts,
            confidence: CONFIDENCE,
            stable: charted.then(|| !lot.is_unstable()),
            boards: boards
                .map(|(at, board)| RunBoardRecord::of(at, board))
                .collect(),
            measurands: lot
                .series
                .iter()
                .map(|own| SeriesRecord::of(lot, own))
                .collect(),
        }
    }

    /// As one indented document.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        to_text(self)
    }
}

impl RunBoardRecord {
    fn of(at: usize, board: &LotBoard) -> Self {
        Self {
            place: at + 1,
            id: board.id.clone(),
            file: board.file.clone(),
            made: board.made,
            inspected: Of::of(&board.inspected),
        }
    }
}

impl SeriesRecord {
    fn of(lot: &Lot<'_>, series: &Series<'_>) -> Self {
        let (lower, upper) = match series.tolerance {
            Tolerance::Same { lower, upper } => (lower, upper),
            _ => (None, None),
        };
        let summary = series.summary.as_ref();
        let spread = summary.filter(|_| series.count() > 1);
        let chart = series.chart.as_ref();
        Self {
            check: words::key(&series.subject),
            name: words::name(&series.subject),
            unit: match series.subject.unit() {
                Unit::Mm => UnitRecord::Mm,
                Unit::Percent => UnitRecord::Percent,
            },
            lower,
            upper,
            limits_differ: series.tolerance == Tolerance::Differs,
            n: series.count(),
            lacking: series.lacking,
            mean: summary.map(|own| own.mean),
            standard_deviation: spread.map(|own| own.deviation),
            smallest: summary.map(|own| Of::of(&own.smallest)),
            largest: summary.map(|own| Of::of(&own.largest)),
            outside: Of::of(&series.outside),
            measurement_deviation: libm::sqrt(series.noise),
            without_uncertainty: series.unstated,
            stability: match (&series.chart, series.is_unstable()) {
                (Err(_), _) => StabilityRecord::NotCharted,
                (Ok(_), true) => StabilityRecord::NotStable,
                (Ok(_), false) => StabilityRecord::Stable,
            },
            not_charted: chart.err().map(|why| words::not_charted(*why)),
            chart: chart.ok().map(|chart| ChartRecord::of(lot, series, chart)),
            normality: Of::of(&series.normality),
            capability: series.capability.as_ref().ok().map(Of::of),
            withheld: series
                .capability
                .err()
                .map(|why| words::withheld(series, why)),
            places: series.places.iter().map(|place| place + 1).collect(),
            values: series.values.clone(),
        }
    }
}

impl ChartRecord {
    fn of(lot: &Lot<'_>, series: &Series<'_>, chart: &Chart) -> Self {
        let around = |half: f64| [chart.centre - half, chart.centre + half];
        let signals = chart.signals.iter();
        Self {
            centre: chart.centre,
            successive_deviation: chart.deviation,
            limits: around(chart.limit),
            average_limits: around(chart.average_limit),
            median: chart.median,
            run_length: chart.run,
            averages: chart.average.clone(),
            signals: signals
                .map(|own| SignalRecord::of(lot, series, own))
                .collect(),
        }
    }
}

impl Of<Extreme> for ExtremeRecord {
    fn of(own: &Extreme) -> Self {
        Self {
            value: own.value,
            place: own.board + 1,
        }
    }
}

impl Of<Outside> for OutsideRecord {
    fn of(own: &Outside) -> Self {
        Self {
            count: own.count,
            share: own.share,
            interval: own.interval.into(),
        }
    }
}

impl Of<Normality> for NormalityRecord {
    fn of(own: &Normality) -> Self {
        Self {
            anderson_darling: own.statistic,
            doubtful: own.is_doubtful(),
        }
    }
}

impl Of<Capability> for CapabilityRecord {
    fn of(own: &Capability) -> Self {
        Self {
            process_deviation: own.deviation,
            cp: Of::of(&own.cp),
            cpk: Of::of(&own.cpk),
        }
    }
}

impl Of<Index> for IndexRecord {
    fn of(own: &Index) -> Self {
        Self {
            value: own.value,
            as_measured: own.measured,
            lower: own.lower,
            upper: own.upper,
        }
    }
}
