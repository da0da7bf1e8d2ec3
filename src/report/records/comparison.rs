//! Boards compared, `ringrule/comparison/2`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use super::beside::{FilledLengthRecord, RecordedBesideRecord};
use super::best_aim::BestAimRecord;
use super::by_metal::{ByMetalRecord, CrossedRecord};
use super::certainty::CertaintyRecord;
use super::thrown::ThrownRecord;
use super::words::{AimRecord, BandWordRecord, MetalFromRecord, MountingRecord, ProfileRecord};
use super::{Of, to_text};
use crate::comparison::{
    Assumptions, AverageCurve, AverageRow, AverageTable, BandAreas, BandDifference, BoardAreas,
    Comparison, Curves, Difference, EasiestLeg, LastDart, RouteName, RouteOdds, ScoreMap,
    SpreadOrigin, StartLegs, TargetCurve, TargetOdds,
};
use crate::document::Shape;
use crate::play::{Route, Target};
use crate::report::says::comparison::words::route_name;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of_report::<ComparisonReport>("Boards compared, from Ringrule"));
    &SHAPE
}

/// Boards set against the first of them. Lengths in mm, areas in mm²,
/// differences in percent, probabilities from 0 to 1. Every figure under the
/// spread rule comes with each board's own setting of metal and at both extremes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ComparisonReport {
    /// `ringrule/comparison/2`.
    format: String,
    /// That this is a calculation.
    notice: String,
    /// The boards, in the order of the run.
    boards: Vec<BoardAreasRecord>,
    /// What every figure under the spread rule assumes.
    assumptions: AssumptionsRecord,
    /// This player's own three-dart average on each board, in the order of the boards:
    /// scoring darts, each board's own best aim, the spread as it is.
    player_averages: Vec<ByMetalRecord<f64>>,
    /// How sure each of them is in the chosen setting.
    player_average_certainties: Vec<CertaintyRecord>,
    /// Where the player aims for it on each board in the chosen setting: the best aim, and
    /// others only where they score as much.
    player_aims: Vec<Vec<BestAimRecord>>,
    /// Every board but the first against the first.
    differences: Vec<DifferenceRecord>,
    /// The shortest legs, and the easiest of them on each board.
    legs: Vec<LegsRecord>,
    /// The expected score over each board; empty unless it was asked for.
    maps: Vec<MapRecord>,
}

records! {
    /// A board's areas.
    BoardAreasRecord of BoardAreas {
        /// Its id, or which nominal board it is.
        label: String,
        /// Where it hangs, or whose nominal board it is.
        name: Option<String>,
        /// The file that it was described in.
        file: String,
        mounting: MountingRecord,
        profile: ProfileRecord,
        /// What its metal does to a dart in the chosen setting.
        metal: MetalRecord,
        /// Its bands, from the bull outwards.
        bands: Vec<BandAreasRecord>,
        /// Areas that were recorded, beside those that its rings give.
        beside: Vec<RecordedBesideRecord>,
        /// Lengths that were not measured, but taken from a nominal board.
        filled: Vec<FilledLengthRecord>,
    }

    /// What metal does to a dart.
    MetalRecord of crate::comparison::MetalSetting {
        /// How many of the darts on metal are lost, in percent; the others glance
        /// to their side of the apex.
        lost_percent: f64,
        from: MetalFromRecord,
    }

    /// A band's free area.
    BandAreasRecord of BandAreas {
        band: BandWordRecord,
        /// Free area of the whole band, in mm².
        free_mm2: f64,
        /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in mm²;
        /// left out where the file states none.
        expanded_uncertainty_mm2: Option<f64>,
        /// The part between the apexes of its wires that is metal, in percent.
        metal_share_percent: f64,
        /// Free area of each bed, in mm², clockwise from the top.
        beds_mm2: Vec<f64>,
    }

    /// What every figure under the spread rule assumes.
    AssumptionsRecord of Assumptions {
        /// Standard deviation of the throws sideways, in mm.
        spread_x_mm: f64,
        /// Standard deviation of the throws up and down, in mm.
        spread_y_mm: f64,
        /// Correlation of right with up.
        correlation: f64,
        /// Where the spread comes from.
        spread_from: SpreadRecord,
        aim: AimRecord,
        /// The three-dart average of this spread on the first board in the chosen
        /// setting, scoring darts only.
        average_on_first: f64,
    }

    /// One board against the first.
    DifferenceRecord of Difference {
        /// The board's place in the list of boards, from 0.
        board: usize,
        /// Its bands, from the bull outwards.
        bands: Vec<BandDifferenceRecord>,
        /// The beds of each band as targets.
        targets: Vec<TargetRecord>,
        routes: Vec<RouteRecord>,
        averages: AveragesRecord,
        /// The same over the whole range of players.
        curves: CurvesRecord,
    }

    /// By how much a band's free area differs from the first board's.
    BandDifferenceRecord of BandDifference {
        band: BandWordRecord,
        /// 100·(free area − first board's)/first board's.
        difference_percent: f64,
        /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in
        /// percent; left out where a board's file states none.
        expanded_uncertainty_percent: Option<f64>,
        /// The same difference of each bed, clockwise from the top.
        beds_percent: Vec<f64>,
    }

    /// A band's beds as targets on two boards, in the mean over its beds. Ratios
    /// above 1 mean harder than on the first board.
    TargetRecord of TargetOdds {
        band: BandWordRecord,
        /// How many times harder under the area rule: in inverse proportion to the
        /// free area. The same as the spread rule of a very wide spread with every
        /// dart on metal lost.
        #[serialize_always]
        harder_by_area: Option<f64>,
        /// How sure that is.
        by_area_certainty: CertaintyRecord,
        /// How many times harder under the spread rule.
        harder_by_spread: ByMetalRecord<Option<f64>>,
        /// How sure that is in the chosen setting.
        by_spread_certainty: CertaintyRecord,
        /// The same where the boards' metal differs as far as it can: whatever share of
        /// darts either board's metal loses, the ratio lies between these two.
        harder_crossed: CrossedRecord,
        /// The probability of hitting it on the first board, from 0 to 1.
        probability_on_first: ByMetalRecord<f64>,
        /// The probability of hitting it on this board.
        probability: ByMetalRecord<f64>,
    }

    /// A route on two boards.
    RouteRecord of RouteOdds {
        /// What it is called, if it has a name.
        name: Option<String>,
        /// Its targets, as the trade writes them.
        route: String,
        /// How many darts it has.
        darts: usize,
        /// What it scores.
        total: u32,
        /// How many times harder under the area rule.
        #[serialize_always]
        harder_by_area: Option<f64>,
        /// How sure that is.
        by_area_certainty: CertaintyRecord,
        /// How many times harder under the spread rule.
        harder_by_spread: ByMetalRecord<Option<f64>>,
        /// How sure that is in the chosen setting.
        by_spread_certainty: CertaintyRecord,
        /// The same where the boards' metal differs as far as it can: whatever share of
        /// darts either board's metal loses, the ratio lies between these two.
        harder_crossed: CrossedRecord,
        /// On the first board, one try in this many succeeds.
        one_in_on_first: ByMetalRecord<Option<f64>>,
        /// On this board.
        one_in: ByMetalRecord<Option<f64>>,
    }

    /// Three-dart averages translated between a board and the first one.
    AveragesRecord of AverageTable {
        /// How many times harder a treble is under the area rule: what the simple
        /// rule uses.
        simple_ratio: f64,
        /// One row for each average.
        rows: Vec<AverageRecord>,
    }

    /// One average. `null` where no spread gives it, or where the simple rule
    /// (every dart in the 20 bed or its treble: 60 to 180) does not cover it.
    AverageRecord of AverageRow {
        /// The average.
        average: f64,
        /// Scored on the first board, what it is worth on this one: the same
        /// spread, each board's own best aim.
        from_first: ByMetalRecord<Option<f64>>,
        /// How sure that is in the chosen setting.
        from_first_certainty: CertaintyRecord,
        /// The same where the boards' metal differs as far as it can.
        from_first_crossed: CrossedRecord,
        /// The same under the simple rule, 60 + (average − 60)/ratio.
        #[serialize_always]
        from_first_simply: Option<f64>,
        /// How sure that is.
        from_first_simply_certainty: CertaintyRecord,
        /// Scored on this board, what it is worth on the first one.
        to_first: ByMetalRecord<Option<f64>>,
        /// How sure that is in the chosen setting.
        to_first_certainty: CertaintyRecord,
        /// The same where the boards' metal differs as far as it can.
        to_first_crossed: CrossedRecord,
        /// The same under the simple rule, 60 + (average − 60)·ratio.
        #[serialize_always]
        to_first_simply: Option<f64>,
        /// How sure that is.
        to_first_simply_certainty: CertaintyRecord,
    }

    /// What the odds and averages do over the whole range of players.
    CurvesRecord of Curves {
        /// Spreads, in mm, the same in every direction.
        spreads_mm: Vec<f64>,
        /// How many times harder the beds of each band are at these spreads, aimed
        /// at the middle of the bed on each board.
        targets: Vec<TargetCurveRecord>,
        /// What averages on the first board are worth on this one.
        averages: AverageCurveRecord,
    }

    /// A band's beds over the spreads.
    TargetCurveRecord of TargetCurve {
        band: BandWordRecord,
        /// What the area rule says at every spread, and the spread rule tends to
        /// with every dart on metal lost.
        #[serialize_always]
        harder_by_area: Option<f64>,
        /// What the spread rule says, one value for each spread.
        harder_by_spread: ByMetalRecord<Vec<Option<f64>>>,
    }

    /// Averages on the first board, and what they are worth on this one.
    AverageCurveRecord of AverageCurve {
        /// On the first board.
        on_first: Vec<f64>,
        /// On this board, under the spread rule.
        worth: ByMetalRecord<Vec<Option<f64>>>,
        /// On this board, under the simple rule; `null` where it does not hold.
        worth_simply: Vec<Option<f64>>,
    }

    /// The shortest ways to finish a start total, the last dart at a double.
    LegsRecord of StartLegs {
        /// The start total.
        start: u32,
        /// How many darts it takes at least.
        darts: usize,
        /// How many ordered ways there are: whole numbers as text, since they may
        /// not fit a double.
        ways: String,
        /// The same by the last dart, the most first.
        by_last: Vec<LastDartRecord>,
        /// The easiest on each board, in the order of the boards, in the chosen
        /// setting.
        easiest: Vec<EasiestRecord>,
    }

    /// The ways that end on one double.
    LastDartRecord of LastDart {
        /// The double.
        target: String,
        /// How many ways.
        ways: String,
    }

    /// The easiest of the shortest legs on one board.
    EasiestRecord of EasiestLeg {
        /// The board's place in the list of boards, from 0.
        board: usize,
        /// Its targets; left out if the player never hits one that is needed.
        route: Option<String>,
        /// One try in this many succeeds; left out where the number is too large.
        one_in: Option<f64>,
        /// How many of the shortest legs are equally easy, this one included: the
        /// logarithms of their probabilities differ by at most a millionth.
        equal: String,
    }

    /// The expected score of a dart by where it is aimed, in the chosen setting.
    MapRecord of ScoreMap {
        /// The board's place in the list of boards, from 0.
        board: usize,
        /// Distance between neighbouring values, in mm.
        step_mm: f64,
        /// Rows from the top, values from the left; the middle of the first square
        /// lies at `-168, 168` mm, the centre of the board at `0, 0`.
        rows: Vec<Vec<f64>>,
        /// The best aims: right of and above the centre, in mm, and their mean.
        best: Vec<[f64; 3]>,
    }
}

/// Where a spread comes from.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
enum SpreadRecord {
    /// Nobody named one: a house rule.
    Assumed,
    /// It was given.
    Given,
    /// It is the spread of this three-dart average on the first board.
    Average {
        /// The average.
        average: f64,
    },
    /// It was estimated from throws.
    Throws(ThrownRecord),
}

impl ComparisonReport {
    /// The report on a comparison.
    pub fn new(comparison: &Comparison) -> Self {
        Self {
            format: "ringrule/comparison/2".to_owned(),
            notice: "a calculation, not an official approval: the governing body's current rules \
                     prevail"
                .to_owned(),
            boards: Of::of(&comparison.boards),
            assumptions: Of::of(&comparison.assumptions),
            player_averages: Of::of(&comparison.player_averages),
            player_average_certainties: Of::of(&comparison.player_average_certainties),
            player_aims: Of::of(&comparison.player_aims),
            differences: Of::of(&comparison.differences),
            legs: Of::of(&comparison.legs),
            maps: Of::of(&comparison.maps),
        }
    }

    /// As one indented document.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        to_text(self)
    }
}

impl Of<RouteName> for String {
    fn of(name: &RouteName) -> Self {
        route_name(*name)
    }
}

/// What the trade writes, and whole numbers that may not fit a double.
macro_rules! as_text {
    ($($type:ty),+) => {$(
        impl Of<$type> for String {
            fn of(data: &$type) -> Self {
                data.to_string()
            }
        }
    )+};
}

as_text!(Route, Target, u128);

impl Of<SpreadOrigin> for SpreadRecord {
    fn of(origin: &SpreadOrigin) -> Self {
        match origin {
            SpreadOrigin::Assumed => Self::Assumed,
            SpreadOrigin::Given => Self::Given,
            SpreadOrigin::Average { average } => Self::Average { average: *average },
            SpreadOrigin::Throws(thrown) => Self::Throws(ThrownRecord::of(thrown)),
        }
    }
}
