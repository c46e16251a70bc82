//! What can be dragged on the picture, and the definition with it at its new place.
//!
//! A thing moves along the directions that its numbers are measured in, and what is written is those
//! numbers: nothing else of the definition changes.

use super::answer::Refusal;
use super::fields::Fields;
use super::seen::Drawn;
use crate::ask::units;
use crate::base::Direction;
use crate::base::fixed;
use crate::base::length::{Offset, Units};
use crate::input::{OpeningGiven, PartPlace};
use kurbo::{Affine, Point, Rect, Vec2};
use serde::Serialize;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// A thing on the picture that can be dragged. Places are those of the drawing, mm, y down.
#[derive(Debug, Serialize)]
pub(super) struct Handle {
    /// The table that it stands in: `part`, `opening` or `locator`.
    table: &'static str,
    /// Its place among these, from 0.
    index: usize,
    name: String,
    /// Its middle.
    at: [f64; 2],
    /// Left, top, width and height of what it covers.
    covers: [f64; 4],
    /// What it reads along the edge, mm, and the way in which that grows.
    along: Measured,
    /// What it reads from the datum edge, mm, and the way in which that grows.
    away: Measured,
    /// The sides that the first is read towards, where it grows and where it falls below 0; none for
    /// a tape reading.
    sides: Option<[&'static str; 2]>,
}

#[derive(Debug, Serialize)]
struct Measured {
    mm: f64,
    towards: [f64; 2],
}

/// All that can be dragged of a definition.
pub(super) fn handles(drawn: &Drawn) -> Vec<Handle> {
    let (spec, pattern) = (&drawn.spec, &drawn.look.pattern);
    let right = pattern.orientation.frame_right();
    let by_side = |table, index, name: &str, (at, covers), (offset, from_datum): (&Offset, f64)| {
        let sign = offset
            .towards
            .and_then(|side| pattern.orientation.sign_along_edge(side));
        Thing {
            table,
            index,
            name: name.to_owned(),
            at,
            covers,
            along: offset.distance * sign.unwrap_or(0.0),
            away: from_datum,
            grows: 1.0,
            sides: Some([right.word(), right.opposite().word()]),
        }
    };
    let mut things = vec![];
    for (index, (own, part)) in spec.parts.iter().zip(&pattern.parts).enumerate() {
        let PartPlace::Offset {
            centre_offset,
            from_datum,
        } = &own.place
        else {
            continue;
        };
        let place = (part.origin, part.outline.bounds());
        let read = (&centre_offset.value, from_datum.value);
        things.push(by_side("part", index, &part.name, place, read));
    }
    for (index, own) in spec.openings.iter().enumerate() {
        let OpeningGiven::Outright(given) = &own.given else {
            continue;
        };
        let name = &own.name.value;
        let place = pattern.openings.iter().find_map(|opening| {
            let mut declared = opening.declared.iter();
            let one = declared.find(|declared| declared.name == *name)?;
            Some((one.origin, opening.outline.bounds()))
        });
        let read = (&given.centre_offset.value, given.from_datum.value);
        things.extend(place.map(|place| by_side("opening", index, name, place, read)));
    }
    let grows = pattern.centreline.frame_x(1.0) - pattern.centreline.frame_x(0.0);
    for (index, (own, locator)) in spec.locators.iter().zip(&pattern.locators).enumerate() {
        let half = locator.diameter.unwrap_or(0.0) / 2.0;
        things.push(Thing {
            table: "locator",
            index,
            name: locator.name.clone(),
            at: locator.at,
            covers: Rect::from_points(locator.at, locator.at).inflate(half, half),
            along: own.across.value,
            away: own.from_datum.value,
            grows,
            sides: None,
        });
    }
    let to_svg = drawn.look.to_svg;
    things
        .into_iter()
        .map(|thing| thing.handle(to_svg))
        .collect()
}

/// A thing that can be dragged, in the panel frame, mm.
struct Thing {
    table: &'static str,
    index: usize,
    name: String,
    at: Point,
    covers: Rect,
    /// What it reads along the edge and from it.
    along: f64,
    away: f64,
    /// Which way the first grows along the frame.
    grows: f64,
    sides: Option<[&'static str; 2]>,
}

impl Thing {
    fn handle(self, to_svg: Affine) -> Handle {
        let measured = |mm, by: Vec2| {
            let towards = to_svg * by.to_point() - to_svg * Point::ZERO;
            Measured {
                mm,
                towards: [towards.x, towards.y],
            }
        };
        let at = to_svg * self.at;
        let covers = to_svg.transform_rect_bbox(self.covers);
        Handle {
            table: self.table,
            index: self.index,
            name: self.name,
            at: [at.x, at.y],
            covers: [covers.x0, covers.y0, covers.width(), covers.height()],
            along: measured(self.along, Vec2::new(self.grows, 0.0)),
            away: measured(self.away, Vec2::new(0.0, 1.0)),
            sides: self.sides,
        }
    }
}

/// One thing moved, as the script sends it: `part,0,left,4,34`.
struct Move<'a> {
    table: &'a str,
    index: usize,
    /// The side that an offset is read towards; none for a tape reading.
    side: Option<Direction>,
    /// mm; none where it did not move so.
    along: Option<f64>,
    away: Option<f64>,
}

impl<'a> Move<'a> {
    fn parse(text: &'a str) -> Option<Self> {
        let mut pieces = text.split(',');
        let mut next = || pieces.next();
        let (table, index, side) = (next()?, next()?, next()?);
        let mut number = || match next()? {
            "" => Some(None),
            number => {
                let mm: f64 = number.parse().ok()?;
                (mm.abs() <= crate::base::length::LONGEST).then_some(Some(mm))
            }
        };
        let (along, away) = (number()?, number()?);
        matches!(table, "part" | "opening" | "locator").then_some(Self {
            table,
            index: index.parse().ok()?,
            side: Direction::from_word(side),
            along,
            away,
        })
    }

    /// Writes the numbers into its table.
    fn write(&self, document: &mut DocumentMut, units: Units) {
        let Some(table) = table(document, self.table, self.index) else {
            return;
        };
        if let Some(mm) = self.along {
            match self.side {
                _ if self.table == "locator" => set(table, "across", length(mm, units)),
                Some(side) if mm > 0.0 => {
                    set(
                        table,
                        "centre_offset",
                        format!("{} {side}", units.exact(mm)).into(),
                    );
                }
                _ => set(table, "centre_offset", 0.into()),
            }
        }
        if let Some(mm) = self.away {
            set(table, "from_datum", length(mm, units));
        }
    }
}

/// A length as people write it: a bare number of millimetres, or inches with their mark.
fn length(mm: f64, units: Units) -> Value {
    if units == Units::In {
        return units.exact(mm).into();
    }
    let written = fixed(mm, 2);
    match written.parse::<i64>() {
        Ok(whole) => whole.into(),
        Err(_) => written.parse::<f64>().unwrap_or(mm).into(),
    }
}

fn table<'d>(
    document: &'d mut DocumentMut,
    name: &str,
    index: usize,
) -> Option<&'d mut dyn TableLike> {
    match document.get_mut(name)? {
        Item::ArrayOfTables(tables) => Some(tables.get_mut(index)? as &mut dyn TableLike),
        Item::Value(Value::Array(tables)) => {
            Some(tables.get_mut(index)?.as_inline_table_mut()? as &mut dyn TableLike)
        }
        _ => None,
    }
}

/// Gives a key a value; what stands beside it, such as a comment, stays.
fn set(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Writes all that was moved; whether anything was.
///
/// # Errors
/// Moves that can't be read.
pub(super) fn apply(document: &mut DocumentMut, fields: &Fields) -> Result<bool, Refusal> {
    let sent = fields.all("move").filter(|one| !one.is_empty());
    let moves: Option<Vec<Move<'_>>> = sent.map(Move::parse).collect();
    let moves = moves.ok_or_else(|| Refusal::bad("what was moved can't be read"))?;
    let units = units(document);
    for one in &moves {
        one.write(document, units);
    }
    Ok(!moves.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# by hand\nformat = 1\n\n[[part]]\nname = \"neck\" # the tube\n\
                        centre_offset = 0          # on the centreline\nfrom_datum = 34 # mm\n\n\
                        [[locator]]\nname=\"hole\"\nacross =  430\n";

    fn moved(text: &str, moves: &[&str]) -> String {
        let fields = moves.iter().map(|one| ("move".into(), (*one).into()));
        let mut document = text.parse().unwrap();
        apply(&mut document, &Fields(fields.collect())).unwrap();
        document.to_string()
    }

    #[test]
    fn only_the_numbers_change() {
        let text = moved(TEXT, &["part,0,left,4,", "locator,0,,431.5,"]);
        let should = TEXT
            .replace("centre_offset = 0 ", "centre_offset = \"4 mm left\" ")
            .replace("430", "431.5");
        assert_eq!(text, should);
        assert_eq!(moved(&text, &["part,0,left,0,", "locator,0,,430,"]), TEXT);
        assert_eq!(moved(TEXT, &["part,0,left,,34"]), TEXT);
    }

    #[test]
    fn inches_are_written_as_fractions() {
        let text = moved(
            &format!("units = \"in\"\n{TEXT}"),
            &["part,0,right,12.7,38.1"],
        );
        assert!(text.contains("centre_offset = \"1/2 in right\" "), "{text}");
        assert!(text.contains("from_datum = \"1-1/2 in\" # mm"), "{text}");
    }

    #[test]
    fn what_is_not_there_moves_nothing_and_nonsense_is_refused() {
        assert_eq!(
            moved(TEXT, &["part,7,left,4,4", "opening,0,left,4,4"]),
            TEXT
        );
        for nonsense in [
            "part",
            "part,x,left,1,1",
            "panel,0,left,1,1",
            "part,0,left,NaN,1",
            "part,0,left,1e9,1",
        ] {
            let fields = Fields(vec![("move".into(), nonsense.into())]);
            assert!(
                apply(&mut TEXT.parse().unwrap(), &fields).is_err(),
                "{nonsense}"
            );
        }
    }
}
