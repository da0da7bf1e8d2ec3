//! A seeded source of throws for the tests: splitmix64, and normal deviates by
//! Box and Muller.

pub(super) struct Dice(u64);

impl Dice {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0, at most 1.
    #[allow(clippy::cast_precision_loss)]
    fn uniform(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 1.0) / 9_007_199_254_740_992.0
    }

    #[allow(clippy::cast_possible_truncation)]
    pub(super) fn below(&mut self, limit: usize) -> usize {
        (self.next() % limit as u64) as usize
    }

    /// Two independent standard normal deviates.
    pub(super) fn normal(&mut self) -> (f64, f64) {
        let radius = libm::sqrt(-2.0 * libm::log(self.uniform()));
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * self.uniform());
        (radius * cos, radius * sin)
    }
}
