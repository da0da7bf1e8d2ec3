//! Checks in the formats that CI hosts and editors read: SARIF, `JUnit` XML
//! and workflow annotations. `validate` and `lint` put theirs into one neutral form
//! here; one writer a format does the rest.

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
pub use model::{Check, CheckRule, CheckedFile, Checks, RelatedSpot, Severity, Spot, State};
pub use sarif::sarif;
