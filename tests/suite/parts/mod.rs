//! What passes through and what stays: openings worked out from parts, and what is found about the
//! panel that is left.

mod budget;
mod drilling;
mod findings;
mod gaps;
mod ids;
mod openings;
mod random;
mod sheet;

use crate::common::under_panel;

/// A panel of 1,000 x 400 mm with a middle that is marked by a pair of holes, and these tables.
fn panel(tables: &str) -> String {
    under_panel(1000.0, 400.0, tables)
}

/// A window-shaped part on the centreline unless `offset` says otherwise.
fn window(name: &str, width: f64, height: f64, offset: &str, from_datum: f64) -> String {
    format!(
        "[[part]]\nname = \"{name}\"\nshape = \"window\"\n\
         with = {{ width = {width}, height = {height}, corner_radius = 4 }}\n\
         centre_offset = {offset}\nfrom_datum = {from_datum}\n"
    )
}

/// A clearance of `gap` and nothing else.
fn only_gap(gap: f64) -> String {
    format!("[clearance]\ngap = {gap}\nposition = 0\nmarking = 0\ncutting = 0\nprint = 0\n")
}

/// An opening worked out round parts.
fn around(name: &str, parts: &str, rest: &str) -> String {
    format!("[[opening]]\nname = \"{name}\"\naround = [{parts}]\n{rest}\n")
}
