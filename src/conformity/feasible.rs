//! Whether any board at all can meet a set of limits.

use microlp::OptimizationDirection;

use super::programme::Model;
use crate::board::{Edge, Linear, Mounting, Profile, RingWire};
use crate::table::{Demand, Interval, Limit};
use crate::units::Length;

/// A smallest set of these limits that no board of this kind can meet together,
/// in their order; empty if some board meets them all. Ring wires lie in their
/// order and do not overlap; every length is positive or zero.
pub fn unmeetable<'l>(
    limits: &[&'l Limit],
    mounting: Mounting,
    profile: Profile,
) -> Vec<&'l Limit> {
    let model = Model::new(mounting, profile);
    let meets = |limits: &[&Limit]| meets(&model, limits, mounting);
    let mut core: Vec<&Limit> = limits.to_vec();
    if meets(&core) {
        return Vec::new();
    }
    // What can be left out without curing it is no part of the reason.
    for index in (0..core.len()).rev() {
        let mut rest = core.clone();
        rest.remove(index);
        if !meets(&rest) {
            core = rest;
        }
    }
    core
}

fn meets(model: &Model, limits: &[&Limit], mounting: Mounting) -> bool {
    let mut programme =
        model.programme(&Linear::default(), OptimizationDirection::Minimize, |_| {
            None
        });
    let not_negative = Interval {
        lower: Some(Length::ZERO),
        upper: None,
    };
    let radius = |ring, edge| model.construction.edge_radius(ring, edge);
    let mut before = None;
    for ring in RingWire::ALL {
        // The innermost wire must leave some bull.
        let gap = match (radius(ring, Edge::Inside), &before) {
            (Some(inside), Some(before)) => Some(inside.plus(-1.0, before)),
            (inside, _) => inside,
        };
        if let Some(gap) = gap {
            programme.within(&gap, not_negative);
        }
        before = radius(ring, Edge::Outside);
    }
    for limit in limits {
        // The mounting is given here, so a table that forbids it simply is for
        // other boards.
        if let Demand::OneOf(allowed) = &limit.demand
            && !allowed.contains(&mounting)
        {
            return true;
        }
        for (form, interval) in model.bounds(limit) {
            programme.within(&form, interval);
        }
    }
    !programme.is_infeasible()
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
        // Apex to apex 8.0 leaves no 8.0 between wires of 1 mm or more.
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
