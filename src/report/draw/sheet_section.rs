//! A section through a board, out of proportion, that shows from which edge to which
//! each length of a sheet is taken.

use std::fmt::Write;

use super::svg::{Figure, circle, number, stroke, text};
use crate::board::{Edge, Profile, Quantity, RingWire};
use crate::geometry::Point;

/// The size of the drawing and of its letters. House rule: two side by side on paper
/// have letters of 7 points, and one on a telephone of 10 pixels.
const WIDTH: f64 = 360.0;
pub(super) const SIZE: f64 = 11.5;
/// The bull's centre, where wires stand to its right (those of the bulls and the
/// outer double wire to its left too), and the ends of the board. Invented: far
/// enough apart for the edges to be told apart.
const CENTRE: f64 = 138.0;
const LEFT: f64 = 10.0;
const RIGHT: f64 = 350.0;
/// The board's face, and how thick the board is.
const FACE: f64 = 58.0;
const BOARD: f64 = 12.0;
/// The first line of a length, and from one to the next.
const FIRST: f64 = FACE + BOARD + 14.0;
const ROW: f64 = 17.0;
/// The radius of the mark that holds a letter.
const MARK: f64 = 8.0;

/// A row of the sheet: its letter, what it is, the edge to which it is taken.
pub(in crate::report) type Marked = (char, Quantity, Option<Edge>);

/// The section, with a line for each length.
pub(in crate::report) fn sheet_section(rows: &[Marked], profile: Profile) -> Figure {
    let wires = Wires { profile };
    let lines = arranged(rows, &wires);
    let count = lines.iter().map(|line| line.row + 1).max().unwrap_or(0);
    let below = FIRST + ROW * count as f64 - 5.0;
    let mut body = String::new();
    let _ = write!(
        body,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" style=\"fill:var(--bed2)\"/>",
        number(LEFT),
        number(FACE),
        number(RIGHT - LEFT),
        number(BOARD)
    );
    let along = |y: f64| format!("M{} {}H{}", number(LEFT), number(y), number(RIGHT));
    stroke(&mut body, &along(FACE), "--ink", 1.2);
    let middle = format!(
        "M{} {}V{}",
        number(CENTRE),
        number(FACE - 20.0),
        number(below)
    );
    let _ = write!(
        body,
        "<path d=\"{middle}\" class=\"lead\" stroke-dasharray=\"7 2 1 2\"/>"
    );
    for line in &lines {
        line.draw(&mut body);
    }
    wires.draw(&mut body);
    for (letter, quantity, _) in rows {
        wires.thickness(&mut body, *letter, *quantity);
    }
    for (x, words) in [(CENTRE, "bull"), (231.0, "treble"), (299.0, "double")] {
        text(&mut body, x, FACE - 26.0, SIZE, "middle", "halo", words);
    }
    Figure {
        group: "sheet",
        width: WIDTH,
        height: below + 6.0,
        body,
        title: "Where each length is taken".to_owned(),
        description: "A board as if cut, out of proportion. Letters are those of the rows; each \
                      line ends at the edges to which its length is taken."
            .to_owned(),
    }
}

/// How the wires stand and look.
struct Wires {
    profile: Profile,
}

impl Wires {
    /// Each wire's middle to the left of the bull, where it is drawn there, and to
    /// its right.
    const RINGS: [(RingWire, Option<f64>, f64); 6] = [
        (RingWire::InnerBull, Some(119.0), 157.0),
        (RingWire::OuterBull, Some(91.0), 185.0),
        (RingWire::TrebleInner, None, 214.0),
        (RingWire::TrebleOuter, None, 248.0),
        (RingWire::DoubleInner, None, 282.0),
        (RingWire::DoubleOuter, Some(42.0), 316.0),
    ];

    /// Half the thickness of a wire.
    const fn half(&self) -> f64 {
        match self.profile {
            Profile::Round => 6.5,
            Profile::Strip => 4.5,
        }
    }

    /// Where an edge of a wire stands to the left of the bull and to its right.
    fn edge(&self, wire: RingWire, edge: Edge) -> (f64, f64) {
        let outwards = match edge {
            Edge::Inside => -self.half(),
            Edge::Apex => 0.0,
            Edge::Outside => self.half(),
        };
        let found = Self::RINGS.iter().find(|(ring, ..)| *ring == wire);
        // A diameter of a wire that is not drawn at the left ends where it would be.
        let (left, right) = found.map_or((CENTRE, CENTRE), |(_, left, right)| {
            (left.unwrap_or(66.0), *right)
        });
        (left - outwards, right + outwards)
    }

    /// From where to where a length is taken; nothing for a thickness.
    fn ends(&self, quantity: Quantity, edge: Option<Edge>) -> Option<(f64, f64)> {
        let edge = edge.unwrap_or(Edge::Apex);
        // Inside, the edges of a width face each other; outside, they do not.
        let facing = match edge {
            Edge::Inside => Edge::Outside,
            Edge::Outside => Edge::Inside,
            Edge::Apex => Edge::Apex,
        };
        Some(match quantity {
            Quantity::Ring(ring, true) => self.edge(ring, edge),
            Quantity::Ring(ring, false) => (CENTRE, self.edge(ring, edge).1),
            Quantity::Width(band) => (
                self.edge(band.inner_wire()?, facing).1,
                self.edge(band.outer_wire(), edge).1,
            ),
            Quantity::Overall => (LEFT, RIGHT),
            _ => return None,
        })
    }

    fn draw(&self, out: &mut String) {
        let half = self.half();
        let sides = Self::RINGS.iter();
        for x in sides.flat_map(|(_, left, right)| left.iter().chain([right])) {
            let outline = match self.profile {
                Profile::Round => circle(Point::new(*x, half - FACE), half),
                Profile::Strip => {
                    let (x, y) = (number(x - half), number(FACE - 13.0));
                    format!("M{x} {y}h{0}v21h-{0}z", number(2.0 * half))
                }
            };
            let _ = write!(
                out,
                "<path d=\"{outline}\" style=\"fill:var(--wire);stroke:var(--ink);stroke-width:.8\"/>"
            );
        }
    }

    /// The letter of a wire's thickness, over a wire; a sector wire lies along the cut.
    fn thickness(&self, out: &mut String, letter: char, quantity: Quantity) {
        let top = FACE - 13.0;
        let (x, y) = match quantity {
            Quantity::SectorWires | Quantity::SectorWire(_) => {
                let (from, to) = (248.0 + self.half(), 282.0 - self.half());
                let place = number(FACE - 3.0);
                stroke(
                    out,
                    &format!("M{} {place}H{}", number(from), number(to)),
                    "--wire",
                    6.0,
                );
                (265.0, FACE - 3.0)
            }
            Quantity::RingWires | Quantity::RingWire(_) => (42.0, top),
            _ => return,
        };
        let path = format!("M{} {}V{}", number(x), number(y), number(MARK + 14.0));
        let _ = write!(out, "<path class=\"lead\" d=\"{path}\"/>");
        mark(out, x, MARK + 6.0, letter);
    }
}

/// A length: from where to where, on which row, and where its letter stands.
struct Line {
    letter: char,
    ends: (f64, f64),
    row: usize,
    at: f64,
}

/// Every length on the first row where it touches no other, the short ones first.
fn arranged(rows: &[Marked], wires: &Wires) -> Vec<Line> {
    let place = |(letter, quantity, edge): &Marked| {
        let ends = wires.ends(*quantity, *edge)?;
        let length = ends.1 - ends.0;
        // Between near edges there is no room for a letter.
        let at = if length < 4.5 * MARK {
            ends.1 + MARK + 6.0
        } else {
            f64::midpoint(ends.0, ends.1)
        };
        Some(Line {
            letter: *letter,
            ends,
            row: 0,
            at,
        })
    };
    let mut lines: Vec<Line> = rows.iter().filter_map(place).collect();
    lines.sort_by(|a, b| (a.ends.1 - a.ends.0).total_cmp(&(b.ends.1 - b.ends.0)));
    let mut taken: Vec<Vec<(f64, f64)>> = Vec::new();
    for line in &mut lines {
        let span = (line.ends.0 - 3.0, line.ends.1.max(line.at + MARK) + 3.0);
        let free = |row: &Vec<(f64, f64)>| row.iter().all(|it| span.1 <= it.0 || span.0 >= it.1);
        line.row = taken.iter().position(free).unwrap_or(taken.len());
        match taken.get_mut(line.row) {
            Some(row) => row.push(span),
            None => taken.push(vec![span]),
        }
    }
    lines
}

impl Line {
    fn draw(&self, out: &mut String) {
        let y = FIRST + ROW * self.row as f64;
        let (from, to, place) = (number(self.ends.0), number(self.ends.1), number(y));
        for x in [&from, &to] {
            let path = format!("M{x} {}V{}", number(FACE - 7.0), number(y + 4.0));
            let _ = write!(out, "<path class=\"lead\" d=\"{path}\"/>");
        }
        let _ = write!(
            out,
            "<path class=\"axis\" d=\"M{from} {place}H{to}M{from} {place}l5 -2.5m-5 2.5l5 2.5\
             M{to} {place}l-5 -2.5m5 2.5l-5 2.5\"/>"
        );
        mark(out, self.at, y, self.letter);
    }
}

/// A row's letter in a disc.
fn mark(out: &mut String, x: f64, y: f64, letter: char) {
    let _ = write!(
        out,
        "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"mark\"/>",
        number(x),
        number(y),
        number(MARK)
    );
    text(out, x, y + 4.2, SIZE, "middle", "", &letter.to_string());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{Band, Mounting};
    use crate::document::Source;
    use crate::readings::plan;
    use crate::table::Table;

    fn rows() -> Vec<Marked> {
        // Invented limits: every kind of length that a sheet asks for.
        let text = "format: ringrule/table/1\ntitle: House rules\n\
                    source: { document: House rules, provenance: invented }\nlimits:\n  \
                    bull: { measurand: inner_bull.diameter, edge: inside, nominal: 12.7 mm, tolerance: 0.2 mm }\n  \
                    outer: { measurand: outer_bull.diameter, edge: inside, nominal: 31.8 mm, tolerance: 0.2 mm }\n  \
                    treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }\n  \
                    double: { measurand: double.width, edge: apex, nominal: 8.0 mm, tolerance: 0.2 mm }\n  \
                    reach: { measurand: double.outer_diameter, edge: outside, nominal: 340 mm, tolerance: 1 mm }\n  \
                    whole: { measurand: overall.diameter, nominal: 451 mm, tolerance: 3 mm }\n";
        let table = Table::read(Source::new("house.yaml", text), &()).expect("a table");
        let plan = plan(&table, Mounting::Staples, Profile::Round);
        let rows = ('A'..).zip(plan);
        rows.map(|(letter, row)| (letter, row.item.0, row.edge))
            .collect()
    }

    #[test]
    fn lengths_on_one_row_do_not_touch() {
        let wires = Wires {
            profile: Profile::Round,
        };
        let lines = arranged(&rows(), &wires);
        assert_eq!(lines.len(), 6);
        for (index, one) in lines.iter().enumerate() {
            for other in lines
                .iter()
                .skip(index + 1)
                .filter(|other| other.row == one.row)
            {
                let end = |line: &Line| line.ends.1.max(line.at + MARK);
                let apart = end(one) < other.ends.0 || end(other) < one.ends.0;
                assert!(apart, "{} and {}", one.letter, other.letter);
            }
        }
    }

    #[test]
    fn a_width_lies_between_the_edges_that_its_row_names() {
        let wires = Wires {
            profile: Profile::Round,
        };
        let width = |edge| {
            let (from, to) = wires
                .ends(Quantity::Width(Band::Treble), Some(edge))
                .expect("ends");
            to - from
        };
        // Inside, both halves of the metal are left out; outside, both count.
        assert!((width(Edge::Apex) - width(Edge::Inside) - 2.0 * wires.half()).abs() < 1e-9);
        assert!((width(Edge::Outside) - width(Edge::Apex) - 2.0 * wires.half()).abs() < 1e-9);
    }

    #[test]
    fn every_row_has_its_letter_in_the_drawing() {
        let figure = sheet_section(&rows(), Profile::Strip);
        assert!(figure.width <= 400.0);
        for (letter, ..) in rows() {
            assert_eq!(
                figure.body.matches(&format!(">{letter}</text>")).count(),
                1,
                "{letter}"
            );
        }
    }
}
