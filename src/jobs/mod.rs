//! Whole jobs: one definition drawn or looked at, a kit issued, two definitions compared.

#[cfg(feature = "kit")]
pub mod compare;
#[cfg(feature = "kit")]
pub mod kit;
pub mod look;
pub mod papers;
pub mod produce;
#[cfg(feature = "kit")]
pub mod which;
