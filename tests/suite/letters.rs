//! Names in every script the typeface covers come out right in both files, and a letter that it
//! lacks is refused by name.

use crate::common::{produced, produced_on, read_pdf};
use hayro_syntax::Pdf;
use std::process::Command;
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce};
use trimloft::layout::{Paper, Setup};
use usvg::roxmltree::Document;

/// A text field of a pattern file: the table it stands in, its key.
const FIELDS: [(&str, &str); 10] = [
    ("[pattern]", "title"),
    ("[pattern]", "owner"),
    ("[pattern]", "drawn_by"),
    ("[pattern]", "approved_by"),
    ("[pattern]", "vehicle"),
    ("[pattern]", "accessory"),
    ("[pattern]", "notes"),
    ("[panel]", "name"),
    ("[[locator]]", "name"),
    ("[[opening]]", "name"),
];

/// A definition whose text fields hold what `words` gives for each.
fn definition(words: impl Fn(usize) -> String) -> String {
    let lines = |table: &str| -> String {
        let here = FIELDS
            .iter()
            .enumerate()
            .filter(|(_, field)| field.0 == table);
        here.map(|(index, (_, key))| {
            let words = words(index);
            match *key {
                "notes" => format!("notes = ['''{words}''']\n"),
                key => format!("{key} = '''{words}'''\n"),
            }
        })
        .collect()
    };
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\nissued = 2026-03-02\n{}[panel]\nwidth = 900\n\
         height = 300\ndatum_edge = \"rear\"\nseen_from = \"below\"\npage_up = \"front\"\n{}\
         [[locator]]\nacross = 560\nfrom_datum = 60\ndiameter = 8\n{}[[opening]]\nshape = \"notch\"\n\
         with = {{ width = 90, depth = 80, corner_radius = 10 }}\ncentre_offset = 0\nfrom_datum = 0\n{}",
        lines("[pattern]"),
        lines("[panel]"),
        lines("[[locator]]"),
        lines("[[opening]]"),
    )
}

/// Marks that must be escaped, with letters of three alphabets, and the field's number.
fn odd(index: usize) -> String {
    format!("ř & <ж> \"Ω\" {index:02}")
}

/// Words with the breaks of lines that they were set in taken out.
fn unbroken(words: impl IntoIterator<Item = String>) -> String {
    let words: Vec<String> = words.into_iter().collect();
    words.join(" ")
}

#[test]
fn names_of_every_kind_come_out_right_in_the_pdf() {
    let spec = PatternSpec::read(&Source::new("odd.toml", definition(odd))).unwrap();
    let mut setup = Setup::new(Paper::parse("a4").unwrap());
    setup.record = true;
    let file = Pdf::new(produced_on(&spec, &setup).pdf.unwrap()).unwrap();
    let pages = read_pdf::read(&file);
    let shown = unbroken(
        pages
            .into_iter()
            .flat_map(|page| page.texts)
            .map(|text| text.words),
    );
    for (index, (table, key)) in FIELDS.iter().enumerate() {
        assert!(
            shown.contains(&odd(index)),
            "{table} {key} is not in {shown}"
        );
    }
    let about = file.metadata();
    let title = read_pdf::text(about.title.as_deref().unwrap());
    assert_eq!(title, format!("T-1 {}", odd(0)));
    assert_eq!(read_pdf::text(about.author.as_deref().unwrap()), odd(1));
}

#[test]
fn names_of_every_kind_come_out_right_in_the_svg() {
    let svg = produced(&definition(odd)).svg.unwrap();
    let document = Document::parse(&svg).unwrap();
    let labels: Vec<&str> = document
        .descendants()
        .filter_map(|node| node.attribute("aria-label"))
        .collect();
    // Title, locator and opening stand on the pattern itself.
    for index in [0, 8, 9] {
        // A name may stand in several lines, one after the other.
        assert!(
            labels.join(" ").contains(&odd(index)),
            "{:?}: {labels:?}",
            FIELDS[index]
        );
    }
    let text_of = |name: &str| {
        let element = document.descendants().find(|node| node.has_tag_name(name));
        element.unwrap().text().unwrap().to_owned()
    };
    assert_eq!(text_of("title"), format!("T-1 {}", odd(0)));
    assert!(text_of("desc").contains(&odd(4)), "{}", text_of("desc"));
    let known = ["svg", "title", "desc", "metadata", "style", "g", "path"];
    let elements = document.descendants().filter(|node| node.is_element());
    for element in elements {
        assert!(
            known.contains(&element.tag_name().name()),
            "{element:?} was smuggled in"
        );
    }
}

#[test]
fn a_letter_that_the_typeface_lacks_is_refused_in_any_field() {
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let (pdf, svg) = (true, true);
    for (letter, code) in [('→', "U+2192"), ('木', "U+6728")] {
        for (field, (table, key)) in FIELDS.iter().enumerate() {
            let toml = definition(|index| match index {
                _ if index == field => format!("odd {letter}"),
                _ => "plain".into(),
            });
            let spec = PatternSpec::read(&Source::new("odd.toml", toml)).unwrap();
            let error = produce(
                &spec,
                &crate::common::shipped(),
                &setup,
                Formats {
                    pdf,
                    svg,
                    view: false,
                    closed: false,
                },
            )
            .err()
            .unwrap_or_else(|| panic!("{table} {key} took {letter}"))
            .to_string();
            assert!(
                error.contains(code) && error.contains(letter),
                "{table} {key}: {error}"
            );
        }
    }
}

#[test]
fn nothing_is_written_then_and_what_was_there_stays() {
    let folder = tempfile::tempdir().unwrap();
    let (pattern, out) = (folder.path().join("odd.toml"), folder.path().join("out"));
    std::fs::create_dir(&out).unwrap();
    std::fs::write(out.join("T-1.pdf"), "kept").unwrap();
    std::fs::write(&pattern, definition(|index| format!("→ {index}"))).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .arg("draw")
        .arg(&pattern)
        .arg("--out")
        .arg(&out)
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(
        told.contains('→') && told.contains("U+2192") && told.contains("odd.toml"),
        "{told}"
    );
    let left: Vec<_> = std::fs::read_dir(&out)
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    assert_eq!(left, ["T-1.pdf"]);
    assert_eq!(std::fs::read(out.join("T-1.pdf")).unwrap(), b"kept");
}
