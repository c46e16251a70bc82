//! PDFs whose content, streams or tables cost much.

use super::{numbered, times};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use std::io::Write;

type Make = fn(usize) -> Vec<u8>;

pub(super) const KINDS: &[(&str, Make)] = &[
    ("pdf, nothing but brackets", |n| page(&times("[", n), "")),
    ("pdf, nested arrays", |n| {
        page(&(times("[", n / 2) + &times("]", n / 2)), "")
    }),
    ("pdf, many nested arrays", |n| {
        page(
            &times(&("[".repeat(200) + &"]".repeat(200) + " 0 d "), n),
            "",
        )
    }),
    ("pdf, nested dictionaries", |n| {
        file(&[catalog(), format!("<</A{}", times("<</A", n))])
    }),
    ("pdf, words without an end", |n| page(&times("(", n), "")),
    ("pdf, words begun again and again", |n| {
        page(&times("(a ) ( ", n), "")
    }),
    ("pdf, hexadecimal words", |n| {
        page(&times("<41> Tj ", n), "")
    }),
    ("pdf, remarks", |n| page(&times("%\n", n), "")),
    ("pdf, one long remark", |n| {
        page(&("%".to_owned() + &times("a", n)), "")
    }),
    ("pdf, long names", |n| {
        page(&("/".to_owned() + &times("a", n) + " gs"), "")
    }),
    ("pdf, many names", |n| page(&times("/#41 gs ", n), "")),
    ("pdf, a long array", |n| {
        page(&format!("[{}] 0 d", times("1 ", n)), "")
    }),
    ("pdf, many operands", |n| page(&times("1 ", n), "")),
    ("pdf, unknown operators", |n| page(&times("a ", n), "")),
    ("pdf, saved states", |n| page(&times("q Q ", n), "")),
    ("pdf, nested states", |n| {
        page(&(times("q ", n / 2) + &times("Q ", n / 2)), "")
    }),
    ("pdf, matrices", |n| page(&times("1 0 0 1 1 0 cm ", n), "")),
    ("pdf, short lines", |n| {
        page(&times("0 0 m 1 1 l S ", n), "")
    }),
    ("pdf, one long line", |n| {
        page(&format!("0 0 m {} S", times("9 9 l 0 0 l ", n)), "")
    }),
    ("pdf, lines across the sheet", |n| {
        page(&format!("0 0 m {} S", times("500 800 l 0 0 l ", n)), "")
    }),
    ("pdf, wild curves", |n| {
        page(&format!("0 0 m {} S", times("9000 0 0 9000 5 5 c ", n)), "")
    }),
    ("pdf, clips", |n| page(&times("0 0 9 9 re W n ", n), "")),
    ("pdf, round clips", |n| {
        page(&times("0 0 m 1 9 9 9 9 0 c W n 0 0 m 9 9 l S ", n), "")
    }),
    ("pdf, white fills", |n| {
        page(&times("1 g 0 0 9 9 re f 0 0 m 9 9 l S ", n), "")
    }),
    ("pdf, pictures in content", |n| {
        page(&times("q BI ID EI ", n), "")
    }),
    ("pdf, marked content", |n| {
        page(&times("/A BMC EMC ", n), "")
    }),
    ("pdf, packed content", |n| {
        page_of(
            &packed(&times("0 0 m 1 1 l S\n", 90 * n)),
            "/Filter/FlateDecode",
        )
    }),
    ("pdf, packed zeros", |n| {
        page_of(&packed(&times("\0", 900 * n)), "/Filter/FlateDecode")
    }),
    ("pdf, packed by rows", |n| {
        let filter = "/Filter/FlateDecode/DecodeParms<</Predictor 15/Columns 1>>";
        page_of(&packed(&times("\0q\0 ", 5 * n)), filter)
    }),
    ("pdf, packed by rows without end", |n| {
        let filter =
            "/Filter/FlateDecode/DecodeParms<</Predictor 12/Columns 2147483647/Colors 255>>";
        page_of(&packed(&times("\0q\0 ", n)), filter)
    }),
    ("pdf, packed in LZW", |n| {
        page(&times("\u{1}", n), "/Filter/LZWDecode")
    }),
    ("pdf, zeros in letters", |n| {
        page(&(times("z", n) + "~>"), "/Filter/ASCII85Decode")
    }),
    ("pdf, runs", |n| {
        page_of(&[129, b' '].repeat(n / 2), "/Filter/RunLengthDecode")
    }),
    ("pdf, packed many times over", |n| {
        let names = times("/AHx", n / 2);
        page(&times("20", n / 2), &format!("/Filter[{names}]"))
    }),
    ("pdf, a dictionary of many keys", |n| {
        page("", &numbered(n, |k| format!("/A{k} 1")))
    }),
    ("pdf, tables one before the other", |n| {
        let mut bytes = b"%PDF-1.7\n".to_vec();
        let mut at = 0;
        while bytes.len() < n {
            let before = at;
            at = bytes.len();
            write!(bytes, "xref\n0 0\ntrailer\n<</Root 1 0 R/Prev {before}>>\n").unwrap();
        }
        write!(bytes, "startxref\n{at}\n%%EOF").unwrap();
        bytes
    }),
    ("pdf, a table of itself", |n| {
        let mut bytes = format!("%PDF-1.7\n{}", times("% ", n)).into_bytes();
        let at = bytes.len();
        write!(
            bytes,
            "\nxref\n0 0\ntrailer<</Root 1 0 R/Prev {}>>\n",
            at + 1
        )
        .unwrap();
        write!(bytes, "startxref\n{}\n%%EOF", at + 1).unwrap();
        bytes
    }),
    ("pdf, a table without end", |n| {
        let rows = packed(&times("\u{1}\0\u{9}\0", 900 * n));
        let spans = "/Index[0 4000000000]/W[1 2 1]/Size 5";
        streamed(&stream(
            &format!("/Type/XRef/Root 1 0 R/Filter/FlateDecode{spans}"),
            &rows,
        ))
    }),
    ("pdf, a table of no width", |n| {
        let spans = format!("/Index[{}]/W[0 1 0]/Size 5", times("0 9 ", n / 2));
        streamed(&stream(
            &format!("/Type/XRef/Root 1 0 R{spans}"),
            &vec![9; n / 2],
        ))
    }),
    ("pdf, objects without a table", |n| {
        numbered(n, |k| format!("%PDF-1.7\n{k} 0 obj<</A(\n")).into_bytes()
    }),
    ("pdf, tiny objects", |n| {
        let tiny = (0..n / 40).map(|_| "1".to_owned());
        let all: Vec<String> = pages("", "").into_iter().chain(tiny).collect();
        file(&all)
    }),
    ("pdf, streams that do not end", |n| {
        let one = (0..n / 60).map(|_| "<</Length 9999999>>stream\nx".to_owned());
        let all: Vec<String> = pages("", "").into_iter().chain(one).collect();
        file(&all)
    }),
    ("pdf, objects packed together", |n| packed_objects(n, 1)),
    ("pdf, objects packed one by one", |n| {
        packed_objects(n, n / 200)
    }),
    ("pdf, random bytes", |n| {
        let mut state = 1_u64;
        let mut bytes = b"%PDF-1.7\n".to_vec();
        while bytes.len() < n {
            // Knuth's MMIX constants.
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            bytes.push((state >> 40) as u8);
        }
        bytes
    }),
];

pub(super) fn catalog() -> String {
    "<</Type/Catalog/Pages 2 0 R>>".into()
}

/// The objects of a file of one page: catalog, tree, page with these entries, content.
pub(super) fn pages(content: &str, entries: &str) -> Vec<String> {
    let content = stream("", content.as_bytes());
    vec![
        catalog(),
        "<</Type/Pages/Kids[3 0 R]/Count 1>>".into(),
        format!("<</Type/Page/MediaBox[0 0 595 842]/Contents 4 0 R{entries}>>"),
        String::from_utf8(content).unwrap(),
    ]
}

/// A file of one page with this content.
fn page(content: &str, dictionary: &str) -> Vec<u8> {
    page_of(content.as_bytes(), dictionary)
}

fn page_of(content: &[u8], dictionary: &str) -> Vec<u8> {
    let mut all: Vec<Vec<u8>> = pages("", "").into_iter().map(String::into_bytes).collect();
    all[3] = stream(dictionary, content);
    file(&all)
}

/// A file of these objects, numbered from 1, and a right table.
pub(super) fn file<O: AsRef<[u8]>>(objects: &[O]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n".to_vec();
    let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).into_bytes();
    for (index, object) in objects.iter().enumerate() {
        writeln!(table, "{:010} 00000 n ", bytes.len()).unwrap();
        writeln!(bytes, "{} 0 obj", index + 1).unwrap();
        bytes.extend_from_slice(object.as_ref());
        bytes.extend_from_slice(b"\nendobj\n");
    }
    let at = bytes.len();
    bytes.extend(table);
    write!(bytes, "trailer\n<</Root 1 0 R>>\nstartxref\n{at}\n%%EOF").unwrap();
    bytes
}

pub(super) fn stream(dictionary: &str, body: &[u8]) -> Vec<u8> {
    let mut bytes = format!("<<{dictionary}/Length {}>>\nstream\n", body.len()).into_bytes();
    bytes.extend_from_slice(body);
    bytes.extend_from_slice(b"\nendstream");
    bytes
}

fn packed(text: &str) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(vec![], Compression::fast());
    encoder.write_all(text.as_bytes()).unwrap();
    encoder.finish().unwrap()
}

/// A file whose table is this stream.
fn streamed(table: &[u8]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n1 0 obj\n".to_vec();
    bytes.extend_from_slice(table);
    bytes.extend_from_slice(b"\nendobj\nstartxref\n9\n%%EOF");
    bytes
}

/// A file of this many streams of objects, that hold as many objects as fit.
fn packed_objects(size: usize, streams: usize) -> Vec<u8> {
    let streams = streams.max(1);
    let (mut bytes, mut rows) = (b"%PDF-1.7\n".to_vec(), vec![]);
    let mut row = |kind: u8, second: usize, third: usize| {
        rows.push(kind);
        rows.extend_from_slice(&(second as u32).to_be_bytes());
        rows.extend_from_slice(&(third as u32).to_be_bytes());
    };
    row(0, 0, 0);
    let each = size / 60 / streams + 1;
    let mut at = vec![];
    let first_stream = 1 + streams * each;
    for number in 0..streams {
        let (mut heads, mut bodies) = (String::new(), String::new());
        for index in 0..each {
            let object = 1 + number * each + index;
            heads += &format!("{object} {} ", bodies.len());
            bodies += &match object {
                1 => catalog(),
                2 => "<</Type/Pages/Kids[3 0 R]/Count 1>>".into(),
                3 => "<</Type/Page/MediaBox[0 0 595 842]>>".into(),
                _ => "<</A 1/B 2>>".into(),
            };
            row(2, first_stream + number, index);
        }
        at.push(bytes.len());
        let entries = format!("/Type/ObjStm/N {each}/First {}", heads.len());
        writeln!(bytes, "{} 0 obj", first_stream + number).unwrap();
        bytes.extend(stream(&entries, (heads + &bodies).as_bytes()));
        bytes.extend_from_slice(b"\nendobj\n");
    }
    for at in at {
        row(1, at, 0);
    }
    let at = bytes.len();
    let entries = format!("/Type/XRef/Root 1 0 R/W[1 4 4]/Size {}", rows.len() / 9);
    writeln!(bytes, "{} 0 obj", first_stream + streams).unwrap();
    bytes.extend(stream(&entries, &rows));
    write!(bytes, "\nendobj\nstartxref\n{at}\n%%EOF").unwrap();
    bytes
}
