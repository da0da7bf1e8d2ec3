//! Free areas of bands and beds, and by how much they differ.

use super::{MetalFrom, RecordedBeside, Subject, recorded_beside};
use crate::board::{Band, FilledLength, Mounting, Profile};
use crate::conformity::FreeArea;
use crate::units::Uncertainty;

/// A board's areas.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BoardAreas {
    /// Its id, or which nominal board it is.
    pub label: String,
    /// Where it hangs, or whose nominal board it is.
    pub name: Option<String>,
    /// The file that it was described in.
    pub file: String,
    /// How its spider is held.
    pub mounting: Mounting,
    /// The cross-section of its wires.
    pub profile: Profile,
    /// What its metal does to a dart in the chosen setting.
    pub metal: MetalSetting,
    /// Its bands, from the bull outwards.
    pub bands: Vec<BandAreas>,
    /// Areas that were recorded, beside those that its rings give.
    pub beside: Vec<RecordedBeside>,
    /// Lengths that were not measured, but taken from a nominal board.
    pub filled: Vec<FilledLength>,
}

/// What metal does to a dart.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct MetalSetting {
    /// How many of the darts on metal are lost, in percent; the others glance
    /// to their side of the apex.
    pub lost_percent: f64,
    /// Who said so.
    pub from: MetalFrom,
}

impl MetalSetting {
    /// A board's own.
    pub(super) fn of(subject: &Subject) -> Self {
        Self {
            lost_percent: 100.0 * subject.metal.lost_share(),
            from: subject.metal_from,
        }
    }
}

/// A band's free area.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BandAreas {
    /// Which band.
    pub band: Band,
    /// Free area of the whole band, in mm².
    pub free_mm2: f64,
    /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in mm²;
    /// left out where the file states none.
    pub expanded_uncertainty_mm2: Option<f64>,
    /// The part between the apexes of its wires that is metal, in percent.
    pub metal_share_percent: f64,
    /// Free area of each bed, in mm², clockwise from the top.
    pub beds_mm2: Vec<f64>,
}

/// By how much a band's free area differs from the first board's.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BandDifference {
    /// Which band.
    pub band: Band,
    /// 100·(free area − first board's)/first board's.
    pub difference_percent: f64,
    /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in
    /// percent; left out where a board's file states none.
    pub expanded_uncertainty_percent: Option<f64>,
    /// The same difference of each bed, clockwise from the top.
    pub beds_percent: Vec<f64>,
}

/// A board's band with its uncertainty.
struct Prepared {
    area: FreeArea,
    u: Option<Uncertainty>,
}

fn prepared(subject: &Subject, band: Band) -> Option<Prepared> {
    let area = FreeArea::of(&subject.construction, subject.face().spider(), band)?;
    let u = if subject.is_nominal {
        Some(Uncertainty::finite(0.0))
    } else {
        area.uncertainty(&subject.construction)
    };
    Some(Prepared { area, u })
}

pub(super) fn board_areas(subject: &Subject) -> BoardAreas {
    let band = |band: Band| {
        let Prepared { area, u } = prepared(subject, band)?;
        let u = u.filter(|_| !subject.is_nominal);
        Some(BandAreas {
            band,
            free_mm2: area.area.free.as_mm2(),
            expanded_uncertainty_mm2: u.map(|u| u.expanded().expanded),
            metal_share_percent: area.area.metal_share()?.value(),
            beds_mm2: area.area.beds.iter().map(|b| b.free.as_mm2()).collect(),
        })
    };
    BoardAreas {
        label: subject.label.clone(),
        name: subject.name.clone(),
        file: subject.file.clone(),
        mounting: subject.construction.mounting,
        profile: subject.construction.profile,
        metal: MetalSetting::of(subject),
        bands: Band::ALL.into_iter().filter_map(band).collect(),
        beside: recorded_beside(&subject.construction),
        filled: subject.filled.clone(),
    }
}

/// The difference of each band, from the bull outwards. To first order the
/// relative variances of two independent areas add up: with q the ratio of the
/// areas, `u = 100·q·√((u_b/b)² + (u_a/a)²)`.
pub(super) fn differences(subject: &Subject, first: &Subject) -> Vec<BandDifference> {
    let band = |band: Band| {
        let (b, a) = (prepared(subject, band)?, prepared(first, band)?);
        let (free_b, free_a) = (b.area.area.free.as_mm2(), a.area.area.free.as_mm2());
        let ratio = free_b / free_a;
        let parts = b.u.zip(a.u).map(|(b, a)| {
            let whole = [(100.0 * ratio / free_b, b), (100.0 * ratio / free_a, a)];
            Uncertainty::combined(whole)
        });
        let beds = b.area.area.beds.iter().zip(&a.area.area.beds);
        Some(BandDifference {
            band,
            difference_percent: 100.0 * (ratio - 1.0),
            expanded_uncertainty_percent: parts.map(|u| u.expanded().expanded),
            beds_percent: beds.map(|(b, a)| 100.0 * (b.free / a.free - 1.0)).collect(),
        })
    };
    Band::ALL.into_iter().filter_map(band).collect()
}

#[cfg(test)]
mod tests {
    use super::super::tests::{round, strip};
    use super::*;

    #[test]
    fn a_difference_has_the_uncertainty_that_both_boards_give_it() {
        // Recomputed independently: the standard deviation of the ratio, by
        // moving each measured length of each board by its u, one by one.
        let (a, b) = (strip(), round());
        let area = |subject: &Subject| {
            let spider = crate::geometry::Spider::of(&subject.construction);
            let band = FreeArea::of(&subject.construction, &spider, Band::Treble);
            band.expect("an area").area.free.as_mm2()
        };
        let ratio = area(&b) / area(&a);
        let mut variance = 0.0;
        for (which, subject) in [(0, &a), (1, &b)] {
            for index in 0..subject.construction.inputs.len() {
                let mut moved = subject.clone();
                let input = &mut moved.construction.inputs[index];
                let u = input.uncertainty.expect("stated").standard();
                input.value = crate::units::Length::mm(input.value.as_mm() + u);
                let other = match which {
                    0 => area(&b) / area(&moved),
                    _ => area(&moved) / area(&a),
                };
                variance += (100.0 * (other - ratio)) * (100.0 * (other - ratio));
            }
        }
        let found = differences(&b, &a);
        let treble = found.iter().find(|d| d.band == Band::Treble).expect("one");
        let u = treble.expanded_uncertainty_percent.expect("stated");
        assert!((u / (2.0 * variance.sqrt()) - 1.0).abs() < 0.01, "{u}");
        // The beds of a regular board all differ as the band does.
        for bed in &treble.beds_percent {
            assert!((bed - treble.difference_percent).abs() < 1e-9);
        }
    }
}
