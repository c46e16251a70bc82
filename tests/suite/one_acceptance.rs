//! What a sheet says that its rulers must read, and what `scale` says of the same readings.

use crate::common::random::{Came, hold};
use crate::common::{drawn, solved, under_panel};
use proptest::prelude::*;
use trimloft::check::scale::{
    Circumstances, Cut, Gauge, Judgement, Reading, Rule, Scales, Way, estimate, faults, judge,
};
use trimloft::draw::ink::Ink;
use trimloft::layout::{Paper, Setup, sheets};

fn definition(clearance: &str) -> String {
    under_panel(
        1000.0,
        400.0,
        &format!(
            "[clearance]\n{clearance}\n[[opening]]\nname = \"cut\"\nshape = \"notch\"\n\
             with = {{ width = 90, depth = 120, corner_radius = 10 }}\ncentre_offset = \"40 mm left\"\n\
             from_datum = 0\n"
        ),
    )
}

/// The range after `before`: `99.7 to 100.3 mm`, or `100 mm` alone.
fn range(words: &str, unit: &str) -> (f64, f64) {
    let (range, _) = words.split_once(unit).unwrap();
    let number = |text: &str| text.trim().parse::<f64>().unwrap();
    match range.split_once(" to ") {
        Some((least, most)) => (number(least), number(most)),
        None => (number(range), number(range)),
    }
}

/// What the front page asks of the 100 mm ruler and of the 4 in one, and what stands beside the rulers.
fn asked(toml: &str) -> [(f64, f64); 3] {
    let set = sheets(&drawn(toml), &Setup::new(Paper::parse("a4").unwrap())).unwrap();
    let after = |before: &str| {
        let words = set.pages[0].furniture.iter();
        let mut after = words.filter_map(|mark| match &mark.ink {
            Ink::Text(text) => text.words.strip_prefix(before).map(str::to_owned),
            _ => None,
        });
        after.next().unwrap()
    };
    let words = set.pages.iter().flat_map(|page| &page.furniture);
    let mut beside = words.filter_map(|mark| match &mark.ink {
        Ink::Text(text) if text.words.contains(" to 10") || text.words == "100 mm" => {
            Some(text.words.clone())
        }
        _ => None,
    });
    [
        range(&after("100 mm must read "), "mm"),
        range(&after("4 in must read "), "in"),
        range(&beside.next_back().unwrap(), "mm"),
    ]
}

#[test]
fn a_reading_within_the_sheets_words_is_accepted_and_none_outside_them() {
    for clearance in [
        "",
        "scale_error = \"0.11 %\"",
        "scale_error = \"2.5 %\"",
        "print = 1.3",
    ] {
        let toml = definition(clearance);
        let cut = Cut::of(&solved(&toml));
        let [mm, inch, beside] = asked(&toml);
        assert_eq!(mm, beside, "{clearance}");
        // A tenth, a fiftieth and a hundredth of a millimetre, a 64th and a thousandth of an inch.
        let readings = (
            prop::bool::ANY,
            prop::sample::select(vec![0.01, 0.02, 0.1, 0.25, 0.5]),
            -150_i32..=150,
            -150_i32..=150,
        );
        hold(400, 0.05, readings, |(inches, step, across, down)| {
            let (gauge, nominal, unit, (least, most)) = if inches {
                (Gauge::Inches, 4.0, 25.4, inch)
            } else {
                (Gauge::Metric, 100.0, 1.0, mm)
            };
            // In steps of the rule, spread over three times what is accepted to either side.
            let reach = (1.5 * (most - least) * unit / step).max(1.0) / 150.0;
            let read = |at: i32| nominal + (f64::from(at) * reach).round() * step / unit;
            let (across, down) = (read(across), read(down));
            let within = |read: f64| read >= least - 1e-9 && read <= most + 1e-9;
            let should = if within(across) && within(down) {
                Judgement::Good
            } else {
                Judgement::Bad
            };

            let mut scales = Scales::default();
            let mut widest = Scales::default();
            let mut reads = vec![];
            for (way, read) in [(Way::Across, across), (Way::Down, down)] {
                let reading = Reading::new(way, gauge, read * unit, Rule::new(step)).unwrap();
                let found = estimate(way, &[reading]).unwrap().unwrap();
                match way {
                    Way::Across => {
                        (scales.across, widest.across) = (Some(found.scale), Some(found.widest))
                    }
                    Way::Down => {
                        (scales.down, widest.down) = (Some(found.scale), Some(found.widest))
                    }
                }
                reads.push(reading.alone());
            }
            let named = faults(&widest, &Circumstances::default());
            let verdict = judge(&reads, &scales, &cut, &named);
            prop_assert_eq!(
                verdict.judgement,
                should,
                "{} {} read to {}, asked {} to {}: {:?}",
                across,
                down,
                step,
                least,
                most,
                verdict
            );
            Ok(match should {
                Judgement::Good => Came::Through,
                _ => Came::Refused,
            })
        });
    }
}
