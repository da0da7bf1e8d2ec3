//! One line for each record of a stream, `ringrule/record/1`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::board::BoardRecord;
use super::findings::InvalidFileRecord;
use crate::conformity::Assessment;
use crate::document::{InvalidFile, Shape};
use crate::report::escape;

/// The shape of a record, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> = LazyLock::new(|| {
        Shape::of::<StreamedRecord>("What was found on one board of a stream, from Ringrule")
    });
    &SHAPE
}

/// What was found on one board of a stream; either `board` or `invalid` is there. Units are
/// those of `ringrule/findings/2`.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StreamedRecord {
    /// `ringrule/record/1`.
    format: String,
    /// The SHA-256 digest, in hexadecimal, of the line that the board came in, without the
    /// line's end.
    line_sha256: String,
    /// What was found. Its file is `record` where the line is the board itself.
    board: Option<Box<BoardRecord>>,
    /// Why it could not be used.
    invalid: Option<InvalidFileRecord>,
}

impl StreamedRecord {
    /// Of a line with this digest.
    pub fn new(line_sha256: String, found: Result<&Assessment<'_>, &InvalidFile>) -> Self {
        Self {
            format: "ringrule/record/1".to_owned(),
            line_sha256,
            board: found.ok().map(|assessment| Box::new(assessment.into())),
            invalid: found.err().map(InvalidFileRecord::from),
        }
    }

    /// As one line with its end.
    pub fn to_line(&self) -> Result<String, serde_json::Error> {
        let text = serde_json::to_string(self)?;
        Ok(escape::json(&text).into_owned() + "\n")
    }
}
