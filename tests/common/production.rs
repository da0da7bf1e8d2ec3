//! Invented production runs, the same on every machine: the demo's, and longer ones.

use std::fmt::Write;

/// A seeded stream of normal numbers: splitmix64 (Steele, Lea and Flood, OOPSLA 2014)
/// and Box and Muller (1958), from memory.
pub(crate) struct Normals(u64);

impl Normals {
    pub(crate) const fn seeded(seed: u64) -> Self {
        Self(seed)
    }

    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / 9_007_199_254_740_992.0
    }

    pub(crate) fn next(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(1.0 - self.uniform()));
        radius * libm::cos(std::f64::consts::TAU * self.uniform())
    }
}

/// The lengths of a strip board in mm, by the heads of their columns: edge, nominal
/// value and standard deviation of the process.
const LENGTHS: [(&str, &str, f64, f64); 7] = [
    ("inner_bull diameter", ", inside", 12.7, 0.04),
    ("outer_bull diameter", ", inside", 31.8, 0.05),
    ("treble_outer radius", ", outside", 107.0, 0.04),
    ("double_outer radius", ", outside", 170.0, 0.04),
    ("treble width", ", apex", 9.58, 0.03),
    ("double width", ", apex", 9.6, 0.03),
    ("overall diameter", "", 451.0, 0.4),
];

/// The demo: 80 boards of an invented maker, as `specs/lot/run.csv` has them.
/// Planted: the treble gets wider by 0.004 mm a board after the 40th, and the 23rd
/// board's outer double wire is 0.3 mm too far out. Two readings a length, of a
/// repeatability of 0.012 mm.
pub(crate) fn demo() -> String {
    let mut out = String::from(
        "board,made,maker,mounting,inspected by,date,instrument,resolution (mm),max error (mm)",
    );
    for (head, edge, ..) in LENGTHS {
        for number in 1..=2 {
            let _ = write!(out, ",\"{head} {number} (mm{edge})\"");
        }
    }
    out.push_str(",ring wires 1 (mm),sector wires 1 (mm),note\n");
    let mut normals = Normals::seeded(2026);
    for at in 1..=80_u32 {
        let day = 2 + (at - 1) / 20;
        let _ = write!(
            out,
            "MB-{at:03},2026,Millbrook Board Works,embedded,C. Example,2026-11-{day:02},\
             works calliper 1,0.01,0.03"
        );
        for (head, _, nominal, spread) in LENGTHS {
            let mut value = nominal + spread * normals.next();
            if head.starts_with("treble width") {
                value += 0.004 * f64::from(at.saturating_sub(40));
            }
            if at == 23 && head.starts_with("double_outer") {
                value += 0.3;
            }
            // Two readings, each with a scatter of its own.
            for _ in 0..2 {
                let reading = value + 0.012 * normals.next();
                let _ = write!(out, ",{reading:.2}");
            }
        }
        out.push_str(",0.50,0.50,INVENTED\n");
    }
    out
}

/// A board file of a long run: seven lengths of standard deviation 0.05 mm as a
/// calliper shows them, of which the treble width has drifted.
pub(crate) fn board(at: usize, drift: f64, normals: &mut Normals) -> String {
    let mut length = |nominal: f64| {
        let value = nominal + 0.05 * normals.next();
        format!("{value:.2}")
    };
    let (bull, outer) = (length(12.7), length(31.8));
    let (treble, double) = (length(107.0), length(170.0));
    let (width, overall) = (length(9.6), length(451.0));
    let drifting = 9.6 + drift + 0.05 * normals.next();
    format!(
        "format: ringrule/board/1\nboard: {{ id: R-{at:03}, made: 2026 }}\nmounting: embedded\nunits: mm\n\
         wires: {{ rings: 0.5, sectors: 0.5 }}\nrings:\n  \
         inner_bull: {{ diameter: {bull}, edge: inside }}\n  \
         outer_bull: {{ diameter: {outer}, edge: inside }}\n  \
         treble_outer: {{ radius: {treble}, edge: outside }}\n  \
         double_outer: {{ radius: {double}, edge: outside }}\nwidths:\n  \
         treble: {{ width: {drifting:.2}, edge: apex }}\n  \
         double: {{ width: {width}, edge: apex }}\noverall: {{ diameter: {overall} }}\n"
    )
}
