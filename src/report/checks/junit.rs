//! `JUnit` XML, as CI hosts read it: a suite for each file, a case for each
//! check.

use quick_junit::{NonSuccessKind, Report, TestCase, TestCaseStatus, TestSuite};

use super::{CheckOutcome, Checks, Found, Standing};
use crate::report::escape;

/// Every check as a case. A file without checks has one that passes, since a
/// suite without a case counts as an error with some hosts.
pub fn junit(checks: &Checks) -> Result<String, quick_junit::SerializeError> {
    let mut report = Report::new(format!("ringrule {}", checks.command));
    for file in &checks.files {
        let mut suite = TestSuite::new(safe(&file.name));
        for outcome in &file.outcomes {
            let (code, title, status) = match outcome {
                CheckOutcome::Passed { code, title } => {
                    (code.as_str(), title, TestCaseStatus::success())
                }
                CheckOutcome::Found(found) => {
                    (&*found.diagnostic.code, &found.title, status(found))
                }
            };
            let mut case = TestCase::new(safe(&format!("{code}: {title}")), status);
            case.set_classname(safe(&file.name));
            suite.add_test_case(case);
        }
        if file.outcomes.is_empty() {
            let mut read = TestCase::new("the file can be read", TestCaseStatus::success());
            read.set_classname(safe(&file.name));
            suite.add_test_case(read);
        }
        report.add_test_suite(suite);
    }
    let mut text = report.to_string()?;
    if !text.ends_with('\n') {
        text.push('\n');
    }
    Ok(text)
}

fn status(found: &Found) -> TestCaseStatus {
    let diagnostic = &found.diagnostic;
    let message = safe(&diagnostic.message);
    let mut words = format!("{}\n{message}", safe(&diagnostic.place.to_string()));
    if let Some(remedy) = &diagnostic.remedy {
        words.push_str(&format!("\n{}", safe(remedy)));
    }
    for other in &diagnostic.related {
        words.push_str(&format!(
            "\n{}",
            safe(&format!("{}  {}", other.place, other.label))
        ));
    }
    let failure = || TestCaseStatus::non_success(NonSuccessKind::Failure);
    let mut status = match &found.standing {
        Standing::Counts => {
            let mut status = failure();
            status.set_message(message);
            status.set_type(diagnostic.level.word());
            status
        }
        Standing::NotMade => {
            let mut status = failure();
            status.set_message(format!("not checked: {message}"));
            status.set_type("not checked");
            status
        }
        Standing::Waived { because, .. } => {
            let mut status = TestCaseStatus::skipped();
            status.set_message(safe(&format!("waived: {because}")));
            status
        }
    };
    status.set_description(words);
    status
}

/// XML has no place for control characters at all, so they are spelt out.
fn safe(text: &str) -> String {
    text.split('\n')
        .map(|line| escape::terminal(line))
        .collect::<Vec<_>>()
        .join("\n")
}
