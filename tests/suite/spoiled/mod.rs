//! Files spoiled by hand, each of which must be named for what was done to it, and files saved
//! again by other programs, which must pass.
//!
//! The bytes are changed by lopdf and by text, read back by neither.

mod deceiving;
mod faint;
mod hidden;
mod ink;
mod numbers;
mod pdf;
mod resaved;
mod svg;

use crate::common::{produced, solved, under_panel};
use std::collections::BTreeSet;
use trimloft::check::verify::{Against, Finding, Outcome, Reference, Topic, verify};

/// A file that was spoiled, and what must be said of it.
struct Spoiling {
    name: String,
    bytes: Vec<u8>,
    topic: Topic,
    /// Words that the finding must hold.
    words: &'static str,
}

/// What may be done to one layer.
#[derive(Clone, Copy, PartialEq)]
enum Deed {
    Gone,
    /// Moved to the right and up, mm.
    Moved(f64, f64),
    Scaled(f64),
    /// Without its first stroke.
    OneLost,
}

/// The layers that a fitter works by.
const LAYERS: [(&str, Topic); 9] = [
    ("cut", Topic::CutLine),
    ("fold", Topic::DatumEdge),
    ("centreline", Topic::Centreline),
    ("locators", Topic::Locators),
    ("relief", Topic::Relief),
    ("keep-out", Topic::KeepOut),
    ("parts", Topic::Parts),
    ("feet", Topic::Feet),
    ("behind", Topic::Behind),
];

/// Everything that is done to a layer, and what must be said of it.
fn deeds(layer: &str) -> Vec<(Deed, &'static str)> {
    let gone = if layer == "cut" {
        "no cut line is found"
    } else {
        "gone"
    };
    let off = "not where they must be";
    vec![
        (Deed::Gone, gone),
        (Deed::Moved(5.0, 0.0), off),
        (Deed::Moved(0.0, 5.0), off),
        (Deed::Moved(0.4, 0.3), off),
        (Deed::Scaled(0.99), off),
        (Deed::OneLost, off),
    ]
}

/// A pattern with something in every layer, on several sheets.
fn definition(number: &str, revision: &str) -> String {
    let tables = "\
        [[locator]]\nname = \"drain\"\nacross = 430\nfrom_datum = 150\ndiameter = 10\n\
        [[locator]]\nname = \"clip\"\nacross = 250\nfrom_datum = 40\ndiameter = 8\n\
        [[part]]\nname = \"neck\"\nshape = \"window\"\n\
        with = { width = 60, height = 50, corner_radius = 4 }\ncentre_offset = 0\nfrom_datum = 40\n\
        [clearance]\ngap = 6\n\
        [[opening]]\nname = \"neck opening\"\naround = [\"neck\"]\nfollow = \"box\"\n\
        open_at_edge = true\n\
        [[opening]]\nname = \"bolt window\"\nshape = \"window\"\n\
        with = { width = 35, height = 45, corner_radius = 6 }\n\
        centre_offset = \"142 mm left\"\nfrom_datum = 90\n\
        [[keep_out]]\nname = \"loom\"\nguards = \"wiring\"\nshape = \"window\"\n\
        with = { width = 30, height = 20, corner_radius = 3 }\n\
        centre_offset = \"100 mm right\"\nfrom_datum = 60\ndistance = 5\n\
        [[line]]\nname = \"flange\"\nkind = \"fold\"\npoints = [[400, 200], [600, 205]]\n\
        [[trim]]\nname = \"lip\"\npoints = [[570, 0], [570, 14], [640, 14], [640, 0]]\n\
        falls_away = \"rear\"\n\
        [[foot]]\nname = \"plate\"\nshape = \"window\"\n\
        with = { width = 40, height = 30, corner_radius = 2 }\n\
        centre_offset = \"60 mm right\"\nfrom_datum = 110\n\
        [[feature]]\nname = \"tower\"\nkind = \"clip tower\"\nshape = \"window\"\n\
        with = { width = 25, height = 20, corner_radius = 2 }\n\
        centre_offset = \"70 mm left\"\nfrom_datum = 60\nheight = 12\n";
    under_panel(980.0, 310.0, tables)
        .replace("T-1", number)
        .replace(
            "title = \"Test\"",
            &format!("title = \"Test\"\nrevision = \"{revision}\""),
        )
}

fn reference() -> Reference {
    Reference::of(&solved(&definition("T-1", "B")))
}

/// All findings that are not sound.
fn bad(bytes: &[u8], reference: &Reference) -> Vec<Finding> {
    let against = Against {
        reference: Some(reference),
        scales: None,
    };
    let report = verify(bytes.to_vec(), against).unwrap_or_else(|error| panic!("{error}"));
    let findings = report.findings.into_iter();
    findings
        .filter(|finding| finding.outcome > Outcome::Changed)
        .collect()
}

/// What was not named rightly, in words.
fn misnamed(spoiling: &Spoiling, reference: &Reference) -> Option<String> {
    let found = bad(&spoiling.bytes, reference);
    let named = |finding: &Finding| {
        finding.topic == spoiling.topic && finding.to_string().contains(spoiling.words)
    };
    let topics: BTreeSet<&str> = found.iter().map(|finding| finding.topic.words()).collect();
    let rightly = found.iter().any(named) && topics.len() == 1;
    (!rightly).then(|| format!("{}: {found:#?}", spoiling.name))
}

#[test]
fn every_spoiling_is_named_for_what_it_is() {
    let product = produced(&definition("T-1", "B"));
    let mut all = pdf::spoilings(&product.pdf.unwrap());
    let sheets = all.len();
    all.extend(svg::spoilings(&product.svg.unwrap()));
    assert!(sheets >= 40 && all.len() >= 90, "{sheets} of {}", all.len());
    let reference = reference();
    let wrong: Vec<String> = all
        .iter()
        .filter_map(|spoiling| misnamed(spoiling, &reference))
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {}\n{}",
        wrong.len(),
        all.len(),
        wrong.join("\n")
    );
}

#[test]
fn what_was_not_spoiled_is_sound() {
    let product = produced(&definition("T-1", "B"));
    for bytes in [product.pdf.unwrap(), product.svg.unwrap().into_bytes()] {
        let found = bad(&bytes, &reference());
        assert!(found.is_empty(), "{found:#?}");
    }
}
