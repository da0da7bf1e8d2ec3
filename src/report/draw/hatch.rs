//! How far an area deviates, as hatching that black and white can show: lines
//! for smaller, dots for larger, the denser the further.

use std::fmt::Write;

/// An area that deviates by less than this, in percent, is drawn plain. House
/// rule: below what a calliper shows on a treble bed.
pub(in crate::report) const UNCHANGED: f64 = 0.5;
/// From so many percent on, hatching gets denser. House rule: the first is
/// within what the limits on widths let a treble deviate by, the second is
/// beyond it.
pub(super) const DENSER: f64 = 3.0;
pub(super) const DENSEST: f64 = 10.0;

/// The pattern for a deviation in percent; `None` is plain.
pub(in crate::report) fn pattern(percent: f64) -> Option<&'static str> {
    let size = percent.abs();
    if size.is_nan() || size < UNCHANGED {
        return None;
    }
    Some(match (percent < 0.0, size) {
        (true, size) if size < DENSER => "less1",
        (true, size) if size < DENSEST => "less2",
        (true, _) => "less3",
        (false, size) if size < DENSER => "more1",
        (false, size) if size < DENSEST => "more2",
        (false, _) => "more3",
    })
}

/// The definitions. `names` goes before each name: a page shares them.
pub(in crate::report) fn define(out: &mut String, names: &str) {
    out.push_str("<defs>");
    // Gaps in mm. Invented: three densities that stay apart in print.
    for (name, gap, both) in [
        ("less1", 5.0, false),
        ("less2", 3.0, false),
        ("less3", 2.6, true),
    ] {
        let across = if both {
            format!("M0 0H{gap}")
        } else {
            String::new()
        };
        let _ = write!(
            out,
            "<pattern id=\"{names}{name}\" width=\"{gap}\" height=\"{gap}\" \
             patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <path d=\"M0 0V{gap}{across}\" style=\"stroke:var(--hatch);stroke-width:.6;fill:none\"/>\
             </pattern>"
        );
    }
    for (name, gap, radius) in [
        ("more1", 5.0, 0.6),
        ("more2", 3.4, 0.7),
        ("more3", 2.4, 0.7),
    ] {
        let middle = gap / 2.0;
        let _ = write!(
            out,
            "<pattern id=\"{names}{name}\" width=\"{gap}\" height=\"{gap}\" \
             patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <circle cx=\"{middle}\" cy=\"{middle}\" r=\"{radius}\" style=\"fill:var(--hatch)\"/>\
             </pattern>"
        );
    }
    out.push_str("</defs>");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_deviation_has_a_hatching_that_is_defined() {
        for (percent, name) in [
            (0.0, None),
            (-0.49, None),
            (-0.5, Some("less1")),
            (-3.0, Some("less2")),
            (-10.0, Some("less3")),
            (0.5, Some("more1")),
            (9.9, Some("more2")),
            (400.0, Some("more3")),
            (f64::NAN, None),
        ] {
            assert_eq!(pattern(percent), name, "{percent}");
            let mut defined = String::new();
            define(&mut defined, "n");
            let known = |name: &str| defined.contains(&format!("id=\"n{name}\""));
            assert!(name.is_none_or(known), "{percent}");
        }
    }
}
