//! Throws that somebody wrote down, and the spread that follows from them.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::comparison::{Throws, read_throws};
use ringrule::play::{fit_positions, spread_of_hits};
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let Some(source) = shared::source(bytes) else {
        return;
    };
    let text = source.text().to_owned();
    let setup = shared::setup();
    let middle = shared::middle_of_treble();
    match read_throws(source) {
        Ok(Throws::Positions { landed, .. }) => {
            for aim in [None, Some(middle)] {
                if let Ok(fit) = fit_positions(setup, &landed, aim) {
                    let sigma = fit.sigma.value;
                    assert!(sigma.is_finite() && sigma > 0.0, "{fit:?}");
                }
            }
        }
        Ok(Throws::Beds { seen, .. }) => {
            if let Ok(found) = spread_of_hits(setup.face, setup.metal, middle, &seen) {
                assert!(found.value.is_finite() && found.value > 0.0, "{found:?}");
            }
        }
        Ok(_) => {}
        Err(invalid) => shared::holds(&invalid, &text),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
