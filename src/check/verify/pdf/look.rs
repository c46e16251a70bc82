//! Objects that are looked up by the place that names them: each is read anew each time.

use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Array, Dict, MaybeRef, ObjRef, Object};

/// Least that looking one up costs, in bytes.
const LEAST: usize = 16;
/// What one of a list costs besides, in bytes: a table of keys is made for it, however short it is.
const LISTED: usize = 96;
/// How many times a dictionary that stands in another is gone through until all that is asked of it
/// is known.
const AGAIN: usize = 6;

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

/// Spends what it costs to look up what a dictionary holds under these keys: in itself, or in an object
/// that it names.
pub(super) fn look(dict: &Dict<'_>, keys: &[&str], budget: &mut Budget) -> Result<(), VerifyError> {
    let cost = cost(dict, keys, budget);
    budget.spend_len(Cost::Bytes, cost)
}

/// What that costs, in bytes.
pub(super) fn cost(dict: &Dict<'_>, keys: &[&str], budget: &Budget) -> usize {
    let each = keys
        .iter()
        .map(|key| match dict.get_raw::<Object<'_>>(key) {
            Some(MaybeRef::Ref(to)) => cost_at(to, budget),
            Some(MaybeRef::NotRef(own)) => written(&own).len(),
            None => 0,
        });
    each.fold(0, usize::saturating_add)
}

/// What is gone through to read an object: all of it, but of a stream its dictionary.
pub(super) fn written<'a>(object: &'a Object<'_>) -> &'a [u8] {
    match object {
        Object::Dict(dict) => dict.data(),
        Object::Stream(stream) => stream.dict().data(),
        Object::Array(array) => array.data(),
        Object::String(text) => text.as_bytes(),
        _ => &[],
    }
}

/// Spends what it costs to look up all that an array names.
pub(super) fn look_through(array: &Array<'_>, budget: &mut Budget) -> Result<(), VerifyError> {
    budget.spend_len(Cost::Bytes, array.data().len())?;
    for item in array.raw_iter() {
        match item {
            MaybeRef::Ref(to) => look_at(to, budget)?,
            MaybeRef::NotRef(Object::Dict(_)) => {}
            MaybeRef::NotRef(_) => continue,
        }
        budget.spend_len(Cost::Bytes, LISTED)?;
    }
    Ok(())
}

/// Spends what it costs to read a dictionary anew, wherever it stands.
pub(super) fn look_into(dict: &Dict<'_>, budget: &mut Budget) -> Result<(), VerifyError> {
    budget.spend_len(Cost::Bytes, AGAIN.saturating_mul(dict.data().len()))
}

/// Spends what it costs to look up one object, whatever it is.
pub(super) fn look_at(to: ObjRef, budget: &mut Budget) -> Result<(), VerifyError> {
    let cost = cost_at(to, budget);
    budget.spend_len(Cost::Bytes, cost)
}

fn cost_at(to: ObjRef, budget: &Budget) -> usize {
    let length = budget.lengths.get(&to.obj_number).copied();
    length.unwrap_or_default().max(LEAST)
}
