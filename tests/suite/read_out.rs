//! What sheets are when they are read out: tags, their order, and what they hold, by ISO 32000-1, 14.7
//! and 14.8 (from memory). Read with lopdf, and the content with hayro-syntax, which did not write it.

use crate::common::{self, produced_on, read_pdf};
use crate::kit::bench::{bench, kit};
use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction as Op;
use hayro_syntax::object::{Dict, Object as Read};
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::{BTreeMap, BTreeSet};
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::{Paper, Setup};

/// An element as it stands in the tree.
struct Told {
    depth: usize,
    kind: String,
    alt: String,
    words: String,
}

/// Words of each piece of content that is told as part of something, by page and number; and how many
/// marks are told as neither that nor as artifacts.
fn pieces(bytes: &[u8]) -> (BTreeMap<(usize, i64), String>, usize) {
    let file = Pdf::new(bytes.to_vec()).unwrap();
    let (mut all, mut untold) = (BTreeMap::new(), 0);
    for (at, page) in file.pages().iter().enumerate() {
        let letters = read_pdf::page_letters(page);
        let mut open: Vec<Option<i64>> = vec![];
        let mut told = 0;
        let mut operations = page.typed_operations();
        while let Some(op) = operations.next() {
            match op {
                Op::BeginMarkedContent(begun) => {
                    assert_eq!(begun.0.as_str(), "Artifact");
                    told += 1;
                    open.push(Some(-1));
                }
                Op::BeginMarkedContentWithProperties(begun) => {
                    let properties: Option<Dict<'_>> = match &begun.1 {
                        Read::Dict(own) => Some(own.clone()),
                        _ => None,
                    };
                    let number = properties.and_then(|own| own.get::<i32>("MCID"));
                    told += usize::from(number.is_some());
                    open.push(number.map(i64::from));
                    if let Some(number) = number {
                        let words = all.insert((at, number.into()), String::new());
                        assert!(words.is_none(), "page {at}, {number} twice");
                    }
                }
                Op::EndMarkedContent(_) => {
                    told -= usize::from(open.pop().unwrap().is_some());
                }
                Op::ShowText(shown) => {
                    untold += usize::from(told != 1);
                    if let Some(Some(number @ 0..)) = open.last() {
                        let codes = shown.0.as_bytes().chunks(2);
                        let letter = |code: &[u8]| letters[&u16::from_be_bytes([code[0], code[1]])];
                        all.get_mut(&(at, *number))
                            .unwrap()
                            .extend(codes.map(letter));
                    }
                }
                Op::StrokePath(_) | Op::FillPathNonZero(_) => untold += usize::from(told != 1),
                _ => {}
            }
        }
        assert!(open.is_empty());
    }
    (all, untold)
}

fn root(file: &Document) -> &Dictionary {
    let root = file.catalog().unwrap().get(b"StructTreeRoot").unwrap();
    file.get_dictionary(root.as_reference().unwrap()).unwrap()
}

/// Who holds what, by the tree's own index.
fn holders(file: &Document) -> BTreeMap<i64, Object> {
    let parents = root(file).get(b"ParentTree").unwrap();
    let parents = file
        .get_dictionary(parents.as_reference().unwrap())
        .unwrap();
    let numbers = parents.get(b"Nums").unwrap().as_array().unwrap();
    let pairs = numbers.chunks(2);
    let pairs: Vec<(i64, Object)> = pairs
        .map(|pair| (pair[0].as_i64().unwrap(), pair[1].clone()))
        .collect();
    assert!(pairs.is_sorted_by_key(|(key, _)| *key));
    pairs.into_iter().collect()
}

/// All elements in the order that they are read out, each piece of content held once, by who the index
/// says.
fn read_out(bytes: &[u8]) -> Vec<Told> {
    let file = Document::load_mem(bytes).unwrap();
    let catalog = file.catalog().unwrap();
    let marked = catalog.get(b"MarkInfo").unwrap().as_dict().unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    assert!(catalog.has(b"Lang"));
    let (words, untold) = pieces(bytes);
    assert_eq!(untold, 0, "marks that are nothing");
    let holders = holders(&file);
    let pages: BTreeMap<ObjectId, usize> = file
        .page_iter()
        .enumerate()
        .map(|(at, id)| (id, at))
        .collect();
    let (mut all, mut held) = (vec![], BTreeSet::new());
    let mut next: Vec<(ObjectId, usize)> = vec![];
    let push = |of: &Dictionary, depth, next: &mut Vec<(ObjectId, usize)>| {
        let kids = of.get(b"K").unwrap().as_array().unwrap();
        let ids = kids.iter().filter_map(|kid| kid.as_reference().ok());
        next.extend(ids.rev().map(|id| (id, depth)));
    };
    push(root(&file), 0, &mut next);
    while let Some((id, depth)) = next.pop() {
        let element = file.get_dictionary(id).unwrap();
        let mut own = String::new();
        for kid in element.get(b"K").unwrap().as_array().unwrap() {
            match kid {
                Object::Integer(number) => {
                    let page = element.get(b"Pg").unwrap().as_reference().unwrap();
                    let leaf = file.get_dictionary(page).unwrap();
                    let key = leaf.get(b"StructParents").unwrap().as_i64().unwrap();
                    let holder = &holders[&key].as_array().unwrap()[*number as usize];
                    assert_eq!(holder.as_reference().unwrap(), id);
                    let piece = (pages[&page], *number);
                    assert!(held.insert(piece), "{piece:?} is held twice");
                    own += &words[&piece];
                }
                Object::Dictionary(note) => {
                    let note = note.get(b"Obj").unwrap().as_reference().unwrap();
                    let note = file.get_dictionary(note).unwrap();
                    let key = note.get(b"StructParent").unwrap().as_i64().unwrap();
                    assert_eq!(holders[&key].as_reference().unwrap(), id);
                }
                _ => {}
            }
        }
        all.push(Told {
            depth,
            kind: String::from_utf8(element.get(b"S").unwrap().as_name().unwrap().into()).unwrap(),
            alt: element
                .get(b"Alt")
                .map_or(String::new(), |alt| lopdf::decode_text_string(alt).unwrap()),
            words: own,
        });
        push(element, depth + 1, &mut next);
    }
    assert_eq!(held.len(), words.len(), "all that is told is held");
    all
}

/// What a demo's sheets are when they are read out.
fn told_of(demo: &str, record: bool) -> Vec<Told> {
    let text = std::fs::read_to_string(common::root().join("shapes/demo").join(demo)).unwrap();
    let spec = PatternSpec::read(&Source::new(demo, text)).unwrap();
    let setup = Setup {
        record,
        ..Setup::new(Paper::parse("a4").unwrap())
    };
    read_out(&produced_on(&spec, &setup).pdf.unwrap())
}

/// Kinds and words of what is two steps below the document: the pages' own elements.
fn outline(all: &[Told]) -> Vec<(&str, &str)> {
    let own = all.iter().filter(|told| told.depth == 2);
    own.map(|told| (told.kind.as_str(), told.words.as_str()))
        .collect()
}

#[test]
fn a_front_page_can_be_followed_by_whoever_hears_it() {
    let told = told_of("under-panel.toml", false);
    let outline = outline(&told);
    assert_eq!(outline[0], ("H1", "Under-panel, bracket neck"));
    let headings: Vec<&str> = outline
        .iter()
        .filter(|(kind, _)| *kind == "H2")
        .map(|(_, words)| *words)
        .collect();
    assert_eq!(
        headings[..4],
        [
            "Where the middle is",
            "How the pattern lies",
            "Cautions",
            "Steps"
        ]
    );
    // Steps with their numbers, in order.
    let numbers: Vec<&str> = told
        .iter()
        .filter(|told| told.kind == "Lbl")
        .map(|told| told.words.as_str())
        .collect();
    let counted: Vec<String> = (1..=numbers.len())
        .map(|number| number.to_string())
        .collect();
    assert_eq!(numbers, counted);
    assert!(numbers.len() > 5);
    // A line that goes on is not run together with the next.
    let steps = told.iter().filter(|told| told.kind == "LBody");
    let whole: Vec<&str> = steps.map(|told| told.words.as_str()).collect();
    let print =
        "Print on A4 at actual size (100 %), never \"fit\". Check the scale of every sheet.";
    assert!(whole.contains(&print), "{whole:?}");
    for cell in ["Table", "TR", "TD"] {
        assert!(told.iter().any(|told| told.kind == cell), "{cell}");
    }
    for figure in told.iter().filter(|told| told.kind == "Figure") {
        assert!(!figure.alt.is_empty());
    }
    let shown = told.iter().filter(|told| told.alt.contains("full size"));
    // The bank card, and the one work sheet.
    assert_eq!(shown.count(), 2);
}

#[test]
fn tables_have_heads_and_rows_their_cells() {
    let told = told_of("fascia-wide.toml", true);
    let cells = |kind: &str| told.iter().filter(|told| told.kind == kind).count();
    assert!(cells("TH") > 4, "{}", cells("TH"));
    // Rows of one table have as many cells.
    let mut widths: Vec<BTreeSet<usize>> = vec![];
    let mut row = 0;
    for told in told.iter().chain([&Told {
        depth: 0,
        kind: "end".into(),
        alt: String::new(),
        words: String::new(),
    }]) {
        match told.kind.as_str() {
            "TH" | "TD" => row += 1,
            _ => {
                if row > 0 {
                    widths.last_mut().unwrap().insert(row);
                }
                row = 0;
                if told.kind == "Table" {
                    widths.push(BTreeSet::new());
                }
            }
        }
    }
    assert!(widths.len() > 3);
    assert!(widths.iter().all(|widths| widths.len() == 1), "{widths:?}");
}

#[test]
fn a_kit_can_be_followed_too_and_its_contents_lead_to_its_pages() {
    let bench = bench(3);
    bench.run("kit kit.toml").exits(0);
    let read = |name: &str| std::fs::read(bench.path(name)).unwrap();
    let bytes = read("out/K-1-A/K-1-A.pdf");
    let told = read_out(&bytes);
    let sections = told.iter().filter(|told| told.kind == "Sect").count();
    let file = Document::load_mem(&bytes).unwrap();
    assert_eq!(sections, file.get_pages().len());
    let manifest: serde_json::Value =
        serde_json::from_slice(&read("out/K-1-A/manifest.json")).unwrap();
    let patterns = manifest["patterns"].as_array().unwrap().iter();
    let first = patterns.map(|entry| entry["first_page"].as_u64().unwrap() as u32);
    let wanted: Vec<u32> = [2].into_iter().chain(first).collect();
    let places: BTreeMap<ObjectId, u32> =
        file.get_pages().iter().map(|(n, id)| (*id, *n)).collect();
    let contents = file.get_dictionary(file.get_pages()[&1]).unwrap();
    let notes = contents.get(b"Annots").unwrap().as_array().unwrap();
    let lead = notes.iter().map(|note| {
        let note = file.get_dictionary(note.as_reference().unwrap()).unwrap();
        let to = note.get(b"Dest").unwrap().as_array().unwrap();
        places[&to[0].as_reference().unwrap()]
    });
    assert_eq!(lead.collect::<Vec<u32>>(), wanted);
    let links = told.iter().filter(|told| told.kind == "Link");
    let starts = links.map(|link| {
        let number = link.words.split(' ').next().unwrap();
        number.parse::<u32>().unwrap()
    });
    assert_eq!(starts.collect::<Vec<u32>>(), wanted);
    // What is taken over keeps its structure.
    let bench = bench.file("kit.toml", kit("B", 3));
    bench.run("kit kit.toml --from out/K-1-A").exits(0);
    let again = read_out(&std::fs::read(bench.path("out/K-1-B/K-1-B.pdf")).unwrap());
    let kinds =
        |told: &[Told]| -> Vec<String> { told.iter().map(|told| told.kind.clone()).collect() };
    assert_eq!(kinds(&again), kinds(&told));
}

/// Needs qpdf and mutool, which `.ci/run` installs: other programs find the same tags, and leave them.
#[test]
#[ignore = "needs qpdf and mutool: `.ci/run` installs them and runs it"]
fn other_programs_find_the_same_structure() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| folder.path().join(name);
    let run = |program: &str, words: &[&str]| {
        let mut command = std::process::Command::new(program);
        let done = command.current_dir(folder.path()).args(words).output();
        let done = done.unwrap_or_else(|error| panic!("`{program}` is needed: {error}"));
        assert!(done.status.success(), "{program} {words:?}: {done:?}");
        String::from_utf8_lossy(&done.stdout).into_owned()
    };
    let demo = common::root().join("shapes/demo/under-panel.toml");
    let sheets = common::produced(&std::fs::read_to_string(demo).unwrap()).pdf;
    std::fs::write(file("in.pdf"), sheets.unwrap()).unwrap();
    let tree = run(
        "mutool",
        &[
            "show",
            "in.pdf",
            "trailer/Root/StructTreeRoot/K/1/K/1/K/1/S",
        ],
    );
    assert!(tree.contains("/H1"), "{tree}");
    let texts = run("mutool", &["draw", "-q", "-F", "txt", "in.pdf", "1"]);
    assert!(texts.contains("Cautions"), "{texts}");
    for way in [
        &["--object-streams=generate", "in.pdf", "out.pdf"][..],
        &["--qdf", "in.pdf", "out.pdf"],
    ] {
        run("qpdf", way);
        let again = read_out(&std::fs::read(file("out.pdf")).unwrap());
        assert_eq!(outline(&again)[0].0, "H1");
    }
}
