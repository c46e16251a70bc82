//! Openings through a panel of some thickness.
//!
//! The blade is held square to the panel, so that the cut wall is: each place of the cut line is a
//! straight line through the panel. A part is a prism along its passage, and the distance from a
//! prism is the distance from its outline in the plane square to the passage. So the clearance is
//! met exactly in space by growing the outline there, and cutting the panel wherever any depth of
//! it is met by the grown outline: what that covers on the pattern, thrown along the passage on to
//! the face at every depth, is the outline's sweep.

use super::sweep::swept;
use super::{FIT_TOLERANCE, Passage, Projection, Surface, SurfaceError};
use crate::geometry::outline::{Outline, offset, outers, union};

/// How well a grown outline is followed, mm in the plane square to the passage. It is grown by
/// as much again, so that a wall never comes nearer than its clearance, and exceeds it by less
/// than 0.01 mm.
const CLEARED_FIT: f64 = 0.0045;

/// What the boolean operations may move a point by, mm.
const UNION_SLIP: f64 = 2e-5;

/// The opening that lets a part through with `clearance` mm all round it, measured in space
/// between its body and the cut wall all through the panel, which is `thickness` mm thick.
///
/// `part` is the part's outline in the plane square to its passage. At the governing depth the
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
    let grown = outers(offset(part, clearance + CLEARED_FIT + UNION_SLIP));
    through_wall(surface, thickness, passage, &grown, CLEARED_FIT)
}

/// The opening that lets just what lies in `section`, an outline in the plane square to the
/// passage, through the whole wall: where the near face alone would do, the outline's exact
/// image within 0.005 mm. Flags of sides are lost where the panel has a thickness.
///
/// # Errors
/// As [`cleared`].
pub fn carried(
    surface: &Surface,
    thickness: f64,
    passage: &Passage,
    section: &Outline,
) -> Result<Vec<Outline>, SurfaceError> {
    let sections = std::slice::from_ref(section);
    through_wall(surface, thickness, passage, sections, FIT_TOLERANCE)
}

fn checked(what: &'static str, length: f64) -> Result<(), SurfaceError> {
    if length.is_finite() && length >= 0.0 {
        Ok(())
    } else {
        Err(SurfaceError::Length { what, length })
    }
}

fn through_wall(
    surface: &Surface,
    thickness: f64,
    passage: &Passage,
    sections: &[Outline],
    tolerance: f64,
) -> Result<Vec<Outline>, SurfaceError> {
    checked("thickness", thickness)?;
    let far = Projection::new(surface, passage, thickness)?;
    let mut images = Vec::with_capacity(sections.len());
    for section in sections {
        // The most that a face behind is stretched against the pattern.
        let mut swell = 1.0_f64;
        for side in section.sides() {
            for part in [0.0, 0.5] {
                swell = swell.max(far.land(side.at(part))?.swell);
            }
        }
        images.extend(swept(
            surface,
            passage,
            thickness,
            section,
            tolerance / swell,
        )?);
    }
    if images.len() == 1 {
        return Ok(images);
    }
    Ok(outers(union(&images)))
}
