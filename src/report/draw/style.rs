//! Colours and type of drawings, and of the pages that they stand in. Bodies
//! name a colour as `var(--name)`: a page sets these variables for light, dark
//! and print, and a file that stands alone has the light values written in,
//! since few programs besides browsers know variables.

use std::sync::LazyLock;

/// A colour with its values in the light, in the dark and on paper.
struct Colour {
    name: &'static str,
    light: &'static str,
    dark: &'static str,
    print: &'static str,
}

const fn colour(
    name: &'static str,
    light: &'static str,
    dark: &'static str,
    print: &'static str,
) -> Colour {
    Colour {
        name,
        light,
        dark,
        print,
    }
}

/// House rule: paper, ink and one blue, so that nothing hangs on telling red
/// from green. `s0` to `s8` are the shades of a map, from low to high; `less` and
/// `more` are those of a deviation: ochre for smaller, blue for larger, which stay apart
/// for every kind of colour blindness, and their hatching does in black and white.
const PALETTE: [Colour; 22] = [
    colour("paper", "#fcfbf7", "#15171a", "#fff"),
    colour("ink", "#1c1b19", "#ece9e1", "#000"),
    colour("line", "#b9b4a8", "#4c4f52", "#999"),
    colour("bed", "#fcfbf7", "#24272b", "#fff"),
    colour("bed2", "#e9e5da", "#31353a", "#ececec"),
    colour("wire", "#6b675f", "#a09c92", "#555"),
    colour("hatch", "#1c1b19", "#ece9e1", "#000"),
    colour("s0", "#f4f1e8", "#1d2126", "#f7f5ee"),
    colour("s1", "#dfe3dc", "#22303a", "#dfe3dc"),
    colour("s2", "#c1d0cd", "#28414e", "#c1d0cd"),
    colour("s3", "#9cb8bb", "#315564", "#9cb8bb"),
    colour("s4", "#759da8", "#41707c", "#759da8"),
    colour("s5", "#4f7f93", "#5c8c93", "#4f7f93"),
    colour("s6", "#31607b", "#83a9aa", "#31607b"),
    colour("s7", "#1b4260", "#b1c7c2", "#1b4260"),
    colour("s8", "#0d2542", "#e3e8dc", "#0d2542"),
    colour("less1", "#f7e6c4", "#4d3c1d", "#f7e6c4"),
    colour("less2", "#ecbd6e", "#7c571c", "#ecbd6e"),
    colour("less3", "#cc7a2c", "#b8701f", "#cc7a2c"),
    colour("more1", "#d8e6f2", "#20364c", "#d8e6f2"),
    colour("more2", "#98c1e0", "#295683", "#98c1e0"),
    colour("more3", "#4a88bd", "#3d80c0", "#4a88bd"),
];

/// The classes of drawings, in pages and in files alike. The first family is
/// the one that we bring along for PNG and PDF.
const CLASSES: &str = "\
svg text{font-family:\"DejaVu Sans Condensed\",\"DejaVu Sans\",sans-serif;fill:var(--ink);\
font-variant-numeric:tabular-nums}svg text.inverse{fill:var(--paper)}\
.halo{paint-order:stroke;stroke:var(--paper);stroke-linejoin:round}\
.axis{stroke:var(--ink);stroke-width:1;fill:none}.grid{stroke:var(--line);stroke-width:.5;fill:none}\
.curve{stroke:var(--ink);fill:none;stroke-width:1.8}\
.mark{fill:var(--paper);stroke:var(--ink);stroke-width:1.3}\
.lead{stroke:var(--ink);stroke-width:.6;fill:none}";

/// In a page a band shows its figures while it is pointed at or has the focus.
const POINTED_AT: &str = "\
.figures{visibility:hidden;pointer-events:none}\
.band:hover .figures,.band:focus .figures{visibility:visible}\
.band .ring{pointer-events:all}.band:focus{outline:none}\
.band:hover .ring,.band:focus .ring{fill:var(--ink);fill-opacity:.14}";

/// In a file nothing can be pointed at.
const ALONE: &str = ".figures{display:none}";

/// The style of drawings for a page: variables and classes.
pub(in crate::report) fn page() -> &'static str {
    static PAGE: LazyLock<String> = LazyLock::new(|| {
        let variables = |value: fn(&Colour) -> &'static str| -> String {
            let each = PALETTE
                .iter()
                .map(|c| format!("--{}:{};", c.name, value(c)));
            format!(":root{{{}}}", each.collect::<String>())
        };
        format!(
            "{}@media (prefers-color-scheme:dark){{{}}}@media print{{{}}}{CLASSES}{POINTED_AT}",
            variables(|c| c.light),
            variables(|c| c.dark),
            variables(|c| c.print),
        )
    });
    &PAGE
}

/// The style of drawings for a file of its own; its colours are still names.
pub(in crate::report) fn file() -> String {
    format!("{CLASSES}{ALONE}")
}

/// A drawing with the light value in place of every colour's name.
pub(in crate::report) fn with_colours(svg: &str) -> String {
    PALETTE.iter().fold(svg.to_owned(), |svg, colour| {
        svg.replace(&format!("var(--{})", colour.name), colour.light)
    })
}

/// A drawing with the value for print in place of every colour's name.
#[cfg(feature = "pdf")]
pub(in crate::report) fn printed(svg: &str) -> String {
    PALETTE.iter().fold(svg.to_owned(), |svg, colour| {
        svg.replace(&format!("var(--{})", colour.name), colour.print)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_colour_that_is_named_has_a_value() {
        let css = with_colours(&format!("{}{}", file(), POINTED_AT));
        assert!(!css.contains("var("), "{css}");
        for colour in &PALETTE {
            let set = format!("--{}:{};", colour.name, colour.dark);
            assert!(page().contains(&set), "{set}");
        }
    }
}
