//! Sheets saved again by other programs: harmless, and told as such.

use super::{bad, definition, produced, reference};
use std::path::Path;
use std::process::{Command, Stdio};

/// Ways to save sheets again. `IN` and `OUT` stand for the files.
const WAYS: [&str; 20] = [
    "qpdf --object-streams=generate IN OUT",
    "qpdf --object-streams=disable IN OUT",
    "qpdf --object-streams=generate --recompress-flate --compression-level=9 IN OUT",
    "qpdf --linearize IN OUT",
    "qpdf --linearize --object-streams=generate IN OUT",
    "qpdf --stream-data=uncompress IN OUT",
    "qpdf --qdf IN OUT",
    "qpdf --coalesce-contents --newline-before-endstream IN OUT",
    "qpdf --remove-unreferenced-resources=yes IN OUT",
    "qpdf --normalize-content=y IN OUT",
    "qpdf --rotate=+90 IN OUT",
    "qpdf --decrypt LOCKED OUT",
    "mutool clean IN OUT",
    "mutool clean -gggg IN OUT",
    "mutool clean -z IN OUT",
    "mutool clean -d IN OUT",
    "mutool clean -a IN OUT",
    "mutool clean -c IN OUT",
    "mutool clean -s IN OUT",
    "mutool clean -gggg -z -f -i IN OUT",
];

/// Ways to spoil them.
const SPOILS: [&str; 5] = [
    "qpdf --encrypt u o 256 -- IN OUT",
    "qpdf IN --pages IN 2-z -- OUT",
    "qpdf IN --pages IN z-1 -- OUT",
    "qpdf IN --pages IN 1-r2 -- OUT",
    "qpdf IN --pages IN 1,1-z -- OUT",
];

fn run(command: &str, folder: &Path) {
    // By the ending mutool tells a file from a list of pages.
    let file = |name: &str| folder.join(name.to_lowercase() + ".pdf");
    let words: Vec<String> = command
        .split(' ')
        .map(|word| match word {
            "IN" | "OUT" | "LOCKED" => file(word).display().to_string(),
            "NONE" => String::new(),
            word => word.into(),
        })
        .collect();
    let done = Command::new(&words[0])
        .args(&words[1..])
        .stdin(Stdio::null())
        .output();
    let done = done.unwrap_or_else(|error| panic!("`{}` is needed: {error}", words[0]));
    assert!(
        Path::new(words.last().unwrap()).exists(),
        "{command}: {done:?}"
    );
}

/// Needs qpdf and mutool, which `.ci/run` installs.
#[test]
#[ignore = "needs qpdf and mutool: `.ci/run` installs them and runs it"]
fn other_programs_may_save_sheets_again() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let sheets = produced(&definition("T-1", "B")).pdf.unwrap();
    std::fs::write(folder.join("in.pdf"), sheets).unwrap();
    run("qpdf --encrypt NONE o 256 -- IN LOCKED", folder);
    let reference = reference();
    for way in WAYS {
        run(way, folder);
        let found = bad(&std::fs::read(folder.join("out.pdf")).unwrap(), &reference);
        assert!(found.is_empty(), "{way}: {found:#?}");
        std::fs::remove_file(folder.join("out.pdf")).unwrap();
    }
    for spoil in SPOILS {
        run(spoil, folder);
        let bytes = std::fs::read(folder.join("out.pdf")).unwrap();
        let against = trimloft::check::verify::Against {
            reference: Some(&reference),
            scales: None,
        };
        let sound =
            trimloft::check::verify::verify(bytes, against).is_ok_and(|report| report.is_sound());
        assert!(!sound, "{spoil}");
        std::fs::remove_file(folder.join("out.pdf")).unwrap();
    }
}
