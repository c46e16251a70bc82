//! The samples in `out/` are what the demos draw today, byte for byte.

mod common;

use common::{demos, produced, root};
use std::collections::BTreeSet;

/// Set to any value, it writes the samples anew instead of holding them against today's.
const RENEW: &str = "TRIMLOFT_RENEW_SAMPLES";

#[test]
fn samples_are_what_the_demos_draw_today() {
    let folder = root().join("out");
    let hint =
        format!("hint: if that is meant, renew them with `{RENEW}=1 cargo test --test samples`");
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
    for entry in std::fs::read_dir(&folder).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        assert!(
            known.contains(&name),
            "no demo draws out/{name}; hint: remove it"
        );
    }
}
