//! A band's outcome as it is marked on a drawing.

use super::super::phrases;
use crate::conformity::{BandFinding, BandOutcome, Verdict};

/// How a band came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Conforms,
    DoesNotConform,
    Inconclusive,
    NotChecked,
    /// The table sets no limit on it.
    NoLimit,
}

impl Mark {
    pub(super) const fn of(outcome: &BandOutcome<'_>) -> Self {
        match outcome {
            BandOutcome::Compared(band) => match band.verdict {
                Some(verdict) => Self::of_verdict(verdict),
                None => Self::NoLimit,
            },
            BandOutcome::NoNominal(_) => Self::NoLimit,
            BandOutcome::NotChecked(_) => Self::NotChecked,
        }
    }

    pub(super) const fn of_verdict(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Conforms => Self::Conforms,
            Verdict::DoesNotConform => Self::DoesNotConform,
            Verdict::Inconclusive => Self::Inconclusive,
        }
    }

    /// What stands after a number.
    pub(super) const fn sign(self) -> &'static str {
        match self {
            Self::Conforms => "✓",
            Self::DoesNotConform => "✗",
            Self::Inconclusive => "?",
            Self::NotChecked => "–",
            Self::NoLimit => "",
        }
    }

    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::DoesNotConform => "does not conform",
            Self::Inconclusive => "inconclusive",
            Self::NotChecked => "not checked",
            Self::NoLimit => "no limit",
        }
    }

    /// Stroke and dashes of a band's outline; one that is in order has none, and
    /// one that was not checked has no edges to speak of.
    pub(super) const fn outline(self) -> Option<(f64, &'static str)> {
        match self {
            Self::Conforms | Self::NoLimit | Self::NotChecked => None,
            Self::DoesNotConform => Some((2.0, "none")),
            Self::Inconclusive => Some((1.3, "6 3")),
        }
    }
}

/// The figure on a band.
pub(super) fn figure(finding: &BandFinding<'_>) -> String {
    let sign = Mark::of(&finding.outcome).sign();
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
            Mark::of(&finding.outcome).words()
        ),
        BandOutcome::NoNominal(free) => format!(
            "{band}: free area {:.1} mm²; the table has no nominal board to set it against",
            free.area.free.as_mm2()
        ),
        BandOutcome::NotChecked(missing) => {
            format!("{band}: not checked; needs {}", missing.join(", "))
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
