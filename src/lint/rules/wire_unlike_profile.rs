//! A wire too thin or too thick for its profile.

use crate::board::usual::{THICKEST_STRIP, THINNEST_ROUND, misreading};
use crate::board::{Board, Profile, Quantity};
use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "wire-unlike-profile",
    summary: "a wire too thin or too thick for its profile",
    flags: "Round wire thinner than 0.9 mm, or strip thicker than 1.2 mm.",
    matters: "Either the profile is wrong or the thickness is, and every edge that is derived from it with it.",
    source: "house rule: 0.9 mm is just below 20 SWG (0.914 mm), 1.2 mm more than twice a strip of 0.5 mm",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml")
        .with(&[("rings: 16 SWG, sectors: 16 SWG", "rings: 0.5, sectors: 0.5")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let profile = board.construction.profile;
    for input in &board.construction.inputs {
        let wire = matches!(
            input.quantity,
            Quantity::RingWires | Quantity::RingWire(_) | Quantity::SectorWires
        );
        let width = input.value.as_mm();
        let odd = match profile {
            Profile::Round => width < THINNEST_ROUND,
            Profile::Strip => {
                width > THICKEST_STRIP && input.wire.is_none_or(|w| w.gauge.is_none())
            }
        };
        // A thickness that was misread does not suggest another profile.
        if wire && odd && misreading(input).is_none() {
            let message = format!(
                "{} is not a usual thickness of {}",
                in_mm(input.value),
                match profile {
                    Profile::Round => "round wire",
                    Profile::Strip => "strip",
                }
            );
            let remedy = "check the thickness, and whether `mounting` and `profile` are right";
            flagged.push(Flagged::new(input.span, message, remedy));
        }
    }
}
