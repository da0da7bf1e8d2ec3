//! Data in, text out. Nothing outside this room prints.

mod checks;
#[cfg(feature = "cli")]
mod diagnostic_text;
mod draw;
pub mod escape;
mod fit;
#[cfg(feature = "draw")]
mod fonts;
mod page;
mod records;
mod says;
mod style;

pub use checks::{
    AnnotationHost, CheckOutcome, CheckRule, CheckedFile, Checks, FindingChecks, Found, Standing,
    annotations, junit, lint_checks, sarif,
};
#[cfg(feature = "cli")]
pub use diagnostic_text::render_invalid_file;
pub use draw::{DrawingError, What, draw_residuals, draw_svg};
#[cfg(feature = "draw")]
pub use draw::{draw_png, picture};
pub use page::TextLayout;
#[cfg(feature = "pdf")]
pub use page::{PaperSize, Pdf, PdfError, is_font};
pub use records::areas_compared::{AreasComparedReport, shape as areas_compared_shape};
pub use records::areas_compared_rows::areas_compared_rows;
pub use records::comparison::{ComparisonReport, shape as comparison_shape};
pub use records::comparison_rows::comparison_rows;
pub use records::findings::{FindingsReport, shape as findings_shape};
pub use records::history::{history_json, history_rows, shape as history_shape};
pub use records::leg::{LegReport, shape as leg_shape};
pub use records::leg_rows::leg_rows;
pub use records::lint_records::{LintHead, lint_json, shape as lint_shape};
pub use records::lot::{LotReport, shape as lot_shape};
pub use records::lot_rows::lot_rows;
pub use records::report::shape as report_shape;
pub use records::rows::{check_heads, check_rows, invalid_rows, lint_rows};
pub use records::streamed::{StreamedRecord, shape as record_shape};
pub use records::use_rows::{use_rows, venue_rows};
#[cfg(feature = "workbook")]
pub use records::workbook::{WorkbookError, results_workbook};
#[cfg(feature = "workbook")]
pub use says::blank_workbook::{BlankError, BlankHead, blank_workbook};
pub use says::board_text::{Detail, board_text};
pub use says::budget::{NoSuchCheck, budget_text, check_budget_names};
pub use says::comparison::by_area::{
    areas_compared_html, areas_compared_markdown, areas_compared_text,
};
pub use says::comparison::{
    Plot, comparison_html, comparison_markdown, comparison_plot, comparison_text,
};
pub use says::compliance::{BoardLine, Compliance, Past, ReportDetail, ReportFormat};
pub use says::desk::{
    LengthRemark, desk_style, edges_html, glance_html, length_remarks, problems_of, standing_html,
    taking_html,
};
pub use says::digitised_text::write_digitised;
#[cfg(feature = "pdf")]
pub use says::history::history_pdf;
pub use says::history::{ChangesShown, history_html, history_markdown, history_text};
pub use says::leg::{leg_html, leg_markdown, leg_text};
#[cfg(feature = "cli")]
pub use says::lint_text::lint_text;
pub use says::lot::{lot_html, lot_markdown, lot_text};
pub use says::pool_text::write_pooled;
pub use says::rule_pages::{rule_list, rule_page, rules_markdown, structure_page};
pub use says::summary_text::{Counts, summary_text};
pub use says::usage::{Usage, usage_text};
pub use says::worksheet::{PlannedSheet, SheetHead, worksheet_csv};
pub use says::worksheet_page::worksheet_html;
#[cfg(feature = "pdf")]
pub use says::{
    comparison::by_area::areas_compared_pdf, comparison::comparison_pdf, leg::leg_pdf,
    lot::lot_pdf, worksheet_page::worksheet_pdf,
};
pub use style::Style;
