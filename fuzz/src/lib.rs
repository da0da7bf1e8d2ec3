//! What the targets share: the promises of every reader, and how texts are changed.

mod changed;
mod written;

use std::sync::LazyLock;

pub use changed::{change_text, change_workbook};
pub use written::{file_of, same_board};

use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::{InvalidFile, Source};
use ringrule::geometry::{Point, Spider};
use ringrule::lint::{Content, Levels, Settings, Subject, Thresholds, lint_file, tidy};
use ringrule::play::{Face, Metal, Setup, Target};
use ringrule::readings::{IntakeOptions, take_in};
use ringrule::report::{Detail, FindingsReport, TextLayout, board_text};
use ringrule::table::{BuiltIn, Table};
use ringrule::workbook::Workbook;

/// The name that every file under test has.
pub const NAME: &str = "file";

/// Characters of a message. House rule: nobody reads more of one.
const LONGEST: usize = 1000;

/// The built-in table.
pub static TABLE: LazyLock<Table> = LazyLock::new(|| {
    let wdf = BuiltIn::named("wdf").expect("it is built in");
    Table::read(wdf.source(), &()).expect("it is sound")
});

/// Board R, which is to rule.
pub static BOARD: LazyLock<Board> = LazyLock::new(|| {
    let text = include_str!("../../tests/fixtures/board-r.yaml");
    Board::read(Source::new("board-r.yaml", text)).expect("it is sound")
});

static FACE: LazyLock<Face> = LazyLock::new(|| {
    Face::of(&Spider::of(&BOARD.construction)).expect("every wire of board R is known")
});

/// Board R with darts lost that hit its metal.
pub fn setup() -> Setup<'static> {
    Setup {
        face: &FACE,
        metal: Metal::Lost,
    }
}

/// The middle of its treble 20.
pub fn middle_of_treble() -> Point {
    let treble: Target = "T20".parse().expect("a target");
    FACE.middle(treble.main_bed())
}

/// The bytes as a file of text, or refused as every file is.
pub fn source(bytes: &[u8]) -> Option<Source> {
    match Source::from_reader(bytes, NAME) {
        Ok(source) => Some(source),
        Err(invalid) => {
            holds(&invalid, "");
            None
        }
    }
}

/// What is promised of every refusal: it names a place within the file, says what is wrong,
/// and is not endless. `text` is what places lie in.
pub fn holds(invalid: &InvalidFile, text: &str) {
    assert!(!invalid.diagnostics.is_empty());
    let lines = text.split(['\n', '\r']).count();
    for found in &invalid.diagnostics {
        let span = found.place.span;
        assert!(!found.message.is_empty());
        assert!(
            span.start <= span.end && span.end <= text.len(),
            "{found:?}"
        );
        assert!(found.place.from.line <= lines, "{found:?}");
        let length = found.message.chars().count();
        assert!(length < LONGEST, "{}", found.message);
        let remedy = found.remedy.as_deref().unwrap_or_default();
        assert!(remedy.chars().count() < LONGEST, "{remedy}");
    }
}

/// The same of all that are about the file itself.
pub fn all_hold(invalid: &[InvalidFile], text: &str) {
    assert!(!invalid.is_empty());
    let own = invalid.iter().filter(|own| own.file.name() == NAME);
    own.for_each(|own| holds(own, text));
}

/// A file in our YAML, as commands read it: tidied, and then looked at by every rule.
pub fn read_as_commands_do(source: Source) -> Option<Subject> {
    let text = source.text().to_owned();
    if let Ok(Some(tidied)) = tidy(&source) {
        let again = tidy(&Source::new(NAME, &*tidied));
        assert!(matches!(again, Ok(None)), "tidied twice: {tidied}");
    }
    match Subject::read(source, &(), Thresholds::default()) {
        Ok(subject) => {
            let _ = lint_file(&subject, &Settings::default(), &Levels::default());
            Some(subject)
        }
        Err(invalid) => {
            all_hold(&invalid, &text);
            None
        }
    }
}

/// What commands say of a board that could be read.
pub fn judged(board: &Board, table: &Table) {
    let judge = Judge::new(table);
    let found = judge.judge(board);
    let said = board_text(&found, Detail::Everything, TextLayout::default());
    // One of the three verdicts is in it.
    assert!(
        said.contains("conclusive") || said.contains("conform"),
        "{said}"
    );
    let mut report = FindingsReport::new(Some(table));
    report.add(&found);
    assert!(report.to_json().is_ok());
}

/// The board in a subject, if it is one.
pub fn board(subject: &Subject) -> Option<&Board> {
    match &subject.content {
        Content::Board(board) => Some(board),
        _ => None,
    }
}

/// Takes a workbook in: whatever is written of it is a board file that can be read.
pub fn taken_in(book: Workbook) {
    let text = book.source.text().to_owned();
    let intake = take_in(&[book], &IntakeOptions::default());
    for taken in &intake.boards {
        let board = Board::read(Source::new(NAME, &*taken.text));
        let board = board.unwrap_or_else(|invalid| panic!("{invalid}\n{}", taken.text));
        assert_eq!(board.key().0, taken.id, "{}", taken.text);
        same_board(&file_of(&taken.text), &board);
    }
    for invalid in &intake.invalid_files {
        holds(invalid, &text);
    }
}
