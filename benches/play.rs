//! Throws at a board: what the budgets of the play room are held against.

// A benchmark that cannot be set up has nothing to measure.
#![allow(clippy::expect_used)]

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::comparison::{CompareOptions, Subject, compare};
use ringrule::document::Source;
use ringrule::geometry::{Point, Spider};
use ringrule::play::{
    Aims, Averages, BounceShare, Face, Leg, LegOptions, Metal, PerfectLeg, Setup, Spread, Throw,
    Worth, WorthMap, best_aims,
};

/// Board R, to rule with round wire.
fn face() -> Face {
    let text = include_str!("../tests/fixtures/board-r.yaml");
    let board = Board::read(Source::new("board-r.yaml", text)).expect("a sound board");
    Face::of(&Spider::of(&board.construction)).expect("every wire is known")
}

fn spread(sigma: f64) -> Spread {
    Spread::new(sigma).expect("a plausible spread")
}

/// Budget: under 60 µs.
fn all_beds(c: &mut Criterion) {
    let face = face();
    let mut group = c.benchmark_group("all beds");
    for sigma in [5.0, 10.0, 20.0, 30.0] {
        let share = Metal::Share(BounceShare::new(0.4).expect("a share"));
        for (name, metal) in [
            ("lost", Metal::Lost),
            ("glances", Metal::Glances),
            ("share", share),
        ] {
            let throw = Throw::at(Point::mm(0.0, 101.4), spread(sigma));
            group.bench_function(BenchmarkId::new(name, sigma), |b| {
                b.iter(|| face.hits(black_box(&throw), metal));
            });
        }
    }
    group.finish();
}

/// All 82 beds of an uneven board for one aim. Budget: under 100 µs.
fn uneven_beds(c: &mut Criterion) {
    let mut group = c.benchmark_group("all beds, uneven");
    for (name, text) in [
        (
            "off centre",
            include_str!("../specs/demo/13-off-centre-treble.yaml"),
        ),
        (
            "out of round",
            include_str!("../specs/demo/14-uneven-treble.yaml"),
        ),
        ("digitised", include_str!("../specs/demo/15-digitised.yaml")),
    ] {
        let board = Board::read(Source::new(name, text)).expect("a sound board");
        let face = Face::of(&Spider::of(&board.construction)).expect("every wire is known");
        let throw = Throw::at(Point::mm(0.0, 101.4), spread(10.0));
        group.bench_function(name, |b| {
            b.iter(|| face.hits(black_box(&throw), Metal::Lost));
        });
    }
    group.finish();
}

/// Budget: under 50 ms.
fn best_aim(c: &mut Criterion) {
    let (face, worth) = (face(), Worth::score());
    let mut group = c.benchmark_group("best aim");
    for sigma in [5.0, 17.0, 30.0] {
        group.bench_function(BenchmarkId::from_parameter(sigma), |b| {
            b.iter(|| best_aims(&face, black_box(spread(sigma)), Metal::Lost, &worth));
        });
    }
    group.finish();
}

/// Budget: under 1 s on two cores.
fn map(c: &mut Criterion) {
    let (face, worth) = (face(), Worth::score());
    let mut group = c.benchmark_group("map");
    group.sample_size(10);
    for sigma in [2.0, 5.0, 10.0, 30.0] {
        group.bench_function(BenchmarkId::from_parameter(sigma), |b| {
            b.iter(|| WorthMap::new(&face, black_box(spread(sigma)), Metal::Lost, &worth));
        });
    }
    group.finish();
}

/// Once a board and kind of metal, and once an average that is translated.
fn averages(c: &mut Criterion) {
    let face = face();
    let mut group = c.benchmark_group("averages");
    group.sample_size(10);
    group.bench_function("table", |b| {
        b.iter(|| Averages::on(black_box(&face), Metal::Lost));
    });
    let averages = Averages::on(&face, Metal::Lost);
    group.bench_function("spread of an average", |b| {
        b.iter(|| averages.spread_of(black_box(63.0)));
    });
    group.finish();
}

/// Budgets: a leg of 501 on middles in 0.15 s, with continuous aims in 2 s;
/// twenty spreads on two boards in 4 s, both on two cores.
fn leg(c: &mut Criterion) {
    let face = face();
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    let solve = |spread, aims| {
        let mut options = LegOptions::from(501);
        options.aims = aims;
        Leg::solve(setup, spread, options).expect("a leg")
    };
    let mut group = c.benchmark_group("leg of 501");
    group.sample_size(10);
    // Whoever only tries the benchmarks, as CI does, sees from one leg of a kind that it works.
    let is_tried = std::env::args().any(|argument| argument == "--test");
    let most = if is_tried { 1 } else { usize::MAX };
    let all = [5.0, 10.0, 20.0, 40.0].map(|sigma| (sigma, Aims::Middles));
    let anywhere = [5.0, 10.0, 12.0, 20.0, 45.0].map(|sigma| (sigma, Aims::Continuous));
    let anywhere = anywhere.into_iter().take(most);
    for (sigma, aims) in all.into_iter().chain(anywhere) {
        group.bench_function(BenchmarkId::new(aims.as_str(), sigma), |b| {
            b.iter(|| solve(black_box(spread(sigma)), aims));
        });
    }
    // Long and narrow ones, which no player may have, take longest.
    let long = [[5.0, 25.0, 0.0], [2.0, 40.0, 0.0], [20.0, 20.0, 0.99]];
    for [x, y, rho] in long.into_iter().take(most) {
        let spread = Spread::with(x, y, rho).expect("a spread");
        let name = format!("{x} by {y}, correlation {rho}");
        group.bench_function(BenchmarkId::new("continuous", name), |b| {
            b.iter(|| solve(black_box(spread), Aims::Continuous));
        });
    }
    let solved = solve(spread(10.0), Aims::Middles);
    group.bench_function("distribution", |b| b.iter(|| solved.distribution()));
    group.bench_function("perfect", |b| {
        b.iter(|| PerfectLeg::solve(setup, spread(10.0), LegOptions::from(501)));
    });
    group.bench_function("twenty spreads, two boards", |b| {
        b.iter(|| {
            let spreads = (0..40)
                .into_par_iter()
                .map(|nth| 4.0 + 2.0 * f64::from(nth / 2));
            spreads
                .map(|sigma| solve(spread(sigma), Aims::Middles).expected_darts())
                .sum::<f64>()
        });
    });
    group.finish();
}

/// Budget: two boards with all tables under 1 s.
fn whole_comparison(c: &mut Criterion) {
    let subjects = ["01-round-to-rule.yaml", "02-strip-to-rule.yaml"].map(|name| {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("specs/demo")
            .join(name);
        let source = Source::read(&path, name).expect("the board is there");
        Subject::of_board(&Board::read(source).expect("a sound board")).expect("all wires known")
    });
    let mut group = c.benchmark_group("compare");
    group.sample_size(10);
    group.bench_function("two boards, all tables", |b| {
        b.iter(|| compare(black_box(&subjects), &CompareOptions::default()).expect("comparable"));
    });
    group.finish();
}

criterion_group!(
    benches,
    all_beds,
    uneven_beds,
    best_aim,
    map,
    averages,
    leg,
    whole_comparison
);
criterion_main!(benches);
