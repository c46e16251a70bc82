//! Whole jobs: one definition drawn, a kit issued, two definitions compared.

pub mod compare;
pub mod kit;
pub mod produce;
