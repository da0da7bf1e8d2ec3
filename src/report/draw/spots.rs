//! Which lengths a drawing points at, and where on the board they were taken.

use super::svg::{number, text};
use super::{face, labels};
use crate::board::{Bearing, Edge, RingWire, usual};
use crate::conformity::{Assessment, LengthFinding, LimitFinding, Outcome, Verdict, WirePart};
use crate::geometry::Spider;
use crate::report::style::Mark;
use crate::table::Measurand;
use crate::units::{Angle, Length};
use std::fmt::Write;

/// How many lengths are pointed at. House rule: what stands beside a board and is no
/// higher.
const MOST: usize = 2;

/// Where each is marked if nothing says where it was taken: clear of the figures on the
/// bands. Invented.
const BEARINGS: [f64; MOST] = [40.0, 320.0];

/// How far a mark goes to either side of its bearing, in degrees. Invented.
const REACH: f64 = 11.0;

/// A length that is pointed at.
pub(super) struct Spot<'a> {
    pub(super) letter: char,
    pub(super) finding: &'a LimitFinding<'a>,
    pub(super) length: &'a LengthFinding,
    bearing: Angle,
}

/// The lengths that break a limit or may break it, what is worst first; where there are
/// none, those that are closest to a limit.
pub(super) fn spots<'a>(assessment: &'a Assessment<'_>) -> Vec<Spot<'a>> {
    let lengths = assessment.limits.iter().filter_map(|finding| {
        let Outcome::Length(length) = &finding.outcome else {
            return None;
        };
        Some((rank(length), finding, &**length))
    });
    let mut lengths: Vec<_> = lengths.collect();
    lengths.sort_by(|(a, ..), (b, ..)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let wrong = lengths.iter().filter(|((kind, _), ..)| *kind < 2).count();
    let shown = if wrong == 0 { MOST } else { wrong };
    let spots = lengths.into_iter().take(shown).zip(BEARINGS).zip('a'..);
    let spots = spots.map(|(((_, finding, length), usual), letter)| Spot {
        letter,
        finding,
        length,
        bearing: length.at.map_or(Angle::degrees(usual), Bearing::angle),
    });
    spots.collect()
}

/// What kind of trouble, and how bad: smaller is worse.
fn rank(length: &LengthFinding) -> (u8, f64) {
    let mm = |limit: Option<Length>| limit.map(Length::as_mm);
    let (lower, upper) = (mm(length.interval.lower), mm(length.interval.upper));
    let size = match (lower, upper) {
        (Some(lower), Some(upper)) => (upper - lower).max(1e-6),
        _ => 1.0,
    };
    let value = length.value.as_mm();
    let room =
        |limit: Option<f64>, side: f64| limit.map_or(f64::INFINITY, |limit| side * (limit - value));
    let room = room(lower, -1.0).min(room(upper, 1.0));
    match length.decided.verdict {
        Verdict::DoesNotConform => (0, -length.excess.as_mm().abs() / size),
        Verdict::Inconclusive => (1, length.decided.probability.unwrap_or(0.5)),
        Verdict::Conforms => (2, room / size),
    }
}

impl Spot<'_> {
    /// The mark of its verdict.
    pub(super) fn mark(&self) -> Mark {
        Mark::from(self.length.decided.verdict)
    }

    /// Its letter in a disc.
    pub(super) fn tag(&self, out: &mut String, x: f64, y: f64) {
        const RADIUS: f64 = 8.5;
        let notice = self.mark() == Mark::DoesNotConform;
        let (fill, class) = if notice {
            ("--ink", "inverse")
        } else {
            ("--paper", "")
        };
        let _ = write!(
            out,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{RADIUS}\" \
             style=\"fill:var({fill});stroke:var(--ink);stroke-width:1.3\"/>",
            number(x),
            number(y)
        );
        let letter = self.letter.to_string();
        text(out, x, y + 4.0, labels::SMALLEST, "middle", class, &letter);
    }

    /// The mark on the board: along the edges that the length lies between, with a
    /// line to its letter.
    pub(super) fn draw(&self, out: &mut String, spider: &Spider) {
        let mut lines = String::new();
        let mut farthest: f64 = 0.0;
        for (wire, edge) in self.edges() {
            let reach = |bearing: Angle| {
                let ring = &spider.rings[wire];
                let own = spider.reach(wire, edge, bearing).map(Length::as_mm);
                own.or_else(|| face::known(ring))
                    .unwrap_or_else(|| usual::apex(wire))
            };
            let points = (-6..=6).map(|step| {
                let bearing = self.bearing + Angle::degrees(f64::from(step) * REACH / 6.0);
                face::place(bearing, reach(bearing), 0.0)
            });
            let points: Vec<String> = points.collect();
            let _ = write!(lines, "M{}", points.join("L"));
            farthest = farthest.max(reach(self.bearing));
        }
        if let Some(bearing) = self.sector_wire(spider) {
            let (from, to) = face::sector_wires(spider);
            let ends = [0.35, 0.6].map(|share| from + share * (to - from));
            let places = ends.map(|along| face::place(bearing, along, 0.0));
            let _ = write!(lines, "M{}", places.join("L"));
            farthest = ends.iter().copied().fold(farthest, f64::max);
        }
        if lines.is_empty() {
            return;
        }
        let bearing = self.sector_wire(spider).unwrap_or(self.bearing);
        // Beyond the edge; within it where the numbers stand beyond.
        let away = if farthest > 135.0 {
            farthest - 24.0
        } else {
            farthest + 20.0
        };
        let ends = [farthest, away].map(|along| face::place(bearing, along, 0.0));
        let _ = write!(lines, "M{}", ends.join("L"));
        for style in [
            "stroke:var(--paper);stroke-width:3.4",
            "stroke:var(--ink);stroke-width:2",
        ] {
            let _ = write!(out, "<path d=\"{lines}\" style=\"{style};fill:none\"/>");
        }
        let (sin, cos) = libm::sincos(bearing.as_radians());
        self.tag(out, away * sin, -away * cos);
    }

    /// The edges of ring wires that it was taken to.
    fn edges(&self) -> Vec<(RingWire, Edge)> {
        let edge = self.finding.limit.edge.unwrap_or(Edge::Apex);
        let ring = |wire| vec![(wire, edge)];
        // The facing edges of two wires bear the same name on opposite sides.
        let width = |inner, outer| {
            let facing = match edge {
                Edge::Inside => Edge::Outside,
                Edge::Apex => Edge::Apex,
                Edge::Outside => Edge::Inside,
            };
            vec![(inner, facing), (outer, edge)]
        };
        match (self.finding.limit.measurand, self.finding.part) {
            (Measurand::InnerBullDiameter, _) => ring(RingWire::InnerBull),
            (Measurand::OuterBullDiameter, _) => ring(RingWire::OuterBull),
            (Measurand::TrebleWidth, _) => width(RingWire::TrebleInner, RingWire::TrebleOuter),
            (Measurand::TrebleOuterRadius, _) => ring(RingWire::TrebleOuter),
            (Measurand::DoubleWidth, _) => width(RingWire::DoubleInner, RingWire::DoubleOuter),
            (Measurand::DoubleOuterRadius | Measurand::DoubleOuterDiameter, _) => {
                ring(RingWire::DoubleOuter)
            }
            (_, Some(WirePart::Ring(wire))) => vec![(wire, Edge::Inside), (wire, Edge::Outside)],
            // Of wires that are all alike, the one that is seen best.
            (Measurand::RingWiresGauge, _) => vec![
                (RingWire::DoubleOuter, Edge::Inside),
                (RingWire::DoubleOuter, Edge::Outside),
            ],
            _ => Vec::new(),
        }
    }

    /// The bearing of the sector wire that it is about.
    fn sector_wire(&self, spider: &Spider) -> Option<Angle> {
        let index = match (self.finding.limit.measurand, self.finding.part) {
            (_, Some(WirePart::SectorWire(index))) => usize::from(index),
            (Measurand::SectorWiresGauge, _) => 1,
            _ => return None,
        };
        spider.sectors.as_ref()?.bearings.get(index).copied()
    }
}
