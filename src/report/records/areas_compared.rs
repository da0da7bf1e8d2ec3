//! Boards compared by their areas, `ringrule/areas-compared/1`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use super::beside::{FilledLengthRecord, RecordedBesideRecord};
use super::certainty::CertaintyRecord;
use super::words::{AreaSourceRecord, BandWordRecord, DescribedRecord, RatioFromRecord};
use super::{Of, to_text};
use crate::board::Quantity;
use crate::comparison::{
    AreaAverageRow, AreaAverages, AreaBoard, AreaComparison, AreaDifference, AreaOdds, AreaRoute,
    Figure, KnownBed, LegRule,
};
use crate::document::Shape;
use crate::report::says::comparison::words::route_name;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> = LazyLock::new(|| {
        Shape::of_report::<AreasComparedReport>("Boards compared by areas, from Ringrule")
    });
    &SHAPE
}

/// Boards set against the first of them by the area rule alone. Areas in mm² of one bed,
/// in the mean over a band's beds.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AreasComparedReport {
    /// `ringrule/areas-compared/1`.
    format: String,
    /// That this is a calculation.
    notice: String,
    /// The boards, in the order of the run; of ratios alone, two that nobody described.
    boards: Vec<AreaBoardRecord>,
    /// Every board but the first against the first.
    differences: Vec<AreaDifferenceRecord>,
    /// How the perfect leg of a start total was chosen among the shortest legs.
    leg_rule: LegRuleRecord,
}

records! {
    /// How much is known of a board.
    AreaBoardRecord of AreaBoard {
        /// Its id, or which nominal board it is, or what stands for one that is not
        /// described.
        label: String,
        /// Where it hangs, or whose nominal board it is.
        name: Option<String>,
        /// The file that it was described in.
        file: Option<String>,
        described: DescribedRecord,
        /// The areas that are known, from the bull outwards.
        beds: Vec<KnownBedRecord>,
        /// Areas that were recorded, of bands that the rings give.
        beside: Vec<RecordedBesideRecord>,
        /// What would have to be known of its rings and wires for a full comparison.
        lacks: Vec<String>,
        /// Lengths that were not measured, but taken from a nominal board.
        filled: Vec<FilledLengthRecord>,
    }

    /// A band's free area.
    KnownBedRecord of KnownBed {
        band: BandWordRecord,
        /// Of one bed, in mm².
        bed_mm2: f64,
        /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in mm²; left
        /// out where the file states none.
        expanded_uncertainty_mm2: Option<f64>,
        source: AreaSourceRecord,
    }

    /// One board against the first.
    AreaDifferenceRecord of AreaDifference {
        /// The board's place in the list of boards, from 0.
        board: usize,
        targets: Vec<AreaOddsRecord>,
        routes: Vec<AreaRouteRecord>,
        /// Averages by the simple rule; left out where the treble's ratio is not known.
        averages: Option<AreaAveragesRecord>,
    }

    /// A kind of target on two boards.
    AreaOddsRecord of AreaOdds {
        band: BandWordRecord,
        /// How many times harder than on the first board; left out where an area is not
        /// known.
        harder: Option<FigureRecord>,
        from: RatioFromRecord,
    }

    /// Averages by the simple rule: every dart in the 20 bed or its treble.
    AreaAveragesRecord of AreaAverages {
        /// The treble's ratio, by which they are translated.
        treble: FigureRecord,
        rows: Vec<AreaAverageRecord>,
    }

    /// A figure with how sure it is.
    FigureRecord of Figure {
        /// The figure.
        value: f64,
        certainty: CertaintyRecord,
    }

    /// One average; what it is worth is left out where it would be none of such darts,
    /// which run from 60 to 180.
    AreaAverageRecord of AreaAverageRow {
        average: f64,
        /// Scored on the first board, what it is worth on this one.
        from_first: Option<FigureRecord>,
        /// Scored on this board, what it is worth on the first one.
        to_first: Option<FigureRecord>,
    }
}

impl Of<Quantity> for String {
    fn of(quantity: &Quantity) -> Self {
        quantity.to_string()
    }
}

/// A route on two boards.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct AreaRouteRecord {
    /// What it is called, if it has a name.
    name: Option<String>,
    /// Its targets, as the trade writes them.
    route: String,
    /// How many darts it has.
    darts: usize,
    /// What it scores.
    total: u32,
    /// How many times harder than on the first board; left out where a ratio that it needs
    /// is not known.
    harder: Option<FigureRecord>,
    /// The bands whose ratio it lacks.
    lacks: Vec<BandWordRecord>,
}

impl Of<AreaRoute> for AreaRouteRecord {
    fn of(route: &AreaRoute) -> Self {
        Self {
            name: route.name.map(route_name),
            route: route.route.to_string(),
            darts: route.darts,
            total: route.total,
            harder: Of::of(&route.harder),
            lacks: Of::of(&route.lacks),
        }
    }
}

/// How the perfect leg was chosen.
#[serde_with::skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LegRuleRecord {
    rule: ChosenByRecord,
    /// The standard deviation of the throws in every direction, in mm.
    spread_mm: Option<f64>,
}

/// A rule that chooses among the shortest legs.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum ChosenByRecord {
    /// The easiest on the first board, for throws that scatter by the spread.
    EasiestOnFirst,
    /// The fewest darts at the inner bull, then the most at singles, then the largest
    /// scores.
    FewestBulls,
}

impl Of<LegRule> for LegRuleRecord {
    fn of(rule: &LegRule) -> Self {
        match rule {
            LegRule::EasiestOnFirst { spread_mm } => Self {
                rule: ChosenByRecord::EasiestOnFirst,
                spread_mm: Some(*spread_mm),
            },
            LegRule::FewestBulls => Self {
                rule: ChosenByRecord::FewestBulls,
                spread_mm: None,
            },
        }
    }
}

impl AreasComparedReport {
    /// From the data.
    pub fn new(comparison: &AreaComparison) -> Self {
        Self {
            format: "ringrule/areas-compared/1".to_owned(),
            notice: "A calculation, not an official approval.".to_owned(),
            boards: Of::of(&comparison.boards),
            differences: Of::of(&comparison.differences),
            leg_rule: Of::of(&comparison.leg_rule),
        }
    }

    /// As JSON with a final newline.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        to_text(self)
    }
}
