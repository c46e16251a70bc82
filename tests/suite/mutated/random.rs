//! Files changed by chance: each is answered, soon and without a fall, and none is called sound
//! whose cut line or rulers look otherwise than they did.
//!
//! `TRIMLOFT_CASES` sets the number of cases, `TRIMLOFT_SEED` another seed; a failure names its
//! case.

use super::change::{Objects, changed};
use super::ink::{Ink, Look, last_page};
use crate::common::{produced, root, solved};
use crate::odd_input::dice::Dice;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::time::{Duration, Instant};
use trimloft::check::scale::{Circumstances, Cut, Judgement};
use trimloft::check::scan::{Raster, RulerKind, RulerReading, Scanner, measure};
use trimloft::check::verify::{Against, Outcome, Reference, VerifyError, verify};
use trimloft::model::clearance::SCALE_ERROR;

/// Longest time for one file. A test build is some times slower, and shares its machine.
const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 5 });

fn number_from(variable: &str, otherwise: u64) -> u64 {
    match std::env::var(variable) {
        Ok(text) => text.parse().expect("a whole number"),
        Err(_) => otherwise,
    }
}

/// What came of one case.
struct Came {
    outcome: &'static str,
    took: Duration,
    wrong: Option<String>,
}

/// How often each came, told; and what came out wrong.
fn tally(what: &str, all: &[Came]) -> (BTreeMap<&'static str, usize>, Vec<String>) {
    let mut counts = BTreeMap::new();
    for came in all {
        *counts.entry(came.outcome).or_insert(0) += 1;
    }
    let longest = all.iter().map(|came| came.took).max().unwrap_or_default();
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let memory = status.lines().find(|line| line.starts_with("VmHWM"));
    println!(
        "{what}: {} files: {counts:?}; longest {longest:?}; {memory:?}",
        all.len()
    );
    let wrong = all.iter().filter_map(|came| came.wrong.as_ref());
    let wrong = wrong.map(|wrong| format!("{what}: {wrong}")).collect();
    (counts, wrong)
}

/// Judges a changed file, and looks at it where it is called sound.
fn judged(case: u64, bytes: Vec<u8>, reference: &Reference, ink: &Ink) -> Came {
    let against = Against {
        reference: Some(reference),
        scales: None,
    };
    let begin = Instant::now();
    let outcome = verify(bytes.clone(), against);
    let took = begin.elapsed();
    let mut wrong = None;
    let outcome = match outcome {
        Ok(report) if report.is_sound() => {
            let look = ink.look(&bytes);
            if let Look::Other(how) = &look {
                wrong = Some(format!("called sound, but {how}"));
            }
            if look == Look::NotDrawn {
                "sound, not drawn"
            } else {
                "sound"
            }
        }
        Ok(report) if report.outcome() == Outcome::Fault => "fault",
        Ok(_) => "cannot judge",
        Err(VerifyError::GivenUp(why)) => {
            wrong = Some(format!("reading it {why}"));
            "given up"
        }
        Err(_) => "refused",
    };
    if took > LONGEST {
        wrong = Some(format!("took {took:?}"));
    }
    let wrong = wrong.map(|wrong| {
        let place = std::env::temp_dir().join(format!("trimloft-mutated-{case}"));
        let kept = match std::fs::write(&place, &bytes) {
            Ok(()) => format!("kept as {}", place.display()),
            Err(error) => format!("not kept: {error}"),
        };
        format!("case {case}: {wrong}; {kept}")
    });
    Came {
        outcome,
        took,
        wrong,
    }
}

fn pattern() -> String {
    std::fs::read_to_string(root().join("shapes/demo/under-panel.toml")).unwrap()
}

#[test]
fn no_changed_file_passes_that_looks_otherwise() {
    let cases = number_from("TRIMLOFT_CASES", 240);
    let seed = number_from("TRIMLOFT_SEED", 1);
    let toml = pattern();
    let reference = Reference::of(&solved(&toml));
    let product = produced(&toml);
    let (pdf, svg) = (product.pdf.unwrap(), product.svg.unwrap());
    let (pdf_ink, svg_ink) = (Ink::of_pdf(&pdf), Ink::of_svg(&svg));
    let objects = Objects::of(&pdf);
    let plain = objects.unchanged();
    assert_eq!(pdf_ink.look(&plain), Look::Same);
    let all: Vec<(usize, Came)> = (0..cases)
        .into_par_iter()
        .map(|case| {
            let mut dice = Dice::of(seed, case);
            let kind = dice.below(5);
            let (bytes, ink) = match kind {
                // What is packed is mostly damaged by any change: half of them are not.
                0 => {
                    let file = if dice.one_in(2) { &pdf } else { &plain };
                    (changed(file, svg.as_bytes(), &mut dice), &pdf_ink)
                }
                1 | 2 => (objects.changed(&mut dice), &pdf_ink),
                _ => (changed(svg.as_bytes(), &pdf, &mut dice), &svg_ink),
            };
            (kind, judged(case, bytes, &reference, ink))
        })
        .collect();
    let mut misjudged = vec![];
    let mut kinds: [Vec<Came>; 3] = Default::default();
    for (kind, came) in all {
        kinds[[0, 1, 1, 2, 2][kind]].push(came);
    }
    for (what, all) in ["PDF, bytes", "PDF, objects", "SVG"].iter().zip(&kinds) {
        let (counts, wrong) = tally(what, all);
        misjudged.extend(wrong);
        let judged: usize = counts
            .iter()
            .filter(|(outcome, _)| ["sound", "fault", "cannot judge"].contains(outcome))
            .map(|(_, count)| count)
            .sum();
        // What is packed, or has another length, is told to be damaged; the others are mostly read.
        let (least, found) = match *what {
            "PDF, bytes" => (40, &["refused"][..]),
            _ => (3, &["sound", "fault"][..]),
        };
        // So few are too few to go by.
        let enough = all.len().saturating_sub(100);
        assert!(
            judged * least >= enough,
            "{what}: {judged} of {}",
            all.len()
        );
        let drawn = |outcome: &str| counts.get(outcome).copied().unwrap_or(0);
        let (not, all_drawn) = (drawn("sound, not drawn"), drawn("sound"));
        assert!(
            50 * not <= all_drawn + 50,
            "{what}: {not} of {all_drawn} not drawn"
        );
        for outcome in found {
            assert!(counts.contains_key(*outcome), "{what}: none is {outcome}");
        }
    }
    assert!(misjudged.is_empty(), "{}", misjudged.join("\n"));
}

#[test]
fn no_changed_scan_is_measured_wrongly() {
    let cases = number_from("TRIMLOFT_CASES", 240) / 20;
    let seed = number_from("TRIMLOFT_SEED", 1);
    let (width, height, grey) = last_page(&produced(&pattern()).pdf.unwrap(), 150.0);
    let mut files: Vec<Vec<u8>> = vec![];
    for format in [
        image::ImageFormat::Png,
        image::ImageFormat::Pnm,
        image::ImageFormat::Jpeg,
    ] {
        let (width, height) = (width as u32, height as u32);
        let picture = image::GrayImage::from_raw(width, height, grey.clone()).unwrap();
        let mut file = std::io::Cursor::new(vec![]);
        picture.write_to(&mut file, format).unwrap();
        files.push(file.into_inner());
    }
    let scanner = Scanner {
        dpi: 150.0,
        own_scale: Some((1.0, 1.0)),
    };
    let cut = Cut {
        across: 0.0,
        down: 0.0,
        scale_error: SCALE_ERROR,
    };
    let all: Vec<Came> = (0..cases)
        .into_par_iter()
        .map(|case| {
            let mut dice = Dice::of(seed, case);
            let (file, other) = (dice.pick(&files), dice.pick(&files));
            let mut bytes = changed(file, other, &mut dice);
            if case < 3 {
                bytes.clone_from(&files[case as usize]);
            }
            let begin = Instant::now();
            let read = std::panic::catch_unwind(|| {
                Raster::decode(&bytes).map(|raster| measure(&raster, &scanner))
            });
            let mut wrong = None;
            let outcome = match read {
                Err(_) => {
                    wrong = Some(format!("case {case} fell over"));
                    "fell over"
                }
                Ok(Err(_)) => "no picture",
                Ok(Ok(Err(_))) => "not measured",
                Ok(Ok(Ok(scale))) => {
                    let off = |ruler: &RulerReading| {
                        let should = match ruler.kind {
                            RulerKind::Metric => 100.0,
                            RulerKind::Inches => 101.6,
                        };
                        (ruler.reads - should).abs() > 0.3
                    };
                    // A picture that lacks some bytes is another one: its rulers may read anything, but then
                    // nothing may be cut by it.
                    let (verdict, _) = scale.evidence().judged(&Circumstances::default(), &cut);
                    let good = verdict.judgement == Judgement::Good;
                    if good && scale.rulers.iter().any(off) {
                        wrong = Some(format!("case {case}: {:?}", scale.rulers));
                    }
                    if good { "good to cut" } else { "not good" }
                }
            };
            Came {
                outcome,
                took: begin.elapsed(),
                wrong,
            }
        })
        .collect();
    let (counts, wrong) = tally("scans", &all);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(counts.get("good to cut") >= Some(&3), "{counts:?}");
}
