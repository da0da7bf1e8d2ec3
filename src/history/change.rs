//! What has changed on a board from one inspection to the next.

use crate::board::{Band, Bearing, Joined};
use crate::conformity::{
    Assessment, BandOutcome, ComparedBand, LengthFinding, LimitFinding, Outcome,
};
use crate::units::{Length, Percent, Uncertainty};

/// A check of two inspections of one board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Change<'a> {
    /// What was checked.
    pub changed: Changed<'a>,
    /// The standard uncertainty of the earlier value, in mm or in percent; `None`
    /// where the file states none.
    pub earlier_uncertainty: Option<Uncertainty>,
    /// Likewise of the later value.
    pub later_uncertainty: Option<Uncertainty>,
    /// Likewise of the change: errors that both inspections have in common, such as
    /// those of an instrument that was not calibrated in between, cancel out.
    pub uncertainty: Option<Uncertainty>,
}

/// A length or an area, earlier and later.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub enum Changed<'a> {
    /// A length that a limit is about.
    Length {
        /// The limit and what came of it later.
        finding: &'a LimitFinding<'a>,
        /// Where both were taken, of a limit that speaks of every place.
        at: Option<Bearing>,
        /// What it was.
        earlier: Length,
        /// What it is.
        later: Length,
    },
    /// How far the free area of a band deviates from the nominal one.
    Area {
        /// The band.
        band: Band,
        /// How far it deviated.
        earlier: Percent,
        /// How far it deviates.
        later: Percent,
    },
}

impl Change<'_> {
    /// The later value less the earlier one, in mm or in percent of the nominal area.
    pub fn difference(&self) -> f64 {
        match self.changed {
            Changed::Length { earlier, later, .. } => (later - earlier).as_mm(),
            Changed::Area { earlier, later, .. } => later.value() - earlier.value(),
        }
    }

    /// The change over its expanded uncertainty (the number `E_n` of ISO 13528, from
    /// memory, with the covariance of both results): beyond ± 1 it is more than can
    /// be explained by measurement. `None` where no uncertainty is known. Where the
    /// change is exactly zero it is zero, however well it is known.
    pub fn normalised(&self) -> Option<f64> {
        let expanded = self.uncertainty?.expanded().expanded;
        let difference = self.difference();
        if difference == 0.0 {
            return Some(0.0);
        }
        Some(difference / expanded)
    }

    /// Whether the change is beyond its uncertainty; `None` where that is not known.
    pub fn is_beyond_uncertainty(&self) -> Option<bool> {
        self.normalised().map(|number| number.abs() > 1.0)
    }
}

/// What has changed from an earlier inspection of a board to a later one, both
/// judged by one table: the lengths that it limits and the areas of the bands, in
/// its order, as far as both inspections give them. What is looked up, such as the
/// mounting, and single beds and sectors are left out.
pub fn changes<'a>(earlier: &'a Assessment<'a>, later: &'a Assessment<'a>) -> Vec<Change<'a>> {
    let taking = |of: &'a Assessment<'a>| {
        (
            of.construction.inputs.as_slice(),
            of.board.instruments.as_slice(),
        )
    };
    let joined = Joined::of_one_board(taking(earlier), taking(later));
    let lengths = later.limits.iter().filter_map(|finding| {
        let before = earlier
            .limits
            .iter()
            .find(|old| old.limit.name == finding.limit.name && old.part == finding.part)?;
        match (&before.outcome, &finding.outcome) {
            (Outcome::Length(before), Outcome::Length(now)) => {
                of_length(&joined, before, now, finding)
            }
            _ => None,
        }
    });
    let bands = later.bands.iter().filter_map(|finding| {
        let before = earlier.bands.iter().find(|old| old.band == finding.band)?;
        match (&before.outcome, &finding.outcome) {
            (BandOutcome::Compared(before), BandOutcome::Compared(now)) => {
                Some(of_area(&joined, before, now, finding.band))
            }
            _ => None,
        }
    });
    lengths.chain(bands).collect()
}

fn of_length<'a>(
    joined: &Joined,
    earlier: &LengthFinding,
    later: &LengthFinding,
    finding: &'a LimitFinding<'a>,
) -> Option<Change<'a>> {
    // Of a limit on every place, the place that decides now, if it was measured
    // before: the worst place of two years may be two places.
    let (before, form, u) = match later.at {
        Some(at) => {
            let place = earlier.places.iter().find(|place| place.at.is(at))?;
            (place.value, &place.form, place.uncertainty)
        }
        None if earlier.at.is_some() => return None,
        None => (earlier.value, &earlier.form, earlier.uncertainty),
    };
    let difference = joined.difference(&later.form, form);
    Some(Change {
        changed: Changed::Length {
            finding,
            at: later.at,
            earlier: before,
            later: later.value,
        },
        earlier_uncertainty: u,
        later_uncertainty: later.uncertainty,
        uncertainty: joined.uncertainty(&difference),
    })
}

fn of_area<'a>(
    joined: &Joined,
    earlier: &ComparedBand<'_>,
    later: &ComparedBand<'_>,
    band: Band,
) -> Change<'a> {
    // In percent of the nominal area, which is that of each day's mounting.
    let part = |of: &ComparedBand<'_>| 100.0 / of.nominal.as_mm2();
    let slopes = joined.scaled(
        (part(later), &later.free.slopes()),
        (part(earlier), &earlier.free.slopes()),
    );
    Change {
        changed: Changed::Area {
            band,
            earlier: earlier.deviation,
            later: later.deviation,
        },
        earlier_uncertainty: earlier.uncertainty,
        later_uncertainty: later.uncertainty,
        uncertainty: joined.uncertainty(&slopes),
    }
}
