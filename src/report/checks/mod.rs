//! Checks in the formats that CI hosts and editors read: SARIF, `JUnit` XML
//! and workflow annotations. Each writer reads [`Found`] diagnostics and what passed,
//! whether `validate` or `lint` checked.

mod annotations;
mod from_findings;
mod from_lint;
mod junit;
mod model;
mod sarif;

pub use annotations::{AnnotationHost, annotations};
pub use from_findings::FindingChecks;
pub use from_lint::lint_checks;
pub use junit::junit;
pub use model::{CheckOutcome, CheckRule, CheckedFile, Checks, Found, Standing};
pub use sarif::sarif;
