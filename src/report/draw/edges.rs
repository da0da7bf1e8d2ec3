//! The edges of a wire, and what each means of a width.

use std::fmt::Write;

use super::sheet_section::SIZE;
use super::svg::{Figure, circle, number, stroke, text};
use crate::board::Profile;
use crate::geometry::Point;

/// Where the two wires stand and how thick they are, in the figure's units. Out of
/// proportion, so that the edges can be told apart. Invented.
const WIRES: [f64; 2] = [82.0, 278.0];
const RADIUS: f64 = 30.0;
const MIDDLE: f64 = 74.0;

/// The two wires of a ring as if cut, with the edges to which a length is taken,
/// and the widths between them.
pub(in crate::report) fn edges(profile: Profile) -> Figure {
    let mut body = String::new();
    let board = MIDDLE + RADIUS;
    let along = format!("M8 {0}L352 {0}", number(board));
    stroke(&mut body, &along, "--ink", 1.5);
    let words = "← towards the bull";
    text(&mut body, 8.0, 12.0, SIZE, "start", "", words);
    for middle in WIRES {
        let outline = match profile {
            Profile::Round => circle(Point::new(middle, -MIDDLE), RADIUS),
            Profile::Strip => {
                let (x, y) = (number(middle - RADIUS), number(MIDDLE - RADIUS));
                format!("M{x} {y}h{0}v{0}h-{0}z", number(2.0 * RADIUS))
            }
        };
        let _ = write!(
            body,
            "<path d=\"{outline}\" style=\"fill:var(--bed2);stroke:var(--ink);stroke-width:1.5\"/>"
        );
        for (shift, words, up) in [
            (-RADIUS, "inside", 0.0),
            (0.0, "apex", 6.0),
            (RADIUS, "outside", 0.0),
        ] {
            let x = middle + shift;
            let path = format!(
                "M{0} {1}L{0} {2}",
                number(x),
                number(42.0 - up),
                number(board + 64.0)
            );
            let _ = write!(
                body,
                "<path class=\"lead\" stroke-dasharray=\"3 2\" d=\"{path}\"/>"
            );
            text(&mut body, x, 38.0 - up, SIZE, "middle", "halo", words);
        }
    }
    let [inner, outer] = WIRES;
    for (row, words, from, to) in [
        (1.0, "width, inside", inner + RADIUS, outer - RADIUS),
        (2.0, "width, apex to apex", inner, outer),
        (3.0, "width, outside", inner - RADIUS, outer + RADIUS),
    ] {
        let y = board + 20.0 * row;
        let (from, to) = (number(from), number(to));
        let y_words = number(y);
        let _ = write!(
            body,
            "<path class=\"axis\" d=\"M{from} {y_words}H{to}M{from} {y_words}l5 -2.5m-5 2.5l5 2.5\
             M{to} {y_words}l-5 -2.5m5 2.5l-5 2.5\"/>"
        );
        let middle = f64::midpoint(inner, outer);
        text(&mut body, middle, y - 4.0, SIZE, "middle", "halo", words);
    }
    Figure {
        group: "sheet",
        width: 360.0,
        height: board + 66.0,
        body,
        title: "The edges of a wire".to_owned(),
        description:
            "Inside is the edge of a wire towards the bull, outside the one away from it, \
                      apex its highest line. A width inside lies between the wires, one outside \
                      over both."
                .to_owned(),
    }
}
