//! Two players, each with a leg of their own.

use super::distribution::Distribution;

/// The probability of winning a leg against another player. Both play for what
/// their own leg was solved for, whatever the other has left.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Against {
    /// If this player throws first.
    pub throwing_first: f64,
    /// If the other one does.
    pub throwing_second: f64,
    /// The most by which either may be too small: legs longer than the
    /// distributions list.
    pub tail: f64,
}

impl Against {
    /// From how many darts each takes. With visits in turn a player who throws
    /// first and wins in a visit does so if the other has not won in an earlier
    /// one; a player who throws second, if the other has not won in the same
    /// one either.
    pub fn of(player: &Distribution, other: &Distribution) -> Self {
        let mut against = Self {
            throwing_first: 0.0,
            throwing_second: 0.0,
            tail: 0.0,
        };
        let mut others = other.by_visit();
        let (mut not_before, mut none) = (1.0, 0.0);
        for wins in player.by_visit() {
            let now = others.next().unwrap_or_else(|| {
                none = 1.0;
                0.0
            });
            against.throwing_first += wins * not_before;
            not_before -= now;
            against.throwing_second += wins * f64::max(not_before, 0.0);
        }
        against.tail = player.tail() + none * other.tail();
        against
    }
}
