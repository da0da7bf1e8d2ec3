//! Whether any board at all can meet a set of limits.

use microlp::OptimizationDirection;

use super::measure::measure;
use super::programme::Programme;
use crate::board::{
    Construction, Edge, InputId, Linear, Mounting, PerBand, PerRing, Profile, RingPlace, RingWire,
};
use crate::table::{Demand, Interval, Limit};
use crate::units::Length;

/// A smallest set of these limits that no board of this kind can meet together,
/// in their order; empty if some board meets them all. Ring wires lie in their
/// order and do not overlap; every length is positive or nought.
pub fn unmeetable<'l>(
    limits: &[&'l Limit],
    mounting: Mounting,
    profile: Profile,
) -> Vec<&'l Limit> {
    let model = Model::new(mounting, profile);
    let mut core: Vec<&Limit> = limits.to_vec();
    if model.meets(&core, mounting) {
        return Vec::new();
    }
    // What can be left out without curing it is no part of the reason.
    for index in (0..core.len()).rev() {
        let mut rest = core.clone();
        rest.remove(index);
        if !model.meets(&rest, mounting) {
            core = rest;
        }
    }
    core
}

/// A board described by nothing but crests, thicknesses and its size.
struct Model {
    construction: Construction,
    variables: usize,
}

impl Model {
    fn new(mounting: Mounting, profile: Profile) -> Self {
        let mut variables = 0;
        let mut variable = || {
            variables += 1;
            Linear::input(InputId::new(variables - 1), 1.0)
        };
        let construction = Construction {
            mounting,
            profile,
            inputs: Vec::new(),
            rings: PerRing::from_fn(|_| {
                Some(RingPlace {
                    radius: variable(),
                    edge: Edge::Apex,
                })
            }),
            ring_wires: PerRing::from_fn(|_| Some(variable())),
            sector_wires: Some(variable()),
            widths: PerBand::default(),
            overall: Some(variable()),
        };
        Self {
            construction,
            variables,
        }
    }

    fn meets(&self, limits: &[&Limit], mounting: Mounting) -> bool {
        let nothing = Linear::default();
        let direction = OptimizationDirection::Minimize;
        let mut programme = Programme::new(self.variables, &nothing, direction);
        let from_nought = Interval {
            lower: Some(Length::ZERO),
            upper: None,
        };
        for pair in RingWire::ALL.windows(2) {
            if let &[inner, outer] = pair
                && let (Some(inner), Some(outer)) = (
                    self.construction.edge_radius(inner, Edge::Outside),
                    self.construction.edge_radius(outer, Edge::Inside),
                )
            {
                let gap = outer.plus(-1.0, &inner);
                programme.within(&gap, from_nought);
            }
        }
        if let Some(bull) = self
            .construction
            .edge_radius(RingWire::InnerBull, Edge::Inside)
        {
            programme.within(&bull, from_nought);
        }
        for limit in limits {
            let interval = match &limit.demand {
                Demand::OneOf(allowed) if allowed.contains(&mounting) => continue,
                // The mounting is given here, so a table that forbids it
                // simply is for other boards.
                Demand::OneOf(_) => return true,
                Demand::Within(interval) => *interval,
            };
            let edge = limit.edge.unwrap_or(Edge::Apex);
            for part in measure(&self.construction, limit.measurand, edge).parts {
                programme.within(&part.form, interval);
            }
        }
        !programme.is_infeasible()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Source;
    use crate::table::Table;

    fn names(limits: &str) -> Vec<String> {
        let text = format!(
            "format: ringrule/table/1\ntitle: T\nunits: mm\nsource: {{ document: T, provenance: \
             invented }}\nlimits:\n{limits}"
        );
        let table = Table::read(Source::new("t.yaml", text), &()).expect("sound");
        let limits: Vec<_> = table.limits.iter().collect();
        let core = unmeetable(&limits, Mounting::Staples, Profile::Round);
        core.iter().map(|limit| limit.name.clone()).collect()
    }

    #[test]
    fn a_smallest_set_is_named() {
        let sound = "  a: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n";
        let apart = "  b: { measurand: treble.width, edge: inside, tolerance: { min: 9 } }\n";
        let other = "  c: { measurand: double.width, edge: inside, nominal: 8, tolerance: 0.2 }\n";
        assert!(names(&format!("{sound}{other}")).is_empty());
        assert_eq!(names(&format!("{sound}{other}{apart}")), ["a", "b"]);
    }

    #[test]
    fn geometry_counts() {
        // Crest to crest 8.0 leaves no 8.0 between wires of 1 mm or more.
        let three = "  \
             a: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n  \
             b: { measurand: treble.width, edge: apex, nominal: 8, tolerance: 0.2 }\n  \
             w: { measurand: ring_wires.gauge, tolerance: { min: 1 } }\n";
        assert_eq!(names(three), ["a", "b", "w"]);
        // The treble ring cannot lie outside the double ring.
        let order = "  \
             t: { measurand: treble.outer_radius, edge: outside, tolerance: { min: 107 } }\n  \
             d: { measurand: double.outer_radius, edge: inside, tolerance: { max: 100 } }\n";
        assert_eq!(names(order), ["t", "d"]);
    }
}
