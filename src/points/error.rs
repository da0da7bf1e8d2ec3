//! Why no circle or line can be laid through points.

/// Points through which no circle or line can be laid.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PointsError {
    /// Fewer points than show how well a circle or a line fits.
    #[error("{} few for a {what}, which needs {needed} at least", are(*given))]
    TooFew {
        /// What was to be fitted: a circle or a line.
        what: &'static str,
        /// How many points there are.
        given: usize,
        /// How many are needed.
        needed: usize,
    },
    /// A coordinate that is not a number, or too large to be reckoned with.
    #[error("point {0} of these has a coordinate that is not a finite number of a usable size")]
    NotFinite(usize),
    /// Points that lie on one another.
    #[error(
        "these points lie in no more than {distinct} different places, and a {what} needs {needed}"
    )]
    Coincident {
        /// What was to be fitted: a circle or a line.
        what: &'static str,
        /// In how many different places they lie.
        distinct: usize,
        /// How many places are needed.
        needed: usize,
    },
    /// Points on a straight line, as far as they show.
    #[error("as far as these points show, they lie on a straight line and not on a circle")]
    Collinear,
    /// Points that lie on no circle in particular.
    #[error("no circle fits these points better than all others")]
    NoFit,
    /// Points of a line that lie to both sides of the centre that it is seen from.
    #[error("these points do not show to which side of the centre their line runs")]
    NoSide,
}

impl PointsError {
    /// What to do instead.
    pub const fn remedy(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "take more points: a dozen, well apart, are good",
            Self::NotFinite(_) => "correct or leave out this point",
            Self::Coincident { .. } => "take points apart from one another",
            Self::Collinear => "take points further round the ring, all round where that can be",
            Self::NoFit => "check to what these points belong",
            Self::NoSide => "take points of a wire between the outer bull and the double only",
        }
    }
}

fn are(given: usize) -> String {
    match given {
        1 => "1 point is too".to_owned(),
        more => format!("{more} points are too"),
    }
}
