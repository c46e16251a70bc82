//! A solved pattern on sheets: planned for what must be shown, then lettered in the rooms left.

use super::SheetSet;
use super::compose::sheets_on;
use super::error::SheetError;
use super::plan::Plan;
use super::setup::Setup;
use crate::draw::ink::Drawing;
use crate::draw::{draw, draw_in, ways};
use crate::solve::Pattern;

/// The sheets of a solved pattern.
///
/// # Errors
/// Letters that the typeface lacks, and paper that the pattern does not fit.
pub fn sheets_of(pattern: &Pattern, setup: &Setup) -> Result<SheetSet, SheetError> {
    let free = draw(pattern).map_err(SheetError::Letter)?;
    sheets_beside(pattern, &free, setup)
}

/// As [`sheets_of`], where the pattern was drawn with all the room that it likes.
///
/// # Errors
/// As [`sheets_of`].
pub(crate) fn sheets_beside(
    pattern: &Pattern,
    free: &Drawing,
    setup: &Setup,
) -> Result<SheetSet, SheetError> {
    let (plan, way) = Plan::best(ways(pattern, setup.ways()), setup)?;
    let rooms = plan.rooms();
    if way.suits(free, &rooms) {
        sheets_on(&plan, free, setup)
    } else {
        let drawing = draw_in(pattern, &way, &rooms).map_err(SheetError::Letter)?;
        sheets_on(&plan, &drawing, setup)
    }
}
