//! The README and the pages of the guide: their links hold, their commands run as they stand
//! there, and what they show is what the program makes.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;
mod pages;

use std::fs;

use common::root;
use pages::Page;

/// The commands of other programs, which are tested elsewhere: `.ci/run` runs both `cargo`
/// commands of the README, and the program that `cargo install` would install runs here.
const OTHERS: [&str; 2] = ["cargo test", "cargo install --locked --path ."];

#[test]
fn links_lead_to_files_and_headings_that_are_there() {
    for page in pages::all() {
        for link in page.links() {
            if link.contains("://") {
                continue;
            }
            let (file, anchor) = link.split_once('#').unwrap_or((&link, ""));
            let file = if file.is_empty() {
                root().join(&page.name)
            } else {
                page.folder().join(file)
            };
            assert!(file.exists(), "{}: nothing is at {link}", page.name);
            if !anchor.is_empty() {
                let target = Page::read(&file);
                assert!(
                    target.anchors().contains(&anchor.to_owned()),
                    "{}: no heading for {link}",
                    page.name
                );
            }
        }
    }
}

#[test]
fn the_guide_has_a_page_for_each_person_and_the_front_page_is_two_screens() {
    let front = Page::read(&root().join("README.md"));
    for person in ["officer", "organiser", "keeper", "researcher", "maker"] {
        let link = format!("specs/guide/{person}.md");
        assert!(front.links().contains(&link), "README.md lacks {link}");
    }
    // Two screens of fifty lines: house rule.
    assert!(front.text.lines().count() <= 100);
    let index = Page::read(&root().join("specs/guide/README.md"));
    for entry in fs::read_dir(root().join("specs/guide")).expect("a folder") {
        let name = entry.expect("an entry").file_name();
        let name = name.to_string_lossy().into_owned();
        assert!(
            name == "README.md" || index.links().contains(&name),
            "the guide's first page lacks {name}"
        );
    }
}

#[test]
fn every_picture_is_shown_on_some_page() {
    let shown: Vec<_> = pages::all().iter().flat_map(Page::pictures).collect();
    for entry in fs::read_dir(root().join("specs/pictures")).expect("a folder") {
        let path = entry.expect("an entry").path();
        let path = path.canonicalize().expect("a path");
        assert!(shown.contains(&path), "no page shows {}", path.display());
    }
}

/// Runs a page from top to bottom in a folder of its own: commands, what they print, and
/// the drawings that it shows.
fn runs(name: &str) {
    let page = Page::read(&root().join(name));
    let folder = pages::copy();
    let mut printed = None;
    for block in page.blocks() {
        match block.kind.as_str() {
            "sh" => {
                for line in pages::lines(&block.text) {
                    if !OTHERS.contains(&line.as_str()) {
                        printed = Some(pages::run(name, &line, folder.path()));
                    }
                }
            }
            "text" => {
                let printed = printed.as_deref().unwrap_or_default();
                pages::shows(name, &block.text, printed);
            }
            "yaml" => pages::reads(name, &block.text),
            "csv" => {}
            kind => panic!("{name}: a block of kind {kind:?}, which nothing checks"),
        }
    }
    for command in page.inline_commands() {
        let code = pages::call(&command, folder.path()).status.code();
        assert!(matches!(code, Some(0 | 1)), "{name}: `{command}`: {code:?}");
    }
    for picture in page.pictures() {
        let file = picture.file_name().expect("a name").to_string_lossy();
        let file = file.as_ref();
        // Pages of PDFs and the desk are pictures of another kind: `.ci/pages`.
        if picture.extension().is_some_and(|ending| ending == "svg") {
            let made = fs::read(folder.path().join(file));
            let made = made.unwrap_or_else(|_| panic!("{name} shows {file} and does not make it"));
            let shown = fs::read(&picture).expect("there");
            assert!(
                made == shown,
                "{name}: {file} is not what its command makes"
            );
        }
    }
}

macro_rules! pages_run {
    ($($test:ident: $name:literal,)*) => {
        $(#[test]
        fn $test() {
            runs($name);
        })*

        #[test]
        fn no_page_is_left_out() {
            let names: Vec<_> = pages::all().into_iter().map(|page| page.name).collect();
            let mut run = vec![$($name.to_owned()),*];
            run.sort();
            assert_eq!(names, run);
        }
    };
}

pages_run! {
    the_front_page_runs: "README.md",
    the_guides_first_page_runs: "specs/guide/README.md",
    the_page_on_decisions_runs: "specs/guide/decisions.md",
    the_page_on_formats_runs: "specs/guide/formats.md",
    the_page_on_formulas_runs: "specs/guide/formulas.md",
    the_keepers_page_runs: "specs/guide/keeper.md",
    the_makers_page_runs: "specs/guide/maker.md",
    the_officers_page_runs: "specs/guide/officer.md",
    the_organisers_page_runs: "specs/guide/organiser.md",
    the_researchers_page_runs: "specs/guide/researcher.md",
    the_page_on_sources_runs: "specs/guide/sources.md",
    the_page_on_trust_runs: "specs/guide/trust.md",
    the_season_runs: "specs/season/README.md",
}
