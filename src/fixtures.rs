//! Boards that unit tests share, all from Board R, the fixture of every test and
//! benchmark.
#![allow(clippy::expect_used)]

use crate::board::{Board, PerRing, RingWire};
use crate::document::Source;
use crate::geometry::{Point, RingShape, SectorShape, Spider};
use crate::units::{Angle, Length};

const BOARD_R: &str = include_str!("../tests/fixtures/board-r.yaml");

/// Board R with wires of this width, `inside` mm between the facing edges of
/// the treble's and of the double's wires.
pub(crate) fn to_rule(wire: f64, inside: f64) -> Spider {
    let inner = |outer: f64| (outer - wire - inside).to_string();
    let text = BOARD_R
        .replace("16 SWG", &wire.to_string())
        .replace("97.3744", &inner(107.0))
        .replace("160.3744", &inner(170.0));
    let board = Board::read(Source::new("board-r.yaml", text)).expect("a board");
    Spider::of(&board.construction)
}

/// Round 16 SWG everywhere (published: Imperial Standard Wire Gauge), 8.0 mm
/// inside to inside.
pub(crate) fn round() -> Spider {
    to_rule(1.6256, 8.0)
}

/// Thin strip of this width, 9.6 mm from apex to apex.
pub(crate) fn strip(width: f64) -> Spider {
    to_rule(width, 9.6 - width)
}

/// The board of Tibshirani, Price and Taylor, J. R. Statist. Soc. A 174
/// (2011): six radii and no wires (published).
pub(crate) fn wireless() -> Spider {
    let radius = |ring| match ring {
        RingWire::InnerBull => 6.35,
        RingWire::OuterBull => 15.9,
        RingWire::TrebleInner => 99.0,
        RingWire::TrebleOuter => 107.0,
        RingWire::DoubleInner => 162.0,
        RingWire::DoubleOuter => 170.0,
    };
    Spider {
        rings: PerRing::from_fn(|r| {
            RingShape::around_apex(Point::ORIGIN, Length::mm(radius(r)), Length::ZERO)
        }),
        sectors: Some(SectorShape::even(Length::ZERO)),
        staples: Vec::new(),
    }
}

/// The round board bent: every ring off-centre, every sector wire off its
/// bearing. Invented.
pub(crate) fn bent() -> Spider {
    let mut spider = round();
    let shifts = [
        (0.3, -0.2),
        (0.1, 0.4),
        (-0.5, 0.2),
        (0.7, -0.1),
        (0.0, 0.6),
        (-0.4, -0.3),
    ];
    for (ring, (x, y)) in RingWire::ALL.into_iter().zip(shifts) {
        spider.rings[ring].centre = Point::mm(x, y);
    }
    if let Some(sectors) = &mut spider.sectors {
        for (wire, bearing) in sectors.bearings.iter_mut().enumerate() {
            *bearing = Angle::degrees(bearing.as_degrees() + 0.4 * libm::sin(wire as f64));
        }
    }
    spider
}
