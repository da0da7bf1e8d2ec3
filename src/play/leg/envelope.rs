//! The least expected cost as a function of what a void visit costs.
//!
//! For each policy the cost is a straight line, so the least of all is concave.
//! Between two places where it is known it lies above their chord and below the
//! lines of the policies that are best there. Where these bounds meet, nothing
//! needs to be searched: proven, not guessed.

use super::line::Line;

/// Bounds this close, as a share of a void visit's cost, have met.
const MET: f64 = 1e-12;

/// A concave function, known at some places.
#[derive(Clone, Debug, Default)]
pub(super) struct Envelope {
    /// By the cost of a void visit, ascending.
    nodes: Vec<Node>,
}

/// What is best at one cost of a void visit.
#[derive(Clone, Copy, Debug)]
struct Node {
    void: f64,
    line: Line,
    aim: usize,
}

impl Node {
    fn at(&self, void: f64) -> (Line, usize) {
        (self.line.moved(void - self.void), self.aim)
    }
}

impl Envelope {
    /// The least cost and the aim that it takes, if the bounds have met there to
    /// rounding or to `tolerance`.
    pub(super) fn at(&self, void: f64, tolerance: f64) -> Option<(Line, usize)> {
        let above = self.nodes.partition_point(|node| node.void < void);
        let right = self.nodes.get(above)?;
        // Exactly equal: asked again.
        #[allow(clippy::float_cmp)]
        if right.void == void {
            return Some((right.line, right.aim));
        }
        let left = self.nodes.get(above.checked_sub(1)?)?;
        let share = (void - left.void) / (right.void - left.void);
        let chord = left.line.excess + share * (right.line.excess - left.line.excess);
        let (from_left, from_right) = (left.at(void), right.at(void));
        let best = if from_left.0.excess <= from_right.0.excess {
            from_left
        } else {
            from_right
        };
        let met = tolerance.max(MET * (1.0 + void.abs()));
        (best.0.excess - chord <= met).then_some(best)
    }

    /// The aims that are best nearby.
    pub(super) fn near(&self, void: f64) -> impl Iterator<Item = usize> {
        let above = self.nodes.partition_point(|node| node.void < void);
        let beside = self.nodes.get(above.saturating_sub(1)..).unwrap_or(&[]);
        beside.iter().take(2).map(|node| node.aim)
    }

    /// Notes what is best at a cost of a void visit.
    pub(super) fn insert(&mut self, void: f64, line: Line, aim: usize) {
        let above = self.nodes.partition_point(|node| node.void < void);
        self.nodes.insert(above, Node { void, line, aim });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The least of three lines, invented: 9, 3 + v/2 and v.
    fn least(void: f64) -> (Line, usize) {
        let lines = [(9.0 - void, 1.0), (3.0 - 0.5 * void, 0.5), (0.0, 0.0)];
        let lines = lines.map(|(excess, leave)| Line { excess, leave });
        let best = (0..3).min_by(|a, b| lines[*a].excess.total_cmp(&lines[*b].excess));
        let best = best.expect("three lines");
        (lines[best], best)
    }

    #[test]
    fn what_it_answers_is_the_least_of_all_lines_and_it_rarely_has_to_search() {
        let mut envelope = Envelope::default();
        let mut searches = 0;
        for step in 0..400 {
            let void = f64::from((step * 137) % 400) * 0.05;
            let (exact, aim) = least(void);
            let (line, _) = envelope.at(void, 0.0).unwrap_or_else(|| {
                searches += 1;
                envelope.insert(void, exact, aim);
                (exact, aim)
            });
            assert!((line.excess - exact.excess).abs() < 1e-10, "{void}");
        }
        assert!(searches < 60, "{searches}");
    }
}
