//! Whatever is given, nothing panics and nothing impossible comes out.
#![allow(clippy::expect_used, reason = "a test may stop")]

use super::{
    Basis, Cell, Contribution, Repeatability, agreement, combine, repeatability, standing_apart,
};
use crate::random::Random;
use crate::units::{Series, Uncertainty};

#[test]
fn no_input_panics() {
    let odd = [0.0, -1.0, 1e-300, 1e300, 0.01, f64::NAN, f64::INFINITY];
    let bases = [Basis::Pooled, Basis::Row(0), Basis::House];
    let mut random = Random::seeded(9);
    for _ in 0..20_000 {
        let mut pick = || odd[random.below(odd.len())];
        let people: Vec<Contribution> = [None, Some(0), Some(1)]
            .into_iter()
            .zip(bases)
            .map(|(instrument, basis)| Contribution {
                person: instrument.unwrap_or(0),
                value: pick(),
                readings: 0,
                repeatability: Some(Repeatability {
                    deviation: pick(),
                    degrees_of_freedom: pick(),
                    basis,
                    floored: false,
                }),
                step: Some(pick()),
                max_error: Some(pick()),
                instrument,
            })
            .collect();
        let touch = Uncertainty::with_degrees(pick(), pick());
        if let Some(combined) = combine(&people, touch) {
            let weights: f64 = combined.weights.iter().sum();
            assert!((weights - 1.0).abs() < 1e-9, "{people:?} {combined:?}");
            if let Some(of) = combined.uncertainty {
                assert!(of.total.standard() > 0.0, "{people:?} {of:?}");
            }
        }
        for tested in agreement(&[people]).into_iter().flatten() {
            assert!((0.0..=1.0).contains(&tested.corrected), "{tested:?}");
        }
        let series = Series::new(vec![8.0, 8.0 + 0.01 * random.normal(), 1e300]).expect("finite");
        let cells = [0, 1].map(|row| Cell {
            row,
            person: 0,
            series: &series,
            step: Some(odd[random.below(odd.len())]),
            max_error: None,
        });
        let sheet = repeatability(&cells);
        assert!(sheet.of(&cells[0]).is_none_or(|of| of.deviation > 0.0));
        assert!(standing_apart(&cells).len() <= 1);
    }
}
