//! Data in, text out. Nothing outside this room prints.

mod board_text;
pub mod escape;
mod findings;
mod phrases;
mod refusal;
mod style;
mod summary_text;

pub use board_text::{Detail, write_board};
pub use findings::{FindingsReport, shape as findings_shape};
pub use refusal::render_refusal;
pub use style::Style;
pub use summary_text::{Counts, write_summary};
