//! Kits to issue, made in a folder of their own.

use crate::common::bench::Bench;
use std::collections::BTreeMap;
use std::path::Path;

/// A pattern whose opening is this wide.
pub fn pattern(number: &str, width: f64) -> String {
    format!(
        "format = 1\n[pattern]\nnumber = \"{number}\"\ntitle = \"Pattern {number}\"\n\
         revision = \"A\"\n[panel]\nname = \"Panel\"\nwidth = 600\nheight = 200\n\
         datum_edge = \"rear\"\nseen_from = \"below\"\npage_up = \"front\"\n[[opening]]\n\
         name = \"neck\"\nshape = \"notch\"\nwith = {{ width = {width}, depth = 30 }}\n\
         centre_offset = 0\nfrom_datum = 0\n"
    )
}

/// A kit file of the patterns `p0.toml` and so on.
pub fn kit(revision: &str, patterns: usize) -> String {
    let mut text = format!(
        "format = 1\n[kit]\nnumber = \"K-1\"\nrevision = \"{revision}\"\ntitle = \"Kit\"\n\
         issued = 2026-03-02\n"
    );
    for at in 0..patterns {
        text += &format!("[[pattern]]\nfile = \"p{at}.toml\"\n");
    }
    text
}

/// A folder with a kit of so many patterns, all different.
pub fn bench(patterns: usize) -> Bench {
    let bench = Bench::new().file("kit.toml", kit("A", patterns));
    (0..patterns).fold(bench, |bench, at| {
        let text = pattern(&format!("P-{at:03}"), 40.0 + at as f64 * 0.5);
        bench.file(&format!("p{at}.toml"), text)
    })
}

/// Every file below a folder, by its path from there.
pub fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fn walk(folder: &Path, root: &Path, found: &mut BTreeMap<String, Vec<u8>>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, root, found);
            } else {
                let name = path.strip_prefix(root).unwrap().to_string_lossy();
                found.insert(name.into_owned(), std::fs::read(&path).unwrap());
            }
        }
    }
    let mut found = BTreeMap::new();
    walk(folder, folder, &mut found);
    found
}

/// Names in a folder, hidden ones too.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
