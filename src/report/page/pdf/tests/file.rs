//! The file as a whole.

use super::super::super::model::Block;
use super::super::*;
use super::*;
use crate::report::style::Mark;

fn occurs(bytes: &[u8], what: &str) -> bool {
    bytes
        .windows(what.len())
        .any(|window| window == what.as_bytes())
}

#[test]
fn the_same_report_is_the_same_file() {
    let first = write(&head(), sample().into_iter()).expect("a PDF");
    let second = write(&head(), sample().into_iter()).expect("a PDF");
    assert!(first.bytes == second.bytes);
    let other = PdfHead {
        identifier: "ringrule-8".to_owned(),
        ..head()
    };
    let other = write(&other, sample().into_iter()).expect("a PDF");
    assert!(first.bytes != other.bytes);
}

#[test]
fn the_file_is_tagged_and_has_bookmarks_links_and_a_language() {
    let pdf = write(&head(), sample().into_iter()).expect("a PDF");
    assert!(pdf.bytes.starts_with(b"%PDF-1.7"));
    for key in [
        "/StructTreeRoot",
        "/Outlines",
        "/Lang(en)",
        "/MarkInfo",
        "/DisplayDocTitle true",
        "/H1",
        "/H2",
        "/TH",
        "/Scope/Row",
        "/Figure",
        "/Alt",
        "/Subtype/Link",
        "/Dest",
        "pdfuaid:part",
        "D:20260301",
    ] {
        assert!(occurs(&pdf.bytes, key), "{key}");
    }
    assert!(occurs(&pdf.bytes, &format!("/Count {}", pdf.pages)));
    assert!(pdf.missing.is_empty(), "{:?}", pdf.missing);
}

/// Our own font with its last hexagrams moved to one ideograph.
fn font_with(c: char) -> Vec<u8> {
    let mut font = crate::report::fonts::REGULAR.to_vec();
    let number =
        |font: &[u8], at: usize| u32::from_be_bytes(font[at..at + 4].try_into().expect("4"));
    let tables = usize::from(font[5]);
    let cmap = (0..tables)
        .map(|n| 12 + 16 * n)
        .find(|&at| &font[at..at + 4] == b"cmap")
        .expect("cmap");
    let cmap = number(&font, cmap + 8) as usize;
    let end = cmap + 7056;
    let group = (cmap..end)
        .find(|&at| number(&font, at) == 0x4dc0 && number(&font, at + 4) == 0x4dff)
        .expect("the group of hexagrams");
    for at in [group, group + 4] {
        font[at..at + 4].copy_from_slice(&u32::from(c).to_be_bytes());
    }
    font
}

#[test]
fn what_no_font_has_is_spelt_out_and_told() {
    let parts = || {
        one(vec![Block::Facts(vec![fact(
            "club",
            Some("標 club, שלום, \u{e000}"),
        )])])
    };
    let without = write(&head(), parts().into_iter()).expect("a PDF");
    assert_eq!(without.missing, BTreeSet::from(['標', '\u{e000}']));
    let words = words_of(&pages_of(&head(), parts()));
    assert!(words.contains("U+6A19 club, שלום, U+E000"), "{words}");

    let with = PdfHead {
        fonts: vec![font_with('標')],
        ..head()
    };
    let pdf = write(&with, parts().into_iter()).expect("a PDF");
    assert_eq!(pdf.missing, BTreeSet::from(['\u{e000}']));
    let words = words_of(&pages_of(&with, parts()));
    assert!(words.contains("標 club"), "{words}");
}

#[test]
fn letters_of_drawings_are_covered_too() {
    let mut drawing = figure("A drawing");
    drawing.body = drawing.body.replace("Σπύρος", "標");
    let parts = || one(vec![Block::Figure(Figure { ..clone(&drawing) })]).into_iter();
    let pdf = write(&head(), parts()).expect("a PDF");
    assert_eq!(pdf.missing, BTreeSet::from(['標']));
    let with = PdfHead {
        fonts: vec![font_with('標')],
        ..head()
    };
    assert!(write(&with, parts()).expect("a PDF").missing.is_empty());
}

fn clone(figure: &Figure) -> Figure {
    Figure {
        group: figure.group,
        width: figure.width,
        height: figure.height,
        body: figure.body.clone(),
        title: figure.title.clone(),
        description: figure.description.clone(),
    }
}

#[test]
fn no_text_breaks_the_writer() {
    let hostile = [
        "",
        " ",
        "   a   b ",
        &"W".repeat(4_000),
        &"i ".repeat(600),
        "<b>&amp;</b>",
        "\u{0}\u{1b}[2J\r\n\u{7f}",
        "\u{202e}gnp.exe\u{2066}",
        "שלום abc \u{5d0}\u{301}) 12 (",
        "مرحبا بالعالم 42",
        "👩\u{200d}👩\u{200d}👧 🎯\u{fe0f}",
        "標的 かな 한국어",
        "e\u{301}\u{301}\u{301}",
        "\u{301}",
        "\u{fffe}\u{ffff}\u{10ffff}",
        "नमस्ते क्ष",
        "\u{feff}",
        "a-b/c–d",
        "−1/2",
        &"標".repeat(200),
        &"ש".repeat(900),
    ];
    for text in hostile {
        let word = || text.to_owned();
        let mut rows = table(2, Some("nowhere"));
        rows.caption = word();
        rows.rows[0].cells = (0..7).map(|_| Cell::Text(word())).collect();
        rows.rows[1].cells[1] = Cell::Text(word());
        let mut short = table(1, Some("one"));
        short.rows[0].cells.truncate(1);
        let drawing = Figure {
            title: word(),
            description: word(),
            ..figure("")
        };
        let blocks = vec![
            Block::Heading(word()),
            Block::Heading(word()),
            Block::Text(word()),
            Block::Points(vec![word(), word()]),
            Block::Facts(vec![fact(text, Some(text)), fact(text, None)]),
            Block::Verdict {
                mark: Mark::NoLimit,
                words: word(),
            },
            Block::Grid(rows),
            Block::Grid(short),
            Block::Grid(Grid {
                caption: word(),
                columns: Vec::new(),
                rows: Vec::new(),
            }),
            Block::Figure(drawing),
            Block::Signature(vec![fact(text, None), fact(text, Some(text))]),
            Block::Cautions(vec![word()]),
            Block::Points(Vec::new()),
            Block::Heading(word()),
        ];
        let head = PdfHead {
            title: word(),
            author: Some(word()),
            subject: Some(word()),
            ..head()
        };
        let whole = Part {
            anchor: "one".to_owned(),
            title: word(),
            kicker: word(),
            foot: word(),
            on_one_page: false,
            listed: None,
            blocks,
        };
        let pdf =
            write(&head, std::iter::once(whole)).unwrap_or_else(|e| panic!("{text:.40}: {e}"));
        assert!(pdf.bytes.starts_with(b"%PDF"));
    }
}

#[test]
fn a_link_to_nothing_is_plain_words() {
    let parts = || one(vec![Block::Grid(table(3, Some("nowhere")))]);
    let pdf = write(&head(), parts().into_iter()).expect("a PDF");
    assert!(!occurs(&pdf.bytes, "/Subtype/Link"));
    assert!(words_of(&pages_of(&head(), parts())).contains("outside radius 2"));
}

#[test]
fn what_cannot_be_written_says_why() {
    assert!(matches!(
        write(&head(), std::iter::empty()),
        Err(PdfError::Empty)
    ));
    // Without end: memory must have one.
    let parts = std::iter::repeat_with(|| part("a", "A board", vec![]));
    assert!(matches!(write(&head(), parts), Err(PdfError::TooLong)));
    let bad = PdfHead {
        fonts: vec![font_with('標'), b"no font".to_vec()],
        ..head()
    };
    assert!(matches!(
        write(&bad, sample().into_iter()),
        Err(PdfError::Font { number: 2 })
    ));
    for broken in [
        Figure {
            body: "<g>".to_owned(),
            ..figure("Broken")
        },
        Figure {
            width: f64::NAN,
            ..figure("Broken")
        },
        Figure {
            height: 0.0,
            ..figure("Broken")
        },
    ] {
        let result = write(&head(), one(vec![Block::Figure(broken)]).into_iter());
        assert!(matches!(
            result,
            Err(PdfError::Drawing { .. } | PdfError::Geometry)
        ));
    }
}
