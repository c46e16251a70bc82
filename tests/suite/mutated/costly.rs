//! Every kind of file that is made to cost much is answered in time, without the last resort.
//!
//! `TRIMLOFT_COSTLY=10000000` makes them of as many bytes; `TRIMLOFT_COSTLY_IN=folder` writes them
//! there instead, for a release's time and memory to be measured from outside.

use super::heavy::said;
use super::hostile::kinds;
use std::env;

/// Bytes of a file, unless told otherwise: enough for what grows with their square to be noticed.
const BYTES: usize = 400_000;

fn size() -> usize {
    env::var("TRIMLOFT_COSTLY").map_or(BYTES, |bytes| bytes.parse().unwrap())
}

#[test]
fn every_costly_kind_is_answered_in_time() {
    let kinds = kinds();
    assert!(kinds.len() >= 100, "{}", kinds.len());
    for kind in &kinds {
        let bytes = (kind.make)(size());
        assert!(bytes.len() > 300, "{}", kind.name);
        if let Ok(folder) = env::var("TRIMLOFT_COSTLY_IN") {
            let name = kind.name.replace(", ", "-").replace(' ', "_");
            std::fs::write(format!("{folder}/{name}"), bytes).unwrap();
            continue;
        }
        println!("{}: {:.150}", kind.name, said(bytes));
    }
}
