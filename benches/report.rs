//! How long a report takes: wanted are 10 ms for a page, 100 ms for a PDF, and
//! 10 s for the pages of 1,000 boards on two cores.
#![allow(clippy::expect_used, missing_docs, reason = "a benchmark may stop")]

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::Source;
use ringrule::event::Event;
use ringrule::report::{Compliance, PaperSize, ReportFormat};
use ringrule::table::{Table, shelf_of};

fn read(path: &str) -> Source {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = std::fs::read_to_string(&path).expect("the file is there");
    Source::new(path.display().to_string(), text)
}

/// The pages of these boards, as the program makes them.
fn pages(judge: &Judge<'_>, report: &Compliance<'_>, boards: &[Board]) -> usize {
    let opening = report.opening(ReportFormat::Html).len();
    let lines = report.lines().par_iter().zip(boards);
    let parts = lines.map(|(line, board)| {
        let page = report.board(ReportFormat::Html, line, &judge.judge(board));
        page.len()
    });
    opening + parts.sum::<usize>()
}

fn reports(c: &mut Criterion) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tolerances/fenwick-lane.yaml");
    let source = read("tolerances/fenwick-lane.yaml");
    let table = Table::read(source, &shelf_of(&path)).expect("a sound table");
    let event = read("specs/events/fenwick-lane-autumn.yaml");
    let event = Event::read(event).expect("a sound event");
    let board = || Board::read(read("specs/demo/03-narrow-treble.yaml")).expect("a sound board");
    let judge = Judge::new(&table);

    let one = [board()];
    let mut report = Compliance::new(&event, &table);
    report.add(&judge.judge(&one[0]));
    c.bench_function("one board as HTML", |b| {
        b.iter(|| black_box(pages(&judge, &report, &one)));
    });
    c.bench_function("one board as PDF", |b| {
        b.iter(|| {
            let boards = std::iter::once(judge.judge(&one[0]));
            let pdf = report.pdf(boards, PaperSize::A4, Vec::new());
            black_box(pdf.expect("a file").bytes.len())
        });
    });

    let many: Vec<Board> = (0..1000).map(|_| board()).collect();
    let mut group = c.benchmark_group("many");
    group.sample_size(10);
    group.bench_function("1,000 boards as HTML", |b| {
        b.iter(|| {
            let mut report = Compliance::new(&event, &table);
            for board in &many {
                report.add(&judge.judge(board));
            }
            black_box(pages(&judge, &report, &many))
        });
    });
    group.finish();
}

criterion_group!(benches, reports);
criterion_main!(benches);
