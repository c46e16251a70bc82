//! JSON Schemas (draft 2020-12) of the files, for editors that complete and check TOML by them.
//!
//! A schema follows the tables of keys, and so refuses what readers refuse for its kind alone: keys
//! that are unknown, missing or don't go together, wrong kinds of values, and bare numbers out of
//! range. It can't calculate: a length with its unit, `"6 m"`, may still be out of range, and where a
//! file may choose its `units`, bare lengths are held to the range that both leave.

use super::families::{Family, Library};
use super::file_kind::FileKind;
use super::keys::{Bare, Key, Keys, Kind, Need, Quantity, Ways};
use super::scalar::{LONGEST_TEXT, LONGEST_WORD};
use super::shape::{ParameterKind, RESERVED};
use super::taken::MOST_VALUES;
use crate::base::Direction;
use crate::base::length::letters::dressed;
use crate::base::length::{INCH, LONGEST};
use serde_json::{Map, Value, json};

/// Blanks, as readers trim them.
const BLANK: &str = r"[\s\u0085]";

/// No letter that commands a screen: `base::words::is_unprintable`.
const PRINTABLE: &str =
    r"^[^\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]*$";

/// Names that Windows keeps for devices, of those that are words: `base::words::is_device_name`.
const DEVICE: &str = r"(?:[cC][oO][nN]|[pP][rR][nN]|[aA][uU][xX]|[nN][uU][lL]|(?:[cC][oO][mM]|[lL][pP][tT])[0-9])(?:\.|$)";

/// The schema of a kind of file; of a shape in `shapes` the values are known by name.
pub fn schema(kind: FileKind, shapes: &Library) -> Value {
    let keys = kind.keys();
    let writer = Writer {
        shapes,
        units: keys.keys.iter().any(|key| key.name == "units"),
    };
    let mut schema = writer.table(keys);
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!(format!("Trimloft: {} file", kind.word()));
    schema
}

struct Writer<'l> {
    shapes: &'l Library,
    /// Whether bare lengths may be inches.
    units: bool,
}

impl Writer<'_> {
    fn table(&self, keys: &Keys) -> Value {
        let properties = keys.keys.iter().map(|key| (key.name.into(), self.key(key)));
        let required = keys
            .keys
            .iter()
            .filter(|key| matches!(key.need, Need::Required));
        let mut table = json!({
            "type": "object",
            "description": keys.about.trim(),
            "properties": properties.collect::<Map<String, Value>>(),
            "required": required.map(|key| key.name).collect::<Vec<_>>(),
            "additionalProperties": false,
        });
        if let Some(ways) = keys.ways {
            add_ways(&mut table, ways);
        }
        if keys.keys.iter().any(|key| matches!(key.kind, Kind::Values)) {
            let families = self.shapes.families();
            table["allOf"] = families.map(|family| self.family(family)).collect();
        }
        table
    }

    fn key(&self, key: &Key) -> Value {
        let mut schema = self.kind(&key.kind);
        let mut about = key.about.trim().to_owned();
        if let Need::Default(told) = key.need {
            let default = told();
            if matches!(key.kind, Kind::Choice(..)) {
                schema["default"] = json!(default);
            }
            about = format!("{about} Unless given: {default}{}.", unit(&key.kind));
        }
        schema["description"] = json!(about);
        schema
    }

    fn kind(&self, kind: &Kind) -> Value {
        match *kind {
            Kind::Format => json!({ "const": 1 }),
            Kind::Text => text(),
            Kind::FilledText => filled(),
            Kind::Word => word("", 0),
            Kind::FilledWord => word("", 1),
            Kind::HeadWord => word("(?!-)", 1),
            Kind::Date => json!({
                "type": "string",
                "format": "date",
                "pattern": r"^\s*[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])\s*$",
            }),
            Kind::YesOrNo => json!({ "type": "boolean" }),
            Kind::Choice(words, _) => json!({ "enum": words() }),
            Kind::Known(known) => {
                let names = (known.names)();
                let any: Vec<_> = names.iter().map(|name| any_case(name)).collect();
                json!({ "anyOf": [
                    { "enum": names },
                    texts(&format!("(?:{})", any.join("|"))),
                ] })
            }
            Kind::Length(least, most) | Kind::TradeSize(least, most) => {
                any([self.bare_length(least, most), texts(&length())])
            }
            Kind::Angle(..) => texts(&angle()),
            Kind::Offset => any([json!({ "const": 0 }), texts(&offset())]),
            Kind::ShapeValue => any([
                self.bare_length(-LONGEST, LONGEST),
                texts(&length()),
                texts(&angle()),
            ]),
            Kind::FindingValue => any([
                json!({ "type": "number" }),
                texts(&length()),
                texts(&with_unit(&["%"])),
            ]),
            Kind::Expression => any([self.kind(&Kind::ShapeValue), filled()]),
            Kind::Torque(..) => texts(&torque()),
            Kind::Number(quantity, least, most) => number(quantity, least, most),
            Kind::Pair(pair) => json!({
                "type": "array",
                "description": pair.each,
                "prefixItems": [
                    self.kind(&Kind::Length(pair.first.0, pair.first.1)),
                    self.kind(&Kind::Length(pair.second.0, pair.second.1)),
                ],
                "minItems": 2,
                "maxItems": 2,
            }),
            Kind::List(list) => json!({
                "type": "array",
                "items": self.kind(&list.kind),
                "minItems": list.least,
                "maxItems": list.most,
            }),
            Kind::Table(keys) => self.table(keys),
            Kind::Tables(keys, least, most) => json!({
                "type": "array",
                "items": self.table(keys),
                "minItems": least,
                "maxItems": most,
            }),
            Kind::Values => json!({
                "type": "object",
                "additionalProperties": self.kind(&Kind::ShapeValue),
                "maxProperties": MOST_VALUES,
            }),
            Kind::Named(keys, most) => json!({
                "type": "object",
                "propertyNames": { "pattern":
                    format!("^(?!(?:{})$)[A-Za-z_][A-Za-z0-9_]*$", RESERVED.join("|")) },
                "additionalProperties": self.table(keys),
                "maxProperties": most,
            }),
        }
    }

    /// A bare length: in millimetres, or in either unit.
    fn bare_length(&self, least: f64, most: f64) -> Value {
        let least = if self.units && least > 0.0 {
            least / INCH
        } else {
            least
        };
        json!({ "type": "number", "minimum": least, "maximum": most })
    }

    /// The values that a shape takes, where it is named.
    fn family(&self, family: &Family) -> Value {
        let parameters = family.parameters();
        let values = parameters.iter().map(|parameter| {
            let mut value = self.kind(&Kind::ShapeValue);
            value["description"] = json!(parameter.about);
            (parameter.name.clone(), value)
        });
        let sizes = parameters
            .iter()
            .filter(|one| one.kind == ParameterKind::Size);
        let sizes: Vec<_> = sizes.map(|one| &one.name).collect();
        let needed = if sizes.is_empty() {
            json!([])
        } else {
            json!(["with"])
        };
        json!({
            "if": {
                "properties": { "shape": { "const": family.name() } },
                "required": ["shape"],
            },
            "then": {
                "properties": { "with": {
                    "properties": values.collect::<Map<String, Value>>(),
                    "required": sizes,
                    "additionalProperties": false,
                } },
                "required": needed,
            },
        })
    }
}

/// Keys of which one alone may be given, with those that go with it.
fn add_ways(table: &mut Value, ways: &Ways) {
    let has = |key: &str| json!({ "required": [key] });
    let mut rules = Map::new();
    for way in ways.each {
        let others = ways.each.iter().filter(|other| other.key != way.key);
        let others: Vec<_> = others.map(|other| has(other.key)).collect();
        rules.insert(
            way.key.into(),
            json!({ "required": way.needs, "not": { "anyOf": others } }),
        );
        for companion in way.needs.iter().chain(way.may) {
            let owners = ways.each.iter().filter(|owner| owner.takes(companion));
            let owners: Vec<_> = owners.map(|owner| has(owner.key)).collect();
            rules.insert((*companion).into(), json!({ "anyOf": owners }));
        }
    }
    table["dependentSchemas"] = rules.into();
    if ways.none.is_some() {
        let each: Vec<_> = ways.each.iter().map(|way| has(way.key)).collect();
        table["anyOf"] = each.into();
    }
}

/// The unit of a kind's bare numbers, with a blank before it.
pub fn unit(kind: &Kind) -> &'static str {
    match kind {
        Kind::Length(..) | Kind::TradeSize(..) => " mm",
        Kind::Angle(..) => " deg",
        Kind::Torque(..) => " N m",
        Kind::Number(quantity, ..) => quantity.unit,
        _ => "",
    }
}

fn any<const N: usize>(ways: [Value; N]) -> Value {
    json!({ "anyOf": ways.to_vec() })
}

fn text() -> Value {
    json!({ "type": "string", "maxLength": LONGEST_TEXT, "pattern": PRINTABLE })
}

fn filled() -> Value {
    json!({ "allOf": [text(), { "type": "string", "pattern": r"[^\s\u0085]" }] })
}

fn word(begin: &str, least: usize) -> Value {
    let pattern =
        format!(r"^{begin}(?!\.)(?!.*\.$)(?!{DEVICE})[A-Za-z0-9_.-]{{{least},{LONGEST_WORD}}}$");
    json!({ "type": "string", "pattern": pattern })
}

/// A text that holds this alone, blanks round it; one with letters that stand for plain ones is not
/// looked into.
fn texts(pattern: &str) -> Value {
    let standing_in = ('\u{80}'..='\u{ffff}')
        .filter(|letter| dressed(*letter).is_some() && !FRACTIONS.contains(*letter));
    let letters: String = standing_in.collect();
    json!({ "type": "string", "pattern": format!("^{BLANK}*{pattern}{BLANK}*$|[{letters}]") })
}

/// Fractions of one letter.
const FRACTIONS: &str = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞";

fn number(quantity: &Quantity, least: f64, most: f64) -> Value {
    let bare = match quantity.bare {
        Bare::Any => json!({ "type": "number", "minimum": least, "maximum": most }),
        Bare::Whole => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Bare::Zero => json!({ "const": 0 }),
    };
    if quantity.units.is_empty() {
        return bare;
    }
    let units: Vec<_> = quantity.units.iter().map(|(unit, _)| *unit).collect();
    any([bare, texts(&with_unit(&units))])
}

/// A decimal as the standard library reads it.
const DECIMAL: &str = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?";

fn with_unit(units: &[&str]) -> String {
    format!("[+-]?{DECIMAL}{BLANK}*(?:{})", units.join("|"))
}

/// Numbers as people write them, without their sign: `base::length`. `digit` is what a numerator
/// is made of.
fn unsigned(digit: &str) -> String {
    let whole = format!("(?:{digit}+(?:-|{BLANK}+))?");
    let decimal = DECIMAL.replacen("[0-9]", digit, 3);
    let slash = format!("{BLANK}*/{BLANK}*0*[1-9][0-9]*");
    let letter = match digit {
        "0" => String::new(),
        _ => format!("(?:{digit}+(?:-|{BLANK}*))?[{FRACTIONS}]|"),
    };
    format!("(?:{letter}{whole}{digit}+{slash}|{decimal})")
}

const UNITS: &str = "(?:mm|cm|m|in\\.?|inch|inches|\"|'')";

fn signed(digit: &str) -> String {
    format!("[-+]?{BLANK}*{}", unsigned(digit))
}

fn length() -> String {
    format!("{}{BLANK}*{UNITS}?", signed("[0-9]"))
}

fn angle() -> String {
    format!("{}{BLANK}*(?:deg|°)", signed("[0-9]"))
}

/// A distance with its side; nothing may go without one, and may have any sign.
fn offset() -> String {
    let sides = Direction::ALL.map(Direction::word).join("|");
    let (any, nothing) = (unsigned("[0-9]"), signed("0"));
    let unit = format!("{BLANK}*(?:{UNITS}{BLANK}+)?");
    format!(r"(?:(?:\+?{BLANK}*{any}|{nothing}){unit}(?:{sides})|{nothing}{BLANK}*{UNITS}?)")
}

fn torque() -> String {
    let spaced = |unit: &str| {
        let letters: Vec<_> = unit.chars().map(String::from).collect();
        letters.join("[ ·⋅-]*")
    };
    let units = ["Nm", "lbfft", "lbft", "ftlb", "ftlbf"]
        .map(spaced)
        .join("|");
    let plain = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)";
    format!("(?:[+-]?{DECIMAL}{BLANK}* to {BLANK}*)?{plain}[ ·⋅-]*(?:{units})[ ·⋅-]*")
}

/// A name in capitals or not, blanks and underscores for hyphens.
fn any_case(name: &str) -> String {
    let letter = |letter: char| match letter {
        '-' => "[-_ ]".to_owned(),
        letter => format!("[{}{}]", letter.to_lowercase(), letter.to_uppercase()),
    };
    name.chars().map(letter).collect()
}
