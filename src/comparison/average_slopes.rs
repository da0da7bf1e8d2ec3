//! What measurement and the player's spread leave of averages, to first order.
//!
//! At the best aim nothing changes with the aim itself, so that it is left where it is
//! while lengths move.

use super::Subject;
use super::certainty::{Causes, Certainty};
use super::log_odds::Follows;
use super::player::{Known, SpreadOrigin};
use super::slopes::Slopes;
use crate::board::Linear;
use crate::geometry::Point;
use crate::play::{Averages, Spread, Throw, Worth};

/// A board's averages, and how they change with its lengths.
#[derive(Clone, Copy)]
pub(super) struct AverageSide<'a> {
    pub(super) subject: &'a Subject,
    /// In the chosen setting of its metal.
    pub(super) averages: &'a Averages<'a>,
    pub(super) slopes: &'a Slopes<'a>,
}

/// A spread and the aim that is best for it on a board.
type Place = (Spread, Point);

impl AverageSide<'_> {
    /// The slope in the board's lengths of the average at each of these places.
    fn slopes(&self, places: &[Place]) -> Vec<Linear> {
        let worth = Worth::score();
        self.slopes.of_figures(places.len(), |face| {
            let average = |(spread, aim): &Place| {
                3.0 * face.mean(&Throw::at(*aim, *spread), self.subject.metal, &worth)
            };
            places.iter().map(average).collect()
        })
    }

    /// How the spread of an average on this board follows from its lengths: an average
    /// that is the same on a board with larger beds is that of a wider spread.
    pub(super) fn follows(&self, known: &Known) -> Follows {
        if !matches!(known.origin, SpreadOrigin::Average { .. }) {
            return None;
        }
        let averages = self.averages;
        let (_, aim) = averages.of(known.spread);
        let slope = self.slopes(&[(known.spread, aim)]).pop()?;
        let rate = averages.rate(known.spread, aim);
        Some(Linear::default().plus(-1.0 / rate, &slope))
    }

    /// How sure the player's own average on this board is. `first` is the board that a
    /// spread follows from, if it does from any.
    pub(super) fn own_certainty(
        &self,
        known: &Known,
        first: &AverageSide<'_>,
        follows: &Follows,
    ) -> Certainty {
        let averages = self.averages;
        let (value, aim) = averages.of(known.spread);
        let own = self
            .slopes(&[(known.spread, aim)])
            .pop()
            .unwrap_or_default();
        let rate = averages.rate(known.spread, aim);
        let follows = follows
            .as_ref()
            .map(|follows| Linear::default().plus(rate, follows));
        let boards = match follows {
            // On the board that it is the average of, it is what it is.
            Some(_) if std::ptr::eq(self.subject, first.subject) => return Certainty::Exact,
            Some(follows) => self.slopes.uncertainty_with(&own, (first.slopes, &follows)),
            None => self.slopes.uncertainty(&own),
        };
        let ends = known.ends.iter();
        let causes = Causes {
            value,
            boards,
            player: ends
                .map(|ends| ends.map(|spread| averages.of(spread).0))
                .collect(),
        };
        causes.certainty()
    }
}

/// How sure it is what each average on one board is worth on another: lengths of the first
/// change the spread behind the average, those of the other what that spread comes to.
pub(super) fn translation_certainties(
    from: AverageSide<'_>,
    to: AverageSide<'_>,
    averages: &[f64],
) -> Vec<Certainty> {
    let (there, here) = (from.averages, to.averages);
    let places = averages.iter().map(|average| {
        let spread = there.spread_of(*average).ok()?;
        let ((_, from), (value, to)) = (there.of(spread), here.of(spread));
        Some((spread, from, to, value))
    });
    let places: Vec<_> = places.collect();
    let known = || places.iter().flatten();
    let on_first: Vec<Place> = known().map(|&(spread, from, ..)| (spread, from)).collect();
    let on_other: Vec<Place> = known().map(|&(spread, _, to, _)| (spread, to)).collect();
    let mut slopes = from.slopes(&on_first).into_iter().zip(to.slopes(&on_other));
    let mut next = || slopes.next().unwrap_or_default();
    let certainty = |place: &Option<(Spread, Point, Point, f64)>| {
        let Some((spread, aim_from, aim_to, value)) = *place else {
            return Certainty::NotStated;
        };
        let (on_first, on_other) = next();
        let ratio = here.rate(spread, aim_to) / there.rate(spread, aim_from);
        let first = Linear::default().plus(-ratio, &on_first);
        let causes = Causes {
            value,
            boards: to.slopes.uncertainty_with(&on_other, (from.slopes, &first)),
            player: Vec::new(),
        };
        causes.certainty()
    };
    places.iter().map(certainty).collect()
}
