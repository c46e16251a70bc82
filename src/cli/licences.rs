//! What the program and the typeface in it may be used for.

use super::{Failure, report};

/// The licences under which this program comes, and that of its typeface.
const TEXTS: [&str; 3] = [
    include_str!("../../LICENSE-MIT"),
    include_str!("../../LICENSE-APACHE"),
    include_str!("ubuntu-font-licence.txt"),
];

/// Prints every text whole.
pub(super) fn run() -> Result<(), Failure> {
    let [mit, apache, typeface] = TEXTS.map(str::trim_end);
    report::print(&format!(
        "Trimloft may be used under either of two licences, whichever you choose:\n\n{mit}\n\n\
         {apache}\n\n\
         The typeface of its sheets is Ubuntu Light. Copyright 2011 Canonical Ltd.\n\n\
         {typeface}\n"
    ))
}
