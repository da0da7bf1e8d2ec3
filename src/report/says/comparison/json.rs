//! The machine-readable comparison, `ringrule/comparison/1`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use crate::comparison::Comparison;
use crate::document::Shape;
use crate::report::escape;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of_report::<ComparisonReport>("Boards compared, from Ringrule"));
    &SHAPE
}

/// Boards compared. Every figure under the spread rule comes with each board's
/// own setting of metal and at both extremes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ComparisonReport {
    /// `ringrule/comparison/1`.
    format: String,
    /// That this is a calculation.
    notice: String,
    /// The comparison.
    #[serde(flatten)]
    comparison: Comparison,
}

impl ComparisonReport {
    /// The report on a comparison.
    pub fn new(comparison: Comparison) -> Self {
        Self {
            format: "ringrule/comparison/1".to_owned(),
            notice: "a calculation, not an official approval: the governing body's current rules \
                     prevail"
                .to_owned(),
            comparison,
        }
    }

    /// As one indented document.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        let text = serde_json::to_string_pretty(self)?;
        Ok(format!("{}\n", escape::json(&text)))
    }
}
