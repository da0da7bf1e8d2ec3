//! Areas that were recorded as such, beside those that rings and wires give.

use crate::board::{Band, Construction};
use crate::conformity::FreeArea;
use crate::geometry::Spider;
use crate::units::Uncertainty;

/// A recorded area of a band whose free area follows from its rings too: the rings
/// decide, and this stands beside them. Areas of one bed, in the mean over the band's.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct RecordedBeside {
    /// Which band.
    pub band: Band,
    /// As recorded, in mm².
    pub recorded_mm2: f64,
    /// By the rings, in mm².
    pub from_rings_mm2: f64,
    /// Expanded uncertainty of the difference (k = 2 for many degrees of freedom), in
    /// mm²; left out where either states none.
    pub expanded_uncertainty_mm2: Option<f64>,
}

impl RecordedBeside {
    /// Whether both cannot be right: they differ by more than the expanded uncertainty of
    /// their difference. `None` where that is not known.
    pub fn contradicts(&self) -> Option<bool> {
        let apart = (self.recorded_mm2 - self.from_rings_mm2).abs();
        self.expanded_uncertainty_mm2.map(|u| apart > u)
    }
}

/// Every recorded area that the rings give too.
pub fn recorded_beside(construction: &Construction) -> Vec<RecordedBeside> {
    let recorded = construction.areas.iter();
    let recorded: Vec<_> = recorded
        .filter_map(|(band, own)| Some((band, own.as_ref()?)))
        .collect();
    if recorded.is_empty() {
        return Vec::new();
    }
    let spider = Spider::of(construction);
    let beside = recorded.into_iter().filter_map(|(band, own)| {
        let rings = FreeArea::of(construction, &spider, band)?;
        let beds = rings.area.beds.len().max(1) as f64;
        let u = own.uncertainty.zip(rings.uncertainty(construction));
        let u = u.map(|(own, rings)| Uncertainty::combined([(1.0, own), (1.0 / beds, rings)]));
        Some(RecordedBeside {
            band,
            recorded_mm2: own.bed.as_mm2(),
            from_rings_mm2: rings.area.mean_bed().as_mm2(),
            expanded_uncertainty_mm2: u.map(|u| u.expanded().expanded),
        })
    });
    beside.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Board;
    use crate::document::Source;

    fn beside(areas: &str) -> Vec<RecordedBeside> {
        let text = include_str!("../../specs/demo/01-round-to-rule.yaml");
        let text = format!("{text}areas: {areas}\n");
        let board = Board::read(Source::new("board.yaml", text)).expect("a board");
        recorded_beside(&board.construction)
    }

    #[test]
    fn a_recorded_area_contradicts_beyond_its_uncertainty_alone() {
        // The rings give 241.777 mm² (recomputed independently); recorded values invented.
        let found = beside(
            "{ treble: { bed: 243, uncertainty: 3 }, double: { bed: 380, uncertainty: 3 }, outer_bull: { bed: 600 } }",
        );
        let of = |band| found.iter().find(|one| one.band == band).expect("recorded");
        assert!((of(Band::Treble).from_rings_mm2 - 241.777).abs() < 0.02);
        assert_eq!(of(Band::Treble).contradicts(), Some(false));
        assert_eq!(of(Band::Double).contradicts(), Some(true));
        assert_eq!(of(Band::OuterBull).contradicts(), None);
        assert_eq!(found.len(), 3);
    }
}
