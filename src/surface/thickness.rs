//! Openings through a panel of some thickness.
//!
//! The cut wall stands square to the panel, so the part crosses the near and the far face at
//! different places of the pattern; the opening is the union of both. A part is a prism along
//! its passage, and the distance from a prism is the distance from its outline in the plane
//! square to the passage. So the clearance is met exactly in space by growing the outline there
//! and throwing the grown outline along the passage on to both faces.
//!
//! Between the faces the wall is a straight line, and what it passes is convex at a corner: it
//! comes nearer there than at its ends, by up to `d^2 / (8 r)` with `d` its length as seen along
//! the passage and `r` the grown corner's radius. Where that could cost more than half of the
//! clearance, faces in between are united too.

use super::fit::mapped;
use super::{FIT_TOLERANCE, Passage, Projection, Surface, SurfaceError};
use crate::outline::{Outline, Region, offset, union};

/// How well a grown outline is followed, mm in the plane square to the passage. It is grown by
/// as much again, so that a wall never comes nearer than its clearance, and exceeds it by less
/// than 0.01 mm.
const CLEARED_FIT: f64 = 0.0045;

/// What the boolean operations may move a point by, mm.
const UNION_SLIP: f64 = 2e-5;

/// A wall seen this little aslant is square to the passage: the faces coincide, mm.
const COINCIDENT: f64 = 1e-7;

/// Most slices between two faces: a panel that needs more is no sheet.
const MOST_SLICES: f64 = 32.0;

/// The opening that lets a part through with `clearance` mm all round it, measured in space
/// between its body and the cut wall at both faces of the panel, `thickness` mm apart.
///
/// `part` is the part's outline in the plane square to its passage. At the governing face the
/// clearance is exceeded by at most 0.01 mm, and nowhere missed. Islands that the part would
/// leave standing inside fall out with the waste. Flags of sides are lost.
///
/// # Errors
/// Lengths must be finite and 0 or more; else as [`Projection::land`].
pub fn cleared(
    surface: &Surface,
    thickness: f64,
    passage: &Passage,
    part: &Outline,
    clearance: f64,
) -> Result<Vec<Outline>, SurfaceError> {
    checked("clearance", clearance)?;
    let slices = Slices::of(surface, thickness, passage, part, clearance)?;
    let grown = offset(part, clearance + CLEARED_FIT + UNION_SLIP);
    united(surface, passage, &slices, &outers(grown), CLEARED_FIT)
}

/// The opening that lets just what lies in `section`, an outline in the plane square to the
/// passage, through both faces of the panel: where the near face alone would do, the outline's
/// exact image within 0.005 mm. Flags of sides are lost where the panel has a thickness.
///
/// # Errors
/// As [`cleared`].
pub fn carried(
    surface: &Surface,
    thickness: f64,
    passage: &Passage,
    section: &Outline,
) -> Result<Vec<Outline>, SurfaceError> {
    let slices = Slices::of(surface, thickness, passage, section, 0.0)?;
    let sections = std::slice::from_ref(section);
    united(surface, passage, &slices, sections, FIT_TOLERANCE)
}

fn checked(what: &'static str, length: f64) -> Result<(), SurfaceError> {
    if length.is_finite() && length >= 0.0 {
        Ok(())
    } else {
        Err(SurfaceError::Length { what, length })
    }
}

/// The depths behind the near face at which the opening must clear.
struct Slices {
    depths: Vec<f64>,
    /// The most that a face behind is stretched against the pattern, 1 or more.
    swell: f64,
}

impl Slices {
    fn of(
        surface: &Surface,
        thickness: f64,
        passage: &Passage,
        outline: &Outline,
        clearance: f64,
    ) -> Result<Self, SurfaceError> {
        checked("thickness", thickness)?;
        let far = Projection::new(surface, passage, thickness)?;
        let (mut aslant, mut swell) = (0.0_f64, 1.0_f64);
        for side in outline.sides() {
            for part in [0.0, 0.5] {
                let landing = far.land(side.at(part))?;
                aslant = aslant.max(1.0 - landing.facing * landing.facing);
                swell = swell.max(landing.swell);
            }
        }
        let seen = thickness * aslant.sqrt();
        let depths = if seen < COINCIDENT {
            vec![0.0]
        } else {
            // r = c at a sharp corner of the part: d^2 / (8 c) stays under c / 2, exactly
            // c - sqrt(c^2 - d^2 / 4). Without a clearance slices just overlap well.
            let bounds = outline.bounds();
            let least = bounds.width().min(bounds.height()) / 4.0;
            let step = if clearance > 0.0 {
                3.0_f64.sqrt() * clearance
            } else {
                least
            };
            let count = (seen / step).ceil().clamp(1.0, MOST_SLICES) as usize;
            (0..=count)
                .map(|slice| thickness * slice as f64 / count as f64)
                .collect()
        };
        Ok(Self { depths, swell })
    }
}

fn united(
    surface: &Surface,
    passage: &Passage,
    slices: &Slices,
    sections: &[Outline],
    tolerance: f64,
) -> Result<Vec<Outline>, SurfaceError> {
    let mut images = Vec::with_capacity(slices.depths.len() * sections.len());
    for &depth in &slices.depths {
        let projection = Projection::new(surface, passage, depth)?;
        for section in sections {
            let land = |point| projection.land(point);
            images.push(mapped(section, land, tolerance / slices.swell)?);
        }
    }
    if images.len() == 1 {
        return Ok(images);
    }
    Ok(outers(union(&images)))
}

fn outers(regions: Vec<Region>) -> Vec<Outline> {
    regions.into_iter().map(|region| region.outer).collect()
}
