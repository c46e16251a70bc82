//! The samples in `out/` are what the demos draw today, byte for byte.

use crate::common::{DEMO_KIT, demos, produced, root};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use trimloft::input::families::Library;
use trimloft::jobs::kit::{Outcome, Plan, Watch, issue};
use trimloft::layout::{Paper, Setup};

/// Set to any value, it writes the samples anew instead of holding them against today's.
pub const RENEW: &str = "TRIMLOFT_RENEW_SAMPLES";

#[test]
fn samples_are_what_the_demos_draw_today() {
    let folder = root().join("out");
    let hint =
        format!("hint: if that is meant, renew them with `{RENEW}=1 cargo test samples_are_what`");
    let renew = std::env::var_os(RENEW).is_some();
    let mut known = BTreeSet::new();
    for demo in demos() {
        let product = produced(&std::fs::read_to_string(&demo).unwrap());
        let pdf = product.pdf.unwrap();
        let svg = product.svg.unwrap().into_bytes();
        let view = product.view.map(String::into_bytes);
        let files = [
            (".pdf", Some(pdf)),
            (".svg", Some(svg)),
            ("-view.svg", view),
        ];
        for (ending, bytes) in files {
            let Some(bytes) = bytes else { continue };
            let name = format!("{}{ending}", product.stem);
            let path = folder.join(&name);
            if renew {
                std::fs::create_dir_all(&folder).unwrap();
                std::fs::write(&path, &bytes).unwrap();
            }
            let there = std::fs::read(&path)
                .unwrap_or_else(|error| panic!("out/{name} can't be read: {error}; {hint}"));
            assert!(
                there == bytes,
                "out/{name} is not what {} draws; {hint}",
                demo.display()
            );
            known.insert(name);
        }
    }
    let issued = kit(&folder, renew);
    // Pictures of the page are taken by the browser's tests, and stand in the README.
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let shown = readme.split("](out/").skip(1);
    let shown = shown.filter_map(|rest| Some(rest.split_once(')')?.0.to_owned()));
    known.extend(shown.filter(|name| name.ends_with(".png")));
    known.insert(issued.file_name().unwrap().to_string_lossy().into_owned());
    for entry in std::fs::read_dir(&folder).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        assert!(
            known.contains(&name),
            "no demo draws out/{name}, and no README shows it; hint: remove it"
        );
    }
}

struct Quiet;

impl Watch for Quiet {
    fn waiting(&self) {}
    fn step(&self) {}
}

/// Holds the demo kit's issue against what would be issued today; gives its folder.
fn kit(folder: &Path, renew: bool) -> PathBuf {
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let file = root().join("shapes/demo").join(DEMO_KIT);
    let plan = Plan::read(&file, Library::shipped(), None, setup, false).unwrap();
    if renew {
        // The same content by the same version counts as issued already, and code in the making
        // keeps its version.
        let _ = std::fs::remove_dir_all(plan.folder(folder));
        let Outcome { folder, .. } = issue(&plan, folder, None, None, &Quiet).unwrap();
        return folder;
    }
    let differences = trimloft::jobs::kit::check(&plan, folder, &Quiet).unwrap();
    assert!(
        differences.is_empty(),
        "{differences}; hint: if that is meant, renew with `{RENEW}=1 cargo test samples_are_what`"
    );
    plan.folder(folder)
}
