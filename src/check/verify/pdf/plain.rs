//! A file laid out plainly before the library reads it: every object in the file itself, and one
//! table.
//!
//! The library unpacks tables and streams of objects without a bound, and looks through the whole
//! file again where a table is wrong. It finds neither here: what is packed is unpacked within the
//! budget and written out, and a place that does not hold its object is left out.

use super::cursor::{Cursor, find, references};
use super::look::written;
use super::table::{DAMAGED, Place, Table, body, dictionary, table};
use super::tree::{self, Places};
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Dict, FromBytes, ObjRef, Object};
use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;

/// The same file, laid out plainly, and what of its objects other readers may take otherwise.
pub(super) fn plain(
    mut bytes: Vec<u8>,
    budget: &mut Budget,
) -> Result<(Vec<u8>, Option<&'static str>), VerifyError> {
    let table = table(&bytes, budget)?;
    let mut named = BTreeSet::new();
    let mut places = there(&bytes, &table, &mut named, budget)?;
    let added = unpacked(&bytes, &table, &mut places, &mut named, budget)?;
    bytes.extend_from_slice(&added);
    let pages = pages(&bytes, &places, table.root).ok_or(VerifyError::Pdf("it has no catalog"))?;
    tree::bounded(&bytes, &places, pages, budget)?;
    write_table(&mut bytes, &places, &table).map_err(|_| DAMAGED)?;
    let listed = table.places.values().filter(|at| **at != Place::Free);
    let odd = if listed.count() > places.len() {
        // Others may look for them in the whole file.
        Some("objects that are not where its table says")
    } else if named.iter().any(|number| is_free(&table, *number)) {
        // By the standard they are nothing, but some readers restore them.
        Some("objects that it names though its table marks them as deleted")
    } else {
        None
    };
    Ok((bytes, odd))
}

fn is_free(table: &Table, number: u32) -> bool {
    table.places.get(&number) == Some(&Place::Free)
}

/// Objects that stand where the table says, each read up to the next, so that all of it is read
/// once.
///
/// Which free ones they name is kept in `named`.
fn there(
    bytes: &[u8],
    table: &Table,
    named: &mut BTreeSet<u32>,
    budget: &mut Budget,
) -> Result<Places, VerifyError> {
    let mut at: Vec<(usize, u32, u32)> = table
        .places
        .iter()
        .filter_map(|(number, place)| match place {
            Place::At(at, generation) => Some((*at, *number, *generation)),
            _ => None,
        })
        .collect();
    at.sort_unstable();
    let mut places = Places::new();
    let (mut here, mut next) = (bytes.len(), bytes.len());
    for (from, number, generation) in at.iter().rev() {
        if *from < here {
            (here, next) = (*from, here);
        }
        let own = bytes.get(*from..next);
        let mut cursor = Cursor {
            rest: own.unwrap_or_default(),
        };
        // Two numbers at one place: the head can only be that of one.
        if cursor.object_head() != Some((*number, *generation)) {
            continue;
        }
        if let Some(object) = Object::from_bytes(cursor.rest) {
            let own = written(&object);
            budget.lengths.insert(*number, own.len());
            named.extend(references(own).filter(|to| is_free(table, *to)));
            places.insert(*number, (*from, *generation));
        } else if find(cursor.rest, b"stream").is_some() {
            return Err(VerifyError::Pdf("a stream of it does not end"));
        }
    }
    Ok(places)
}

/// Objects that are packed in streams, written out; they stand after the end of the file.
fn unpacked(
    bytes: &[u8],
    table: &Table,
    places: &mut Places,
    named: &mut BTreeSet<u32>,
    budget: &mut Budget,
) -> Result<Vec<u8>, VerifyError> {
    let mut streams: BTreeMap<u32, BTreeMap<usize, u32>> = BTreeMap::new();
    for (number, place) in &table.places {
        if let Place::Packed(stream, index) = place {
            streams.entry(*stream).or_default().insert(*index, *number);
        }
    }
    let mut added = vec![];
    for (stream, wanted) in streams {
        let (at, _) = places.get(&stream).ok_or(DAMAGED)?;
        let mut cursor = Cursor::at(bytes, *at);
        cursor.object_head().ok_or(DAMAGED)?;
        let (dict, rest) = dictionary(cursor, budget)?;
        let data = body(&dict, rest, budget)?;
        let first = dict
            .get::<u32>("First")
            .and_then(|at| usize::try_from(at).ok());
        let first = first.ok_or(DAMAGED)?;
        let count = dict.get::<u32>("N").ok_or(DAMAGED)?;
        let mut head = Cursor { rest: &data };
        let mut heads = vec![];
        for _ in 0..count {
            budget.spend(Cost::Steps, 1)?;
            let (number, from) = head.number().zip(head.number()).ok_or(DAMAGED)?;
            let from = usize::try_from(from)
                .ok()
                .and_then(|from| from.checked_add(first));
            heads.push((number, from.ok_or(DAMAGED)?));
        }
        let ends = heads
            .iter()
            .skip(1)
            .map(|(_, from)| *from)
            .chain([data.len()]);
        for (index, ((number, from), end)) in heads.iter().zip(ends).enumerate() {
            let Some(wanted) = wanted.get(&index).filter(|own| u64::from(**own) == *number) else {
                continue;
            };
            // Overlapping objects could come to any length.
            let own = data.get(*from..end).ok_or(DAMAGED)?;
            let Some(object) = Object::from_bytes(own.trim_ascii_start()) else {
                continue;
            };
            budget.lengths.insert(*wanted, written(&object).len());
            named.extend(references(own).filter(|to| is_free(table, *to)));
            let at = bytes.len().saturating_add(added.len()).saturating_add(1);
            places.insert(*wanted, (at, 0));
            added.extend_from_slice(format!("\n{wanted} 0 obj\n").as_bytes());
            added.extend_from_slice(own);
            added.extend_from_slice(b"\nendobj\n");
        }
    }
    Ok(added)
}

/// The catalog's tree of pages; the library looks through the whole file for another catalog where
/// this is none.
fn pages(bytes: &[u8], places: &Places, root: ObjRef) -> Option<ObjRef> {
    let (at, generation) = places.get(&root.obj_number)?;
    let mut cursor = Cursor::at(bytes, *at);
    cursor.object_head()?;
    let dict = Dict::from_bytes(cursor.rest)?;
    let same = i64::from(root.gen_number) == i64::from(*generation);
    dict.get_ref("Pages").filter(|_| same)
}

/// One table of all that is there.
fn write_table(bytes: &mut Vec<u8>, places: &Places, table: &Table) -> std::io::Result<()> {
    bytes.push(b'\n');
    let start = bytes.len();
    writeln!(bytes, "xref\n0 1\n0000000000 65535 f ")?;
    for (number, (at, generation)) in places {
        // What is wider than its column is no object of a file that is read.
        if *generation < 100_000 {
            writeln!(bytes, "{number} 1\n{at:010} {generation:05} n ")?;
        }
    }
    let last = places.keys().next_back().copied().unwrap_or(0);
    let reference = |to: ObjRef| format!("{} {} R", to.obj_number, to.gen_number);
    write!(
        bytes,
        "trailer\n<</Size {}/Root {}",
        u64::from(last).saturating_add(1),
        reference(table.root)
    )?;
    if let Some(info) = table.info {
        write!(bytes, "/Info {}", reference(info))?;
    }
    write!(bytes, ">>\nstartxref\n{start}\n%%EOF\n")
}
