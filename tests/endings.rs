//! The name of an output says how it is written.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::league::{BOARD, League, out};

#[test]
fn files_have_no_colours() {
    let league = League::new();
    for colour in ["auto", "always"] {
        let compare = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
        league.good(&format!(
            "--colour {colour} {compare} -o {colour}-a.txt --also {colour}-b.txt"
        ));
        let line = format!("--colour {colour} validate {BOARD} --table tables/wdf.json");
        league.run(&format!("{line} --also {colour}-c.txt"));
        league.run(&format!(
            "--colour {colour} lint boards --also {colour}-d.txt"
        ));
        for name in ["a", "b", "c", "d"] {
            let text = league.text(&format!("{colour}-{name}.txt"));
            assert!(
                !text.is_empty() && !text.contains('\u{1b}'),
                "{colour}-{name}"
            );
        }
    }
    let always = league.run("--colour always validate boards --table tables/wdf.json");
    assert!(out(&always).contains('\u{1b}'));
    let auto = league.run("validate boards --table tables/wdf.json");
    assert!(!out(&auto).contains('\u{1b}'));
}

#[test]
fn an_ending_that_cannot_be_served_is_said_with_those_that_can() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    let two = "boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    for (line, known) in [
        (
            format!("compare {two} -o x.doc"),
            ".txt, .json, .csv, .xlsx, .md, .html or .pdf",
        ),
        (
            format!("compare {two} -o x.txt --also x.svg"),
            ".txt, .json, .csv, .xlsx, .md, .html or .pdf",
        ),
        (
            format!("compare {two} -o x"),
            ".txt, .json, .csv, .xlsx, .md, .html or .pdf",
        ),
        (
            format!("compare {two} --plot odds -o x.html"),
            ".svg or .png",
        ),
        (format!("draw {BOARD} {table} -o x.pdf"), ".svg or .png"),
        (
            format!("validate {BOARD} {table} --also x.html"),
            ".txt, .json, .csv, .xlsx, .sarif or .xml",
        ),
        (
            format!("lint {BOARD} --also x.yaml"),
            ".txt, .json, .csv, .xlsx, .sarif or .xml",
        ),
        (
            format!("report {BOARD} {table} -o x.svg"),
            ".txt, .html, .pdf, .md, .json, .csv or .xlsx",
        ),
        (
            format!("report {BOARD} {table} --each {{id}}.docx"),
            ".txt, .html, .pdf, .md, .json, .csv or .xlsx",
        ),
        (
            format!("worksheet {BOARD} {table} -o x.json"),
            ".csv, .tsv, .html or .pdf",
        ),
        ("pool sheet.csv -o x.json".to_owned(), ".yaml or .yml"),
    ] {
        let said = league.refused(&line);
        assert!(said.contains(known), "{line}\n{said}");
    }
}

#[test]
fn the_ending_decides_what_is_written() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    let two = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    for (line, file, begins) in [
        (
            format!("{two} -o page.html --also page.pdf"),
            "page.html",
            "<!DOCTYPE html>",
        ),
        (format!("{two} -o x.JSON"), "x.JSON", "{"),
        (format!("report {BOARD} {table} -o r.txt"), "r.txt", "FL-01"),
        (
            format!("worksheet {BOARD} {table} -o s.html"),
            "s.html",
            "<!DOCTYPE html>",
        ),
        (
            format!("worksheet {BOARD} {table} --format csv -o t.html"),
            "t.html",
            "item",
        ),
    ] {
        league.good(&line);
        let text = league.text(file).to_lowercase();
        assert!(
            text.starts_with(&begins.to_lowercase()),
            "{line}\n{text:.80}"
        );
    }
    for (line, file) in [
        (format!("{two} --plot odds -o odds.png"), "odds.png"),
        (format!("draw {BOARD} {table} -o board.png"), "board.png"),
    ] {
        league.good(&line);
        let bytes = fs::read(league.path(file)).expect("read");
        assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n"), "{line}");
    }
    league.good(&format!("worksheet {BOARD} {table} -o s.pdf"));
    for name in ["s.pdf", "page.pdf"] {
        let pdf = fs::read(league.path(name)).expect("read");
        assert!(pdf.starts_with(b"%PDF-"), "{name}");
    }
    league.good(&format!("worksheet {BOARD} {table} -o s.tsv"));
    assert!(league.text("s.tsv").contains('\t'));
}
