//! How often whole runs of boards, read and judged, are called unstable where they are
//! sound, and how well a slow drift is found.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::production::{Normals, board};
use common::table;
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::Source;
use ringrule::lot::{BoardRow, ChangeKind, Lot, LotBuilder, Order, Signal};
use ringrule::table::Table;

/// A run of 200 boards, read and judged.
fn run(table: &Table, seed: u64, drift: impl Fn(usize) -> f64) -> Lot<'_> {
    let judge = Judge::new(table);
    let mut normals = Normals::seeded(seed.wrapping_mul(7_919));
    let mut builder = LotBuilder::new(table);
    for at in 0..200 {
        let text = board(at, drift(at), &mut normals);
        let read = Board::read(Source::new(format!("{at}.yaml"), text)).expect("a board");
        builder.add(BoardRow::of(&judge.judge(&read)));
    }
    builder.finish(Order::File).expect("a run")
}

/// How many of so many sound runs are called unstable, how many drifting ones have
/// their drift named, and of how many the beginning is within 30 boards.
fn rates(runs: u64) -> (usize, usize, usize) {
    let table = table("wdf.yaml");
    let sound = (0..runs)
        .into_par_iter()
        .filter(|seed| run(&table, *seed, |_| 0.0).is_unstable());
    let sound = sound.count();
    let begins = |seed: u64| -> Option<usize> {
        // The 60th board is the last one that is sound.
        let drift = |at: usize| 0.0009 * at.saturating_sub(59) as f64;
        let lot = run(&table, 1_000_000 + seed, drift);
        let signals = lot.series.iter().filter_map(|own| own.chart.as_ref().ok());
        let mut signals = signals.flat_map(|chart| &chart.signals);
        signals.find_map(|signal| match signal {
            Signal::Change { beginning, .. } if beginning.kind == ChangeKind::Drift => {
                Some(beginning.at)
            }
            _ => None,
        })
    };
    let begun: Vec<usize> = (0..runs).into_par_iter().filter_map(begins).collect();
    let near = begun.iter().filter(|at| at.abs_diff(59) <= 30).count();
    (sound, begun.len(), near)
}

#[test]
fn drifts_are_found_and_sound_runs_left_alone() {
    let (sound, named, near) = rates(4);
    assert!(
        sound <= 1 && named >= 3 && near >= 2,
        "{sound} {named} {near}"
    );
}

#[test]
#[ignore = "reads and judges 400,000 boards"]
#[allow(clippy::print_stdout, reason = "the figures are what is asked for")]
fn a_thousand_runs_of_either_kind() {
    let (sound, named, near) = rates(1000);
    println!("sound called unstable {sound}, drifts named {named}, beginning near {near}");
    assert!(sound <= 50, "{sound}");
    assert!(named >= 900 && near >= 500, "{named} {near}");
}
