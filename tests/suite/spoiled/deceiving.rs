//! Sheets made so that one program shows what another does not: never sound, and named.

use super::ink::{Row, changed, painted, with_resource};
use super::{bad, reference};
use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use trimloft::check::verify::{Against, Finding, Outcome, verify};

/// Operators before all that a page shows.
fn before(file: &mut Document, page: ObjectId, operators: &[u8]) {
    let old = file.get_page_content(page);
    let id = file.add_object(Stream::new(dictionary! {}, [operators, &old].concat()));
    file.get_dictionary_mut(page).unwrap().set("Contents", id);
}

fn catalog(file: &mut Document) -> &mut Dictionary {
    file.catalog_mut().unwrap()
}

/// A typeface whose one letter draws a line in black, whatever is asked of it.
fn with_procedures(file: &mut Document, page: ObjectId, show: &str) {
    let line = b"1000 0 d0 0 G 2 w 120 270 m 270 300 l S".to_vec();
    let glyph = file.add_object(Stream::new(dictionary! {}, line));
    let number = |n: i64| Object::from(n);
    let font = dictionary! {
        "Type" => "Font", "Subtype" => "Type3", "FirstChar" => 97, "LastChar" => 97,
        "FontBBox" => [0, 0, 0, 0].map(number).to_vec(),
        "FontMatrix" => [1, 0, 0, 1, 0, 0].map(number).to_vec(),
        "CharProcs" => dictionary! { "a" => glyph },
        "Encoding" => dictionary! { "Differences" => vec![97.into(), "a".into()] },
        "Widths" => vec![1.into()],
    };
    with_resource(file, page, "Font", "T", font.into());
    painted(file, page, show);
}

/// A colour space that has a profile, and another space beside it.
fn with_profile(file: &mut Document, page: ObjectId, parts: i64, other: Object) {
    let profile = dictionary! { "N" => parts, "Alternate" => other };
    let profile = file.add_object(Stream::new(profile, b"no profile".to_vec()));
    let space = vec!["ICCBased".into(), profile.into()];
    with_resource(file, page, "ColorSpace", "P", Object::Array(space));
}

/// What the layer of the cut line is used for.
fn used_for(file: &mut Document, usage: Dictionary) {
    let is_cut = |object: &&mut Object| {
        object.as_dict().is_ok_and(|group| {
            let words = group.get(b"Name").and_then(Object::as_str);
            group.has_type(b"OCG")
                && words.is_ok_and(|words| {
                    let plain = words.iter().copied().filter(u8::is_ascii_graphic);
                    plain.eq(*b"cut")
                })
        })
    };
    let group = file.objects.values_mut().find(is_cut).unwrap();
    group.as_dict_mut().unwrap().set("Usage", usage);
}

/// A title of the file's own table of properties, or of its first bookmark.
fn titled(file: &mut Document, bookmark: bool) {
    let at = if bookmark {
        let all = catalog(file).get(b"Outlines").unwrap().as_reference();
        let all = file.get_dictionary(all.unwrap()).unwrap();
        all.get(b"First").unwrap().as_reference().unwrap()
    } else {
        file.trailer.get(b"Info").unwrap().as_reference().unwrap()
    };
    let words = Object::string_literal("T-9 rev Z");
    file.get_dictionary_mut(at).unwrap().set("Title", words);
}

fn rows() -> Vec<Row> {
    const PROCEDURES: &str = "letters that are drawn by procedures";
    const COLOURS: &str = "colours that are mixed";
    const RULE: &str = "layers that are shown by a rule";
    const COVERED: &str = "painted over the cut line";
    const TOLD: &str = "it is told as `T-9 rev Z`";
    let off = |state: &str| dictionary! { state => "OFF" };
    vec![
        changed("letters said to be white", PROCEDURES, |file, page| {
            with_procedures(file, page, "BT 1 g /T 1 Tf 30 30 Td (a) Tj ET");
        }),
        changed("letters said not to be shown", PROCEDURES, |file, page| {
            with_procedures(file, page, "BT 3 Tr /T 1 Tf 30 30 Td (a) Tj ET");
        }),
        changed("a profile beside an ink", COLOURS, |file, page| {
            let other: Vec<Object> = vec!["Separation".into(), "None".into(), "DeviceGray".into()];
            with_profile(file, page, 1, other.into());
            before(file, page, b"/P CS 0 SCN\n");
        }),
        changed("a profile beside Lab", COLOURS, |file, page| {
            with_profile(file, page, 3, vec!["Lab".into()].into());
            before(file, page, b"/P CS 0 0 0 SCN\n");
        }),
        changed(
            "a profile of four inks, none put on",
            COLOURS,
            |file, page| {
                with_profile(file, page, 4, "DeviceCMYK".into());
                before(file, page, b"/P CS\n");
            },
        ),
        changed("the cut line off on screens", RULE, |file, _| {
            used_for(file, dictionary! { "View" => off("ViewState") });
        }),
        changed("the cut line off in copies", RULE, |file, _| {
            used_for(file, dictionary! { "Export" => off("ExportState") });
        }),
        changed("the cut line for somebody else", RULE, |file, _| {
            let user = dictionary! { "Type" => "Ind", "Name" => "nobody" };
            used_for(file, dictionary! { "User" => user });
        }),
        changed("a white corner with a long point", COVERED, |file, page| {
            painted(file, page, "1 G 4 w 0 j 400 M 5 5 m 10 5.2 l 5 5.4 l S");
        }),
        changed(
            "long points at every corner",
            "lines whose corners",
            |file, page| {
                before(file, page, b"400 M\n");
                painted(file, page, "400 M 0 j 1 w 5 5 m 10 5.2 l 5 5.4 l S");
            },
        ),
        changed(
            "a clip without a path",
            "clips without a path",
            |file, page| {
                before(file, page, b"W n\n");
            },
        ),
        changed("a script", "actions of its own", |file, _| {
            let script = Object::string_literal("this.print({bShrinkToFit:true})");
            let script = dictionary! { "S" => "JavaScript", "JS" => script };
            catalog(file).set("OpenAction", script);
        }),
        changed("a script of a page", "actions of its own", |file, page| {
            let open = dictionary! { "O" => dictionary! { "S" => "Named", "N" => "Print" } };
            file.get_dictionary_mut(page).unwrap().set("AA", open);
        }),
        changed("a form of another kind", "form fields", |file, _| {
            let form = file.add_object(Stream::new(dictionary! {}, b"<xdp/>".to_vec()));
            catalog(file).set("AcroForm", dictionary! { "XFA" => form });
        }),
        changed("another title", TOLD, |file, _| titled(file, false)),
        changed("another bookmark", TOLD, |file, _| titled(file, true)),
        changed("other numbers of pages", TOLD, |file, _| {
            let label = dictionary! { "P" => Object::string_literal("T-9 rev Z") };
            let labels = dictionary! { "Nums" => vec![0.into(), label.into()] };
            catalog(file).set("PageLabels", labels);
        }),
        changed(
            "an empty page",
            "nothing on it that can be read",
            |file, page| {
                let mut empty = file.get_dictionary(page).unwrap().clone();
                let packed = dictionary! { "Filter" => "FlateDecode" };
                let nothing = file.add_object(Stream::new(packed, vec![]));
                empty.set("Contents", nothing);
                let tree = empty.get(b"Parent").unwrap().as_reference().unwrap();
                let empty = file.add_object(empty);
                let tree = file.get_dictionary_mut(tree).unwrap();
                let kids = tree.get_mut(b"Kids").unwrap().as_array_mut().unwrap();
                kids.push(empty.into());
                let count = kids.len() as i64;
                tree.set("Count", count);
            },
        ),
        misplaced(),
        deleted(),
    ]
}

/// A note over the sheet that the table marks as deleted: some readers show it all the same.
fn deleted() -> Row {
    let mut number = 0;
    let (_, mut bytes, _) = changed("", "", |file, page| {
        file.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
        let note = dictionary! { "Subtype" => "Square", "Rect" => vec![0.into(); 4] };
        let note = file.add_object(note);
        number = note.0;
        let page = file.get_dictionary_mut(page).unwrap();
        page.set("Annots", vec![note.into()]);
    });
    let head = format!("\n{number} 0 obj");
    let at = bytes
        .windows(head.len())
        .position(|own| own == head.as_bytes());
    let line = format!("{:010} 00000 n", at.unwrap() + 1);
    let at = bytes
        .windows(line.len())
        .position(|own| own == line.as_bytes());
    bytes[at.unwrap() + line.len() - 1] = b'f';
    let words = "objects that it names though its table marks them as deleted";
    ("an object deleted".into(), bytes, words)
}

/// A table that is off by a byte or two for one object: others look for it in the whole file.
fn misplaced() -> Row {
    let (_, mut bytes, _) = changed("", "", |file, _| {
        file.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
        file.add_object(7);
    });
    let ending = b" 00000 n";
    let mut lines = (0..bytes.len()).filter(|at| bytes[*at..].starts_with(ending));
    let last = lines.next_back().unwrap() - 1;
    // One more, or two less: with one less it would begin at the end of the line before, soundly.
    bytes[last] = if bytes[last] == b'9' {
        b'7'
    } else {
        bytes[last] + 1
    };
    let words = "objects that are not where its table says";
    ("an object elsewhere".into(), bytes, words)
}

#[test]
fn what_other_programs_show_otherwise_is_named() {
    let reference = reference();
    let (mut wrong, rows) = (vec![], rows());
    for (name, bytes, words) in &rows {
        let found = bad(bytes, &reference);
        if !found.iter().any(|one| one.to_string().contains(words)) {
            wrong.push(format!("{name}: {found:#?}"));
        }
    }
    assert!(wrong.is_empty() && rows.len() >= 19, "{}", wrong.join("\n"));
}

#[test]
fn a_part_asked_of_a_print_dialog_is_told() {
    let (_, bytes, _) = changed("", "", |file, _| {
        let wishes = catalog(file).get_mut(b"ViewerPreferences").unwrap();
        let wishes = wishes.as_dict_mut().unwrap();
        wishes.set("PrintPageRange", vec![0.into(), 0.into()]);
    });
    let report = verify(bytes, Against::default()).unwrap();
    let told = |finding: &Finding| finding.to_string().contains("a part of its pages");
    let told: Vec<&Finding> = report.findings.iter().filter(|one| told(one)).collect();
    assert!(matches!(told[..], [one] if one.outcome == Outcome::Changed));
}

#[test]
fn what_other_programs_add_and_nobody_sees_is_sound() {
    let reference = reference();
    for (name, bytes, _) in [
        changed("opened at its first page", "", |file, page| {
            let place = vec![page.into(), "Fit".into()];
            catalog(file).set("OpenAction", place);
        }),
        changed("a form without fields", "", |file, _| {
            let fields: Vec<Object> = vec![];
            catalog(file).set("AcroForm", dictionary! { "Fields" => fields });
        }),
        changed("without a title", "", |file, _| {
            let at = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
            file.get_dictionary_mut(at).unwrap().remove(b"Title");
        }),
        changed("without bookmarks", "", |file, _| {
            catalog(file).remove(b"Outlines");
        }),
        changed("layers with uses that are on", "", |file, _| {
            let on = dictionary! { "View" => dictionary! { "ViewState" => "ON" } };
            used_for(file, on);
        }),
    ] {
        let found = bad(&bytes, &reference);
        assert!(found.is_empty(), "{name}: {found:#?}");
    }
}
