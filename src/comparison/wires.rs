//! Which wire matters: what a little more of each does to the game.

use super::Subject;
use crate::board::{Band, RingWire};
use crate::geometry::{Point, Spider};
use crate::play::{Face, LegSlopes, Setup, Spread, Throw, Worth};
use crate::units::Length;

/// So much thicker each wire is made, its apex where it is. House rule: what an inspector
/// just sees, and what most of its effects are in proportion to.
pub const THICKER: Length = Length::mm(0.1);

/// A wire that is made thicker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Wire {
    /// One ring wire.
    Ring(RingWire),
    /// All twenty sector wires.
    Sectors,
    /// Every wire of the board.
    All,
}

/// What [a tenth of a millimetre](THICKER) more of one wire does to a player, all else
/// unchanged and the same in every leg: metal as set. All but the odds to first order.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct WireEffect {
    /// The wire.
    pub wire: Wire,
    /// How much harder a treble becomes, aimed at its middle, in percent, in the mean over
    /// the band.
    pub treble_percent: f64,
    /// The same of a double.
    pub double_percent: f64,
    /// What the scoring-dart average gains, in points.
    pub scoring_average: f64,
    /// How many more darts a leg takes; of one that is played for the fewest visits, how
    /// many more visits.
    pub expected: f64,
}

/// A player on a board, and what the board means to him.
pub(super) struct OnWires<'a> {
    pub(super) subject: &'a Subject,
    pub(super) spread: Spread,
    /// Where most is scored.
    pub(super) aim: Point,
    pub(super) slopes: &'a LegSlopes,
}

impl OnWires<'_> {
    /// The effect of each wire, from the bull outwards, of the sector wires, and of all.
    pub(super) fn effects(&self) -> Vec<WireEffect> {
        let here = self.figures(self.subject.face());
        let rings = RingWire::ALL.into_iter().map(Wire::Ring);
        let wires = rings.chain([Wire::Sectors, Wire::All]);
        let effect = |wire: Wire| {
            let spider = thicker(self.subject.face().spider(), wire);
            let there = self.figures(&Face::of(&spider).ok()?);
            Some(WireEffect {
                wire,
                treble_percent: 100.0 * (here.treble / there.treble - 1.0),
                double_percent: 100.0 * (here.double / there.double - 1.0),
                scoring_average: there.average - here.average,
                expected: there.leg - here.leg,
            })
        };
        wires.filter_map(effect).collect()
    }

    fn figures(&self, face: &Face) -> Figures {
        let metal = self.subject.metal;
        let setup = Setup { face, metal };
        let throw = Throw::at(self.aim, self.spread);
        let player = super::player::player(setup, self.spread, crate::play::AimRule::Middle);
        Figures {
            treble: player.band_probability(Band::Treble),
            double: player.band_probability(Band::Double),
            average: 3.0 * face.mean(&throw, metal, &Worth::score()),
            leg: self.slopes.weigh(setup, self.spread).cost,
        }
    }
}

struct Figures {
    treble: f64,
    double: f64,
    average: f64,
    leg: f64,
}

/// The spider with more of a wire.
fn thicker(spider: &Spider, wire: Wire) -> Spider {
    let mut spider = spider.clone();
    for ring in RingWire::ALL {
        if wire == Wire::All || wire == Wire::Ring(ring) {
            let shape = &mut spider.rings[ring];
            shape.inside = shape.inside.map(|radius| radius - THICKER / 2.0);
            shape.outside = shape.outside.map(|radius| radius + THICKER / 2.0);
        }
    }
    if matches!(wire, Wire::All | Wire::Sectors) {
        spider.sectors = spider.sectors.map(|sectors| sectors.widened(THICKER));
    }
    spider
}
