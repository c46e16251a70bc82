//! Small patterns on shared sheets.

use super::bench::{bench, files, kit};
use hayro_syntax::Pdf;

fn pages(bytes: &[u8]) -> usize {
    Pdf::new(bytes.to_vec()).unwrap().pages().len()
}

#[test]
fn sharing_saves_sheets_and_shows_every_cut_line_whole() {
    let bench = bench(5);
    bench.run("kit kit.toml --out apart --paper a3").exits(0);
    bench
        .run("kit kit.toml --out shared --paper a3 --share")
        .exits(0);
    let pdf = |out: &str| files(&bench.path(out)).remove("K-1-A/K-1-A.pdf").unwrap();
    let (apart, shared) = (pdf("apart"), pdf("shared"));
    assert!(pages(&shared) < pages(&apart));
    // As many cut lines, each as long, wherever they stand.
    let lengths = |bytes: Vec<u8>| {
        let file = Pdf::new(bytes).unwrap();
        let read = crate::common::read_pdf::read(&file);
        let cuts = read.iter().flat_map(|page| page.layer("cut"));
        let mut lengths: Vec<i64> = cuts
            .map(|path| (kurbo::Shape::perimeter(&path, 1e-6) * 100.0).round() as i64)
            .collect();
        lengths.sort_unstable();
        lengths
    };
    assert_eq!(lengths(apart), lengths(shared));
    let manifest = files(&bench.path("shared/K-1-A"))
        .remove("manifest.json")
        .unwrap();
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).unwrap();
    let patterns = manifest["patterns"].as_array().unwrap();
    let shared = patterns.iter().filter_map(|pattern| {
        let page = pattern["shared_page"].as_u64()?;
        assert!(page > pattern["first_page"].as_u64().unwrap());
        Some(page)
    });
    // One that would stand alone on a sheet keeps its own.
    assert!(shared.count() + 1 >= patterns.len());
    // Which patterns share hangs on all of them, so they are drawn again; the result is the same.
    let bench = bench.file("kit.toml", kit("B", 5));
    bench
        .run("kit kit.toml --paper a3 --share --from shared/K-1-A")
        .exits(0);
    bench
        .run("kit kit.toml --paper a3 --share --check")
        .exits(0);
}
