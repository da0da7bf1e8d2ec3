//! Why no circle or line can be laid through points.

/// Points through which no circle or line can be laid.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PointsError {
    /// Fewer points than show how well a circle or a line fits.
    #[error("{given} points are too few for a {what}: take {needed} at least, better a dozen")]
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
        "these points lie in {distinct} different places, and a {what} needs {needed}: take points \
         apart from one another"
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
    #[error(
        "these points lie on a straight line as far as they show, and not on a circle: take them \
         further round the ring"
    )]
    Collinear,
    /// Points that lie on no circle in particular.
    #[error("no circle fits these points better than all others: check to what they belong")]
    NoFit,
    /// Points of a line that begin at the centre that it is seen from.
    #[error("these points do not show to which side of the centre the line runs")]
    NoSide,
}
