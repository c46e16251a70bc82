//! Panels that lean and curve, and their flat patterns.
//!
//! A panel here is bent one way: straight lines across or up it, and a [`Profile`] square to
//! them, the whole leaning by its rake. Such a surface unrolls without stretch, and [`Surface`]
//! is that mapping with its inverse. [`Passage`] is the way a part comes through; [`cleared`]
//! and [`carried`] give the opening that lets it through a panel of some thickness; [`mapped`]
//! refits mapped outlines with straight sides and true arcs. [`BothWays`] judges a panel that
//! curves both ways, and [`SurfaceWarning`] holds what the user is to know.
//!
//! All is in mm and radians, in the reader's frame of [`Space`]. The *near* face is the one the
//! reader sees and the pattern is taped to; the *far* face lies the thickness behind it, square
//! to the panel, as the saw is held.

mod arc_length;
mod develop;
mod double;
mod error;
mod fit;
mod flat_guess;
mod jet;
mod passage;
mod profile;
mod readings;
mod space;
mod sweep;
mod thickness;
mod warning;

#[cfg(test)]
mod develop_tests;
#[cfg(test)]
mod readings_tests;
#[cfg(test)]
mod thickness_tests;

pub use develop::{Along, Surface};
pub use double::{BothWays, MOST_STRAIN, Misfit, Slit};
pub use error::SurfaceError;
pub use fit::{FIT_TOLERANCE, Mapped, mapped};
pub use flat_guess::{FlatGuess, Whereabouts, difference_to_flat};
pub use jet::Jet;
pub use passage::{Landing, Passage, Projection};
pub use profile::{Bulge, Profile, radius_of};
pub use readings::{MOST_READINGS, READING_ERROR, RoughReading, Smoothing, profile_of_readings};
pub use space::Space;
pub use thickness::{carried, cleared};
pub use warning::{SurfaceWarning, warnings};
