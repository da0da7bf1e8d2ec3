//! Ten thousand board files: reading and parsing them, and looking at them.
#![allow(
    missing_docs,
    clippy::expect_used,
    reason = "a benchmark may stop at the first thing that is wrong"
)]

use std::hint::black_box;
use std::path::PathBuf;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use jiff::civil::date;
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::document::{Disk, Source, parse};
use ringrule::lint::{Input, Job, Levels, Options, Settings, lint};

const FILES: usize = 10_000;

/// An invented board, each a little different.
fn text(index: usize) -> String {
    // Never so little that a length rounds to its nominal value.
    let off = (index % 97 + 7) as f64 / 1000.0;
    format!(
        "format: ringrule/board/1\n\
         board: {{ id: GL-{index:05}, name: \"Generated {index}\", made: {} }}\n\
         mounting: staples\nunits: mm\n\
         inspection: {{ by: A. Ashdown, date: \"2026-11-14\" }}\n\
         instrument: {{ name: calliper 2, resolution: 0.01, max_error: 0.03, calibrated: \
         \"2026-05-02\" }}\n\
         wires: {{ rings: 16 SWG, sectors: 16 SWG }}\n\
         rings:\n  \
         inner_bull:   {{ diameter: {:.2}, edge: inside }}\n  \
         outer_bull:   {{ diameter: {:.2}, edge: inside }}\n  \
         treble_inner: {{ radius: {:.2}, edge: outside }}\n  \
         treble_outer: {{ radius: {:.2}, edge: outside }}\n  \
         double_inner: {{ radius: {:.2}, edge: outside }}\n  \
         double_outer: {{ radius: {:.2}, edge: outside }}\n\
         overall: {{ diameter: 451.2, uncertainty: 0.5 }}\n",
        1950 + index % 70,
        12.70 + off,
        31.80 - off,
        97.37 + off,
        107.0 - off,
        160.37 + off,
        170.0 + off,
    )
}

fn benches(c: &mut Criterion) {
    let texts: Vec<String> = (0..FILES).map(text).collect();
    let folder = tempfile::tempdir().expect("a folder");
    let paths: Vec<PathBuf> = (0..FILES)
        .map(|index| folder.path().join(format!("gl-{index:05}.yaml")))
        .collect();
    for (path, text) in paths.iter().zip(&texts) {
        std::fs::write(path, text).expect("written");
    }
    let options = Options {
        levels: Levels::default(),
        today: date(2026, 11, 25),
    };
    let settings = Arc::<Settings>::default();
    let jobs = |input: &dyn Fn(usize) -> Input| -> Vec<Job> {
        (0..FILES)
            .map(|index| Job {
                input: input(index),
                settings: Arc::clone(&settings),
            })
            .collect()
    };
    let on_disk = jobs(&|index| Input::File(paths[index].clone()));
    let in_memory = jobs(&|index| {
        Input::Text(Box::new(Source::new(
            format!("gl-{index:05}.yaml"),
            texts[index].as_str(),
        )))
    });

    let mut group = c.benchmark_group("10,000 files");
    group.sample_size(10);
    group.bench_function("read and parse", |b| {
        b.iter(|| {
            let parsed = paths.par_iter().filter(|path| {
                Source::read(path, &path.display().to_string())
                    .and_then(parse)
                    .is_ok()
            });
            assert_eq!(parsed.count(), FILES);
        });
    });
    group.bench_function("read, parse and check as boards", |b| {
        b.iter(|| {
            let boards = paths.par_iter().filter(|path| {
                Source::read(path, &path.display().to_string())
                    .and_then(Board::read)
                    .is_ok()
            });
            assert_eq!(boards.count(), FILES);
        });
    });
    group.bench_function("lint, from disk", |b| {
        b.iter(|| {
            lint(black_box(&on_disk), &options, &Disk)
                .findings()
                .count()
        });
    });
    group.bench_function("lint, from memory", |b| {
        b.iter(|| {
            lint(black_box(&in_memory), &options, &Disk)
                .findings()
                .count()
        });
    });
    group.finish();
    assert_eq!(
        lint(&on_disk, &options, &Disk).findings().count(),
        0,
        "sound files"
    );
}

criterion_group!(all, benches);
criterion_main!(all);
