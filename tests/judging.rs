//! Verdicts where the file or the table leaves something open.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{BOARD_R, board, ringrule, table};
use ringrule::board::{Band, Board, Edge, Mounting, Profile, Quantity, RingWire};
use ringrule::conformity::{BandOutcome, Judge, Missing, Outcome, Verdict};
use ringrule::document::{Fault, Source};
use ringrule::table::Table;

fn house(body: &str) -> Table {
    let head =
        "format: ringrule/table/1\ntitle: T\nsource: { document: D, provenance: invented }\n";
    Table::read(Source::new("t.yaml", format!("{head}{body}")), &()).expect("a sound table")
}

fn refused(text: &str) -> Vec<Fault> {
    let invalid_file = Board::read(Source::new("b.yaml", text)).expect_err("refused");
    invalid_file.faults()
}

#[test]
fn one_thick_wire_condemns_whatever_else_is_missing() {
    let table = table("wdf.yaml");
    let text = BOARD_R.replace(
        "wires: { rings: 16 SWG, sectors: 16 SWG }",
        "wires: { sectors: 16 SWG, outer_bull: 10 SWG }",
    );
    let board = board(&text);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    assert_eq!(assessment.verdict, Verdict::DoesNotConform);
    let gauge = assessment
        .limits
        .iter()
        .filter(|f| f.limit.name == "ring_wire_gauge");
    let verdicts: Vec<_> = gauge.map(|finding| finding.outcome.verdict()).collect();
    assert_eq!(verdicts, [Some(Verdict::DoesNotConform), None]);
}

#[test]
fn a_stated_band_limit_without_a_nominal_board_is_not_checked() {
    let table = house(
        "limits:\n  size: { measurand: overall.diameter, nominal: 451 mm, tolerance: 3 mm }\n\
         bands: { treble: { area: 1 % } }\n",
    );
    let board = board(BOARD_R);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    assert_eq!(assessment.verdict, Verdict::Inconclusive);
    assert_eq!(assessment.tally().not_checked, 1);
    let missing = assessment.bands.iter().find_map(|f| match &f.outcome {
        BandOutcome::NotChecked(missing) => Some(missing.clone()),
        _ => None,
    });
    assert_eq!(
        missing,
        Some(vec![Missing::NominalBoard(Mounting::Staples)])
    );
}

#[test]
fn what_a_check_lacks_is_data() {
    let gone = |text: &str, keys: &[&str]| {
        let kept = text
            .lines()
            .filter(|line| !keys.iter().any(|key| line.trim_start().starts_with(key)));
        kept.collect::<Vec<_>>().join("\n")
    };
    let (judge_table, board_text) = (table("wdf.yaml"), BOARD_R);
    let judge = Judge::new(&judge_table);
    let limits = |text: &str, limit: &str| -> Vec<Missing> {
        let board = board(text);
        let assessment = judge.judge(&board);
        let found = assessment.limits.iter().find_map(|finding| {
            let Outcome::NotChecked(missing) = &finding.outcome else {
                return None;
            };
            (finding.limit.name == limit).then(|| missing.clone())
        });
        found.unwrap_or_default()
    };
    let bands = |text: &str, band: Band| -> Vec<Missing> {
        let board = board(text);
        let assessment = judge.judge(&board);
        let found = assessment.bands.iter().find(|finding| finding.band == band);
        match &found.expect("every band").outcome {
            BandOutcome::NotChecked(missing) => missing.clone(),
            _ => Vec::new(),
        }
    };
    let radius = |ring| Missing::Measured(Quantity::Ring(ring, false));
    let text = gone(board_text, &["treble_inner", "overall", "inner_bull"]);
    assert_eq!(
        limits(&text, "treble_width_round"),
        [
            radius(RingWire::TrebleInner),
            Missing::Instead(Quantity::Width(Band::Treble))
        ]
    );
    assert_eq!(
        limits(&text, "overall_diameter"),
        [Missing::Measured(Quantity::Overall)]
    );
    assert_eq!(
        limits(&text, "inner_bull_diameter"),
        [radius(RingWire::InnerBull)]
    );
    assert_eq!(bands(&text, Band::Treble), [radius(RingWire::TrebleInner)]);
    let text = gone(board_text, &["wires"]);
    assert_eq!(
        limits(&text, "ring_wire_gauge"),
        [Missing::Measured(Quantity::RingWires)]
    );
    assert_eq!(
        bands(&text, Band::InnerSingle),
        [
            Missing::Measured(Quantity::RingWire(RingWire::OuterBull)),
            Missing::Measured(Quantity::RingWire(RingWire::TrebleInner)),
            Missing::Measured(Quantity::SectorWires)
        ]
    );
    // Strip held by staples: the table's nominal board for staples is of round
    // wire.
    let text = board_text.replace("mounting: staples", "mounting: staples\nprofile: strip");
    assert_eq!(
        bands(&text, Band::Double),
        [Missing::NominalProfile {
            mounting: Mounting::Staples,
            board: Profile::Strip,
            nominal: Profile::Round,
        }]
    );
}

#[test]
fn wires_that_overlap_or_leave_no_bull_are_refused() {
    let no_bull = BOARD_R
        .replace(
            "{ diameter: 12.7, edge: inside }",
            "{ radius: 2.0, edge: outside }",
        )
        .replace("rings: 16 SWG", "rings: 16 SWG, inner_bull: 4.0");
    assert_eq!(refused(&no_bull), [Fault::Contradiction]);
    // Both treble and double inner wires placed by direct widths.
    let by_widths = BOARD_R
        .replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
        .replace("  double_inner: { radius: 160.3744, edge: outside }\n", "")
        .replace("radius: 107.0", "radius: 150.0")
        + "widths:\n  treble: { width: 8, edge: inside }\n  double: { width: 20, edge: inside }\n";
    assert_eq!(refused(&by_widths), [Fault::Contradiction]);
}

#[test]
fn a_limit_that_becomes_uncomputable_is_no_cure() {
    let table = table("wdf.yaml");
    let text = BOARD_R
        .replace(
            "{ rings: 16 SWG, sectors: 16 SWG }",
            "{ sectors: 16 SWG, double_outer: 16 SWG }",
        )
        .replace("160.3744", "161.0");
    let board = board(&text);
    let judge = Judge::new(&table);
    assert_eq!(judge.judge(&board).suspicion, None);
}

#[test]
fn a_board_wholly_at_the_wrong_edges_is_suspected_as_a_whole() {
    // Every radius of board R moved to the other side of its wire, the edges
    // left as they are declared.
    let table = table("wdf.yaml");
    let text = BOARD_R
        .replace("diameter: 12.7", "diameter: 15.9512")
        .replace("diameter: 31.8", "diameter: 35.0512")
        .replace("97.3744", "95.7488")
        .replace("107.0", "105.3744")
        .replace("160.3744", "158.7488")
        .replace("170.0", "168.3744");
    let board = board(&text);
    let judge = Judge::new(&table);
    let suspicion = judge.judge(&board).suspicion.expect("a suspicion");
    assert_eq!(suspicion.left, 0);
    let fitting: Vec<_> = suspicion
        .redeclared
        .iter()
        .map(|step| step.fitting)
        .collect();
    assert!(
        fitting.contains(&Edge::Inside) && fitting.contains(&Edge::Outside),
        "{suspicion:?}"
    );
    let rings = suspicion.redeclared.iter().flat_map(|step| &step.rings);
    assert!(rings.clone().any(|&ring| ring == RingWire::InnerBull));
    assert!(rings.clone().any(|&ring| ring == RingWire::TrebleOuter));
}

#[test]
fn the_noise_of_binary_numbers_is_no_contradiction_and_no_excess() {
    let table = table("wdf.yaml");
    let text = BOARD_R
        .replace("97.3744", "97.1744")
        .replace("units: mm", "units: mm\nuncertainty: 0.000001")
        + "widths: { treble: { width: 8.2, edge: inside } }\n";
    let board = board(&text);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    assert_eq!(assessment.verdict, Verdict::Conforms);
    for finding in &assessment.limits {
        if let Outcome::Length(length) = &finding.outcome {
            assert_eq!(length.contradiction, None, "{}", finding.limit.name);
            assert!(length.excess.as_mm() == 0.0, "{}", finding.limit.name);
        }
    }
}

#[test]
fn a_limit_on_one_side_leaves_the_other_side_open() {
    let mut table = table("wdf.yaml");
    let one_sided = house(
        "limits:\n  treble_width_round: { measurand: treble.width, edge: inside, \
         when: { profile: round }, tolerance: { min: 7.8 mm } }\n",
    );
    let replaced = table
        .limits
        .iter_mut()
        .find(|limit| limit.name == "treble_width_round");
    replaced.expect("in the table").demand = one_sided.limits[0].demand.clone();
    let board = board(BOARD_R);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let treble = assessment
        .bands
        .iter()
        .find(|finding| finding.band == Band::Treble);
    let BandOutcome::Compared(treble) = &treble.expect("a treble").outcome else {
        panic!("compared");
    };
    let bounds = treble.bounds.expect("bounds on one side");
    assert!(
        bounds.lower.is_some() && bounds.upper.is_none(),
        "{bounds:?}"
    );
}

#[test]
fn drivers_compare_each_wire_with_its_own() {
    let mut table = table("wdf.yaml");
    let nominal = table.staples.as_mut().expect("a nominal board");
    let text = BOARD_R.replace("rings: 16 SWG", "inner_bull: 1.0, rings: 16 SWG");
    nominal.construction = board(&text).construction;
    let board = board(BOARD_R);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let treble = assessment
        .bands
        .iter()
        .find(|finding| finding.band == Band::Treble);
    let BandOutcome::Compared(treble) = &treble.expect("a treble").outcome else {
        panic!("compared");
    };
    for driver in &treble.drivers {
        assert!(driver.share.value().abs() < 1e-9, "{driver:?}");
    }
}

#[test]
fn an_alias_is_pointed_at_where_it_stands() {
    let text = BOARD_R.replace(
        "rings: 16 SWG, sectors: 16 SWG",
        "rings: &w 16 SWG, sectors: *w",
    );
    let board = board(&text);
    let sectors = board.construction.sector_wires.as_ref().expect("recorded");
    let input = board
        .construction
        .input(sectors.terms()[0].0)
        .expect("an input");
    assert_eq!(board.document.source.slice(input.span), "*w");
    assert_eq!(board.document.pointer(input.span), "/wires/sectors");
}

#[test]
fn faults_of_a_table_and_of_what_it_extends_appear_together() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    write(
        "base.yaml",
        "format: ringrule/table/1\ntitle: B\nlimitz: {}\n",
    );
    write(
        "child.yaml",
        "format: ringrule/table/1\ntitle: C\nsource: { document: D, provenance: invented }\n\
         extends: base.yaml\nlimits: { a: { measurand: treble.width, tolerance: 1 mm } }\n",
    );
    let child = folder.path().join("child.yaml").display().to_string();
    let output = ringrule(&[
        "validate",
        "specs/demo",
        "--table",
        &child,
        "--format",
        "json",
    ]);
    assert_eq!(output.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one document");
    let refused = json["invalid_files"].as_array().expect("a list");
    let names: Vec<_> = refused
        .iter()
        .map(|r| r["file"].as_str().expect("a name"))
        .collect();
    assert!(
        names[0].ends_with("child.yaml") && names[1].ends_with("base.yaml"),
        "{names:?}"
    );
}

#[test]
fn a_file_of_many_faults_is_answered_briefly() {
    use std::fmt::Write;
    let mut text = BOARD_R.to_owned();
    for key in 0..5000 {
        writeln!(text, "nonsense_{key}: 1").expect("a string");
    }
    let invalid_file = Board::read(Source::new("b.yaml", text)).expect_err("refused");
    assert_eq!(invalid_file.diagnostics.len() + invalid_file.unlisted, 5000);
    assert!(invalid_file.diagnostics.len() <= 100);
}

#[test]
fn a_board_built_in_rust_is_judged_as_its_file_is() {
    use ringrule::board::{BoardBuilder, BuildFault, Mounting};
    use ringrule::units::{Gauge, Length};

    let wire: Gauge = "16 SWG".parse().expect("a gauge");
    let built = BoardBuilder::new("R", Mounting::Staples)
        .ring_wires(wire)
        .sector_wires(wire)
        .diameter(RingWire::InnerBull, Length::mm(12.7), Edge::Inside)
        .diameter(RingWire::OuterBull, Length::mm(31.8), Edge::Inside)
        .radius(RingWire::TrebleInner, Length::mm(97.3744), Edge::Outside)
        .radius(RingWire::TrebleOuter, Length::mm(107.0), Edge::Outside)
        .radius(RingWire::DoubleInner, Length::mm(160.3744), Edge::Outside)
        .radius(RingWire::DoubleOuter, Length::mm(170.0), Edge::Outside)
        .overall(Length::mm(451.0));
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    let (read, made) = (
        board(BOARD_R),
        built.clone().build().expect("a sound board"),
    );
    let (read, made) = (judge.judge(&read), judge.judge(&made));
    assert_eq!(made.verdict, read.verdict);
    assert_eq!(made.limits.len(), read.limits.len());
    for (made, read) in made.limits.iter().zip(&read.limits) {
        assert_eq!(made.outcome, read.outcome);
    }

    // Everything that is wrong is said at once: two that no file can say, and
    // three that a file is refused for.
    let wrong = built
        .sector_wires(Length::mm(f64::INFINITY))
        .width(Band::InnerBull, Length::mm(8.0), Edge::Inside)
        .diameter(RingWire::TrebleInner, Length::mm(190.0), Edge::Outside)
        .radius(RingWire::DoubleInner, Length::mm(-160.0), Edge::Outside)
        .ring_wire(RingWire::OuterBull, Length::mm(16.0))
        .build()
        .expect_err("nothing of that is possible");
    let faults: Vec<Option<&str>> = wrong
        .faults
        .iter()
        .map(|fault| match fault {
            BuildFault::Invalid(found) => Some(found.code.as_ref()),
            _ => None,
        })
        .collect();
    assert_eq!(faults.iter().filter(|fault| fault.is_none()).count(), 2);
    for fault in [Fault::OneOf, Fault::OutOfRange, Fault::Notation] {
        assert!(faults.contains(&Some(fault.code())), "{fault:?}: {wrong}");
    }
}
