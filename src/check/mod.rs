//! Proofs: a file read back, what a printed ruler says, and a scanned sheet.

pub mod scale;
#[cfg(feature = "scan")]
pub mod scan;
pub mod verify;
mod watch;
