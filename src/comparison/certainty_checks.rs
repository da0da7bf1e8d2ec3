//! Intervals against values computed elsewhere, against drawn boards, and against the truth
//! of many simulated boards and players.

use super::tests::subject;
use super::*;
use crate::board::Band;
use crate::geometry::{Bed, Point};
use crate::play::{AimRule, Averages, Landed, Metal, Spread};
use crate::random::Random;
use crate::units::Uncertainty;

const BOARD_R: &str = include_str!("../../tests/fixtures/board-r.yaml");

/// Board R, every length of it uncertain, its wires measured.
pub(super) fn r() -> Subject {
    let text = BOARD_R.replace("16 SWG", "1.6256") + "uncertainty: 0.05\n";
    subject(&text).with_metal(Metal::Lost)
}

/// Its strip twin: 0.5 mm strip, 9.6 mm from apex to apex, the same outside edges.
pub(super) fn s() -> Subject {
    let text = BOARD_R
        .replace("staples", "embedded")
        .replace("16 SWG", "0.5")
        .replace("97.3744", "97.4")
        .replace("160.3744", "160.4")
        + "uncertainty: 0.05\n";
    subject(&text).with_metal(Metal::Lost)
}

fn given(sigma: f64) -> CompareOptions {
    CompareOptions {
        spread: SpreadSource::Given(Spread::new(sigma).expect("a spread")),
        averages: vec![100.0],
        routes: ["8xT20 D12", "16xT20 Bull"]
            .map(|text| text.parse().expect("a route"))
            .into(),
        ..CompareOptions::default()
    }
}

pub(super) fn within(certainty: Certainty) -> Interval {
    certainty.interval().expect("an interval")
}

fn treble(comparison: &Comparison) -> &TargetOdds {
    let mut targets = comparison.differences[0].targets.iter();
    targets.find(|odds| odds.band == Band::Treble).expect("one")
}

#[test]
fn areas_and_averages_have_the_intervals_that_were_computed_elsewhere() {
    // Recomputed independently, ± 0.05 mm expanded on every length of both boards:
    // treble 1.187 (1.170 to 1.204), eight trebles and a double 4.59 (4.06 to 5.19),
    // sixteen trebles and a bull 15.46 (12.3 to 19.5), 100 is worth 88.57 ± 0.77.
    let comparison = compare(&[s(), r()], &given(12.0)).expect("boards");
    let near = |interval: Interval, [low, high]: [f64; 2], digits: f64| {
        assert!((interval.low - low).abs() <= digits, "{interval:?}");
        assert!((interval.high - high).abs() <= digits, "{interval:?}");
    };
    near(
        within(treble(&comparison).by_area_certainty),
        [1.170, 1.204],
        5e-4,
    );
    let routes = &comparison.differences[0].routes;
    let of = |text: &str| {
        let mut routes = routes.iter();
        let route = routes.find(|odds| odds.route.to_string() == text);
        within(route.expect("the route").by_area_certainty)
    };
    near(of("8xT20 D12"), [4.06, 5.19], 5e-3);
    near(of("16xT20 Bull"), [12.3, 19.5], 5e-2);
    let row = &comparison.differences[0].averages.rows[0];
    assert!((row.from_first.chosen.expect("in range") - 88.57).abs() < 5e-3);
    // That ± is for k = 2, an interval of 95 % for 1.96.
    let half = within(row.from_first_certainty).half_width();
    assert!((half * 2.0 / 1.96 - 0.77).abs() < 5e-3, "{half}");
}

/// The same board with every length moved by an error that its uncertainty allows.
pub(super) fn drawn(subject: &Subject, random: &mut Random) -> Subject {
    let lengths = subject.construction.inputs.iter();
    let lengths = lengths.map(|input| {
        let u = input.uncertainty.map_or(0.0, Uncertainty::standard);
        input.value.as_mm() + u * random.normal()
    });
    subject.with_lengths(&lengths.collect::<Vec<_>>())
}

/// Two boards, and what they come to for a player: the logarithm of how many times harder
/// a treble is by area and by spread, what 100 on the first board is worth on the other,
/// and the player's own average there.
struct Figures<'a> {
    boards: &'a [Subject; 2],
    averages: [Averages<'a>; 2],
    known: player::Known,
}

impl<'a> Figures<'a> {
    fn of(boards: &'a [Subject; 2], source: &SpreadSource) -> Self {
        Self {
            averages: [0, 1].map(|board| Averages::on(boards[board].face(), boards[board].metal)),
            known: player::Known::of(source, &boards[0]).expect("a player"),
            boards,
        }
    }

    fn values(&self) -> [f64; 4] {
        let spread = self.known.spread;
        let harder = |by_area: bool| {
            let log = |subject: &Subject| {
                let player = player::player(subject.setup(None), spread, AimRule::Middle);
                libm::log(if by_area {
                    let beds: Vec<_> = Bed::of_band(Band::Treble).collect();
                    subject.face().free_area(&beds).as_mm2()
                } else {
                    player.band_probability(Band::Treble)
                })
            };
            log(&self.boards[0]) - log(&self.boards[1])
        };
        let [on_first, on_other] = &self.averages;
        let worth = on_first.translate(100.0, on_other).expect("in range");
        [harder(true), harder(false), worth, on_other.of(spread).0]
    }

    /// How sure each of them is.
    fn certainties(&self) -> [Certainty; 4] {
        let slopes = [0, 1].map(|board| slopes::Slopes::of(&self.boards[board]));
        let [first, other] = [0, 1].map(|board| average_slopes::AverageSide {
            subject: &self.boards[board],
            averages: &self.averages[board],
            slopes: &slopes[board],
        });
        let [than, here] = [0, 1].map(|board| {
            let (subject, slopes) = (&self.boards[board], &slopes[board]);
            log_odds::LogOdds::of(subject, slopes, &self.known, AimRule::Middle, &[])
        });
        let translated = average_slopes::translation_certainties(first, other, &[100.0]);
        [
            here.by_area(&than, data::TREBLE),
            here.by_spread(&than, data::TREBLE, &None),
            translated[0],
            other.own_certainty(&self.known, &first, &None),
        ]
    }
}

#[test]
fn drawn_boards_scatter_as_first_order_says() {
    let boards = [s(), r()];
    let source = SpreadSource::Given(Spread::new(10.0).expect("a spread"));
    let whole = Figures::of(&boards, &source).certainties();
    let half = |(place, certainty): (usize, Certainty)| {
        let Interval { low, high, .. } = within(certainty);
        // Ratios are products.
        match place {
            0 | 1 => 0.5 * (libm::log(high) - libm::log(low)),
            _ => 0.5 * (high - low),
        }
    };
    let mut random = Random::seeded(20_261_127);
    let draws = 30;
    let (mut sums, mut squares) = ([0.0; 4], [0.0; 4]);
    for _ in 0..draws {
        let drawn = [0, 1].map(|board| drawn(&boards[board], &mut random));
        let found = Figures::of(&drawn, &source).values();
        for ((sum, square), value) in sums.iter_mut().zip(&mut squares).zip(found) {
            *sum += value;
            *square += value * value;
        }
    }
    let n = f64::from(draws);
    for (place, certainty) in whole.into_iter().enumerate() {
        let (sum, square) = (sums[place], squares[place]);
        let u = libm::sqrt((square - sum * sum / n) / (n - 1.0));
        // Four standard deviations of a standard deviation of so many draws.
        let apart = (1.96 * u / half((place, certainty)) - 1.0).abs();
        assert!(apart < 4.0 / libm::sqrt(2.0 * n), "{place}: {apart}");
    }
}

#[test]
fn an_interval_says_what_it_rests_on() {
    let exact = |mut subject: Subject| {
        subject.is_nominal = true;
        subject
    };
    let nominal = compare(&[exact(s()), exact(r())], &given(12.0)).expect("boards");
    assert_eq!(treble(&nominal).by_area_certainty, Certainty::Exact);
    assert_eq!(treble(&nominal).by_spread_certainty, Certainty::Exact);
    assert_eq!(nominal.player_average_certainties, [Certainty::Exact; 2]);
    let bare = subject(&BOARD_R.replace("16 SWG", "1.6256"));
    let bare = compare(&[exact(s()), bare], &given(12.0)).expect("boards");
    assert_eq!(treble(&bare).by_area_certainty, Certainty::NotStated);
    let row = &bare.differences[0].averages.rows[0];
    assert_eq!(row.from_first_certainty, Certainty::NotStated);
    // One uncertain board of two.
    let one = compare(&[exact(s()), r()], &given(12.0)).expect("boards");
    let both = compare(&[s(), r()], &given(12.0)).expect("boards");
    let width =
        |comparison: &Comparison| within(treble(comparison).by_spread_certainty).half_width();
    assert!(width(&one) < width(&both));
}

#[test]
fn an_instrument_that_both_boards_were_measured_with_errs_once() {
    let board = |instrument: &str| {
        let text = BOARD_R.replace("16 SWG", "1.6256");
        subject(&format!("{text}instrument: {{ {instrument} }}\n"))
    };
    let known = "name: calliper 4, max_error: 0.05, certificate: C-1";
    let unknown = "name: calliper 4, max_error: 0.05";
    let other = "name: calliper 5, max_error: 0.05, certificate: C-2";
    let bull = |one: &str, two: &str| {
        let compared = compare(&[board(one), board(two)], &given(12.0)).expect("boards");
        let mut targets = compared.differences[0].targets.iter();
        let bull = targets.find(|odds| odds.band == Band::InnerBull);
        bull.expect("one").by_area_certainty
    };
    // Both bulls' diameters are off by the same: of two alike boards nothing is left.
    assert_eq!(bull(known, known), Certainty::Exact);
    let apart = within(bull(known, other)).half_width();
    // A disc's area goes with the square of its diameter: of either board the relative u
    // is 2·(0.05/√3)/12.7, of both √2 times that, and the interval 1.96 times.
    let log = 1.96 * std::f64::consts::SQRT_2 * 2.0 * (0.05 / libm::sqrt(3.0)) / 12.7;
    assert!((apart / libm::sinh(log) - 1.0).abs() < 1e-3, "{apart}");
    // Where it is not known whether it is the same error, the larger counts.
    assert_eq!(within(bull(unknown, unknown)).half_width(), apart);
}

/// Board R whose sector wires stand at these bearings, known to 1 degree (k = 2).
fn at_bearings(bearings: [f64; 20]) -> Subject {
    let text = BOARD_R.replace("16 SWG", "1.6256");
    let bearings = bearings.map(|bearing| format!("{bearing:.6}")).join(", ");
    subject(&format!(
        "{text}uncertainty: 0.0001\nsectors:\n  bearings: [{bearings}]\n  uncertainty: 1\n"
    ))
}

#[test]
fn bearings_that_are_hardly_known_leave_an_average_that_scatters_so() {
    let even: [f64; 20] = std::array::from_fn(|wire| 9.0 + 18.0 * wire as f64);
    let board = at_bearings(even);
    let comparison = compare(&[board, r()], &given(12.0)).expect("boards");
    let half = within(comparison.player_average_certainties[0]).half_width();
    let mut random = Random::seeded(20_261_130);
    let draws = 40;
    let spread = Spread::new(12.0).expect("a spread");
    let found = (0..draws).map(|_| {
        let drawn = at_bearings(even.map(|bearing| bearing + 0.5 * random.normal()));
        Averages::on(drawn.face(), drawn.metal).of(spread).0
    });
    let found: Vec<f64> = found.collect();
    let n = f64::from(draws);
    let mean = found.iter().sum::<f64>() / n;
    let squares: f64 = found.iter().map(|own| (own - mean) * (own - mean)).sum();
    let apart = (1.96 * libm::sqrt(squares / (n - 1.0)) / half - 1.0).abs();
    // Four standard deviations of a standard deviation of so many draws.
    assert!(apart < 4.0 / libm::sqrt(2.0 * n), "{apart}");
}

#[test]
fn the_average_that_a_spread_is_known_by_is_exact() {
    let options = CompareOptions {
        spread: SpreadSource::Average(100.0),
        ..given(12.0)
    };
    let comparison = compare(&[s(), r()], &options).expect("boards");
    let [on_first, on_other] = comparison.player_average_certainties[..] else {
        panic!("two boards")
    };
    assert_eq!(on_first, Certainty::Exact);
    // The same player's average on the other board is what it translates to.
    let row = &comparison.differences[0].averages.rows[0];
    let (own, translated) = (within(on_other), within(row.from_first_certainty));
    assert!((own.low - translated.low).abs() < 1e-6, "{own:?}");
    assert!((own.high - translated.high).abs() < 1e-6, "{own:?}");
    // A spread that is given does not move with the board.
    let sigma = comparison.assumptions.spread_x_mm;
    let fixed = compare(&[s(), r()], &given(sigma)).expect("boards");
    let fixed = within(fixed.player_average_certainties[1]);
    assert!(fixed.half_width() < own.half_width());
}

/// Darts of a player with this spread, all aimed at the treble 20.
pub(super) fn thrown(random: &mut Random, sigma: f64, darts: usize) -> SpreadSource {
    let aim = Point::mm(0.0, 102.2);
    let landed = (0..darts).map(|_| {
        let (x, y) = random.normal_pair();
        Landed::At(aim + Point::mm(sigma * x, sigma * y))
    });
    let throws = Throws::Positions {
        file: "throws.csv".to_owned(),
        landed: landed.collect(),
    };
    let target = "T20".parse().expect("a target");
    SpreadSource::Throws(throws, Some(target), Sighting::Corrected)
}

/// The same board somewhere within the rules.
pub(super) fn another(subject: &Subject, random: &mut Random) -> Subject {
    let lengths = subject.construction.inputs.iter();
    let lengths = lengths.map(|input| input.value.as_mm() + 0.05 * random.normal());
    subject.with_lengths(&lengths.collect::<Vec<_>>())
}

/// How often the intervals hold the truth, over boards and players drawn anew.
fn coverage(trials: u32, seed: u64, sigma: f64, darts: usize) -> [f64; 4] {
    let mut random = Random::seeded(seed);
    let mut held = [0_u32; 4];
    for _ in 0..trials {
        let boards = [s(), r()].map(|board| another(&board, &mut random));
        let truth = SpreadSource::Given(Spread::new(sigma).expect("a spread"));
        let truth = Figures::of(&boards, &truth).values();
        let measured = [0, 1].map(|board| drawn(&boards[board], &mut random));
        let source = thrown(&mut random, sigma, darts);
        let found = Figures::of(&measured, &source).certainties();
        for (place, (truth, certainty)) in truth.into_iter().zip(found).enumerate() {
            let Interval { low, high, .. } = within(certainty);
            let truth = if place < 2 { libm::exp(truth) } else { truth };
            held[place] += u32::from(low <= truth && truth <= high);
        }
    }
    held.map(|held| f64::from(held) / f64::from(trials))
}

#[test]
fn intervals_hold_the_truth_in_a_small_simulation() {
    // Of 12 at 95 % fewer than 8 are held in 2 of 10,000 runs by chance (binomial).
    let held = coverage(12, 7, 11.0, 15);
    assert!(held.iter().all(|held| *held >= 8.0 / 12.0), "{held:?}");
}

#[test]
#[ignore = "minutes: intervals at full size"]
fn intervals_hold_the_truth_in_93_to_97_of_a_hundred() {
    for (seed, sigma, darts) in [(1, 8.0, 10), (2, 12.0, 30), (3, 20.0, 100)] {
        let held = coverage(1000, seed, sigma, darts);
        println!("spread {sigma} mm, {darts} darts: {held:?}");
        assert!(
            held.iter().all(|held| (0.93..=0.97).contains(held)),
            "{held:?}"
        );
    }
}
