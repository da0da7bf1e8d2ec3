//! A band's outcome as it is marked on a drawing.

use crate::conformity::{BandFinding, BandOutcome};
use crate::report::mark::Mark;
use crate::report::says::{phrases, reasons};

/// Stroke and dashes of a band's outline; one that is in order has none, and one
/// that was not checked has no edges to speak of.
pub(super) const fn outline(mark: Mark) -> Option<(f64, &'static str)> {
    match mark {
        Mark::Conforms | Mark::NoLimit | Mark::NotChecked => None,
        Mark::DoesNotConform => Some((2.0, "none")),
        Mark::Inconclusive => Some((1.3, "6 3")),
    }
}

/// The figure on a band.
pub(super) fn figure(finding: &BandFinding<'_>) -> String {
    let sign = Mark::from(&finding.outcome).sign();
    let figure = match &finding.outcome {
        BandOutcome::Compared(band) => phrases::signed(band.deviation).replace('-', "−"),
        BandOutcome::NoNominal(free) => format!("{:.0} mm²", free.area.free.as_mm2()),
        BandOutcome::NotChecked(_) => return "– not checked".to_owned(),
    };
    format!("{figure} {sign}").trim_end().to_owned()
}

/// The band in a sentence, for who cannot see the drawing.
pub(super) fn sentence(finding: &BandFinding<'_>) -> String {
    let band = finding.band;
    match &finding.outcome {
        BandOutcome::Compared(compared) => format!(
            "{band}: {}; {}",
            phrases::deviation(compared),
            Mark::from(&finding.outcome).word()
        ),
        BandOutcome::NoNominal(free) => format!(
            "{band}: free area {:.1} mm²; the table has no nominal board to set it against",
            free.area.free.as_mm2()
        ),
        BandOutcome::NotChecked(missing) => {
            format!("{band}: not checked; needs {}", reasons::needs(missing))
        }
    }
}

/// What is shown besides, while a band is pointed at.
pub(super) fn details(finding: &BandFinding<'_>) -> Option<String> {
    let BandOutcome::Compared(band) = &finding.outcome else {
        return None;
    };
    Some(format!(
        "free area {:.1} mm², nominal {:.1} mm²; conforms within {}",
        band.free.area.free.as_mm2(),
        band.nominal.as_mm2(),
        phrases::within(band.bounds.as_ref())
    ))
}
