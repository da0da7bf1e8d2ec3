//! What the colours and the hatching of differences mean.

use std::fmt::Write;

use super::hatch::{self, DENSER, DENSEST, UNCHANGED};
use super::svg::{Figure, number, text};
use super::words;

/// The size of the drawing, of its letters, and of a piece of the scale.
const WIDTH: f64 = 380.0;
const SIZE: f64 = 12.0;
const PIECE: (f64, f64) = (50.0, 30.0);
const LEFT: f64 = 15.0;

/// Every shade from much less to much more; none is plain.
const SHADES: [Option<&str>; 7] = [
    Some("less3"),
    Some("less2"),
    Some("less1"),
    None,
    Some("more1"),
    Some("more2"),
    Some("more3"),
];

/// A key to drawings whose beds are shaded by how far they differ from a board's;
/// `names` goes before the names of patterns.
pub(in crate::report) fn deviations(group: &'static str, names: &str, board: &str) -> Figure {
    let mut body = String::new();
    hatch::define(&mut body, names);
    let room = WIDTH - 2.0 * LEFT;
    let heading = format!("free area of a bed against the same on {board}, %");
    let mut y = 16.0;
    for line in words::wrap(&heading, SIZE, room, 2) {
        text(&mut body, LEFT, y, SIZE, "start", "", &line);
        y += 16.0;
    }
    let (width, height) = PIECE;
    let top = y - 4.0;
    for (index, shade) in SHADES.into_iter().enumerate() {
        let x = LEFT + width * index as f64;
        let hatching = shade.map_or_else(
            || "fill=\"none\"".to_owned(),
            |shade| format!("fill=\"url(#{names}{shade})\""),
        );
        for fill in [
            format!("style=\"fill:var(--{})\"", shade.unwrap_or("bed")),
            hatching,
            "style=\"fill:none;stroke:var(--ink);stroke-width:.7\"".to_owned(),
        ] {
            let _ = write!(
                body,
                "<rect x=\"{}\" y=\"{}\" width=\"{width}\" height=\"{height}\" {fill}/>",
                number(x),
                number(top)
            );
        }
    }
    let below = top + height + 14.0;
    let bounds = [-DENSEST, -DENSER, -UNCHANGED, UNCHANGED, DENSER, DENSEST];
    for (index, bound) in bounds.into_iter().enumerate() {
        let x = LEFT + width * (index as f64 + 1.0);
        let bound = format!("{bound:+}").replace('-', "−");
        text(&mut body, x, below, SIZE, "middle", "", &bound);
    }
    let right = LEFT + width * SHADES.len() as f64;
    text(&mut body, LEFT, below, SIZE, "start", "", "less");
    text(&mut body, right, below, SIZE, "end", "", "more");
    Figure {
        group,
        width: WIDTH,
        height: below + 10.0,
        body,
        title: "What colours and hatching mean".to_owned(),
        description: format!(
            "Hatched in ochre: smaller, the closer the more. Dotted in blue: larger. Plain: within \
             {UNCHANGED} %."
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shade_of_a_deviation_is_in_the_key() {
        let figure = deviations("boards", "k", "FL-02");
        let mut percent = -30.0;
        while percent < 30.0 {
            let shade = hatch::pattern(percent);
            assert!(SHADES.contains(&shade), "{percent}");
            if let Some(shade) = shade {
                assert!(
                    figure.body.contains(&format!("url(#k{shade})")),
                    "{percent}"
                );
            }
            percent += 0.1;
        }
        assert!(figure.width <= 400.0);
    }
}
