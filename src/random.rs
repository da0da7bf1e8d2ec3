//! Random numbers that are the same on every platform and every run.

/// A seeded stream: splitmix64 (Steele, Lea and Flood, OOPSLA 2014, constants
/// from memory).
pub(crate) struct Random {
    state: u64,
    spare: Option<f64>,
}

impl Random {
    /// The stream of this seed.
    pub(crate) const fn seeded(seed: u64) -> Self {
        Self {
            state: seed,
            spare: None,
        }
    }

    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0 and up to 1.
    pub(crate) fn uniform(&mut self) -> f64 {
        ((self.bits() >> 11) as f64 + 1.0) / 9_007_199_254_740_992.0
    }

    /// A whole number below a limit.
    #[cfg(test)]
    #[allow(clippy::cast_possible_truncation)]
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        (self.bits() % limit as u64) as usize
    }

    /// Two independent standard normal numbers (Box and Muller, Ann. Math.
    /// Statist. 29, 1958).
    pub(crate) fn normal_pair(&mut self) -> (f64, f64) {
        let radius = libm::sqrt(-2.0 * libm::log(self.uniform()));
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * self.uniform());
        (radius * cos, radius * sin)
    }

    /// One standard normal number.
    pub(crate) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let (number, spare) = self.normal_pair();
        self.spare = Some(spare);
        number
    }

    /// Student's t on any number of degrees of freedom ν above zero:
    /// √(ν·(U^(−2/ν) − 1))·cos 2πV (Bailey, Math. Comp. 62, 1994, from memory).
    pub(crate) fn student(&mut self, degrees_of_freedom: f64) -> f64 {
        let power = libm::pow(self.uniform(), -2.0 / degrees_of_freedom);
        let radius = libm::sqrt(degrees_of_freedom * (power - 1.0).max(0.0));
        radius * libm::cos(std::f64::consts::TAU * self.uniform())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normal_numbers_have_their_mean_and_spread() {
        // Four standard errors of a mean and of a standard deviation.
        let n = 40_000;
        let mut random = Random::seeded(5);
        let draws: Vec<f64> = (0..n).map(|_| random.normal()).collect();
        let mean = draws.iter().sum::<f64>() / f64::from(n);
        let square = draws.iter().map(|x| x * x).sum::<f64>() / f64::from(n);
        assert!(mean.abs() < 4.0 / f64::from(n).sqrt(), "{mean}");
        assert!(
            (square.sqrt() - 1.0).abs() < 4.0 / (2.0 * f64::from(n)).sqrt(),
            "{square}"
        );
    }
}
