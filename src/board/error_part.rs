//! What makes a recorded length differ from the true one.

use crate::units::Uncertainty;

/// One cause of error of a recorded length. The causes of one length are
/// independent of each other; the same [common error](CommonError) may stand
/// behind several lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct ErrorPart {
    /// What causes it.
    pub cause: Cause,
    /// How large it is, in mm.
    pub uncertainty: Uncertainty,
    /// Whether other lengths have the same error.
    pub sharing: Sharing,
}

/// What causes an error.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Cause {
    /// Whatever an uncertainty that the file states stands for.
    Stated,
    /// The scatter of repeated readings.
    Scatter,
    /// The difference between people: what else they do not share, such as the
    /// touch of each.
    BetweenPeople,
    /// The step of the instrument's display.
    Resolution,
    /// The error that the instrument's specification permits.
    PermissibleError,
    /// What is not known of the instrument's correction.
    Correction,
    /// What is not known of the temperature at which lengths were measured.
    Temperature,
    /// What is not known of the board's coefficient of expansion.
    Expansion,
    /// What is not known of the instruments' coefficient of expansion.
    InstrumentExpansion,
    /// How far a wire of a named gauge is from the gauge's thickness.
    Gauge(GaugeGround),
}

/// On whose word a wire's gauge is as good as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GaugeGround {
    /// The tolerance table's.
    Table,
    /// A house rule of this program.
    HouseRule,
}

/// Whether other lengths have the same error.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sharing {
    /// It is this length's alone.
    Own,
    /// All lengths that name the same one have it.
    Common(CommonError),
    /// That is not known: whichever gives the larger uncertainty counts.
    Unknown(CommonError),
}

/// An error that several lengths have in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum CommonError {
    /// The permissible one of the instrument with this index among the board's
    /// instruments.
    Instrument(usize),
    /// What is not known of the correction of the instrument with this index.
    Correction(usize),
    /// What people do not share, at the places of one length: this is the index of
    /// the length among those that people took at places.
    BetweenPeople(usize),
    /// That of the temperature at which all lengths were measured, on the day with
    /// this index: 0 unless inspections of several days are looked at together.
    Temperature(usize),
    /// That of the board's coefficient of expansion.
    Expansion,
    /// The same of the second of two boards that are looked at together.
    OtherExpansion,
    /// That of the instruments' coefficient of expansion.
    InstrumentExpansion,
}

/// The shape of a distribution of errors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Distribution {
    /// Normal; Student's t where the degrees of freedom are few.
    Normal,
    /// Anywhere within ± √3 standard uncertainties, with equal probability.
    Rectangular,
}

/// What to take errors for of which it is not known whether they are common.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Assumption {
    /// They are.
    Common,
    /// They are not.
    Independent,
}

impl Cause {
    /// The distribution of such errors (JCGM 100, 4.3.7 and F.2.2.1, from
    /// memory, for what is known by its bounds alone).
    pub const fn distribution(self) -> Distribution {
        match self {
            Self::Resolution | Self::PermissibleError => Distribution::Rectangular,
            Self::Stated
            | Self::Scatter
            | Self::BetweenPeople
            | Self::Correction
            | Self::Temperature
            | Self::Expansion
            | Self::InstrumentExpansion
            | Self::Gauge(_) => Distribution::Normal,
        }
    }
}

impl ErrorPart {
    /// An error of one length alone.
    pub(crate) const fn own(cause: Cause, uncertainty: Uncertainty) -> Self {
        Self {
            cause,
            uncertainty,
            sharing: Sharing::Own,
        }
    }

    /// The error that it has in common with other lengths, if it is taken to.
    pub(crate) fn common(&self, assumption: Assumption) -> Option<CommonError> {
        match self.sharing {
            Sharing::Common(error) => Some(error),
            Sharing::Unknown(error) => (assumption == Assumption::Common).then_some(error),
            Sharing::Own => None,
        }
    }
}
