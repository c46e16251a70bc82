//! Small files that ask for more time or memory than there is: each is answered in a few seconds,
//! never with a proof, and the answer says why.

use crate::odd_input::dice::Dice;
use flate2::Compression;
use flate2::write::{DeflateEncoder, ZlibEncoder};
use std::fmt::Write as _;
use std::io::Write as _;
use std::time::{Duration, Instant};
use trimloft::check::scan::{Raster, ScanError, Scanner, measure};
use trimloft::check::verify::{Against, Outcome, VerifyError, verify};

/// Longest time for a file. A test build is some times slower, and shares its machine.
const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 30 } else { 5 });

/// What is said of a file: why it is refused, or what of it can't be judged.
pub(super) fn said(bytes: Vec<u8>) -> String {
    let begin = Instant::now();
    let outcome = verify(bytes, Against::default());
    let took = begin.elapsed();
    assert!(took < LONGEST, "{took:?}: {outcome:?}");
    match outcome {
        // What only the last resort stopped has slipped through the budgets.
        Err(VerifyError::GivenUp(why)) => panic!("only given up: {why}"),
        Err(error) => error.to_string(),
        Ok(report) => {
            let words = report.of(Outcome::CannotJudge).map(ToString::to_string);
            words.collect::<Vec<_>>().join("\n")
        }
    }
}

#[track_caller]
fn assert_said(bytes: Vec<u8>, words: &str) {
    let said = said(bytes);
    assert!(said.contains(words), "{said}");
}

fn svg(body: &str) -> Vec<u8> {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"210mm\" height=\"297mm\" \
         viewBox=\"0 0 210 297\">{body}</svg>"
    )
    .into_bytes()
}

fn stroke(shape: &str) -> Vec<u8> {
    svg(&format!(
        "<{shape} fill=\"none\" stroke=\"#000\" stroke-width=\"0.7\"/>"
    ))
}

#[test]
fn curves_beyond_all_measure() {
    for shape in [
        "circle r=\"1e300\"",
        "ellipse rx=\"1e300\" ry=\"1\"",
        "rect width=\"1e300\" height=\"1e300\" rx=\"1e299\"",
        "circle r=\"nan\"",
        "circle r=\"inf\"",
    ] {
        assert_said(stroke(shape), "beyond measure");
    }
    assert_said(
        stroke("path d=\"M0 0A1e300 1e300 0 0 1 9 9\""),
        "arcs in paths",
    );
}

#[test]
fn coordinates_beyond_all_paper() {
    for far in ["1e308", "1e24", "-1e24", "11501"] {
        assert_said(
            stroke(&format!("path d=\"M0 0L{far} 5\"")),
            "than any paper reaches",
        );
        assert_said(
            stroke(&format!("path d=\"M0 0C{far} 5 1 1 2 2\"")),
            "than any paper reaches",
        );
    }
    assert_said(
        stroke("circle r=\"5\" transform=\"scale(1e300) scale(1e300)\""),
        "than any paper reaches",
    );
    for zeros in [308, 24, 6] {
        let far = format!("1{}", "0".repeat(zeros));
        let content = format!("1.98 w 0 0 m {far} 5 l S");
        assert_said(page(content.as_bytes(), ""), "than any paper reaches");
    }
    let wide = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1e9mm\" height=\"1mm\"/>";
    assert_said(wide.into(), "larger than any paper");
}

#[test]
fn drawings_without_measure() {
    let mut attributes = String::from("<path");
    for n in 0..100_000 {
        write!(attributes, " a{n}=\"1\"").unwrap();
    }
    assert_said(svg(&(attributes + "/>")), "too many attributes");
    let mut spaces = String::new();
    for n in 0..5_000 {
        write!(spaces, "<g xmlns:a{n}=\"b\">").unwrap();
    }
    assert_said(
        svg(&(spaces + &"</g>".repeat(5_000))),
        "too many namespaces",
    );
    assert_said(
        b"<!DOCTYPE svg [<!ENTITY a 'x'>]><svg>&a;</svg>".to_vec(),
        "entities",
    );
    let nested = "<g>".repeat(300_000) + &"</g>".repeat(300_000);
    assert_said(svg(&nested), "nested too deep");
}

#[test]
fn parts_shown_again_and_again() {
    let part = format!(
        "<g id=\"a\">{}</g>",
        "<path d=\"M0 0L1 1\" stroke=\"#000\"/>".repeat(2_000)
    );
    let said = said(svg(&(part + &"<use href=\"#a\"/>".repeat(900))));
    assert!(said.contains("parts of lines"), "{said}");
    // Each is looked for among as many others.
    let mut many = String::new();
    for n in 0..200_000 {
        write!(many, "<g id=\"a{n}\"/>").unwrap();
    }
    assert_said(
        svg(&(many + &"<use href=\"#a199999\"/>".repeat(900))),
        "0 of the 4",
    );
    let long = format!("<path id=\"a\" d=\"{}\"/>", "M0 0".repeat(500_000));
    assert_said(svg(&(long + &"<use href=\"#a\"/>".repeat(900))), "too many");
    let mut clips = String::new();
    for n in 0..40_000 {
        write!(
            clips,
            "<clipPath id=\"c{n}\"><rect width=\"9\" height=\"9\"/></clipPath>\
             <path clip-path=\"url(#c{n})\" d=\"M0 0L1 1\" stroke=\"#000\"/>"
        )
        .unwrap();
    }
    assert_said(svg(&clips), "0 of the 4");
}

#[test]
fn lines_without_end() {
    assert_said(
        stroke(&format!(
            "path d=\"M0 0{}\"",
            "C9000 0 0 9000 5 5".repeat(400_000)
        )),
        "straight pieces",
    );
    assert_said(
        stroke(&format!(
            "path d=\"M0 0{}\"",
            "L19000 1L0 0".repeat(700_000)
        )),
        "straight pieces",
    );
    let paths = deflated(&b"0 0 m 1 1 l S\n".repeat(2_000_000));
    assert_said(
        page(&paths, "/Filter/FlateDecode"),
        "too many parts of lines",
    );
    assert_said(
        page(&b"q Q ".repeat(4_100_000), ""),
        "too many steps of drawing",
    );
}

/// A PDF of these objects, the first its catalog, and a right table.
fn file(objects: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n".to_vec();
    let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1);
    for (index, object) in objects.iter().enumerate() {
        writeln!(table, "{:010} 00000 n ", bytes.len()).unwrap();
        writeln!(bytes, "{} 0 obj", index + 1).unwrap();
        bytes.extend_from_slice(object);
        bytes.extend_from_slice(b"\nendobj\n");
    }
    let at = bytes.len();
    write!(
        bytes,
        "{table}trailer\n<</Root 1 0 R>>\nstartxref\n{at}\n%%EOF"
    )
    .unwrap();
    bytes
}

fn stream(dictionary: &str, body: &[u8]) -> Vec<u8> {
    let mut bytes = format!("<<{dictionary}/Length {}>>\nstream\n", body.len()).into_bytes();
    bytes.extend_from_slice(body);
    bytes.extend_from_slice(b"\nendstream");
    bytes
}

/// A PDF of one page with this content, which may show the form `X`.
fn page_with(content: &[u8], dictionary: &str, form: &[u8]) -> Vec<u8> {
    file(&[
        b"<</Type/Catalog/Pages 2 0 R>>".to_vec(),
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>".to_vec(),
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R\
          /Resources<</XObject<</X 5 0 R>>>>>>"
            .to_vec(),
        stream(dictionary, content),
        stream("/Subtype/Form/BBox[0 0 99 99]", form),
    ])
}

fn page(content: &[u8], dictionary: &str) -> Vec<u8> {
    page_with(content, dictionary, b"")
}

fn deflated(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(vec![], Compression::fast());
    encoder.write_all(bytes).unwrap();
    encoder.finish().unwrap()
}

#[test]
fn content_of_parts_that_are_not_there() {
    for (parts, missing) in [
        ("4 0 R 5 0 R", false),
        ("4 0 R 9 0 R 5 0 R", true),
        ("3 0 R", true),
    ] {
        let bytes = file(&[
            b"<</Type/Catalog/Pages 2 0 R>>".to_vec(),
            b"<</Type/Pages/Kids[3 0 R]/Count 1>>".to_vec(),
            format!("<</Type/Page/MediaBox[0 0 595 842]/Contents[{parts}]>>").into_bytes(),
            stream("", b"0 0 m 9 9 l S"),
            stream("", b"1 g 0 0 99 99 re f"),
        ]);
        let said = said(bytes);
        assert_eq!(said.contains("content that is missing"), missing, "{said}");
    }
}

#[test]
fn pictures_written_into_content() {
    for content in [
        b"BI ID\n".repeat(50_000),
        // Each of a chain is tried with all that follow it.
        b"q EI q q BI ID EI ".repeat(40),
        b"q EI q q BI ID EI ".repeat(3_000),
        b"q EI q q B#49 ID EI ".repeat(40),
    ] {
        assert_said(page(&content, ""), "a picture is written into its content");
    }
    let form = page_with(b"/X Do", "", &b"q EI q q BI ID EI ".repeat(40));
    assert_said(form, "a picture is written into its content");
}

#[test]
fn content_that_some_readers_stop_at() {
    for content in [
        "0 0 m 9 9 l S 1 2 c",
        "0 0 m nan 5 l S",
        "0 0 m 1 9 9 l S",
        "0 0 m 9 9 l S Frobnicate",
        "(0) 0 m 9 9 l S",
    ] {
        assert_said(
            page(content.as_bytes(), ""),
            "operators that are miswritten",
        );
    }
    for content in [
        "0 0 m 9 9 l S ) 1 g 0 0 999 999 re f",
        "0 0 m 9 9 l S (ab",
        "<< /A",
    ] {
        assert_said(page(content.as_bytes(), ""), "operators that break off");
    }
    assert_said(page(b"q EndOfContent ) Q", ""), "its content is miswritten");
    let sound = said(page(b"q 0 0 m 9 9 l S Q /X Do", ""));
    assert!(!sound.contains("operators"), "{sound}");
}

#[test]
fn content_that_shows_itself() {
    let shown = page_with(&b"/X Do ".repeat(200_000), "", &b"0 0 m ".repeat(10_000));
    assert_said(shown, "too many");
    let form = page_with(&b"/X Do ".repeat(5), "", &b"/X Do ".repeat(9));
    said(form);
}

#[test]
fn streams_that_do_not_end() {
    let mut objects = vec![
        b"<</Type/Catalog/Pages 2 0 R>>".to_vec(),
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>".to_vec(),
        b"<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>".to_vec(),
    ];
    objects.resize(50_000, b"<</Length 9999999>>\nstream\nx".to_vec());
    assert_said(file(&objects), "a stream of it does not end");
    let mut heads = b"%PDF-1.7\n".to_vec();
    for n in 0..50_000 {
        write!(heads, "{n} 0 obj<</Type/ObjStm/N 1/First 4>>stream\nx\n").unwrap();
    }
    assert_said(heads, "its table of objects is damaged");
    assert_said(
        b"%PDF-1.7\n<< /A (\n".repeat(600_000),
        "its table of objects is damaged",
    );
}

/// A file whose table is a stream.
fn streamed_table(dictionary: &str, body: &[u8]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n1 0 obj\n".to_vec();
    let dictionary = format!("/Type/XRef/W[1 2 1]/Size 5/Root 1 0 R{dictionary}");
    bytes.extend(stream(&dictionary, body));
    bytes.extend_from_slice(b"\nendobj\nstartxref\n9\n%%EOF");
    bytes
}

#[test]
fn files_that_swell() {
    let zeros = vec![0; 150 << 20];
    let packed = deflated(&zeros);
    let mut raw = DeflateEncoder::new(vec![], Compression::fast());
    raw.write_all(&zeros).unwrap();
    let raw = raw.finish().unwrap();
    drop(zeros);
    // Deflate without its header, which some readers take all the same.
    assert_said(streamed_table("/Filter/FlateDecode", &raw), "damaged");
    assert_said(
        streamed_table("/Filter/FlateDecode", &packed),
        "too many bytes",
    );
    assert_said(page(&packed, "/Filter/FlateDecode"), "too many bytes");
    assert_said(
        page(&packed, "/Filter[/FlateDecode/LZWDecode]"),
        "too many bytes",
    );
    // A dictionary that names its filters before a word that looks like an object's head.
    let twice = deflated(&packed);
    assert_said(
        streamed_table("/Filter[/Fl/Flate#44ecode]/Note(9 0 obj)", &twice),
        "packed in an unusual way",
    );
    let objects = page(
        &twice,
        "/Type/ObjStm/N 1/First 4/Filter[/Fl/Fl]/Note(9 0 obj)",
    );
    assert_said(objects, "too many bytes");
}

#[test]
fn nesting_without_end() {
    said(page(&b"[".repeat(1_000_000), ""));
    said(page(b"0 0 m", &format!("/A {}", "<<".repeat(1_000_000))));
    said(page(&b"q ".repeat(1_000_000), ""));
    said(page(&b"/OC /A BDC ".repeat(100_000), ""));
}

#[test]
fn a_picture_that_is_all_specks() {
    const SIDE: usize = 5_000;
    let mut dice = Dice::of(1, 1);
    let speck = |_| if dice.one_in(2) { 0 } else { 255 };
    let raster = Raster::new(SIDE, SIDE, (0..SIDE * SIDE).map(speck).collect()).unwrap();
    let begin = Instant::now();
    let coarsest = Scanner {
        dpi: 90.0,
        own_scale: None,
    };
    let error = measure(&raster, &coarsest).unwrap_err();
    assert!(matches!(error, ScanError::NoRulers), "{error}");
    let took = begin.elapsed();
    assert!(took < LONGEST / 2, "{took:?}");
}

/// Bytes that are hardly a file.
#[test]
fn nonsense_is_an_error() {
    for nonsense in [
        &b""[..],
        b"%PDF-1.7",
        b"%PDF-1.7 startxref 0",
        b"%PDF-1.7 startxref 99999999999999999999999999",
        b"<svg",
        b"<?xml version='1.0'?><a/>",
        b"GIF89a",
    ] {
        assert!(verify(nonsense.to_vec(), Against::default()).is_err());
    }
}
