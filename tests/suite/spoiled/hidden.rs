//! Files that look otherwise than their lines are written: covered, whitened, broken, styled, noted.

use super::{bad, definition, produced, reference};
use lopdf::{Document, Object, Stream, dictionary};

/// A drawing with something put in front of its end, or its first `from` made `to`.
fn drawings(text: &str) -> Vec<(&'static str, String, &'static str)> {
    let cut = "id=\"cut\"";
    let styled = |style: &str| text.replacen(cut, &format!("{cut} style=\"{style}\""), 1);
    let root = |attributes: &str| text.replacen("<svg ", &format!("<svg {attributes} "), 1);
    let put = |element: &str| text.replace("</svg>", &format!("{element}</svg>"));
    vec![
        (
            "a white line over all",
            put("<path d=\"M0 0L400 400\" stroke=\"#fff\" stroke-width=\"3\"/>"),
            "painted over the cut line",
        ),
        (
            "a narrow white box",
            put("<rect x=\"0\" y=\"0\" width=\"900\" height=\"900\" fill=\"#fff\"/>"),
            "painted over the cut line",
        ),
        (
            "a white box with a name",
            put("<path aria-label=\"x\" d=\"M0 0H900V900H0Z\" fill=\"#fff\"/>"),
            "painted over the cut line",
        ),
        ("dashes", styled("stroke-dasharray:0 1000"), "broken"),
        ("markers", styled("marker-mid:url(#m)"), "markers"),
        ("blending", styled("mix-blend-mode:screen"), "inks"),
        ("a remark", styled("stroke:/**/#fff"), "remarks"),
        ("a size", root("style=\"width:300mm\""), "set by a style"),
        ("a script", root("onload=\"x()\""), "a script"),
        (
            "a sheet beside it",
            format!("<?xml-stylesheet href=\"a.css\"?>{text}"),
            "a style sheet",
        ),
        (
            "a sheet among definitions",
            put("<defs><style><!-- x -->#cut{stroke:#fff}</style></defs>"),
            "a style sheet",
        ),
        (
            "what moves",
            put("<defs><set href=\"#cut\" attributeName=\"stroke\" to=\"#fff\"/></defs>"),
            "what moves",
        ),
        (
            "another language",
            text.replacen(cut, &format!("{cut} systemLanguage=\"xx\""), 1),
            "only some programs show",
        ),
        (
            "lettering",
            put("<text y=\"40\" font-size=\"40\">CUT HERE</text>"),
            "lettering that is no outline",
        ),
    ]
}

/// What is put on every page of the sheets.
type Change = fn(&mut Document, lopdf::ObjectId);

fn painted(file: &mut Document, page: lopdf::ObjectId, operators: &str) {
    let old = file.get_page_content(page);
    let all = [b"q\n", &*old, b"\nQ\n", operators.as_bytes()].concat();
    let id = file.add_object(Stream::new(dictionary! {}, all));
    file.get_dictionary_mut(page).unwrap().set("Contents", id);
}

const ON_SHEETS: [(&str, Change, &str); 4] = [
    (
        "a note",
        |file, page| {
            let note = dictionary! {
                "Type" => "Annot", "Subtype" => "Square",
                "Rect" => vec![100.into(), 100.into(), 200.into(), 200.into()],
            };
            let notes = vec![Object::Dictionary(note)];
            file.get_dictionary_mut(page).unwrap().set("Annots", notes);
        },
        "notes and form fields",
    ),
    (
        "a white line over all",
        |file, page| painted(file, page, "q 1 G 9 w 0 0 m 900 900 l S Q"),
        "painted over the cut line",
    ),
    (
        "a narrow white box",
        |file, page| {
            let boxes: Vec<String> = (0..50)
                .map(|i| format!("{} 0 12 900 re f", 18 * i))
                .collect();
            painted(file, page, &format!("q 1 g {} Q", boxes.join(" ")));
        },
        "painted over the cut line",
    ),
    (
        "a faint white box",
        |file, page| painted(file, page, "q 1 1 .9 rg 0 0 900 900 re f Q"),
        "painted over the cut line",
    ),
];

#[test]
fn what_hides_or_alters_what_is_seen_is_never_sound() {
    let product = produced(&definition("T-1", "B"));
    let reference = reference();
    let mut wrong = vec![];
    let mut judge = |name: &str, bytes: &[u8], words: &str| {
        let found = bad(bytes, &reference);
        if !found.iter().any(|one| one.to_string().contains(words)) {
            wrong.push(format!("{name}: {found:#?}"));
        }
    };
    for (name, text, words) in drawings(&product.svg.unwrap()) {
        judge(name, text.as_bytes(), words);
    }
    let sheets = product.pdf.unwrap();
    for (name, change, words) in ON_SHEETS {
        let mut file = Document::load_mem(&sheets).unwrap();
        for page in file.get_pages().into_values() {
            change(&mut file, page);
        }
        let mut bytes = vec![];
        file.save_to(&mut bytes).unwrap();
        judge(name, &bytes, words);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
