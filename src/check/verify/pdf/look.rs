//! Objects that are looked up by the place that names them: each is read anew each time.

use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Array, Dict, ObjRef};

/// Least that looking one up costs, in bytes.
const LEAST: usize = 16;

/// What the library asks of resources.
pub(super) const RESOURCES: [&str; 7] = [
    "ExtGState",
    "Font",
    "ColorSpace",
    "XObject",
    "Pattern",
    "Shading",
    "Properties",
];

/// Spends what it costs to look up what a dictionary names under these keys.
pub(super) fn look(dict: &Dict<'_>, keys: &[&str], budget: &mut Budget) -> Result<(), VerifyError> {
    for to in keys.iter().filter_map(|key| dict.get_ref(key)) {
        look_at(to, budget)?;
    }
    Ok(())
}

/// Spends what it costs to look up all that an array names.
pub(super) fn look_through(array: &Array<'_>, budget: &mut Budget) -> Result<(), VerifyError> {
    budget.spend_len(Cost::Bytes, array.data().len())?;
    for item in array.raw_iter() {
        if let Some(to) = item.as_obj_ref() {
            look_at(to, budget)?;
        }
    }
    Ok(())
}

/// Spends what it costs to look up one object, whatever it is.
pub(super) fn look_at(to: ObjRef, budget: &mut Budget) -> Result<(), VerifyError> {
    let length = budget.lengths.get(&to.obj_number).copied();
    budget.spend_len(Cost::Bytes, length.unwrap_or_default().max(LEAST))
}
