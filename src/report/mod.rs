//! Data in, text out. Nothing outside this room prints.

mod board_rows;
mod board_text;
mod checks;
mod comparison;
mod compliance;
mod drawing;
pub mod escape;
mod finding_records;
mod findings;
mod fonts;
mod lint_records;
mod lint_text;
mod mark;
mod paper;
mod phrases;
mod pool_text;
mod reasons;
mod refusal;
mod rule_pages;
mod simulation_text;
mod style;
mod summary_text;
mod worksheet;

pub use board_text::{Detail, write_board};
pub use checks::{
    AnnotationHost, Check, CheckRule, CheckedFile, Checks, FindingChecks, RelatedSpot, Severity,
    Spot, State, annotations, junit, lint_checks, sarif,
};
pub use comparison::{
    ComparisonReport, Plot, comparison_html, comparison_markdown, comparison_plot, comparison_text,
    shape as comparison_shape,
};
pub use compliance::{
    BoardLine, Compliance, PaperSize, Pdf, PdfError, ReportFormat, shape as report_shape,
};
pub use drawing::{DrawingError, What, draw_png, draw_svg};
pub use findings::{FindingsReport, shape as findings_shape};
pub use lint_records::{LintHead, lint_json, shape as lint_shape};
pub use lint_text::lint_text;
pub use pool_text::write_pooled;
pub use refusal::render_refusal;
pub use rule_pages::{rule_list, rule_page, rules_markdown, structure_page};
pub use style::Style;
pub use summary_text::{Counts, write_summary};
pub use worksheet::{SheetHead, worksheet_csv, worksheet_html};
