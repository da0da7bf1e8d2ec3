//! From the text of a board file to its verdict, on one core.
#![allow(
    missing_docs,
    clippy::expect_used,
    reason = "a benchmark may stop at the first thing that is wrong"
)]

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use ringrule::board::{Band, Board};
use ringrule::conformity::Judge;
use ringrule::document::{Source, parse};
use ringrule::geometry::{Bed, Spider, band_area};
use ringrule::table::{Table, shelf_of};

fn read(path: &str) -> Source {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = std::fs::read_to_string(&path).expect("the file is there");
    Source::new(path.display().to_string(), text)
}

fn verdict(c: &mut Criterion) {
    let table_path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tolerances/wdf.yaml");
    let source = read("tolerances/wdf.yaml");
    let table = Table::read(source.clone(), &shelf_of(&table_path)).expect("a sound table");
    let judge = Judge::new(&table);
    let text = read("specs/demo/03-narrow-treble.yaml");
    let board = Board::read(text.clone()).expect("a sound board");
    let spider = Spider::of(&board.construction);

    c.bench_function("text to tree", |b| {
        b.iter(|| parse(black_box(text.clone())));
    });
    c.bench_function("text to board", |b| {
        b.iter(|| Board::read(black_box(text.clone())));
    });
    c.bench_function("board to findings", |b| {
        b.iter(|| judge.judge(black_box(&board)).verdict);
    });
    c.bench_function("text to verdict", |b| {
        b.iter(|| {
            let board = Board::read(black_box(text.clone())).expect("a sound board");
            judge.judge(&board).verdict
        });
    });
    let wrong = Board::read(read("specs/demo/04-wrong-edge.yaml")).expect("a sound board");
    c.bench_function("board with wrong edges to findings", |b| {
        b.iter(|| judge.judge(black_box(&wrong)).verdict);
    });
    // Both widths taken directly beside the radii that they follow from.
    let adjusted = text.text().to_owned()
        + "widths:\n  treble: { width: 7.70, edge: inside }\n  double: { width: 8.02, edge: inside }\n";
    let read_both = || Board::read(Source::new("adjusted.yaml", black_box(&*adjusted)));
    let both_ways = read_both().expect("a sound board");
    let adjustment = both_ways.construction.adjustment.as_deref();
    assert!(adjustment.is_some_and(|both| both.conditions.len() == 2 && !both.contradicts));
    c.bench_function("text to verdict, with redundancy", |b| {
        b.iter(|| judge.judge(&read_both().expect("a sound board")).verdict);
    });
    // Wires that no limit is about move the bounds, and no other board has
    // the same: nothing is known already.
    let strip = read("specs/demo/02-strip-to-rule.yaml");
    let mut thickness = 0.4;
    c.bench_function("text to verdict, strip of its own thickness", |b| {
        b.iter(|| {
            thickness += 1e-7;
            let text = strip.text().replace("0.50", &thickness.to_string());
            let board = Board::read(Source::new("strip.yaml", text)).expect("a sound board");
            judge.judge(&board).verdict
        });
    });
    c.bench_function("areas of six bands", |b| {
        b.iter(|| Band::ALL.map(|band| band_area(black_box(&spider), band)));
    });
    c.bench_function("regions of 82 beds", |b| {
        b.iter(|| Bed::all().filter_map(|bed| spider.free_region(bed)).count());
    });
    c.bench_function("table with its derived bounds", |b| {
        b.iter(|| {
            let table = Table::read(black_box(source.clone()), &()).expect("a sound table");
            Judge::new(&table).judge(&board).verdict
        });
    });
}

criterion_group!(benches, verdict);
criterion_main!(benches);
