//! An extreme that was moved is the one that linear programmes find.
#![allow(clippy::expect_used, reason = "a test may stop")]

use microlp::OptimizationDirection;
use proptest::prelude::*;

use super::{Extreme, Feasible};
use crate::board::Band;
use crate::document::Source;
use crate::table::Table;

/// The limits of the World Darts Federation, dartboard section, from memory.
const WDF: &str = include_str!("../../../tolerances/wdf.yaml");

fn table(text: &str) -> Table {
    // Some get limits of their own.
    let text = text.replace("\nnumber_of_limits: 12\n", "\n");
    Table::read(Source::new("t.yaml", text), &()).expect("a sound table")
}

fn embedded(table: &Table) -> Feasible {
    let nominal = table.embedded.as_ref().expect("a nominal board");
    Feasible::new(&table.limits, &nominal.construction)
}

/// Whether both are there, with one area (relatively) and the same rates.
fn agree(moved: &Extreme, full: &Extreme) -> bool {
    let rates = moved.rates.iter().zip(&full.rates);
    moved.rates.len() == full.rates.len()
        && (moved.area - full.area).abs() <= 1e-9 * full.area
        && rates.into_iter().all(|(a, b)| {
            // The programmes find rates by finite differences of 10 µm.
            a.0 == b.0 && (a.1 - b.1).abs() <= 1e-9 * full.area
        })
}

/// Compares both ways for boards with these wires; returns how many extremes
/// could be moved.
fn compare(feasible: &Feasible, wires: &[f64]) -> Result<usize, TestCaseError> {
    let mut count = 0;
    for band in Band::ALL {
        let directions = [
            OptimizationDirection::Minimize,
            OptimizationDirection::Maximize,
        ];
        for (vertex, direction) in feasible.vertices()[band].iter().zip(directions) {
            let full = feasible.programmed(band, wires, direction);
            let moved = vertex.as_ref();
            let moved = moved.and_then(|vertex| feasible.moved(band, wires, vertex));
            if let Some(moved) = moved {
                let full = full.expect("an extreme that can be moved exists");
                prop_assert!(
                    agree(&moved, &full),
                    "{band}: {} {:?}, {} {:?}",
                    moved.area,
                    moved.rates,
                    full.area,
                    full.rates
                );
                count += 1;
            }
        }
    }
    Ok(count)
}

#[test]
fn every_extreme_of_a_strip_board_to_rule_is_moved() {
    // Invented thicknesses about the nominal 0.5 mm, of which no limit speaks.
    let table = table(WDF);
    let feasible = embedded(&table);
    for wire in [0.2, 0.4, 0.499_999, 0.5, 0.73, 1.1] {
        let wires = vec![wire; feasible.unlimited.len()];
        let moved = compare(&feasible, &wires).expect("both ways agree");
        assert_eq!(moved, 12, "{wire}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_moved_extreme_is_that_of_the_programmes(
        wires in prop::collection::vec(0.1_f64..2.5, 7),
        bull in 0.05_f64..1.5,
        radius in 0.05_f64..0.6,
        width in 0.05_f64..1.2,
        gauge in prop::option::of(0.05_f64..0.4),
    ) {
        // Invented limits: some that other limits imply, some on a wire.
        let mut text = WDF
            .replace("nominal: 12.7 mm\n    tolerance: 0.2 mm",
                     &format!("nominal: 12.7 mm\n    tolerance: {bull} mm"))
            .replace("nominal: 170.0 mm\n    tolerance: 0.2 mm",
                     &format!("nominal: 170.0 mm\n    tolerance: {radius} mm"))
            .replace("nominal: 9.6 mm\n    tolerance: 0.2 mm",
                     &format!("nominal: 9.6 mm\n    tolerance: {width} mm"));
        if let Some(gauge) = gauge {
            text.push_str(&format!(
                "  strips:\n    measurand: sector_wires.gauge\n    when: {{ profile: strip }}\n    \
                 nominal: 0.5 mm\n    tolerance: {gauge} mm\n"
            ));
        }
        let table = table(&text);
        let feasible = embedded(&table);
        let wires = wires.get(..feasible.unlimited.len()).unwrap_or(&wires);
        compare(&feasible, wires)?;
    }
}
