//! How long a report is: as long as it is asked to be.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::path::Path;

use common::{ringrule, transcript};

const REPORT: [&str; 6] = [
    "report",
    "specs/demo",
    "--table",
    "tolerances/wdf.yaml",
    "--event",
    "specs/events/fenwick-lane-autumn.yaml",
];

/// Makes a report of the demo in so much detail.
fn report(folder: &Path, detail: &str, ending: &str) -> std::path::PathBuf {
    let path = folder.join(format!("{detail}.{ending}"));
    let file = path.to_string_lossy().into_owned();
    let output = ringrule(&[REPORT.as_slice(), &["--detail", detail, "-o", &file]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    path
}

/// The pages of a PDF, by the objects of that type.
fn pages(path: &Path) -> usize {
    let bytes = std::fs::read(path).expect("read");
    bytes
        .windows(11)
        .filter(|window| *window == b"/Type/Page/")
        .count()
}

#[test]
fn a_report_is_as_long_as_it_is_asked_to_be() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = |detail| {
        let path = report(folder.path(), detail, "md");
        std::fs::read_to_string(path).expect("written")
    };
    let (summary, boards, full) = (page("summary"), page("boards"), page("full"));
    for page in [&summary, &boards, &full] {
        assert!(page.contains("**8 of 14 boards may be used.**"), "{page}");
        assert!(page.contains("## What to do"));
        assert!(page.contains("FL-03, FL-04, FL-05, FL-09."), "{page}");
        // Once, on the first page.
        assert_eq!(
            page.matches("- signature:").count(),
            if page == &full { 15 } else { 1 }
        );
    }
    let parts = |page: &str| page.lines().filter(|line| line.starts_with("# ")).count();
    assert_eq!((parts(&summary), parts(&boards), parts(&full)), (1, 15, 15));
    assert!(boards.len() * 2 < full.len());
    // What fails and what is in doubt has its reason on the board's page.
    assert!(
        boards.contains("treble width, inside to inside: 7.70 ± "),
        "{boards}"
    );
    assert!(boards.contains("outer bull diameter, to the inside edge: not checked, needs"));
}

#[test]
fn each_board_has_exactly_one_page_of_paper() {
    let folder = tempfile::tempdir().expect("a folder");
    let count = |detail| pages(&report(folder.path(), detail, "pdf"));
    let summary = count("summary");
    assert!((1..=2).contains(&summary), "{summary}");
    assert_eq!(count("boards"), summary + 14);
}
