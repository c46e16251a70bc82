//! The middle of a panel, found from readings, and how sure it is.
//!
//! Two ways to it. [`solve`] takes tape readings of left and right features from one zero: the
//! middles `m` of the pairs, at their depths `y`, give the line `m(y) = c + t y`. [`solve_arcs`]
//! takes distances from such features to one pencil mark, where there is no common zero.
//!
//! Lengths in mm. A middle is a tape reading: it grows away from the zero end, as `left` and
//! `right` do. `y` grows away from the datum edge. The skew `t` is dm/dy, so it is positive where
//! the centreline leans away from the zero end with depth. Told uncertainties hold in
//! about 95 of 100 cases. The mathematics is that of the GUM (JCGM 100:2008): `uncertainty` says
//! which errors are taken as each reading's own and which as common to the whole tape, `coverage`
//! what holds.
//!
//! ```
//! use trimloft::model::centre::{Measuring, Pair, Readings, Zero, solve};
//!
//! let readings = Readings {
//!     zero: Zero::Left,
//!     measuring: Measuring::default(),
//!     panel_width: Some(980.0),
//!     pairs: vec![Pair {
//!         name: "outer clip holes".into(),
//!         left: 112.0,
//!         right: 868.0,
//!         depth: 18.0,
//!         reading: None,
//!     }],
//! };
//! let centre = solve(&readings)?;
//! assert_eq!(centre.at(18.0).middle, 490.0);
//! assert!(centre.at(18.0).uncertainty < centre.at(218.0).uncertainty);
//! # Ok::<(), Vec<trimloft::model::centre::CentreError>>(())
//! ```

mod agreement;
mod arcs;
mod centreline;
mod combine;
mod coverage;
mod least_squares;
mod line;
mod measuring;
mod middle;
mod problem;
mod readings;
mod tape;
#[cfg(test)]
mod tests;
mod uncertainty;
mod zero;

pub use agreement::{Agreement, OddPair};
pub use arcs::{ArcCentre, ArcReadings, ArcResidual, Swing, solve_arcs};
pub use centreline::{Centre, Residual, solve};
pub use combine::{COVERAGE_FACTOR, expanded, rectangular, root_sum_square};
pub use measuring::Measuring;
pub use middle::{Estimate, Middle, Skew};
pub use problem::{ArcGap, CentreError};
pub use readings::{Pair, Readings};
pub use tape::{Tape, TapeClass, TapeEnd};
pub use zero::Zero;
