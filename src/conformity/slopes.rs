//! How areas of an uneven board change with its measured lengths.

use crate::board::{Band, Construction, Input, InputId, Linear};
use crate::geometry::{Bed, Forms};

/// Half the step, in mm, of a central difference: small against any bend of a
/// boundary, large against rounding. House rule.
const STEP: f64 = 1e-3;

/// The slopes, in mm² per mm, of the free area of each bed of a band in every
/// measured length of a kind, by central differences of the exact areas. `None` if a wire
/// that bounds the band is not known.
///
/// An even board has closed forms; where a ring is out of round or off its
/// centre, a reading at one place bends the boundary of some beds alone.
pub(super) fn bed_slopes(
    construction: &Construction,
    band: Band,
    of: impl Fn(&Input) -> bool,
) -> Option<Vec<Linear>> {
    let forms = Forms::of(construction);
    let mut values: Vec<f64> = construction
        .inputs
        .iter()
        .map(|input| input.value.as_mm())
        .collect();
    let mut slopes = vec![Linear::default(); band.beds()];
    let inputs = construction.inputs.iter().enumerate();
    for (index, input) in inputs.filter(|(_, input)| of(input)) {
        let mut areas_at = |value: f64| -> Option<Vec<f64>> {
            *values.get_mut(index)? = value;
            let spider = forms.spider(&values);
            let areas =
                Bed::of_band(band).map(|bed| Some(spider.free_region(bed)?.area().as_mm2()));
            areas.collect()
        };
        let value = input.value.as_mm();
        let (more, less) = (areas_at(value + STEP)?, areas_at(value - STEP)?);
        *values.get_mut(index)? = value;
        for ((slope, more), less) in slopes.iter_mut().zip(more).zip(less) {
            let rate = (more - less) / (2.0 * STEP);
            // What is left of zero by rounding.
            if rate.abs() > 1e-7 {
                let input = Linear::input(InputId::new(index), rate);
                *slope = std::mem::take(slope).plus(1.0, &input);
            }
        }
    }
    Some(slopes)
}
