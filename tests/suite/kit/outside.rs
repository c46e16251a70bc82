//! An issue held against judges that share no code with what makes it.

use super::bench::files;
use crate::common::bench::Bench;
use crate::common::{DEMO_KIT, demos, read_pdf, root};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use hayro_syntax::Pdf;
use scraper::{Html, Selector};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// The demo kit, issued.
fn issued() -> (Bench, BTreeMap<String, Vec<u8>>) {
    let text = |path: &std::path::Path| std::fs::read(path).unwrap();
    let kit = root().join("shapes/demo").join(DEMO_KIT);
    let mut bench = Bench::new().file(DEMO_KIT, text(&kit));
    for demo in demos() {
        let name = demo.file_name().unwrap().to_string_lossy().into_owned();
        bench = bench.file(&name, text(&demo));
    }
    bench.run(&format!("kit {DEMO_KIT}")).exits(0);
    let files = files(&bench.path("out/LV2-KIT-01-A"));
    (bench, files)
}

fn manifest(files: &BTreeMap<String, Vec<u8>>) -> serde_json::Value {
    serde_json::from_slice(&files["manifest.json"]).unwrap()
}

#[test]
fn the_manifest_names_every_file_with_its_size_and_hash() {
    let (_, files) = issued();
    let manifest = manifest(&files);
    let mut named = BTreeSet::from(["manifest.json".to_owned()]);
    for file in manifest["files"].as_array().unwrap() {
        let name = file["name"].as_str().unwrap();
        let bytes = &files[name];
        assert_eq!(file["size"], bytes.len());
        let hash: String = Sha256::digest(bytes)
            .iter()
            .map(|b| format!("{b:02x}"))
            .collect();
        assert_eq!(file["sha256"], hash.as_str(), "{name}");
        named.insert(name.into());
    }
    assert!(named.iter().eq(files.keys()));
}

/// A page in dots of 1/72 in, in rows; and those of them where a kit's number stands: right of the window, in
/// the lower half.
fn raster(file: &Pdf, page: usize) -> [Vec<u8>; 2] {
    let settings = PixmapSettings {
        x_scale: 1.0,
        y_scale: 1.0,
        bg_color: WHITE,
    };
    let picture = hayro::render(
        &file.pages()[page],
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let (width, height) = (usize::from(picture.width()), usize::from(picture.height()));
    // A row of words of 6 mm, and a margin of 6.35.
    let beside = width - (12.35 / 25.4 * 72.0) as usize;
    let dots = picture.data().iter().map(|pixel| pixel.g).enumerate();
    let (kit, rest): (Vec<_>, Vec<_>) =
        dots.partition(|(at, _)| at % width >= beside && at / width > height / 2 + 40);
    [rest, kit].map(|dots| dots.into_iter().map(|(_, dot)| dot).collect())
}

#[test]
fn a_kits_pages_are_the_patterns_own_dot_for_dot() {
    let (bench, files) = issued();
    let whole = Pdf::new(files["LV2-KIT-01-A.pdf"].clone()).unwrap();
    bench
        .run("draw under-panel.toml heat-shield.toml --orientation portrait --only pdf --out alone")
        .exits(0);
    let manifest = manifest(&files);
    for name in ["LV2-UP-01", "LV2-HS-03"] {
        let patterns = manifest["patterns"].as_array().unwrap();
        let entry = patterns
            .iter()
            .find(|entry| entry["number"] == name)
            .unwrap();
        let stem = format!("{name}-{}", entry["revision"].as_str().unwrap());
        let alone = Pdf::new(bench.read(&format!("alone/{stem}.pdf"))).unwrap();
        assert_eq!(entry["pages"], alone.pages().len());
        let first = entry["first_page"].as_u64().unwrap() as usize - 1;
        for page in 0..alone.pages().len() {
            let [own, kit] = raster(&whole, first + page);
            let [other, none] = raster(&alone, page);
            assert!(own == other, "page {page} of {stem}");
            assert!(kit != none, "page {page} of {stem} does not name its kit");
        }
    }
}

#[test]
fn contents_and_bookmarks_lead_to_the_right_pages() {
    let (_, files) = issued();
    let file = lopdf::Document::load_mem(&files["LV2-KIT-01-A.pdf"]).unwrap();
    let pages = file.get_pages();
    let place: BTreeMap<lopdf::ObjectId, u32> = pages.iter().map(|(n, id)| (*id, *n)).collect();
    let follow = |id: lopdf::ObjectId, key: &[u8]| {
        let item = file.get_dictionary(id).unwrap();
        item.get(key).ok().map(|next| next.as_reference().unwrap())
    };
    let root = file.catalog().unwrap().get(b"Outlines").unwrap();
    let mut told = BTreeMap::new();
    let mut next = follow(root.as_reference().unwrap(), b"First");
    while let Some(id) = next {
        let item = file.get_dictionary(id).unwrap();
        let title = lopdf::decode_text_string(item.get(b"Title").unwrap()).unwrap();
        let to = item.get(b"Dest").unwrap().as_array().unwrap()[0]
            .as_reference()
            .unwrap();
        told.insert(title, place[&to]);
        next = follow(id, b"Next");
    }
    assert_eq!(told["Contents"], 1);
    assert_eq!(told["Fitting card"], 2);
    let read = read_pdf::read(&Pdf::new(files["LV2-KIT-01-A.pdf"].clone()).unwrap());
    let words = |page: usize| -> Vec<&str> {
        read[page]
            .texts
            .iter()
            .map(|text| text.words.as_str())
            .collect()
    };
    for entry in manifest(&files)["patterns"].as_array().unwrap() {
        let number = entry["number"].as_str().unwrap();
        let name = format!("{number} rev {}", entry["revision"].as_str().unwrap());
        let first = entry["first_page"].as_u64().unwrap();
        let last = first + entry["pages"].as_u64().unwrap() - 1;
        let bookmark = format!("{name} {}", entry["title"].as_str().unwrap());
        assert_eq!(u64::from(told[&bookmark]), first);
        let cover = words(0);
        assert!(cover.contains(&name.as_str()));
        assert!(
            cover.contains(&format!("{first} to {last}").as_str()),
            "{cover:?}"
        );
        // The page itself says whose it is.
        assert!(words(first as usize - 1).contains(&name.as_str()));
        assert!(words(last as usize - 1).contains(&name.as_str()));
    }
    let card = words(1).join(" | ") + &words(2).join(" | ");
    for said in [
        "2 × push clip until on: Rear",
        "86 N m",
        "7 lbf ft (9.5 N m)",
        "75 mm",
        "62 kg",
    ] {
        assert!(card.contains(said), "{said} in {card}");
    }
}

#[test]
fn the_index_is_valid_and_leads_to_files_that_are_there() {
    let (_, files) = issued();
    let page = String::from_utf8(files["index.html"].clone()).unwrap();
    let page = Html::parse_document(&page);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    let all = |what: &str| {
        let selector = Selector::parse(what).unwrap();
        let found: Vec<_> = page
            .select(&selector)
            .map(|one| one.value().clone())
            .collect();
        found
    };
    assert_eq!(all("li svg").len(), 3);
    assert_eq!(all("li svg path.cut").len(), 3);
    assert!(all("script, img, link, iframe, object").is_empty());
    let links = all("a");
    assert!(links.len() >= 7);
    for link in links {
        let to = link.attr("href").unwrap();
        let (file, _) = to.split_once('#').unwrap_or((to, ""));
        assert!(files.contains_key(file), "{to}");
    }
}

#[test]
fn the_typeface_gives_its_letters_back() {
    let (_, files) = issued();
    let read = read_pdf::read(&Pdf::new(files["LV2-KIT-01-A.pdf"].clone()).unwrap());
    let cover: Vec<&str> = read[0]
        .texts
        .iter()
        .map(|text| text.words.as_str())
        .collect();
    assert!(
        cover.contains(&"Fixed bracket, patterns and fitting card"),
        "{cover:?}"
    );
    assert!(
        cover.contains(&"Tarn LV2 van · Fixed bracket, 60 mm neck"),
        "{cover:?}"
    );
}
