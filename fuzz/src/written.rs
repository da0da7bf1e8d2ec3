//! What was read and is written again must read the same.

use ringrule::board::{Board, BoardFile, shape};
use ringrule::document::{Problems, Source, parse};
use ringrule::readings::to_yaml;

use crate::NAME;

/// Writes the file of a board anew, reads that, and compares every length.
pub fn same_board(file: &BoardFile, board: &Board) {
    let text = to_yaml(file, "").expect("every file of a board can be written");
    let again = Board::read(Source::new(NAME, &*text));
    let again = again.unwrap_or_else(|invalid| panic!("{invalid}\n{text}"));
    assert_eq!(board.key(), again.key(), "{text}");
    let lengths = |board: &Board| -> Vec<String> {
        let inputs = board.construction.inputs.iter();
        let told = inputs.map(|own| {
            let value = own.value.as_mm();
            format!("{} {value} {:?}", own.name(), own.uncertainty)
        });
        told.collect()
    };
    assert_eq!(lengths(board), lengths(&again), "{text}");
    assert_eq!(
        to_yaml(&file_of(&text), "").as_deref(),
        Some(&*text),
        "written twice"
    );
}

/// The raw file in a text that is known to be a board.
pub fn file_of(text: &str) -> BoardFile {
    let document = parse(Source::new(NAME, text)).expect("it was read before");
    let file = shape().read(&document, &mut Problems::default());
    file.expect("it was read before")
}
