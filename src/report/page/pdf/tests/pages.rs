//! Pages as they are laid out, before they are drawn.

use super::super::super::model::Block;
use super::super::*;
use super::*;

#[test]
fn every_word_of_the_report_is_on_a_page() {
    let head = head();
    let pages = pages_of(&head, sample());
    is_tidy(&pages, head.paper.measure());
    let words = words_of(&pages);
    for expected in [
        "does not conform",
        "conforms",
        "inconclusive",
        "not checked",
        "not stated",
        "ordered by",
        HEBREW,
        "Board 1, Σπύρος’ practice board (stage)",
        "page 1 of",
        "172.59 mm",
        "radius 59",
        "Two boards were not checked.",
        "Limits and what was measured",
        "measured by",
    ] {
        assert!(words.contains(expected), "{expected}");
    }
}

#[test]
fn each_page_says_how_many_there_are() {
    let pages = pages_of(&head(), sample());
    assert!(pages.len() > 4);
    for (index, page) in pages.iter().enumerate() {
        let number = format!("page {} of {}", index + 1, pages.len());
        assert!(
            boxes(page)
                .iter()
                .any(|(_, words, body)| *words == number && !body)
        );
    }
}

#[test]
fn a_long_table_has_its_heading_on_each_page() {
    for paper in [PaperSize::A4, PaperSize::Letter] {
        let head = PdfHead { paper, ..head() };
        let pages = pages_of(&head, one(vec![Block::Grid(table(100, None))]));
        assert!(pages.len() >= 3, "{}", pages.len());
        is_tidy(&pages, paper.measure());
        for (index, page) in pages.iter().enumerate() {
            let all = boxes(page);
            let heading = |name: &str| {
                all.iter()
                    .filter(|(_, words, body)| *words == name && *body == (index == 0))
                    .count()
            };
            assert_eq!(heading("allowed"), 1, "page {index}");
            assert_eq!(heading("remark"), 1, "page {index}");
            // As many figures as verdicts: no row is parted.
            let rows = all
                .iter()
                .filter(|(_, words, _)| words.ends_with("± 0.5 mm"))
                .count();
            let signs = ["✓ ", "✗ ", "? ", "– "];
            let marks = all
                .iter()
                .filter(|(_, w, _)| signs.iter().any(|s| w.starts_with(s)))
                .count();
            assert_eq!(rows, marks, "page {index}");
        }
        let words = words_of(&pages);
        assert!((0..100).all(|n| words.contains(&format!("outside radius {n}"))));
    }
}

#[test]
fn a_heading_is_never_left_alone_at_the_foot() {
    // Whatever stands above, the heading and the table's first row are together.
    for above in 0..60 {
        let mut blocks: Vec<Block> = (0..above)
            .map(|_| Block::Text("A line.".to_owned()))
            .collect();
        blocks.push(Block::Heading("Found here".to_owned()));
        blocks.push(Block::Grid(table(2, None)));
        for page in pages_of(&head(), one(blocks)) {
            let words = boxes(&page);
            let has = |what: &str| words.iter().any(|(_, words, _)| words.starts_with(what));
            assert_eq!(
                has("Found here"),
                has("Double ring, outside radius 0"),
                "{above}"
            );
        }
    }
}

#[test]
fn long_words_wrap_inside_their_cells() {
    let mut wide = table(3, None);
    wide.rows[1].cells[0] = Cell::Text("Unbroken".repeat(40));
    wide.rows[2].cells[4] = Cell::Text("Unbroken".repeat(400));
    wide.rows[2].cells[1] = Cell::Text("1234567890".repeat(30));
    let head = head();
    let pages = pages_of(&head, one(vec![Block::Grid(wide)]));
    is_tidy(&pages, head.paper.measure());
}
