//! Files that other programs changed are judged rightly: each comes to what it should, neither
//! better nor worse.
//!
//! The changes are made by lopdf and usvg, neither of which takes part in the judging.

mod change;
mod costly;
mod heavy;
mod hostile;
mod ink;
mod pdf;
mod random;
mod svg;

use crate::common::{demos, produced, solved};
use pdf::{Mutation, Original};
use trimloft::check::verify::{Against, Outcome, Reference, verify};

/// What a file comes to, none where it is refused, and what was said.
fn judged(bytes: Vec<u8>, reference: Option<&Reference>) -> (Option<Outcome>, String) {
    let against = Against {
        reference,
        scales: None,
    };
    match verify(bytes, against) {
        Ok(report) => {
            let worst = report.outcome();
            let words: Vec<String> = report.of(worst).map(ToString::to_string).collect();
            (Some(worst), words.join("; "))
        }
        Err(error) => (None, error.to_string()),
    }
}

/// What was judged wrongly, in words.
fn misjudged(mutation: &Mutation, demo: &str, reference: &Reference) -> Option<String> {
    let (outcome, said) = judged(mutation.bytes.clone(), Some(reference));
    (outcome != mutation.outcome).then(|| {
        let (name, should) = (&mutation.name, mutation.outcome);
        format!("{demo}, {name}: {outcome:?}, should be {should:?}: {said}")
    })
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
        let (outcome, said) = judged(bytes.clone(), Some(&other));
        assert_eq!(outcome, Some(Outcome::Fault), "{said}");
        let (outcome, said) = judged(bytes, None);
        assert_eq!(outcome, Some(Outcome::Sound), "{said}");
    }
}
