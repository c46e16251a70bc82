//! Does the 95 % statement hold? Panels with a known centre are read as a fitter reads them, and
//! the share whose true centre lies within the stated uncertainty is counted.
//!
//! Run with `--nocapture` to see the table. `TRIMLOFT_PANELS` sets the number of panels a cell.

use crate::common::simulated::Random;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use trimloft::model::centre::{
    Agreement, ArcReadings, Measuring, Pair, Readings, Swing, Zero, solve, solve_arcs,
};

/// How the tape is wrong.
#[derive(Clone, Copy, Debug)]
enum TapeErrors {
    /// Anew for each reading.
    Fresh,
    /// The same share of what is permitted, for all readings.
    Shared,
    /// The same share of the length, for all readings.
    Scale,
}

const EACH: [TapeErrors; 3] = [TapeErrors::Fresh, TapeErrors::Shared, TapeErrors::Scale];

/// Reads `length` with a class II tape in millimetres.
struct Reader {
    errors: TapeErrors,
    share: f64,
}

impl Reader {
    fn new(errors: TapeErrors, random: &mut Random) -> Self {
        let share = random.either_way();
        Self { errors, share }
    }

    fn read(&self, length: f64, eyes: usize, random: &mut Random) -> f64 {
        let permitted = 0.3 + 0.2 * (length / 1000.0).ceil();
        let tape = match self.errors {
            TapeErrors::Fresh => permitted * random.either_way(),
            TapeErrors::Shared => permitted * self.share,
            // 0.5 mm at a metre.
            TapeErrors::Scale => 0.5 * self.share * length / 1000.0,
        };
        let eye: f64 = (0..eyes).map(|_| 0.5 * random.either_way()).sum();
        (length + tape + eye).round()
    }
}

/// Where the pairs lie, mm from the datum edge.
#[derive(Clone, Copy, Debug)]
enum Depths {
    /// All at 20.
    Level,
    /// Evenly from 20 to 270.
    Spread,
}

impl Depths {
    fn of(self, index: usize, count: usize) -> f64 {
        match self {
            Self::Level => 20.0,
            Self::Spread => 20.0 + 250.0 * index as f64 / (count.max(2) - 1) as f64,
        }
    }
}

#[derive(Default)]
struct Tally {
    held: usize,
    told: f64,
    square: f64,
}

impl Tally {
    fn add(&mut self, miss: f64, uncertainty: f64) {
        self.held += usize::from(miss.abs() <= uncertainty);
        self.told += uncertainty;
        self.square += miss * miss;
    }

    fn percent(&self, panels: usize) -> f64 {
        100.0 * self.held as f64 / panels as f64
    }

    /// Mean stated uncertainty, and twice the true standard deviation.
    fn widths(&self, panels: usize) -> (f64, f64) {
        let panels = panels as f64;
        (self.told / panels, 2.0 * (self.square / panels).sqrt())
    }
}

struct Cell {
    pairs: usize,
    depths: Depths,
    errors: TapeErrors,
    /// Standard deviation of how unevenly the panel itself is made, mm of middle.
    uneven: f64,
}

struct Outcome {
    near: Tally,
    far: Tally,
    blamed: usize,
    disagree: usize,
}

fn simulate(cell: &Cell, panels: usize, seed: u64) -> Outcome {
    simulate_as(cell, Measuring::default(), panels, seed)
}

fn simulate_as(cell: &Cell, measuring: Measuring, panels: usize, seed: u64) -> Outcome {
    let mut random = Random(seed);
    let mut outcome = Outcome {
        near: Tally::default(),
        far: Tally::default(),
        blamed: 0,
        disagree: 0,
    };
    let far = match cell.depths {
        Depths::Level => 220.0,
        Depths::Spread => 470.0,
    };
    for _ in 0..panels {
        let reader = Reader::new(cell.errors, &mut random);
        let centre = random.between(480.0, 520.0);
        let skew = (0.5 * random.either_way()).to_radians().tan();
        let truth = |depth: f64| centre + skew * (depth - 20.0);
        let pairs = (0..cell.pairs)
            .map(|index| {
                let depth = cell.depths.of(index, cell.pairs);
                let half = random.between(150.0, 440.0);
                let middle = truth(depth) + cell.uneven * random.normal();
                Pair {
                    name: String::new(),
                    left: reader.read(middle - half, 1, &mut random),
                    right: reader.read(middle + half, 1, &mut random),
                    depth,
                    reading: None,
                }
            })
            .collect();
        let solved = solve(&Readings {
            zero: Zero::Left,
            measuring,
            panel_width: None,
            pairs,
        })
        .expect("sound readings");
        for (tally, depth) in [(&mut outcome.near, 20.0), (&mut outcome.far, far)] {
            let told = solved.at(depth);
            tally.add(told.middle - truth(depth), told.uncertainty);
        }
        match solved.agreement() {
            Agreement::OneDisagrees(_) => outcome.blamed += 1,
            Agreement::Disagree => outcome.disagree += 1,
            Agreement::Agree | Agreement::Unproved => {}
        }
    }
    outcome
}

fn panels() -> usize {
    let set = std::env::var("TRIMLOFT_PANELS").ok();
    set.and_then(|text| text.parse().ok()).unwrap_or(20_000)
}

/// What is promised: no less, and no wider than it need be, %.
const PROMISED: std::ops::RangeInclusive<f64> = 93.0..=99.5;

/// Every number of pairs at both depths with every kind of tape error, on panels as uneven as
/// given; those beyond level pairs with fewer panels.
fn cells(pairs: std::ops::RangeInclusive<usize>, uneven: f64) -> Vec<(Cell, usize)> {
    let mut cells = Vec::new();
    for depths in [Depths::Level, Depths::Spread] {
        for pairs in pairs.clone() {
            for errors in EACH {
                let panels = match depths {
                    Depths::Level => panels(),
                    Depths::Spread => panels() / 2,
                };
                let cell = Cell {
                    pairs,
                    depths,
                    errors,
                    uneven,
                };
                cells.push((cell, panels));
            }
        }
    }
    cells
}

/// Counts how often the statement holds in every cell, and asserts that it does as `promised`.
fn hold(cells: Vec<(Cell, usize)>, promised: std::ops::RangeInclusive<f64>, most_blamed: f64) {
    let rows: Vec<_> = cells
        .into_par_iter()
        .map(|(cell, panels)| {
            let outcome = simulate(&cell, panels, 20_260_302 + cell.pairs as u64);
            let mut row = format!("{} {:?} {:?}", cell.pairs, cell.depths, cell.errors);
            let mut sound = true;
            for tally in [&outcome.near, &outcome.far] {
                let percent = tally.percent(panels);
                let (told, double) = tally.widths(panels);
                row += &format!(" | {percent:.2} {told:.3} {double:.3}");
                sound &= promised.contains(&percent);
            }
            let share = |count: usize| 100.0 * count as f64 / panels as f64;
            let (blamed, disagree) = (share(outcome.blamed), share(outcome.disagree));
            row += &format!(" | {blamed:.2} {disagree:.2}");
            (sound && blamed + disagree < most_blamed, row)
        })
        .collect();
    let table: Vec<_> = rows.iter().map(|(_, row)| row.as_str()).collect();
    println!(
        "pairs depths tape | near: held %, told, 2 s | 200 away: the same | blamed, disagree %\n{}",
        table.join("\n")
    );
    let short: Vec<_> = rows.iter().filter(|(sound, _)| !sound).collect();
    assert!(short.is_empty(), "{short:#?}");
}

#[test]
fn the_statement_holds_on_panels_as_uneven_as_taken() {
    let uneven = Measuring::default().moulding;
    hold(cells(1..=6, uneven), PROMISED, 5.0);
}

/// Panels that are moulded less evenly than taken: three pairs and more show it.
#[test]
fn scatter_that_was_not_expected_is_answered() {
    hold(cells(3..=6, 1.0), 92.0..=99.5, 40.0);
}

/// A panel that is told to be as uneven as it is, and one that is told to be even, and is.
#[test]
fn the_statement_follows_the_moulding_that_is_told() {
    for (pairs, uneven) in [(1, 2.0), (2, 2.0), (4, 2.0), (1, 0.0), (4, 0.0)] {
        let cell = Cell {
            pairs,
            depths: Depths::Level,
            errors: TapeErrors::Shared,
            uneven,
        };
        let measuring = Measuring {
            moulding: uneven,
            ..Measuring::default()
        };
        let outcome = simulate_as(&cell, measuring, panels() / 2, 9);
        let percent = outcome.near.percent(panels() / 2);
        assert!(
            PROMISED.contains(&percent),
            "{percent} % for {pairs} pairs, {uneven} mm"
        );
    }
}

#[test]
fn the_statement_holds_for_arcs() {
    let panels = panels() / 5;
    let mut short = Vec::new();
    println!("swings apart deeper tape | near: held %, told, 2 s | 200 away");
    for (swings, apart, deeper) in [
        (1, true, 0.0),
        (1, false, 150.0),
        (1, true, 150.0),
        (2, true, 150.0),
        (3, true, 150.0),
    ] {
        for errors in EACH {
            let mut random = Random(11);
            let mut tallies = [Tally::default(), Tally::default()];
            for _ in 0..panels {
                let reader = Reader::new(errors, &mut random);
                let skew = (0.5 * random.either_way()).to_radians().tan();
                let off = random.between(-15.0, 15.0);
                let mark_depth = 20.0 + deeper;
                let swings = (0..swings)
                    .map(|index| {
                        let depth = 20.0 + 40.0 * f64::from(index);
                        let half = random.between(200.0, 440.0);
                        let down = mark_depth - depth;
                        let off = off - Measuring::default().moulding * random.normal();
                        Swing {
                            name: String::new(),
                            left: reader.read((off + half).hypot(down), 1, &mut random),
                            right: reader.read((off - half).hypot(down), 1, &mut random),
                            apart: apart.then(|| reader.read(2.0 * half, 2, &mut random)),
                            depth: reader.read(depth, 1, &mut random),
                        }
                    })
                    .collect();
                let solved = solve_arcs(&ArcReadings {
                    measuring: Measuring::default(),
                    mark_depth: reader.read(mark_depth, 1, &mut random),
                    swings,
                })
                .expect("sound distances");
                for (tally, away) in tallies.iter_mut().zip([0.0, 200.0]) {
                    let told = solved.at(mark_depth + away);
                    tally.add(told.middle + off - skew * away, told.uncertainty);
                }
            }
            let mut row = format!("{swings} {apart} {deeper} {errors:?}");
            for tally in &tallies {
                let percent = tally.percent(panels);
                let (told, double) = tally.widths(panels);
                row += &format!(" | {percent:.2} {told:.3} {double:.3}");
                if !PROMISED.contains(&percent) {
                    short.push(row.clone());
                }
            }
            println!("{row}");
        }
    }
    assert!(short.is_empty(), "{short:#?}");
}

/// A reading 10 mm out, the commonest slip of a tape, moves its middle by 5 mm; smaller slips are
/// shown for the table.
#[test]
fn a_planted_slip_is_named() {
    let panels = panels() / 10;
    println!("pairs depths, slip mm | named rightly, wrongly, disagree %");
    for depths in [Depths::Level, Depths::Spread] {
        for pairs in [3, 5] {
            for slip in [2.0, 4.0, 10.0] {
                let mut random = Random(5);
                let (mut right, mut wrong, mut disagree) = (0, 0, 0);
                for _ in 0..panels {
                    let reader = Reader::new(TapeErrors::Fresh, &mut random);
                    let skew = (0.5 * random.either_way()).to_radians().tan();
                    let mut readings = Readings {
                        zero: Zero::Left,
                        measuring: Measuring::default(),
                        panel_width: None,
                        pairs: Vec::new(),
                    };
                    for index in 0..pairs {
                        let depth = depths.of(index, pairs);
                        let half = random.between(150.0, 440.0);
                        let middle = 490.0 + skew * depth;
                        readings.pairs.push(Pair {
                            name: String::new(),
                            left: reader.read(middle - half, 1, &mut random),
                            right: reader.read(middle + half, 1, &mut random),
                            depth,
                            reading: None,
                        });
                    }
                    let bad = (random.between(0.0, pairs as f64) as usize).min(pairs - 1);
                    readings.pairs[bad].right += slip;
                    match solve(&readings).expect("sound readings").agreement() {
                        Agreement::OneDisagrees(odd) if odd.index == bad => right += 1,
                        Agreement::OneDisagrees(_) => wrong += 1,
                        Agreement::Disagree => disagree += 1,
                        Agreement::Agree | Agreement::Unproved => {}
                    }
                }
                let share = |count: usize| 100.0 * count as f64 / panels as f64;
                let row = [right, wrong, disagree].map(share);
                println!("{pairs} {depths:?}, {slip} | {row:.2?}");
                assert!(row[1] < 5.0, "{row:?} for {pairs} {depths:?}, {slip}");
                // Three pairs at three depths leave one figure for slip and skew together.
                let least = match (depths, pairs) {
                    (Depths::Spread, 3) => 88.0,
                    _ => 98.0,
                };
                if slip == 10.0 {
                    assert!(row[0] > least, "{row:?} for {pairs} {depths:?}, {slip}");
                }
            }
        }
    }
}
