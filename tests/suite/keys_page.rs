//! The page of keys, `shapes/keys.md`, is what the tables of keys say today.

use crate::common::root;
use std::fmt::Write;
use trimloft::input::keys::{Key, Keys, Kind, Need};
use trimloft::input::{FileKind, unit};

/// A number as the page shows it.
fn number(number: f64) -> String {
    number.to_string()
}

fn between(kind: &Kind, least: f64, most: f64) -> String {
    format!("{} to {}{}", number(least), number(most), unit(kind))
}

/// What may stand at a key.
fn kind(kind: &Kind) -> String {
    match kind {
        Kind::Format => "`1`".into(),
        Kind::Text => "text, may be empty".into(),
        Kind::FilledText => "text".into(),
        Kind::Word => "word, may be empty".into(),
        Kind::FilledWord | Kind::HeadWord => "word".into(),
        Kind::Date => "date".into(),
        Kind::YesOrNo => "`true` or `false`".into(),
        Kind::Choice(words, _) => words().map_ticked(),
        Kind::Known(known) => (known.names)().map_ticked(),
        Kind::Length(least, most) | Kind::TradeSize(least, most) => {
            format!("length, {}", between(kind, *least, *most))
        }
        Kind::Angle(least, most) => format!("angle, {}", between(kind, *least, *most)),
        Kind::Offset => "distance with its side, or `0`".into(),
        Kind::ShapeValue => "length or angle".into(),
        Kind::FindingValue => "number, length or percentage".into(),
        Kind::Expression => "expression".into(),
        Kind::Torque(least, most) => format!("torque, {}", between(kind, *least, *most)),
        Kind::Number(quantity, least, most) => {
            format!("{}, {}", quantity.name, between(kind, *least, *most))
        }
        Kind::Pair(pair) => pair.each.into(),
        Kind::List(list) => {
            let each = self::kind(&list.kind);
            format!("list of {} to {}: {each}", list.least, list.most)
        }
        Kind::Table(_) => "table".into(),
        Kind::Tables(_, least, most) => format!("tables, {least} to {most}"),
        Kind::Values => "table of the shape's values".into(),
        Kind::Named(_, most) => format!("tables under names of your own, up to {most}"),
    }
}

trait Ticked {
    fn map_ticked(&self) -> String;
}

impl Ticked for Vec<&'static str> {
    fn map_ticked(&self) -> String {
        let words: Vec<_> = self.iter().map(|word| format!("`{word}`")).collect();
        words.join(", ")
    }
}

fn row(key: &Key) -> String {
    let need = match key.need {
        Need::Required => "must be there".into(),
        Need::Optional => String::new(),
        Need::Default(told) => format!("`{}{}`", told(), unit(&key.kind)),
    };
    let about = key.about.trim();
    format!(
        "| `{}` | {} | {need} | {about} |\n",
        key.name,
        kind(&key.kind)
    )
}

/// A table of keys, and after it those within.
fn table(name: &str, keys: &Keys, page: &mut String) {
    writeln!(page, "\n### {name}\n\n{}\n", keys.about.trim()).unwrap();
    *page += "| key | what may stand there | unless given | what it is for |\n|---|---|---|---|\n";
    page.extend(keys.keys.iter().map(row));
    if let Some(ways) = keys.ways {
        let one = ways.each.iter().map(|way| way.key).collect::<Vec<_>>();
        writeln!(page, "\nOf {} one alone may be given.", one.map_ticked()).unwrap();
        for way in ways.each {
            let (needs, may) = (way.needs.to_vec(), way.may.to_vec());
            match (needs.as_slice(), may.as_slice()) {
                ([], []) => {}
                (_, []) => {
                    writeln!(page, "With `{}` goes {}.", way.key, needs.map_ticked()).unwrap()
                }
                ([], _) => {
                    writeln!(page, "With `{}` may go {}.", way.key, may.map_ticked()).unwrap()
                }
                _ => {
                    let (needs, may) = (needs.map_ticked(), may.map_ticked());
                    writeln!(
                        page,
                        "With `{}` must go {needs}, and may go {may}.",
                        way.key
                    )
                    .unwrap();
                }
            }
        }
    }
    for key in keys.keys {
        let path = match name.trim_matches(['[', ']', '`']) {
            "" | "the file itself" => key.name.to_owned(),
            outer => format!("{outer}.{}", key.name),
        };
        match key.kind {
            Kind::Table(keys) => table(&format!("`[{path}]`"), keys, page),
            Kind::Tables(keys, ..) => table(&format!("`[[{path}]]`"), keys, page),
            Kind::Named(keys, _) => table(&format!("`[{path}.X]`"), keys, page),
            _ => {}
        }
    }
}

fn page() -> String {
    let mut page = String::from(
        "# Every key of every file\n\n\
         Made from the tables that the readers follow; `cargo test samples_are_what` renews it.\n\
         A length is a bare number in the file's `units`, or a text with its unit: `63.5`,\n\
         `\"6.35 cm\"`, `\"2 1/2 in\"`. Ranges hold their ends. `trimloft schema pattern` prints the\n\
         same as a JSON Schema, by which an editor completes and checks a file as you write.\n",
    );
    for kind in FileKind::ALL {
        write!(page, "\n## A {} file\n", kind.word()).unwrap();
        table("the file itself", kind.keys(), &mut page);
    }
    page
}

/// Its name lets it be renewed with the samples.
#[test]
fn samples_are_what_the_tables_of_keys_say() {
    let file = root().join("shapes/keys.md");
    let page = page();
    if std::env::var_os(crate::samples::RENEW).is_some() {
        std::fs::write(&file, &page).unwrap();
    }
    let there = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(
        there == page,
        "shapes/keys.md is not what the tables say; hint: if that is meant, renew it with \
         `{}=1 cargo test samples_are_what`",
        crate::samples::RENEW
    );
}
