//! Files that other programs changed are judged rightly: none passes that should fail, none
//! fails that is sound.
//!
//! The changes are made by lopdf and usvg, neither of which takes part in the judging.

mod pdf;
mod svg;

use crate::common::{demos, produced, root, solved};
use pdf::{Mutation, Original};
use trimloft::verify::{Against, Outcome, Reference, verify};

/// What a file comes to: sound or not, and what was said.
fn judged(bytes: Vec<u8>, reference: Option<&Reference>) -> (bool, String) {
    let against = Against {
        reference,
        scales: None,
    };
    match verify(bytes, against) {
        Ok(report) => {
            let worst = report.outcome();
            let words: Vec<String> = report.of(worst).map(ToString::to_string).collect();
            (
                report.is_sound(),
                format!("{worst:?}: {}", words.join("; ")),
            )
        }
        Err(error) => (false, error.to_string()),
    }
}

/// What was judged wrongly, in words.
fn misjudged(mutation: &Mutation, demo: &str, reference: &Reference) -> Option<String> {
    let (sound, said) = judged(mutation.bytes.clone(), Some(reference));
    (sound != mutation.sound).then(|| format!("{demo}, {}: {said}", mutation.name))
}

#[test]
fn two_hundred_changes_and_more() {
    let mut count = 0;
    let mut misjudgements = vec![];
    for demo in demos() {
        let toml = std::fs::read_to_string(&demo).unwrap();
        let reference = Reference::of(&solved(&toml));
        let product = produced(&toml);
        let name = demo.file_stem().unwrap().to_string_lossy().into_owned();
        let mut all = Original::new(product.pdf.unwrap()).mutations();
        all.extend(svg::mutations(&product.svg.unwrap()));
        let wrong = all
            .iter()
            .filter_map(|mutation| misjudged(mutation, &name, &reference));
        misjudgements.extend(wrong);
        count += all.len();
    }
    assert!(misjudgements.is_empty(), "{}", misjudgements.join("\n"));
    assert!(count >= 200, "{count} changes");
}

#[test]
fn another_pattern_is_told_apart() {
    let texts: Vec<String> = demos()
        .iter()
        .map(|demo| std::fs::read_to_string(demo).unwrap())
        .collect();
    let other = Reference::of(&solved(&texts[1]));
    let product = produced(&texts[0]);
    for bytes in [product.pdf.unwrap(), product.svg.unwrap().into_bytes()] {
        let (sound, said) = judged(bytes.clone(), Some(&other));
        assert!(!sound, "{said}");
        let (sound, said) = judged(bytes, None);
        assert!(sound, "{said}");
    }
}

/// Damage anywhere: an answer each time, and never that a damaged scale is full size.
#[test]
fn damaged_files_are_answered() {
    let toml = std::fs::read_to_string(root().join("shapes/demo/under-panel.toml")).unwrap();
    let product = produced(&toml);
    let mut seed = 7_u64;
    let mut dice = move |below: usize| {
        // Knuth's MMIX constants.
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    let (pdf, svg) = (product.pdf.unwrap(), product.svg.unwrap().into_bytes());
    for original in [&pdf, &svg] {
        for round in 0..150 {
            let mut bytes = original.clone();
            for _ in 0..=dice(4) {
                let at = dice(bytes.len());
                match dice(3) {
                    0 => bytes[at] ^= 1 << dice(8),
                    1 => bytes[at] = b"0<>[]/()"[dice(8)],
                    _ => {
                        let to = (at + dice(400)).min(bytes.len());
                        bytes.drain(at..to);
                    }
                }
            }
            let outcome = verify(bytes, Against::default());
            if let Ok(report) = outcome {
                assert!(report.outcome() >= Outcome::Sound, "{round}");
            }
        }
    }
    for nonsense in [
        &b""[..],
        b"%PDF-1.7",
        b"<svg",
        b"<?xml version='1.0'?><a/>",
        b"GIF89a",
    ] {
        assert!(verify(nonsense.to_vec(), Against::default()).is_err());
    }
}
