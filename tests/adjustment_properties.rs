//! What holds for any lengths that follow from one another.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use ringrule::board::{Band, Board, Edge, Linear, RingWire};
use ringrule::conformity::FreeArea;
use ringrule::document::Source;
use ringrule::geometry::Spider;

fn board(rest: &str) -> Board {
    let text = format!(
        "format: ringrule/board/1\nboard: {{ id: A-1 }}\nmounting: staples\nunits: mm\n{rest}"
    );
    Board::read(Source::new("a-1.yaml", text)).expect("a sound board")
}

/// A treble with a radius more or less, its width taken or not, to any edges;
/// all but the wires by one calliper if it is named.
fn treble(of: &Treble, inner: bool, width: bool) -> Board {
    let [outer_edge, inner_edge, width_edge] =
        of.edges.map(|edge| ["inside", "apex", "outside"][edge]);
    // The same ring, whatever edges it was taken to.
    let shift = of.edges.map(|edge| 0.8 * (edge as f64 - 1.0));
    let (outer, inner_radius) = (106.2 + shift[0], 96.6 + shift[1]);
    let across = 9.6 + 2.0 * shift[2];
    let [outer_u, inner_u, width_u] = of.expanded;
    let beside = |u: f64| {
        if of.by_calliper {
            String::new()
        } else {
            format!(", uncertainty: {u}")
        }
    };
    let mut text = String::new();
    if of.by_calliper {
        text.push_str("instrument: { resolution: 0.01, max_error: 0.05 }\n");
    }
    text.push_str(
        "wires:\n  rings: { size: 1.6, uncertainty: 0.01 }\n  \
         sectors: { size: 1.6, uncertainty: 0.01 }\nrings:\n",
    );
    text.push_str(&format!(
        "  treble_outer: {{ radius: {outer:.1}, edge: {outer_edge}{} }}\n",
        beside(outer_u)
    ));
    if inner {
        text.push_str(&format!(
            "  treble_inner: {{ radius: {inner_radius:.1}, edge: {inner_edge}{} }}\n",
            beside(inner_u)
        ));
    }
    if width {
        text.push_str(&format!(
            "widths: {{ treble: {{ width: {across:.1}, edge: {width_edge}{} }} }}\n",
            beside(width_u)
        ));
    }
    board(&text)
}

#[derive(Clone, Debug)]
struct Treble {
    edges: [usize; 3],
    expanded: [f64; 3],
    by_calliper: bool,
}

fn trebles() -> impl Strategy<Value = Treble> {
    let edges = [0_usize..3, 0..3, 0..3];
    let expanded = [0.01..0.3_f64, 0.01..0.3, 0.01..0.3];
    (edges, expanded, any::<bool>()).prop_map(|(edges, expanded, by_calliper)| Treble {
        edges,
        expanded,
        by_calliper,
    })
}

/// The standard uncertainties of the treble's area, outer radius and width.
fn uncertainties(board: &Board) -> [f64; 3] {
    let construction = &board.construction;
    let spider = Spider::of(construction);
    let free = FreeArea::of(construction, &spider, Band::Treble).expect("recorded");
    let area = free.uncertainty(construction).expect("stated").standard();
    let u = |form: &Linear| {
        let u = form.uncertainty(&construction.inputs);
        u.expect("stated").standard()
    };
    let outer = construction.edge_radius(RingWire::TrebleOuter, Edge::Outside);
    let width = construction.width_from_radii(Band::Treble, Edge::Inside);
    [
        area,
        u(&outer.expect("recorded")),
        u(&width.expect("recorded")),
    ]
}

proptest! {
    #![proptest_config(Config {
        cases: 200,
        rng_seed: RngSeed::Fixed(11),
        failure_persistence: None,
        ..Config::default()
    })]

    #[test]
    fn an_added_length_never_makes_anything_less_certain(of in trebles()) {
        let all = uncertainties(&treble(&of, true, true));
        for fewer in [treble(&of, true, false), treble(&of, false, true)] {
            for (with, without) in all.iter().zip(uncertainties(&fewer)) {
                prop_assert!(*with <= without * (1.0 + 1e-9), "{with} {without}");
            }
        }
    }

    #[test]
    fn inches_and_millimetres_are_one_board(of in trebles()) {
        let metric = treble(&of, true, true);
        let text = metric.document.source.text().to_owned();
        let inch = |number: &str| format!("{}", number.parse::<f64>().expect("a number") / 25.4);
        let mut imperial = String::new();
        let mut rest = text.split_once("units: mm\n").expect("its unit").1;
        // Every decimal number is a length.
        while let Some(point) = rest.find('.') {
            let digits = |c: char| c.is_ascii_digit();
            let start = rest[..point].rfind(|c| !digits(c)).map_or(0, |at| at + 1);
            let length = rest[point + 1..].find(|c| !digits(c)).unwrap_or(rest.len() - point - 1);
            imperial.push_str(&rest[..start]);
            imperial.push_str(&inch(&rest[start..point + 1 + length]));
            rest = &rest[point + 1 + length..];
        }
        imperial.push_str(rest);
        let head = "format: ringrule/board/1\nboard: { id: A-1 }\nmounting: staples\nunits: in\n";
        let imperial = Board::read(Source::new("in.yaml", format!("{head}{imperial}")));
        let imperial = imperial.expect("the same board");
        for (a, b) in uncertainties(&metric).iter().zip(uncertainties(&imperial)) {
            prop_assert!((a - b).abs() < 1e-9, "{a} {b}");
        }
    }
}
