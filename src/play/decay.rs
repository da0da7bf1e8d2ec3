//! The one function that the boundary integral evaluates thousands of times.

use std::f64::consts::LOG2_E;

/// ln 2 in two parts, the first with its low bits zero so that multiples of it
/// are exact (from memory: the usual split after Cody and Waite; a test adds it up).
const LN_2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;

/// 1/2!, −1/3!, 1/4! …: (1 − e^(−r))/r is 1 − r·(their series in r).
#[allow(clippy::indexing_slicing, reason = "worked out while it is compiled")]
const SERIES: [f64; 12] = {
    let mut series = [0.0; 12];
    let (mut term, mut n) = (0.5, 0);
    while n < 12 {
        series[n] = term;
        let next = (n + 3) as f64;
        term = -term / next;
        n += 1;
    }
    series
};

/// g(t) = (1 − e^(−t))/t for t from 0 to 600, the mean of e^(−s) over 0 to t;
/// right to a few units in the last place, at 0 too.
///
/// With t = k·ln 2 + r it is ((1 − 2^(−k)) + 2^(−k)·(1 − e^(−r)))/t, which
/// cancels nowhere: for k = 0 the first term vanishes, for others it is at
/// least a half. Only +, −, × and ÷, so it repeats across platforms; a
/// general `expm1` has branches that cost more than the arithmetic.
#[inline]
pub(super) fn mean_of_decay(t: f64) -> f64 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let k = (t * LOG2_E + 0.5) as u32;
    let turns = f64::from(k);
    let r = (t - turns * LN_2_HIGH) - turns * LN_2_LOW;
    let [a, b, c, d, e, f, g, h, i, j, l, m] = SERIES;
    // Pairs side by side, since a processor adds them at once; a plain Horner
    // scheme is one long chain.
    let s = r * r;
    let (ab, cd, ef) = (a + r * b, c + r * d, e + r * f);
    let (gh, ij, lm) = (g + r * h, i + r * j, l + r * m);
    let q = s * s;
    let series = (ab + s * cd) + q * ((ef + s * gh) + q * (ij + s * lm));
    let share = f64::from_bits(u64::from(1023 - k.min(1000)) << 52);
    if k == 0 {
        return 1.0 - t * series;
    }
    ((1.0 - share) + share * r * (1.0 - r * series)) / t
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_of_ln_2_add_up_and_the_first_has_room() {
        assert_eq!(LN_2_HIGH + LN_2_LOW, std::f64::consts::LN_2);
        assert_eq!(LN_2_HIGH.to_bits() & 0x1F_FFFF, 0);
    }

    #[test]
    fn it_is_expm1_over_its_argument() {
        // Recomputed independently: libm's expm1.
        assert_eq!(mean_of_decay(0.0), 1.0);
        for step in 1..60_000 {
            let t = 1e-3 * f64::from(step);
            for t in [t, 1e-6 * t, 10.0 * t] {
                let exact = -libm::expm1(-t) / t;
                let off = (mean_of_decay(t) / exact - 1.0).abs();
                assert!(off < 1e-15, "{t}: off by {off}");
            }
        }
    }
}
