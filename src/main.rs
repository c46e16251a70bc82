//! The `trimloft` command.
fn main() {}
