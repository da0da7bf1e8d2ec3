//! A player's sighting error and spread from where darts landed, misses among
//! them.
//!
//! The sighting error is how far the mean place lies from the aim; the spread
//! is about that mean. A dart that scored nothing left no place behind. It is
//! not left out, which would make a poor player good: the likelihood counts it
//! with the probability of all that scores nothing. The fit then goes step by
//! step to the likeliest throw (expectation and maximisation: Dempster, Laird
//! and Rubin, J. R. Statist. Soc. B 39, 1977, from memory): what a miss adds to the mean and
//! the squares is what misses add in the mean under the throw so far.

use crate::geometry::Point;
use crate::play::{Estimated, PlayError, Setup, Slope, Spread, Throw, Worth};

/// The fewest darts with places: two always lie on a line.
const FEWEST: usize = 3;
/// The fit ends when its step is shorter than this share of the spread.
const CLOSE: f64 = 1e-10;
const MOST_STEPS: usize = 2000;
/// Below this probability of so unequal a spread by chance, a player's is taken
/// to be elliptical. House rule.
const UNLIKELY: f64 = 0.05;
/// Darts on a board measured in inches lie within this of its centre, in the
/// unit they were written in: 451 mm across (from memory: World Darts
/// Federation) are 8.9 in to the edge.
const EDGE_IN_INCHES: f64 = 8.9;

/// Where one dart went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Landed {
    /// It stuck here, in mm right of and above the centre.
    At(Point),
    /// It scored nothing: beyond the double ring, or lost on metal. Nobody
    /// knows where.
    Missed,
}

/// What positions say of a player.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct PositionFit {
    /// How many darts it is from, misses included.
    pub throws: usize,
    /// How many of them missed.
    pub missed: usize,
    /// The mean place, in mm right of and above the centre; misses counted.
    pub mean: [Estimated; 2],
    /// The sighting error: the mean place from the aim, in mm right and up.
    /// Left out if the aim is not known.
    pub offset: Option<[Estimated; 2]>,
    /// How probable so large an error is by chance, for a player who has none:
    /// Hotelling's test, exact for normal throws without misses. Small: the
    /// error is real.
    pub offset_by_chance: Option<f64>,
    /// The spread about the mean, taken to be the same in every direction, in mm.
    pub sigma: Estimated,
    /// The spread sideways, in mm.
    pub sigma_x: Estimated,
    /// The spread up and down, in mm.
    pub sigma_y: Estimated,
    /// The correlation of right with up.
    pub rho: f64,
    /// Twice the logarithm of how many times likelier an elliptical spread makes
    /// the darts than a round one.
    pub likelihood_ratio: f64,
    /// How probable so large a ratio is by chance, for a player whose spread is
    /// round: exact for normal throws without misses (Mauchly, Ann. Math.
    /// Statist. 11, 1940, from memory; simulated in a test).
    pub unequal_by_chance: f64,
}

impl PositionFit {
    /// Whether the darts show that the spread is not the same in every
    /// direction: by chance they would be so unequal in fewer than one of twenty
    /// samples (house rule). A small sample rarely shows it.
    pub fn is_elliptical(&self) -> bool {
        self.unequal_by_chance < UNLIKELY
    }

    /// The spread: the same in every direction unless the darts show otherwise.
    pub fn spread(&self) -> Result<Spread, PlayError> {
        if self.is_elliptical() {
            let (x, y) = (self.sigma_x.value, self.sigma_y.value);
            // Darts on one line show no spread across it.
            Spread::with(x, y, self.rho).or_else(|_| Spread::new(self.sigma.value))
        } else {
            Spread::new(self.sigma.value)
        }
    }

    /// The spread of a player who never corrects the sighting error: about the
    /// aim instead of the mean, the same in every direction. `None` if the aim is
    /// not known.
    pub fn sigma_about_aim(&self) -> Option<f64> {
        let [x, y] = self.offset?.map(|offset| offset.value);
        let sigma = self.sigma.value;
        Some(libm::sqrt(sigma * sigma + 0.5 * (x * x + y * y)))
    }
}

/// Fits sighting error and spread to darts that were all aimed at one place.
/// `setup` says what scores nothing, and counts only where darts missed.
///
/// Variances are divided by one less than the number of darts, since the mean
/// is fitted too. Standard uncertainties are those of normal throws: σ/√n of a
/// mean, σ/√(2ν) of a spread with ν = n − 1 degrees of freedom, two of them a
/// dart where the directions are taken together; n counts the darts with places.
///
/// Refused: fewer than three places, places that are none, and darts all in one
/// place.
pub fn fit_positions(
    setup: Setup<'_>,
    landed: &[Landed],
    aim: Option<Point>,
) -> Result<PositionFit, PlayError> {
    let places = places(landed, aim)?;
    let missed = landed.len() - places.len();
    let own = Moments::of(&places);
    if own.trace() <= 0.0 {
        return Err(PlayError::NoScatter);
    }
    let fit = |round| likeliest(setup, &places, missed, own, round);
    let (round, free) = (fit(true)?, fit(false)?);
    let n = landed.len() as f64;
    let seen = places.len() as f64;
    let likelihood_ratio = if missed == 0 {
        n * -libm::log(free.roundness())
    } else {
        let log = |moments| log_likelihood(setup, &places, missed, moments);
        2.0 * (log(free)? - log(round)?)
    };
    let likelihood_ratio = likelihood_ratio.max(0.0);
    // In the plane the ratio is exactly exponential, but for this factor.
    let unequal_by_chance = libm::exp(-0.5 * likelihood_ratio * (n - 2.0) / n);
    let unbiased = n / (n - 1.0);
    let sigma = |variance: f64, free: f64| {
        let value = libm::sqrt(variance * unbiased);
        Estimated {
            value,
            uncertainty: value / libm::sqrt(2.0 * free),
        }
    };
    let [xx, xy, yy] = free.squares;
    let along = |value: f64, variance: f64| Estimated {
        value,
        uncertainty: libm::sqrt(variance * unbiased / seen),
    };
    let mean = [along(free.mean.x, xx), along(free.mean.y, yy)];
    let offset = aim.map(|aim| {
        [
            along(free.mean.x - aim.x, xx),
            along(free.mean.y - aim.y, yy),
        ]
    });
    let offset_by_chance = aim.map(|aim| {
        // T²/(n − 1) is the squared distance in units of the fitted spread; the
        // tail of F with two degrees of freedom has a closed form.
        let off = free.mean - aim;
        let solved = yy * off.x * off.x - 2.0 * xy * off.x * off.y + xx * off.y * off.y;
        let squared = solved / (xx * yy - xy * xy);
        let chance = libm::pow(1.0 + squared, -0.5 * (seen - 2.0));
        if chance.is_nan() { 0.0 } else { chance }
    });
    Ok(PositionFit {
        throws: landed.len(),
        missed,
        mean,
        offset,
        offset_by_chance,
        sigma: sigma(0.5 * round.trace(), 2.0 * (seen - 1.0)),
        sigma_x: sigma(xx, seen - 1.0),
        sigma_y: sigma(yy, seen - 1.0),
        rho: if xx > 0.0 && yy > 0.0 {
            (xy / libm::sqrt(xx * yy)).clamp(-1.0, 1.0)
        } else {
            0.0
        },
        likelihood_ratio,
        unequal_by_chance,
    })
}

/// Whether places that were given in mm look like inches: none lies further
/// from the centre than a board's edge does in inches, though the aim lies three
/// times as far or more. At the bull nothing can be told. House rule.
pub fn look_like_inches(landed: &[Landed], aim: Point) -> bool {
    let mut places = landed.iter().filter_map(|landed| match landed {
        Landed::At(place) => Some(*place),
        Landed::Missed => None,
    });
    let near = |place: Point| place.norm() <= EDGE_IN_INCHES;
    aim.norm() > 3.0 * EDGE_IN_INCHES && places.clone().count() > 0 && places.all(near)
}

fn places(landed: &[Landed], aim: Option<Point>) -> Result<Vec<Point>, PlayError> {
    let places: Vec<Point> = landed
        .iter()
        .filter_map(|landed| match landed {
            Landed::At(place) => Some(*place),
            Landed::Missed => None,
        })
        .collect();
    let bad = |place: &&Point| !(place.x.is_finite() && place.y.is_finite());
    if let Some(bad) = places.iter().chain(&aim).find(bad) {
        return Err(PlayError::NotAPlace(bad.x, bad.y));
    }
    if places.len() < FEWEST {
        return Err(PlayError::TooFewThrows {
            throws: places.len(),
            needed: FEWEST,
        });
    }
    Ok(places)
}

/// A mean and mean squares about it: xx, xy and yy.
#[derive(Clone, Copy, Debug)]
struct Moments {
    mean: Point,
    squares: [f64; 3],
}

impl Moments {
    fn of(places: &[Point]) -> Self {
        let n = places.len() as f64;
        let sum = places.iter().fold(Point::ORIGIN, |sum, place| sum + *place);
        let mean = sum * (1.0 / n);
        let mut squares = [0.0; 3];
        for place in places {
            add(&mut squares, 1.0 / n, *place - mean);
        }
        Self { mean, squares }
    }

    fn trace(&self) -> f64 {
        let [xx, _, yy] = self.squares;
        xx + yy
    }

    /// The determinant over that of a round spread of the same trace: 1 if it is
    /// round, 0 if it is a line.
    fn roundness(&self) -> f64 {
        let [xx, xy, yy] = self.squares;
        let half = 0.5 * (xx + yy);
        ((xx * yy - xy * xy) / (half * half)).max(f64::MIN_POSITIVE)
    }

    /// The same in every direction.
    fn rounded(self) -> Self {
        let half = 0.5 * self.trace();
        Self {
            squares: [half, 0.0, half],
            ..self
        }
    }

    fn throw(&self) -> Result<Throw, PlayError> {
        let [xx, xy, yy] = self.squares;
        let (x, y) = (libm::sqrt(xx), libm::sqrt(yy));
        let round = || Spread::new(libm::sqrt(0.5 * (xx + yy)));
        let spread = Spread::with(x, y, xy / (x * y)).or_else(|_| round())?;
        Ok(Throw::at(self.mean, spread))
    }
}

fn add(squares: &mut [f64; 3], factor: f64, off: Point) {
    let products = [off.x * off.x, off.x * off.y, off.y * off.y];
    for (square, product) in squares.iter_mut().zip(products) {
        *square += factor * product;
    }
}

/// The likeliest throw; of those the same in every direction if `round`.
fn likeliest(
    setup: Setup<'_>,
    places: &[Point],
    missed: usize,
    own: Moments,
    round: bool,
) -> Result<Moments, PlayError> {
    let shaped = |moments: Moments| if round { moments.rounded() } else { moments };
    let mut now = shaped(own);
    if missed == 0 {
        return Ok(now);
    }
    let (seen, lost) = (places.len() as f64, missed as f64);
    let share = lost / (seen + lost);
    for _ in 0..MOST_STEPS {
        let miss = misses(setup, now)?;
        let mean = own.mean * (1.0 - share) + miss.mean * share;
        let mut next = Moments {
            mean,
            squares: [0.0; 3],
        };
        for (weight, part) in [(1.0 - share, &own), (share, &miss)] {
            for (square, value) in next.squares.iter_mut().zip(part.squares) {
                *square += weight * value;
            }
            add(&mut next.squares, weight, part.mean - mean);
        }
        let next = shaped(next);
        let scale = libm::sqrt(next.trace());
        let moved = (next.mean - now.mean).norm() + (scale - libm::sqrt(now.trace())).abs();
        now = next;
        if moved < CLOSE * scale {
            break;
        }
    }
    Ok(now)
}

/// Where darts are that score nothing, under a throw: with M its covariance and
/// P(a) the probability of scoring, scoring darts have mean a + M∇P/P and mean
/// products M + M·H·M/P about the aim a.
fn misses(setup: Setup<'_>, now: Moments) -> Result<Moments, PlayError> {
    let throw = now.throw()?;
    let scores = scoring(setup, &throw);
    let spread = throw.spread;
    let xx = spread.sigma_x() * spread.sigma_x();
    let yy = spread.sigma_y() * spread.sigma_y();
    let xy = spread.rho() * spread.sigma_x() * spread.sigma_y();
    let [gx, gy] = scores.gradient;
    let [hxx, hxy, hyy] = scores.hessian;
    let nothing = (1.0 - scores.value).max(1e-300);
    let first = Point::new(xx * gx + xy * gy, xy * gx + yy * gy) * (-1.0 / nothing);
    // M·H, then M·H·M.
    let (a, b) = (xx * hxx + xy * hxy, xx * hxy + xy * hyy);
    let (c, d) = (xy * hxx + yy * hxy, xy * hxy + yy * hyy);
    let bent = [a * xx + b * xy, a * xy + b * yy, c * xy + d * yy];
    let mut squares = [xx, xy, yy];
    for (square, bent) in squares.iter_mut().zip(bent) {
        *square -= bent / nothing;
    }
    add(&mut squares, -1.0, first);
    Ok(Moments {
        mean: throw.aim + first,
        squares,
    })
}

fn scoring(setup: Setup<'_>, throw: &Throw) -> Slope {
    let any = Worth::from_fn(|_| 1.0);
    setup.face.slope(throw, setup.metal, &any)
}

/// The logarithm of the likelihood, but for a constant.
fn log_likelihood(
    setup: Setup<'_>,
    places: &[Point],
    missed: usize,
    moments: Moments,
) -> Result<f64, PlayError> {
    let throw = moments.throw()?;
    let [xx, xy, yy] = moments.squares;
    let determinant = xx * yy - xy * xy;
    let seen: f64 = places
        .iter()
        .map(|place| {
            let off = *place - moments.mean;
            let solved = yy * off.x * off.x - 2.0 * xy * off.x * off.y + xx * off.y * off.y;
            -0.5 * (libm::log(determinant) + solved / determinant)
        })
        .sum();
    let nothing = (1.0 - scoring(setup, &throw).value).max(1e-300);
    Ok(seen + missed as f64 * libm::log(nothing))
}

#[cfg(test)]
mod tests;
