//! Areas of a map in which it is at least so high, with smooth edges.

/// A map over equally spaced places: rows from the top, values from the left.
pub(super) struct Grid<'a> {
    pub(super) rows: &'a [Vec<f64>],
}

/// A place of the map, in steps from its first value to the right and down.
type Place = (f64, f64);

/// An edge between neighbouring places on which a contour crosses: the place at its
/// upper or left end, and whether it runs down.
type Edge = (usize, usize, bool);

impl Grid<'_> {
    /// The value at a place, with a margin of one step around the map that repeats its
    /// outermost values, and beyond that nothing.
    fn node(&self, column: usize, row: usize) -> f64 {
        let rows = self.rows.len();
        let columns = self.rows.first().map_or(0, Vec::len);
        if row == 0 || column == 0 || row > rows + 2 || column > columns + 2 {
            return f64::MIN;
        }
        let at = |index: usize, count: usize| index.saturating_sub(2).min(count.saturating_sub(1));
        let row = self.rows.get(at(row, rows));
        let value = row.and_then(|row| row.get(at(column, columns)));
        value.copied().unwrap_or(f64::MIN)
    }

    /// Where a contour crosses an edge: where a straight line between the values at its
    /// ends has the level.
    fn crossing(&self, (column, row, down): Edge, level: f64) -> Place {
        let (x, y) = (column as f64 - 2.0, row as f64 - 2.0);
        let from = self.node(column, row);
        let to = if down {
            self.node(column, row + 1)
        } else {
            self.node(column + 1, row)
        };
        // At the rim of the margin it runs along the rim.
        let share = if from <= f64::MIN {
            1.0
        } else if to <= f64::MIN {
            0.0
        } else {
            ((level - from) / (to - from)).clamp(0.0, 1.0)
        };
        if down { (x, y + share) } else { (x + share, y) }
    }

    /// The edge of the area in which the map is at least so high, as closed loops: what
    /// an odd number of them contain is inside.
    pub(super) fn at_least(&self, level: f64) -> Vec<Vec<Place>> {
        let columns = self.rows.first().map_or(0, Vec::len) + 4;
        let rows = self.rows.len() + 4;
        let mut next: std::collections::BTreeMap<Edge, Vec<Edge>> =
            std::collections::BTreeMap::new();
        for row in 0..rows.saturating_sub(1) {
            for column in 0..columns.saturating_sub(1) {
                for (from, to) in self.cell(column, row, level) {
                    next.entry(from).or_default().push(to);
                    next.entry(to).or_default().push(from);
                }
            }
        }
        let mut loops = Vec::new();
        while let Some((&start, _)) = next.iter().find(|(_, to)| !to.is_empty()) {
            let mut edges = vec![start];
            let mut at = start;
            while let Some(to) = next.get_mut(&at).and_then(Vec::pop) {
                // The way back is used up too.
                if let Some(back) = next.get_mut(&to)
                    && let Some(index) = back.iter().position(|edge| *edge == at)
                {
                    back.swap_remove(index);
                }
                if to == start {
                    break;
                }
                edges.push(to);
                at = to;
            }
            let places = edges.into_iter().map(|edge| self.crossing(edge, level));
            loops.push(places.collect());
        }
        loops
    }

    /// The contour's pieces in the cell below and right of a place, each from edge to
    /// edge.
    fn cell(&self, column: usize, row: usize, level: f64) -> Vec<(Edge, Edge)> {
        let values = [(0, 0), (1, 0), (1, 1), (0, 1)].map(|(x, y)| self.node(column + x, row + y));
        let [a, b, c, d] = values.map(|value| value >= level);
        let top = (column, row, false);
        let right = (column + 1, row, true);
        let bottom = (column, row + 1, false);
        let left = (column, row, true);
        let crossed = [
            (a != b, top),
            (b != c, right),
            (c != d, bottom),
            (d != a, left),
        ];
        let crossed: Vec<Edge> = crossed
            .into_iter()
            .filter_map(|(is, edge)| is.then_some(edge))
            .collect();
        match crossed.as_slice() {
            [from, to] => vec![(*from, *to)],
            // A saddle: its middle says which corners belong together.
            [_, _, _, _] => {
                let middle = 0.25 * values.iter().sum::<f64>() >= level;
                if middle == a {
                    vec![(top, right), (bottom, left)]
                } else {
                    vec![(top, left), (right, bottom)]
                }
            }
            _ => Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    fn inside(loops: &[Vec<Place>], (x, y): Place) -> bool {
        let crossings = loops.iter().flat_map(|places| {
            let after = places.iter().cycle().skip(1);
            places.iter().zip(after).filter(|(a, b)| {
                (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)
            })
        });
        crossings.count() % 2 == 1
    }

    #[test]
    fn the_areas_hold_the_places_that_are_high_enough_and_no_other() {
        let mut random = Random::seeded(14);
        let rows: Vec<Vec<f64>> = (0..17)
            .map(|_| (0..13).map(|_| random.below(1000) as f64 / 37.0).collect())
            .collect();
        let grid = Grid { rows: &rows };
        for level in [0.0, 3.1, 9.77, 13.5, 20.2, 26.99] {
            let loops = grid.at_least(level);
            for (row, values) in rows.iter().enumerate() {
                for (column, value) in values.iter().enumerate() {
                    // A hair beside the place: an edge may run through it.
                    let place = (column as f64 + 1e-7, row as f64 + 1e-7);
                    assert_eq!(
                        inside(&loops, place),
                        *value >= level,
                        "{column} {row} {level}"
                    );
                }
            }
        }
    }

    #[test]
    fn an_edge_runs_where_the_map_interpolated_has_the_level() {
        // A plane: every interpolation of it is the plane itself.
        let rows: Vec<Vec<f64>> = (0..9)
            .map(|row| {
                (0..9)
                    .map(|column| f64::from(column) + 0.5 * f64::from(row))
                    .collect()
            })
            .collect();
        let grid = Grid { rows: &rows };
        let loops = grid.at_least(5.3);
        let within = |at: f64| (0.0..=8.0).contains(&at);
        let places = loops
            .iter()
            .flatten()
            .filter(|(x, y)| within(*x) && within(*y));
        let mut checked = 0;
        for (x, y) in places {
            assert!((x + 0.5 * y - 5.3).abs() < 1e-9, "{x} {y}");
            checked += 1;
        }
        assert!(checked > 8, "{checked}");
    }

    #[test]
    fn what_is_nowhere_so_high_has_no_area() {
        let rows = vec![vec![1.0; 4]; 4];
        let grid = Grid { rows: &rows };
        assert!(grid.at_least(1.5).is_empty());
        assert_eq!(grid.at_least(0.5).len(), 1);
        assert!(Grid { rows: &[] }.at_least(0.0).is_empty());
    }
}
