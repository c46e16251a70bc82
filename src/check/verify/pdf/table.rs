//! Where the objects of a file are: its tables, the newest first (ISO 32000-1, 7.5.4 to 7.5.8).

use super::cursor::{Cursor, find, find_last};
use super::predictor::{parameters, unpredicted};
use super::unpack::inflated;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Array, Dict, FromBytes, Name, ObjRef, Object};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const DAMAGED: VerifyError = VerifyError::Pdf("its table of objects is damaged");
const PACKED_ODDLY: VerifyError = VerifyError::Pdf("its objects are packed in an unusual way");

/// Where an object is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// From this byte of the file on, of this generation.
    At(usize, u32),
    /// In a stream of objects, as the object of this index.
    Packed(u32, usize),
    /// Nowhere any more.
    Free,
}

/// Where all objects are, and the two that everything hangs on.
#[derive(Debug)]
pub(super) struct Table {
    pub(super) places: BTreeMap<u32, Place>,
    pub(super) root: ObjRef,
    pub(super) info: Option<ObjRef>,
}

/// Reads all tables of a file.
pub(super) fn table(bytes: &[u8], budget: &mut Budget) -> Result<Table, VerifyError> {
    let from = find_last(bytes, b"startxref").ok_or(DAMAGED)?;
    let mut cursor = Cursor::at(bytes, from.saturating_add(b"startxref".len()));
    let newest = cursor.number().and_then(place).ok_or(DAMAGED)?;
    let (mut places, mut ends) = (BTreeMap::new(), None);
    let (mut next, mut seen) = (vec![newest], BTreeSet::new());
    while let Some(at) = next.pop() {
        if !seen.insert(at) {
            return Err(DAMAGED);
        }
        budget.spend(Cost::Steps, 1000)?;
        let cursor = Cursor::at(bytes, at);
        let dict = match listed(cursor, &mut places, budget)? {
            Some(dict) => dict,
            None => streamed(cursor, &mut places, budget)?,
        };
        if dict.contains_key("Encrypt") {
            return Err(VerifyError::Locked);
        }
        let other = |key: &str| dict.get::<u32>(key).and_then(|at| usize::try_from(at).ok());
        // The last is read next: what a table hides comes before what is older.
        next.extend(other("Prev"));
        next.extend(other("XRefStm"));
        if ends.is_none() {
            ends = Some((dict.get_ref("Root").ok_or(DAMAGED)?, dict.get_ref("Info")));
        }
    }
    let (root, info) = ends.ok_or(DAMAGED)?;
    Ok(Table { places, root, info })
}

fn place(number: u64) -> Option<usize> {
    usize::try_from(number).ok()
}

/// A dictionary, and what stands after it.
pub(super) fn dictionary<'b>(
    mut cursor: Cursor<'b>,
    budget: &mut Budget,
) -> Result<(Dict<'b>, Cursor<'b>), VerifyError> {
    cursor.skip_space();
    let dict = Dict::from_bytes(cursor.rest).ok_or(DAMAGED)?;
    budget.spend_len(Cost::Bytes, dict.data().len())?;
    cursor.take(dict.data().len()).ok_or(DAMAGED)?;
    Ok((dict, cursor))
}

/// A table in lines; none where there is no such table.
fn listed<'b>(
    mut cursor: Cursor<'b>,
    places: &mut BTreeMap<u32, Place>,
    budget: &mut Budget,
) -> Result<Option<Dict<'b>>, VerifyError> {
    const LINE: usize = 20;
    cursor.skip_space();
    if cursor.word(b"xref").is_none() {
        return Ok(None);
    }
    while let Some(first) = cursor.number() {
        let count = cursor.number().ok_or(DAMAGED)?;
        cursor.skip_space();
        for number in first..first.saturating_add(count) {
            budget.spend(Cost::Steps, 1)?;
            let mut line = Cursor {
                rest: cursor.take(LINE).ok_or(DAMAGED)?,
            };
            let (at, generation) = (line.number(), line.number());
            line.skip_space();
            let used = line.word(b"n").is_some();
            let found = at.and_then(place).zip(generation.and_then(object));
            let (at, generation) = found.ok_or(DAMAGED)?;
            let place = if used {
                Place::At(at, generation)
            } else {
                Place::Free
            };
            keep(places, object(number).ok_or(DAMAGED)?, place);
        }
    }
    cursor.skip_space();
    cursor.word(b"trailer").ok_or(DAMAGED)?;
    Ok(Some(dictionary(cursor, budget)?.0))
}

fn object(number: u64) -> Option<u32> {
    u32::try_from(number).ok()
}

/// What is newer stays; what a table says to be free may be in the stream beside it.
fn keep(places: &mut BTreeMap<u32, Place>, number: u32, place: Place) {
    let kept = places.entry(number).or_insert(place);
    if *kept == Place::Free && matches!(place, Place::Packed(..)) {
        *kept = place;
    }
}

/// A table in a stream.
fn streamed<'b>(
    mut cursor: Cursor<'b>,
    places: &mut BTreeMap<u32, Place>,
    budget: &mut Budget,
) -> Result<Dict<'b>, VerifyError> {
    cursor.skip_space();
    cursor.object_head().ok_or(DAMAGED)?;
    let (dict, rest) = dictionary(cursor, budget)?;
    let data = body(&dict, rest, budget)?;
    let widths: Vec<usize> = dict
        .get::<Array<'_>>("W")
        .ok_or(DAMAGED)?
        .iter::<u8>()
        .map(usize::from)
        .collect();
    let [kind, second, third] = <[usize; 3]>::try_from(widths).map_err(|_| DAMAGED)?;
    if [kind, second, third].iter().any(|width| *width > 8) || second == 0 {
        return Err(DAMAGED);
    }
    let spans: Vec<u32> = match dict.get::<Array<'_>>("Index") {
        Some(spans) => spans.iter::<u32>().collect(),
        None => vec![0, dict.get::<u32>("Size").ok_or(DAMAGED)?],
    };
    let mut cursor = Cursor { rest: &data };
    let field = |cursor: &mut Cursor<'_>, width: usize, absent: u64| {
        let bytes = cursor.take(width)?;
        let value = bytes
            .iter()
            .fold(0_u64, |sum, byte| (sum << 8) | u64::from(*byte));
        Some(if width == 0 { absent } else { value })
    };
    for (first, count) in spans.iter().step_by(2).zip(spans.iter().skip(1).step_by(2)) {
        for number in *first..first.saturating_add(*count) {
            budget.spend(Cost::Steps, 1)?;
            let Some(kind) = field(&mut cursor, kind, 1) else {
                // Fewer are there than are announced.
                break;
            };
            let (second, third) = field(&mut cursor, second, 0)
                .zip(field(&mut cursor, third, 0))
                .ok_or(DAMAGED)?;
            let found = match kind {
                0 => Some(Place::Free),
                1 => place(second)
                    .zip(object(third))
                    .map(|(at, generation)| Place::At(at, generation)),
                2 => object(second)
                    .zip(place(third))
                    .map(|(stream, index)| Place::Packed(stream, index)),
                _ => None,
            };
            keep(places, number, found.ok_or(DAMAGED)?);
        }
    }
    Ok(dict)
}

/// What is in a stream of a table or of objects.
pub(super) fn body(
    dict: &Dict<'_>,
    mut cursor: Cursor<'_>,
    budget: &mut Budget,
) -> Result<Vec<u8>, VerifyError> {
    cursor.stream_head().ok_or(DAMAGED)?;
    let filter = match dict.get::<Object<'_>>("Filter") {
        None => None,
        Some(Object::Name(name)) => Some(name),
        Some(Object::Array(names)) => {
            let mut names = names.iter::<Name<'_>>();
            match (names.next(), names.next()) {
                (name, None) => name,
                _ => return Err(PACKED_ODDLY),
            }
        }
        Some(_) => return Err(PACKED_ODDLY),
    };
    match filter {
        None => {
            let length = find(cursor.rest, b"endstream").ok_or(DAMAGED)?;
            budget.spend_len(Cost::Bytes, length)?;
            Ok(cursor.take(length).unwrap_or_default().to_vec())
        }
        Some(name) if matches!(name.as_str(), "FlateDecode" | "Fl") => {
            let data = inflated(cursor.rest, budget)?;
            match parameters(dict) {
                Some(parameters) => unpredicted(data, &parameters).ok_or(PACKED_ODDLY),
                None => Ok(data),
            }
        }
        Some(_) => Err(PACKED_ODDLY),
    }
}
