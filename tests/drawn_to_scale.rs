//! Drawings measured as rendered: where metal begins and ends in the pixels of a large
//! picture, against the geometry that the areas are computed from.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test may stop, and its pixels are few"
)]

mod common;

use common::{BOARD_R, STRIP_TWIN, board, table};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use ringrule::board::{Board, Edge, RingWire};
use ringrule::conformity::Judge;
use ringrule::geometry::Spider;
use ringrule::report::{What, draw_svg};
use ringrule::units::Angle;

/// Pixels from side to side.
const ACROSS: u32 = 4000;

/// Bearings clear of sector wires (every 18° from 9°), of the figures on the bands, near
/// the top, of the bulls' figures and lines, and of the letters near 40° and 320°.
const BEARINGS: [f64; 12] = [
    58.0, 67.0, 76.0, 94.0, 103.0, 157.0, 166.0, 184.0, 202.0, 256.0, 266.0, 283.0,
];

/// How metal is drawn in the light.
const WIRE: [u8; 3] = [0x6b, 0x67, 0x5f];

struct Picture {
    pixels: Pixmap,
    /// Pixels for 1 mm, and where the middle of the board is, in pixels.
    scale: f64,
    middle: (f64, f64),
}

impl Picture {
    fn of(board: &Board) -> Self {
        let table = table("wdf.yaml");
        let judge = Judge::new(&table);
        let assessment = judge.judge(board);
        let svg = draw_svg(&assessment, What::Board).expect("drawn");
        let (_, rest) = svg.split_once("width=\"").expect("a width");
        let width: f64 = number(rest);
        // Title first, then the board in its own place.
        let (_, rest) = svg
            .split_once("<g transform=\"translate(0 ")
            .expect("a drawing");
        let below = number(rest);
        let (_, rest) = rest
            .split_once("<g transform=\"translate(")
            .expect("a board");
        let half = number(rest);
        let scale = f64::from(ACROSS) / width;
        // As the program does it, but for letters and hatching, whose lines would be
        // taken for edges, and no further down than the board goes: what is below would
        // take longer than all else.
        let svg = svg.replace("fill=\"url(#", "fill=\"none\" class=\"");
        let tree = Tree::from_str(&svg, &Options::default()).expect("sound SVG");
        let height = ((below + 2.0 * half) * scale).ceil() as u32;
        let mut pixels = Pixmap::new(ACROSS, height).expect("a picture");
        let factor = scale as f32;
        let transform = Transform::from_scale(factor, factor);
        resvg::render(&tree, transform, &mut pixels.as_mut());
        Self {
            pixels,
            scale,
            middle: (half * scale, (below + half) * scale),
        }
    }

    /// How far the colour of the pixel at so many mm from the middle is from metal's.
    fn off_metal(&self, bearing: f64, radius: f64) -> u16 {
        let (sin, cos) = bearing.to_radians().sin_cos();
        let x = self.middle.0 + radius * self.scale * sin;
        let y = self.middle.1 - radius * self.scale * cos;
        let (x, y) = (x.floor() as u32, y.floor() as u32);
        let pixel = self.pixels.pixel(x, y).expect("within the picture");
        let colour = [pixel.red(), pixel.green(), pixel.blue()];
        let pairs = colour.iter().zip(&WIRE);
        pairs.map(|(a, b)| u16::from(a.abs_diff(*b))).sum()
    }
}

/// The number that a text begins with.
fn number(text: &str) -> f64 {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.');
    text[..end.unwrap_or(text.len())].parse().expect("a number")
}

/// The metal about a radius, from where to where, in mm: an edge is where a pixel is half
/// metal and half what lies three pixels beyond. Every tenth of a pixel is asked.
fn metal(picture: &Picture, bearing: f64, about: f64) -> Option<(f64, f64)> {
    if picture.off_metal(bearing, about) > 10 {
        return None;
    }
    let walk = |side: f64| {
        let at = |tenth: u32| about + side * 0.1 / picture.scale * f64::from(tenth);
        let off = |tenth: u32| picture.off_metal(bearing, at(tenth));
        let left = (0..2000).find(|tenth| off(*tenth) > 10)?;
        let beyond = off(left + 30);
        let edge = (left..=left + 30).find(|tenth| 2 * off(*tenth) >= beyond)?;
        Some(at(edge))
    };
    Some((walk(-1.0)?, walk(1.0)?))
}

fn agrees(name: &str, board: &Board) {
    let picture = Picture::of(board);
    let judged = table("wdf.yaml");
    let judge = Judge::new(&judged);
    let spider = Spider::of(&judge.judge(board).construction);
    let most = 1.0 / picture.scale;
    let mut looked = 0;
    for wire in RingWire::ALL {
        for bearing in BEARINGS {
            let reach = |edge| {
                let found = spider.reach(wire, edge, Angle::degrees(bearing));
                found.expect("a wire that is known").as_mm()
            };
            let (inside, outside) = (reach(Edge::Inside), reach(Edge::Outside));
            let found = metal(&picture, bearing, f64::midpoint(inside, outside));
            let (from, to) = found.unwrap_or_else(|| panic!("{name}: {wire} at {bearing}°"));
            assert!(
                (from - inside).abs() < most && (to - outside).abs() < most,
                "{name}: {wire} at {bearing}°: drawn {from:.3} to {to:.3}, is {inside:.3} to {outside:.3}"
            );
            looked += 1;
        }
    }
    assert_eq!(looked, 6 * BEARINGS.len());
}

#[test]
fn wires_are_drawn_where_they_are_and_as_thick_as_they_are() {
    agrees("round wire", &board(BOARD_R));
    agrees("strip", &board(STRIP_TWIN));
}

#[test]
fn a_radius_of_any_hundredth_is_drawn_where_it_is() {
    // Invented: radii whose hundredths round both ways.
    for radius in ["106.875", "107.415"] {
        let text = BOARD_R.replace("radius: 107.0", &format!("radius: {radius}"));
        assert_ne!(text, BOARD_R);
        agrees(radius, &board(&text));
    }
}

#[test]
fn a_ring_off_its_place_is_drawn_off_its_place() {
    let offset = "radius: 107.0, edge: outside, offset: [0.8, -0.5]";
    let text = BOARD_R.replace("radius: 107.0, edge: outside", offset);
    assert_ne!(text, BOARD_R);
    agrees("off centre", &board(&text));
}
