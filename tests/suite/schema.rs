//! The schemas for editors, held by another library: they take what the readers take, and refuse what
//! is bad for its kind alone.

use crate::common::root;
use crate::odd_input::dice::Dice;
use crate::odd_input::mutated::mutated;
use jsonschema::Validator;
use serde_json::{Map, Value, json};
use std::cell::Cell;
use std::path::Path;
use toml::de::{DeTable, DeValue};
use trimloft::input::families::Library;
use trimloft::input::keys::{Keys, Kind, Need};
use trimloft::input::{
    FileKind, KitSpec, PatternSpec, PrinterSpec, Report, ShapeSpec, ShopSpec, Source, schema,
};
use trimloft::solve::solve;

const PRINTER: &str = "format = 1\n[printer]\nname = 'front desk'\nmeasured = 2026-03-02\n\
                       across = 0.994\ndown = 0.997\npaper = 'iso_a4_210x297mm'\nmargin = 6.35\n";

fn validator(kind: FileKind) -> Validator {
    jsonschema::draft202012::new(&schema(kind, &Library::shipped())).unwrap()
}

fn read(kind: FileKind, text: &str) -> Result<(), Report> {
    let source = Source::new("a.toml", text);
    match kind {
        FileKind::Pattern => PatternSpec::read(&source).map(|_| ()),
        FileKind::Kit => KitSpec::read(&source).map(|_| ()),
        FileKind::Shape => ShapeSpec::read(&source).map(|_| ()),
        FileKind::Printer => PrinterSpec::read(&source).map(|_| ()),
        FileKind::Shop => ShopSpec::read(&source).map(|_| ()),
    }
}

/// Good files of each kind: the demos, the shipped shapes, and files that use most keys.
fn good_files() -> Vec<(FileKind, String)> {
    let here = |kind: FileKind, folder: &str| {
        let files = std::fs::read_dir(root().join(folder)).unwrap();
        let files = files.map(|entry| entry.unwrap().path());
        let mut files: Vec<_> = files.filter(|path| path.is_file()).collect();
        files.sort();
        let is_toml = |path: &&std::path::PathBuf| path.extension() == Some("toml".as_ref());
        let read = |path: &std::path::PathBuf| {
            (kind_of(kind, path), std::fs::read_to_string(path).unwrap())
        };
        files.iter().filter(is_toml).map(read).collect::<Vec<_>>()
    };
    let mut files = here(FileKind::Pattern, "shapes/demo");
    files.extend(here(FileKind::Shape, "shapes"));
    files.extend(here(FileKind::Shop, "shapes/demo/shop"));
    for (kind, file) in [
        (FileKind::Pattern, "good_parts.toml"),
        (FileKind::Kit, "good_kit.toml"),
        (FileKind::Shape, "good_shape.toml"),
    ] {
        let path = root().join("src/input/tests").join(file);
        files.push((kind, std::fs::read_to_string(path).unwrap()));
    }
    files.push((FileKind::Printer, PRINTER.into()));
    files
}

fn kind_of(kind: FileKind, path: &Path) -> FileKind {
    if path.ends_with("tarn-lv2-kit.toml") {
        FileKind::Kit
    } else {
        kind
    }
}

/// A file as an editor hands it to a schema: dates are texts.
fn as_json(text: &str) -> Option<Value> {
    let table = DeTable::parse(text).ok()?;
    Some(json_of(&DeValue::Table(table.into_inner())))
}

fn json_of(value: &DeValue<'_>) -> Value {
    match value {
        DeValue::String(text) => json!(text),
        DeValue::Integer(digits) => match i64::from_str_radix(digits.as_str(), digits.radix()) {
            Ok(whole) => json!(whole),
            Err(_) => json!(digits.as_str().parse::<f64>().unwrap_or(f64::MAX)),
        },
        DeValue::Float(float) => json!(float.as_str().parse::<f64>().unwrap()),
        DeValue::Boolean(answer) => json!(answer),
        DeValue::Datetime(moment) => json!(moment.to_string()),
        DeValue::Array(items) => items.iter().map(|item| json_of(item.get_ref())).collect(),
        DeValue::Table(table) => {
            let pairs = table.iter();
            let pairs =
                pairs.map(|(key, value)| (key.get_ref().to_string(), json_of(value.get_ref())));
            Value::Object(pairs.collect::<Map<_, _>>())
        }
    }
}

/// JSON as a TOML value on one line.
fn as_toml(value: &Value) -> String {
    match value {
        Value::Object(table) => {
            let pairs: Vec<_> = (table.iter())
                .map(|(key, value)| format!("{} = {}", json!(key), as_toml(value)))
                .collect();
            format!("{{ {} }}", pairs.join(", "))
        }
        Value::Array(items) => {
            let items: Vec<_> = items.iter().map(as_toml).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Null => panic!("TOML holds nothing that is nothing"),
        other => other.to_string(),
    }
}

fn as_file(value: &Value) -> String {
    let table = value.as_object().unwrap().iter();
    table
        .map(|(key, value)| format!("{} = {}\n", json!(key), as_toml(value)))
        .collect()
}

#[test]
fn every_good_file_is_taken() {
    let mut taken = 0;
    for (kind, text) in good_files() {
        read(kind, &text).unwrap_or_else(|report| panic!("{report}"));
        let json = as_json(&text).unwrap();
        let errors: Vec<_> = validator(kind)
            .iter_errors(&json)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(errors.is_empty(), "{}: {errors:#?}\n{text}", kind.word());
        // What is written anew from it is the same file.
        read(kind, &as_file(&json)).unwrap_or_else(|report| panic!("{report}"));
        taken += 1;
    }
    assert!(taken >= 18, "{taken} good files");
}

/// Values that are wrong for a kind by themselves.
fn wrong(kind: &Kind) -> Vec<Value> {
    let mut wrong = vec![json!({ "stranger": [true] })];
    match kind {
        Kind::Text | Kind::Date => wrong.extend([json!(7), json!("bell \u{7}")]),
        Kind::FilledText => wrong.extend([json!(7), json!(" "), json!("x".repeat(501))]),
        Kind::Word => wrong.extend([
            json!(true),
            json!("a/b"),
            json!(".a"),
            json!("a."),
            json!("nul.x"),
        ]),
        Kind::FilledWord => wrong.extend([json!(""), json!("a b"), json!("x".repeat(65))]),
        Kind::HeadWord => wrong.extend([json!(""), json!("-a"), json!("a.")]),
        Kind::YesOrNo => wrong.extend([json!(1), json!("true")]),
        Kind::Format => wrong = vec![json!(2), json!("1")],
        Kind::Choice(..) => wrong.extend([json!("neither"), json!(1)]),
        Kind::Known(_) => wrong.extend([json!("unobtainium"), json!(9)]),
        Kind::Length(least, most) | Kind::TradeSize(least, most) => wrong.extend([
            json!(true),
            json!("wide"),
            json!("5 ft"),
            json!("5,5 mm"),
            json!("1/0 in"),
            // Out of range in either unit.
            json!(most + 1.0),
            json!(if *least > 0.0 { -1.0 } else { least - 1.0 }),
        ]),
        Kind::Angle(..) => wrong.extend([json!(5), json!("5"), json!("5 mm")]),
        Kind::Offset => wrong.extend([
            json!(4),
            json!("4 mm"),
            json!("-4 left"),
            json!("4 mm over"),
        ]),
        Kind::ShapeValue | Kind::FindingValue => wrong.extend([json!("much"), json!(false)]),
        Kind::Expression => wrong.extend([json!(""), json!([1])]),
        Kind::Torque(..) => wrong.extend([json!(86), json!("86"), json!("86 kg")]),
        Kind::Number(_, least, most) => {
            wrong.extend([json!("many"), json!(most * 2.0), json!(least - 1.0)]);
        }
        Kind::Pair(_) => wrong.extend([json!([1]), json!([1, 2, 3]), json!([1, "x"]), json!(1)]),
        Kind::List(list) => {
            wrong.push(json!("one"));
            wrong.extend(
                self::wrong(&list.kind)
                    .into_iter()
                    .map(|item| json!([item])),
            );
        }
        Kind::Table(_) | Kind::Values => wrong = vec![json!(3), json!([])],
        Kind::Tables(..) => wrong.extend([json!(3), json!([4])]),
        Kind::Named(..) => wrong.extend([json!(3), json!({ "max": { "default": 1 } })]),
    }
    wrong
}

/// Every file with a single fault that a good table can be given, whatever is in it.
fn faults(keys: &Keys, table: &Value, with: &mut dyn FnMut(Value)) {
    let mut one = |change: &dyn Fn(&mut Map<String, Value>)| {
        let mut bad = table.clone();
        change(bad.as_object_mut().unwrap());
        with(bad);
    };
    one(&|table| drop(table.insert("stranger".into(), json!(1))));
    for key in keys.keys {
        if matches!(key.need, Need::Required) {
            one(&|table| drop(table.remove(key.name)));
        }
        if table.get(key.name).is_some() {
            for value in wrong(&key.kind) {
                one(&|table| drop(table.insert(key.name.into(), value.clone())));
            }
        }
    }
    for key in keys.keys {
        let put = |value: Value| {
            let mut bad = table.clone();
            bad[key.name] = value;
            bad
        };
        match (&key.kind, table.get(key.name)) {
            (Kind::Table(keys), Some(inner)) => {
                faults(keys, inner, &mut |bad| with(put(bad)));
            }
            (Kind::Tables(keys, ..), Some(Value::Array(items))) => {
                for (at, item) in items.iter().enumerate() {
                    faults(keys, item, &mut |bad| {
                        let mut items = items.clone();
                        items[at] = bad;
                        with(put(items.into()));
                    });
                }
            }
            _ => {}
        }
    }
}

#[test]
fn every_single_fault_is_refused_by_reader_and_schema() {
    let mut count = 0;
    for (kind, text) in good_files() {
        let validator = validator(kind);
        let good = as_json(&text).unwrap();
        faults(kind.keys(), &good, &mut |bad| {
            let file = as_file(&bad);
            assert!(read(kind, &file).is_err(), "the reader takes\n{file}");
            assert!(!validator.is_valid(&bad), "the schema takes\n{file}");
            count += 1;
        });
    }
    assert!(count >= 1000, "{count} bad files");
}

#[test]
fn keys_that_exclude_one_another_are_refused() {
    let parts = std::fs::read_to_string(root().join("src/input/tests/good_parts.toml")).unwrap();
    let validator = validator(FileKind::Pattern);
    for (from, to) in [
        ("washer = 24", "washer = 24\nhead = 20"),
        ("washer = 24", ""),
        ("washer = 24", "washer = 24\nfit = \"fine\""),
        (
            "follow = \"contour\"",
            "follow = \"contour\"\nshape = \"notch\"",
        ),
        ("from_datum = 200", "from_datum = 200\nfollow = \"box\""),
        ("[panel]\n", "[panel.surface]\nrise = 4\n[panel]\n"),
        (
            "[panel]\n",
            "[panel.surface]\nchord = 900\nbulges = \"away\"\n[panel]\n",
        ),
        (
            "[panel]\n",
            "[panel.surface]\nradius = 900\nprofile = [[0, 0], [9, 0]]\n[panel]\n",
        ),
    ] {
        assert!(parts.contains(from), "{from}");
        let bad = parts.replacen(from, to, 1);
        assert!(read(FileKind::Pattern, &bad).is_err(), "{to}");
        assert!(!validator.is_valid(&as_json(&bad).unwrap()), "{to}");
    }
}

#[test]
fn values_of_a_shape_are_known_by_its_name() {
    let validator = validator(FileKind::Pattern);
    let text = std::fs::read_to_string(root().join("src/input/tests/good_parts.toml")).unwrap();
    let good = as_json(&text).unwrap();
    let with = |value: Value| {
        let mut file = good.clone();
        file["part"][0]["with"] = value;
        validator.is_valid(&file)
    };
    assert!(with(json!({ "width": 60, "height": "6 cm" })));
    assert!(!with(json!({ "width": 60 })));
    assert!(!with(json!({ "width": 60, "height": 60, "depth": 3 })));
    let mut own = good.clone();
    own["part"][0]["shape"] = json!("own-shape");
    own["part"][0]["with"] = json!({ "anything": 3 });
    assert!(validator.is_valid(&own));
}

#[test]
fn what_the_reader_takes_the_schema_takes() {
    let mut files = good_files();
    // Changes move tables about: there must be some.
    files.retain(|(_, text)| text.matches("\n[").count() > 3);
    let others: Vec<String> = files.iter().map(|(_, text)| text.clone()).collect();
    let validators = FileKind::ALL.map(validator);
    let [taken, refused, both] = [(); 3].map(|()| Cell::new(0));
    let add = |count: &Cell<u32>| count.set(count.get() + 1);
    for case in 0..4000 {
        let mut dice = Dice::of(5, case);
        let (kind, text) = dice.pick(&files);
        let Ok(text) = String::from_utf8(mutated(text, &others, &mut dice)) else {
            continue;
        };
        let Some(json) = as_json(&text) else { continue };
        let at = FileKind::ALL.iter().position(|one| one == kind).unwrap();
        let valid = validators[at].is_valid(&json);
        if read(*kind, &text).is_err() {
            add(&refused);
            if !valid {
                add(&both);
            }
            continue;
        }
        // A reader leaves the values of a shape to the solver.
        let source = Source::new("a.toml", text.as_str());
        let solved = || {
            PatternSpec::read(&source).is_ok_and(|spec| solve(&spec, &Library::shipped()).is_ok())
        };
        let errors: Vec<_> = (validators[at].iter_errors(&json))
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(
            valid || *kind == FileKind::Pattern && !solved(),
            "{}: {errors:?}\n{text}",
            kind.word()
        );
        add(&taken);
    }
    let [taken, refused, both] = [taken, refused, both].map(|count| count.get());
    println!("{taken} taken by readers; of {refused} refused, {both} by the schema as well");
    assert!(
        taken >= 800 && refused >= 400,
        "{taken} taken, {refused} refused"
    );
    assert!(
        both * 2 >= refused,
        "of {refused} refused, {both} by the schema"
    );
}
