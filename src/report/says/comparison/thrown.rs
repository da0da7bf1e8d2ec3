//! What throws say of a player, in words.

use crate::comparison::{Sighting, SightingError, SpreadOrigin, ThrownSpread, ThrowsKind};

/// Where a spread comes from that was estimated.
pub(super) fn origin(thrown: &ThrownSpread) -> String {
    let from = match thrown.from {
        ThrowsKind::Positions => "positions",
        ThrowsKind::Beds => "beds",
    };
    let at = match (&thrown.target, &thrown.sighting) {
        (Some(target), Some(sighting)) if sighting.handled == Sighting::Kept => {
            format!("thrown at {target}, about the aim")
        }
        (Some(target), Some(_)) => {
            format!("thrown at {target}, about where they landed in the mean")
        }
        (Some(target), None) => format!("thrown at {target}"),
        (None, _) => "about where they landed in the mean".to_owned(),
    };
    let (x, y) = (thrown.uncertainty_x_mm, thrown.uncertainty_y_mm);
    let u = if (x - y).abs() < 1e-12 {
        format!("{x:.2} mm")
    } else {
        format!("{x:.2} mm sideways, {y:.2} mm up and down")
    };
    let missed = match thrown.missed {
        0 => String::new(),
        1 => ", one of them a miss,".to_owned(),
        missed => format!(", {missed} of them misses,"),
    };
    format!(
        "estimated from the {from} of {} darts{missed} in {}, {at} (standard uncertainty {u})",
        thrown.darts, thrown.file
    )
}

/// What else the throws say.
pub(in crate::report) fn remarks(origin: &SpreadOrigin, first: &str) -> Vec<String> {
    let SpreadOrigin::Throws(thrown) = origin else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    if thrown.look_like_inches {
        lines.push(
            "careful: every position lies within 8.9 of the centre, though the aim is far from \
             it; if these are inches, multiply them by 25.4"
                .to_owned(),
        );
    }
    lines.extend(thrown.sighting.as_ref().map(|error| sighting(error, first)));
    if let Some(chance) = thrown.unequal_by_chance {
        let chance = percent(chance);
        let kept = thrown.sighting.as_ref().map(|sighting| sighting.handled);
        lines.push(match (chance.1 < LIKELY, kept) {
            (_, Some(Sighting::Kept)) => {
                "shape: taken to be the same in every direction about the aim".to_owned()
            }
            (true, _) => format!(
                "shape: not the same in every direction; darts as unequal come by chance in {} of \
                 samples (likelihood ratio)",
                chance.0
            ),
            (false, _) => format!(
                "shape: taken to be the same in every direction, since darts as unequal come by \
                 chance in {} of samples (likelihood ratio)",
                chance.0
            ),
        });
    }
    lines
}

/// At this probability the engine takes a spread for round.
const LIKELY: f64 = 0.05;

fn sighting(error: &SightingError, first: &str) -> String {
    let side = |value: f64, u: f64, [above, below]: [&str; 2]| {
        let side = if value < 0.0 { below } else { above };
        format!("{:.1} ± {:.1} mm {side}", value.abs(), 2.0 * u)
    };
    let [right, up] = [
        side(
            error.right_mm,
            error.right_uncertainty_mm,
            ["right", "left"],
        ),
        side(error.up_mm, error.up_uncertainty_mm, ["high", "low"]),
    ];
    let handled = match error.handled {
        Sighting::Corrected => "taken to be corrected",
        Sighting::Kept => "taken to be kept: it counts as spread about the aim",
    };
    format!(
        "sighting error: darts land {right} and {up} of the aim in the mean (k = 2; so large an \
         error comes by chance in {}), {handled}; the average on {first} is {:.1} if it is \
         corrected, {:.1} if it is kept",
        percent(error.by_chance).0,
        error.average_corrected,
        error.average_kept
    )
}

/// A probability in percent, and itself.
fn percent(chance: f64) -> (String, f64) {
    let words = match 100.0 * chance {
        percent if percent < 0.1 => "under 0.1 %".to_owned(),
        percent if percent < 9.95 => format!("{percent:.1} %"),
        percent => format!("{percent:.0} %"),
    };
    (words, chance)
}
