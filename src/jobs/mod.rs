//! Whole jobs: one definition drawn or looked at, a kit issued, two definitions compared.

pub mod compare;
pub mod kit;
pub mod look;
pub mod papers;
pub mod produce;
pub mod which;
