//! What a board's rings and wires lack, and a board completed from a nominal one.

use super::{
    Band, Basis, Construction, Edge, Input, InputId, Linear, Quantity, RingPlace, RingWire,
};
use crate::document::Span;
use crate::units::Length;

/// A length that was not measured, but taken from a nominal board.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct FilledLength {
    /// What it is a length of.
    pub quantity: Quantity,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// The nominal value.
    pub value: Length,
}

impl Construction {
    /// What must be known besides of every ring and wire before anything can be thrown
    /// at the board; empty if all is known.
    pub fn lacks(&self) -> Vec<Quantity> {
        let rings = RingWire::ALL.into_iter();
        let rings = rings.filter(|ring| self.rings[*ring].is_none());
        let mut lacks: Vec<Quantity> = rings.map(|ring| Quantity::Ring(ring, false)).collect();
        if self.has_no_ring_wires() {
            lacks.push(Quantity::RingWires);
        } else {
            let wires = RingWire::ALL.into_iter();
            let wires = wires.filter(|ring| self.ring_wires[*ring].is_none());
            lacks.extend(wires.map(Quantity::RingWire));
        }
        if self.sector_wires.is_none() {
            lacks.push(Quantity::SectorWires);
        }
        lacks
    }

    /// Whether any ring was placed: a board of which nothing was measured has none.
    pub fn has_rings(&self) -> bool {
        self.rings.iter().any(|(_, place)| place.is_some())
    }

    /// The first two neighbouring wires that overlap; rings are taken as round.
    pub fn overlapping(&self) -> Option<(RingWire, RingWire)> {
        let edge = |ring, edge| Some(self.value(&self.edge_radius(ring, edge)?));
        let pairs = RingWire::ALL
            .into_iter()
            .zip(RingWire::ALL.into_iter().skip(1));
        let mut pairs = pairs.filter(|&(inner, outer)| {
            let near = edge(inner, Edge::Outside).zip(edge(outer, Edge::Inside));
            near.is_some_and(|(inner, outer)| inner >= outer)
        });
        pairs.next()
    }

    fn has_no_ring_wires(&self) -> bool {
        self.ring_wires.iter().all(|(_, wire)| wire.is_none())
    }

    /// The same board with every ring and wire that it lacks as a nominal board has it,
    /// and which these are. They state no uncertainty: how far this board's lie from the
    /// nominal ones nobody knows. A ring's width that was measured places a ring before
    /// the nominal board does.
    #[must_use]
    pub fn filled_from(&self, nominal: &Self) -> (Self, Vec<FilledLength>) {
        let mut filling = Filling {
            board: self.clone(),
            nominal,
            filled: Vec::new(),
        };
        filling.wires();
        filling.complete();
        for ring in [
            RingWire::InnerBull,
            RingWire::OuterBull,
            RingWire::TrebleOuter,
            RingWire::DoubleOuter,
        ] {
            filling.ring(ring);
        }
        filling.complete();
        for ring in [RingWire::TrebleInner, RingWire::DoubleInner] {
            filling.ring(ring);
        }
        (filling.board, filling.filled)
    }
}

struct Filling<'a> {
    board: Construction,
    nominal: &'a Construction,
    filled: Vec<FilledLength>,
}

impl Filling<'_> {
    /// Adds a length, and gives it as a form.
    fn add(&mut self, quantity: Quantity, edge: Option<Edge>, value: Length) -> Linear {
        self.filled.push(FilledLength {
            quantity,
            edge,
            value,
        });
        self.board.inputs.push(Input {
            quantity,
            value,
            at: None,
            edge,
            wire: None,
            errors: Vec::new(),
            uncertainty: None,
            instrument: None,
            basis: Basis::Unstated,
            span: Span::default(),
        });
        Linear::input(InputId::new(self.board.inputs.len() - 1), 1.0)
    }

    fn wires(&mut self) {
        let nominal = self.nominal;
        let value = |form: &Linear| nominal.value(form);
        let all: Vec<Length> = nominal
            .ring_wires
            .iter()
            .filter_map(|(_, form)| form.as_ref().map(value))
            .collect();
        let same =
            all.len() == RingWire::ALL.len() && all.iter().all(|wire| all.first() == Some(wire));
        if let (true, true, Some(width)) = (self.board.has_no_ring_wires(), same, all.first()) {
            let form = self.add(Quantity::RingWires, None, *width);
            for ring in RingWire::ALL {
                self.board.ring_wires[ring] = Some(form.clone());
            }
        }
        for ring in RingWire::ALL {
            if let (None, Some(form)) = (&self.board.ring_wires[ring], &nominal.ring_wires[ring]) {
                let form = self.add(Quantity::RingWire(ring), None, value(form));
                self.board.ring_wires[ring] = Some(form);
            }
        }
        if let (None, Some(form)) = (&self.board.sector_wires, &nominal.sector_wires) {
            self.board.sector_wires = Some(self.add(Quantity::SectorWires, None, value(form)));
        }
    }

    /// Rings that a measured width places.
    fn complete(&mut self) {
        for band in [Band::Treble, Band::Double] {
            self.board.complete_from_width(band);
        }
    }

    fn ring(&mut self, ring: RingWire) {
        if let (None, Some(place)) = (&self.board.rings[ring], &self.nominal.rings[ring]) {
            let quantity = Quantity::Ring(ring, false);
            let value = self.nominal.value(&place.radius);
            self.board.rings[ring] = Some(RingPlace {
                radius: self.add(quantity, Some(place.edge), value),
                edge: place.edge,
                around: Vec::new(),
                across: false,
                offset: None,
            });
        }
    }
}

#[cfg(test)]
#[allow(clippy::expect_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::board::Board;
    use crate::document::Source;

    fn board(text: &str) -> Construction {
        let board = Board::read(Source::new("board.yaml", text)).expect("a board");
        board.construction
    }

    fn whole() -> Construction {
        board(include_str!("../../specs/demo/01-round-to-rule.yaml"))
    }

    #[test]
    fn a_half_measured_board_lacks_what_its_file_leaves_out() {
        // Invented demo data: its file has inner bull, both treble rings, ring wires.
        let half = board(include_str!("../../specs/demo/08-half-measured.yaml"));
        let expected = [
            Quantity::Ring(RingWire::OuterBull, false),
            Quantity::Ring(RingWire::DoubleInner, false),
            Quantity::Ring(RingWire::DoubleOuter, false),
            Quantity::SectorWires,
        ];
        assert_eq!(half.lacks(), expected);
        assert!(whole().lacks().is_empty());
        let (filled, lengths) = half.filled_from(&whole());
        assert!(filled.lacks().is_empty());
        let of: Vec<Quantity> = lengths.iter().map(|length| length.quantity).collect();
        assert!(of.len() == 4 && expected.iter().all(|one| of.contains(one)));
        // Closed form: the outside radius of the outer double wire as recorded there.
        let double = filled.edge_radius(RingWire::DoubleOuter, Edge::Outside);
        assert!((filled.value(&double.expect("filled")).as_mm() - 170.0).abs() < 1e-12);
        // What was measured stays as it was.
        let treble = filled.edge_radius(RingWire::TrebleOuter, Edge::Outside);
        assert!((filled.value(&treble.expect("kept")).as_mm() - 106.98).abs() < 1e-12);
    }

    #[test]
    fn a_filled_length_states_no_uncertainty() {
        let half = board(include_str!("../../specs/demo/08-half-measured.yaml"));
        let (filled, _) = half.filled_from(&whole());
        let on = |form: Option<Linear>| form.expect("placed").uncertainty(&filled.inputs);
        let edge = |ring| filled.edge_radius(ring, Edge::Outside);
        assert!(on(edge(RingWire::DoubleOuter)).is_none());
        assert!(on(edge(RingWire::TrebleOuter)).is_some());
    }

    #[test]
    fn a_measured_width_comes_before_the_nominal_ring() {
        // Invented: a width of 7.6 mm, and no radius at all of the treble ring.
        let half = board(
            "format: ringrule/board/1\nboard: { id: A-1 }\nmounting: staples\nunits: mm\n\
             uncertainty: 0.05\nwires: { rings: 16 SWG, sectors: 16 SWG }\n\
             rings: { double_outer: { radius: 170, edge: outside } }\n\
             widths: { treble: { width: 7.6, edge: inside } }\n",
        );
        let (filled, lengths) = half.filled_from(&whole());
        let width = filled.width_from_radii(Band::Treble, Edge::Inside);
        assert!((filled.value(&width.expect("both")).as_mm() - 7.6).abs() < 1e-9);
        let inner = Quantity::Ring(RingWire::TrebleInner, false);
        assert!(lengths.iter().all(|length| length.quantity != inner));
    }
}
