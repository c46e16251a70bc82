//! Reads a kit file, table by table.

use super::check_kit::check;
use super::field::{choice, date, filled_text, filled_word, length, text_or_empty, texts, units};
use super::file::read_file;
use super::kit::{
    BoltPosition, CarriedSpec, Fastener, HandoverSpec, KitIdentity, KitPanel, KitPattern, KitSpec,
    RatingSpec, Reuse, StackItem,
};
use super::measure::{count, mass, torque};
use super::problem::Placed;
use super::report::Report;
use super::source::Source;
use super::table::{Entry, Table};
use crate::base::length::LONGEST;
use crate::base::words::{is_device_name, shown};
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Most patterns of a kit.
const MOST_PATTERNS: usize = 20_000;

/// Most bolt positions, panels, and kinds of fasteners on a panel: more fill no card.
const MOST_POSITIONS: usize = 200;

/// Most things on one bolt.
const MOST_STACKED: usize = 20;

/// Most panels that one may overlap, or that may share a fastener.
const MOST_NEIGHBOURS: usize = 50;

/// Most notes: they share a card.
const MOST_NOTES: usize = 20;

/// Most things carried at once.
const MOST_CARRIED: usize = 10;

/// How many of anything.
const COUNT: RangeInclusive<u32> = 1..=999;

/// Distances that are handed over, mm.
const DISTANCE: RangeInclusive<f64> = 0.0..=LONGEST;

/// Masses that are towed or carried, kg.
const MASS: RangeInclusive<f64> = 0.0..=50_000.0;

impl KitSpec {
    /// Reads a kit file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, kit)
    }

    /// Whether a text that is TOML has a `[kit]` and so was meant as a kit file.
    pub fn is_meant(source: &Source) -> bool {
        let (document, _) = toml::de::DeTable::parse_recoverable(&source.text);
        document.get_ref().contains_key("kit")
    }
}

fn kit(file: &mut Table<'_>) -> Option<KitSpec> {
    let units = units(file);
    let identity = file.table("kit", identity);
    let patterns = file.tables("pattern", 1..=MOST_PATTERNS, pattern);
    let bolts = file.tables("bolt", 0..=MOST_POSITIONS, bolt);
    let panels = file.tables("panel", 0..=MOST_POSITIONS, panel);
    let handover = file.optional_table("handover", handover);
    let kit = KitSpec {
        units,
        identity: identity?,
        patterns,
        bolts,
        panels,
        handover: handover.unwrap_or_default(),
    };
    check(&kit, file.reading);
    Some(kit)
}

fn identity(table: &mut Table<'_>) -> Option<KitIdentity> {
    let number = table.required("number", filled_word);
    let revision = table.required("revision", filled_word);
    let title = table.required("title", filled_text);
    let issued = table.required("issued", date);
    let owner = text_or_empty(table, "owner");
    let drawn_by = text_or_empty(table, "drawn_by");
    let approved_by = text_or_empty(table, "approved_by");
    let vehicle = text_or_empty(table, "vehicle");
    let accessory = text_or_empty(table, "accessory");
    let notes = table.optional("notes", |entry| texts(entry, MOST_NOTES));
    Some(KitIdentity {
        number: number?,
        revision: revision?,
        title: title?.value,
        issued: issued?.value,
        owner,
        drawn_by,
        approved_by,
        vehicle,
        accessory,
        notes: notes.map(|notes| notes.value).unwrap_or_default(),
    })
}

fn pattern(table: &mut Table<'_>) -> Option<KitPattern> {
    let file = table.required("file", filled_text);
    if let Some(file) = &file
        && file.value.split(['/', '\\']).any(is_device_name)
    {
        let message = format!(
            "`{}` holds a name that Windows keeps for a device",
            shown(&file.value)
        );
        let hint = "rename the file, so that the kit can be issued anywhere";
        table.reading.report(file.problem(message).hint(hint));
    }
    let quantity = count_or_one(table, "quantity");
    Some(KitPattern {
        file: file?,
        quantity,
    })
}

fn bolt(table: &mut Table<'_>) -> Option<BoltPosition> {
    let position = table.required("position", filled_text);
    let count = count_or_one(table, "count");
    let size = table.required("size", filled_text);
    let stack = table.tables("stack", 0..=MOST_STACKED, stack_item);
    let torque = table.optional("torque", torque);
    let tool = text_or_empty(table, "tool");
    Some(BoltPosition {
        position: position?,
        count,
        size: size?.value,
        stack,
        torque: torque.map(|torque| torque.value),
        tool,
    })
}

fn stack_item(table: &mut Table<'_>) -> Option<StackItem> {
    let part = table.required("part", filled_text);
    let size = text_or_empty(table, "size");
    let count = count_or_one(table, "count");
    Some(StackItem {
        part: part?.value,
        size,
        count,
    })
}

fn panel(table: &mut Table<'_>) -> Option<KitPanel> {
    let name = table.required("name", filled_text);
    let overlaps = names(table, "overlaps");
    let fasteners = table.tables("fastener", 0..=MOST_POSITIONS, fastener);
    Some(KitPanel {
        name: name?,
        overlaps,
        fasteners,
    })
}

fn fastener(table: &mut Table<'_>) -> Option<Fastener> {
    let kind = table.required("kind", filled_text);
    let count = table.required("count", |entry| count(entry, COUNT));
    let tool = text_or_empty(table, "tool");
    let reuse = table.required("reuse", |entry| choice(entry, &Reuse::ALL, Reuse::word));
    let shared_with = names(table, "shared_with");
    Some(Fastener {
        kind: kind?.value,
        count: count?.value,
        tool,
        reuse: reuse?.value,
        shared_with,
    })
}

fn handover(table: &mut Table<'_>) -> Option<HandoverSpec> {
    let mut distance = |key| {
        let read = table.optional(key, |entry| length(entry, DISTANCE));
        read.map(|distance| distance.value)
    };
    let pin_hole_to_bumper = distance("pin_hole_to_bumper");
    let ground_to_receiver = distance("ground_to_receiver");
    let bracket = table.optional_table("bracket", rating);
    let vehicle = table.optional_table("vehicle", rating);
    let carried = table.tables("carried", 0..=MOST_CARRIED, carried);
    Some(HandoverSpec {
        pin_hole_to_bumper,
        ground_to_receiver,
        bracket: bracket.unwrap_or_default(),
        vehicle: vehicle.unwrap_or_default(),
        carried,
    })
}

fn rating(table: &mut Table<'_>) -> Option<RatingSpec> {
    let mut limit = |key| {
        let read = table.optional(key, |entry| mass(entry, MASS));
        read.map(|mass| mass.value)
    };
    Some(RatingSpec {
        towed: limit("towed"),
        tongue: limit("tongue"),
    })
}

fn carried(table: &mut Table<'_>) -> Option<CarriedSpec> {
    let name = table.required("name", filled_text);
    let mass = table.required("mass", |entry| mass(entry, MASS));
    Some(CarriedSpec {
        name: name?.value,
        mass: mass?,
    })
}

fn count_or_one(table: &mut Table<'_>, key: &'static str) -> u32 {
    let read = table.optional(key, |entry| count(entry, COUNT));
    read.map_or(1, |count| count.value)
}

/// Names of panels, each with its place.
fn names(table: &mut Table<'_>, key: &'static str) -> Vec<Placed<String>> {
    let read = table.optional(key, |entry| {
        let DeValue::Array(items) = entry.value.get_ref() else {
            return entry.wrong_kind("a list of names", "write `[\"one\", \"two\"]`");
        };
        if items.len() > MOST_NEIGHBOURS {
            let message = format!(
                "`{}` has {} items: at most {MOST_NEIGHBOURS} are allowed",
                entry.key,
                items.len()
            );
            return entry.refuse(message, None);
        }
        let read: Vec<_> = items.iter().map(|item| name(&entry.item(item))).collect();
        read.into_iter().collect()
    });
    read.map(|names| names.value).unwrap_or_default()
}

fn name(entry: &Entry<'_>) -> Option<Placed<String>> {
    let name = filled_text(entry)?;
    Some(Placed::at(name, entry.value.span()))
}
