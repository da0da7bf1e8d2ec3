//! The edges of a wire, and what each means of a width.

use std::fmt::Write;

use super::svg::{Figure, circle, number, stroke, text};
use crate::geometry::Point;

/// Where the two wires stand and how thick they are, in the figure's units. Out of
/// proportion, so that the edges can be told apart. Invented.
const WIRES: [f64; 2] = [170.0, 430.0];
const RADIUS: f64 = 42.0;
const HEIGHT: f64 = 122.0;

/// The two wires of a ring as if cut, with the edges to which a length is taken,
/// and the widths between them.
pub(in crate::report) fn edges() -> Figure {
    let mut body = String::new();
    let board = HEIGHT + RADIUS;
    stroke(
        &mut body,
        &format!("M20 {0}L580 {0}", number(board)),
        "--ink",
        1.5,
    );
    text(
        &mut body,
        20.0,
        24.0,
        15.0,
        "start",
        "",
        "← towards the bull",
    );
    for middle in WIRES {
        let _ = write!(
            body,
            "<g transform=\"translate({} {})\"><path d=\"{}\" \
             style=\"stroke:var(--ink);stroke-width:1.5;fill:none\"/></g>",
            number(middle),
            number(HEIGHT),
            circle(Point::ORIGIN, RADIUS)
        );
        for (shift, words, up) in [
            (-RADIUS, "inside", 0.0),
            (0.0, "apex", 16.0),
            (RADIUS, "outside", 0.0),
        ] {
            let x = middle + shift;
            let path = format!(
                "M{0} {1}L{0} {2}",
                number(x),
                number(62.0 - up),
                number(board + 92.0)
            );
            stroke(&mut body, &path, "--line", 0.8);
            text(&mut body, x, 56.0 - up, 15.0, "middle", "", words);
        }
    }
    let [inner, outer] = WIRES;
    for (row, words, from, to) in [
        (1.0, "inside", inner + RADIUS, outer - RADIUS),
        (2.0, "apex", inner, outer),
        (3.0, "outside", inner - RADIUS, outer + RADIUS),
    ] {
        let y = board + 30.0 * row;
        let path = format!("M{} {y}L{} {y}", number(from), number(to), y = number(y));
        stroke(&mut body, &path, "--ink", 1.5);
        let words = format!("a width, {words}");
        text(
            &mut body,
            f64::midpoint(from, to),
            y - 6.0,
            15.0,
            "middle",
            "",
            &words,
        );
    }
    Figure {
        group: "edges",
        width: 600.0,
        height: board + 110.0,
        body,
        title: "The edges of a wire".to_owned(),
        description: "Two wires as if cut: inside is the edge of a wire towards the bull, outside the \
                      one away from it, apex its highest line. A width inside lies between the wires, one \
                      at the apex between their highest lines, one outside over both."
            .to_owned(),
    }
}
