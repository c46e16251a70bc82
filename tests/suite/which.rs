//! `trimloft which`: a code or a file, and whether it still holds.

use crate::common::bench::Bench;
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};

const DEMO: &str = include_str!("../../shapes/demo/under-panel.toml");

/// The demo's code, which its own test holds.
fn code() -> &'static str {
    let codes = include_str!("papers.txt");
    let line = codes
        .lines()
        .find(|line| line.starts_with("under-panel.toml "));
    line.unwrap().split_once(' ').unwrap().1
}

fn revision(letter: &str, depth: u32) -> String {
    DEMO.replace("revision = \"B\"", &format!("revision = \"{letter}\""))
        .replace("from_datum = 118", &format!("from_datum = {depth}"))
}

fn bench() -> Bench {
    let bench = Bench::new().file("p.toml", DEMO);
    bench.run("draw p.toml").exits(0);
    bench
}

#[test]
fn a_code_and_a_file_tell_what_they_are_and_what_came_after() {
    let bench = bench();
    let code = code();
    let current = format!("{code}: current, LV2-UP-01 rev B, in `out/LV2-UP-01-B.svg`\n");
    bench
        .run(&format!("which {code}"))
        .exits(0)
        .results(&current);
    let typed = code.to_lowercase().replace('-', "");
    bench
        .run(&format!("which {typed}"))
        .exits(0)
        .results(&current);
    bench
        .run("which out/LV2-UP-01-B.pdf out/LV2-UP-01-B.svg")
        .exits(0)
        .results(&current.repeat(2));
    let bench = bench.file("c.toml", revision("C", 119));
    bench.run("draw c.toml").exits(0);
    bench
        .run(&format!("which {code}"))
        .exits(1)
        .results(&format!(
            "{code}: superseded, LV2-UP-01 rev B, now LV2-UP-01 rev C, in `out/LV2-UP-01-C.svg`\n"
        ));
    bench.run("which out/LV2-UP-01-C.pdf").exits(0);
}

#[test]
fn what_was_replaced_is_told_with_its_reason() {
    let bench = bench().file("p.toml", revision("B", 119));
    let code = code();
    std::fs::copy(bench.path("out/LV2-UP-01-B.svg"), bench.path("old.svg")).unwrap();
    bench
        .run("draw p.toml --replace --because misread")
        .exits(0);
    let told = bench.run("which old.svg").exits(1).stdout;
    assert!(
        told.starts_with(&format!("{code}: replaced, LV2-UP-01 rev B, now ")),
        "{told}"
    );
    assert!(told.ends_with(": misread\n"), "{told}");
    // With nothing that tells why, it is another paper than the one that is there.
    std::fs::remove_file(bench.path("out/replaced.jsonl")).unwrap();
    bench.run("which old.svg").exits(1);
    let json = bench.run("which old.svg --json").exits(1).stdout;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json[0]["standing"], "not the paper of that revision");
    assert_eq!(json[0]["code"], code);
    assert_eq!(json[0]["file"], "out/LV2-UP-01-B.svg");
}

#[test]
fn a_kits_patterns_are_known_by_its_manifest() {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/out");
    let bench = Bench::new();
    let code = code();
    let told = bench
        .run(&format!("which {code} --in {demo}"))
        .exits(0)
        .stdout;
    assert!(told.contains("current, LV2-UP-01 rev B"), "{told}");
    // A volume is answered pattern by pattern.
    let volume = format!("which {demo}/LV2-KIT-01-A/LV2-KIT-01-A.pdf --in {demo}");
    let told = bench.run(&volume).exits(0).stdout;
    assert_eq!(told.lines().count(), 3, "{told}");
    assert!(
        told.contains(&format!("{code}: current, LV2-UP-01 rev B")),
        "{told}"
    );
}

/// A page of a drawn file as a picture of 150 dots to the inch.
fn pictured(bench: &Bench, file: &str, page: usize) -> Vec<u8> {
    let file = Pdf::new(bench.read(file)).unwrap();
    let scale = 150.0 / 72.0;
    let settings = PixmapSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
    };
    let picture = hayro::render(
        &file.pages()[page],
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let grey: Vec<u8> = picture.data().iter().map(|dot| dot.g).collect();
    let (width, height) = (picture.width().into(), picture.height().into());
    let mut bytes = vec![];
    PngEncoder::new(&mut bytes)
        .write_image(&grey, width, height, ExtendedColorType::L8)
        .unwrap();
    bytes
}

#[test]
fn pictures_of_sheets_are_told_and_whether_they_are_of_one_set() {
    let bench = bench();
    let code = code();
    for (page, name) in ["one.png", "two.png"].iter().enumerate() {
        let picture = pictured(&bench, "out/LV2-UP-01-B.pdf", page);
        std::fs::write(bench.path(name), picture).unwrap();
    }
    let told = |sheet: usize| {
        format!("{code}: current, LV2-UP-01 rev B, sheet {sheet} of 2, in `out/LV2-UP-01-B.svg`\n")
    };
    bench
        .run("which one.png two.png")
        .exits(0)
        .results(&(told(1) + &told(2)));
    // The record is counted by itself, and a sheet of another set is a stranger.
    let bench = bench.file("c.toml", revision("B", 119));
    bench.run("draw c.toml --out other").exits(0);
    let picture = pictured(&bench, "other/LV2-UP-01-B.pdf", 1);
    std::fs::write(bench.path("other.png"), picture).unwrap();
    bench
        .run("which one.png other.png")
        .exits(1)
        .says(&["they do not belong together: LV2-UP-01 rev B with code "]);
    // A scan is measured and told at once.
    let told = bench.run("scale --scan two.png --dpi 150").stdout;
    let name = format!("this is LV2-UP-01 rev B, {code}, sheet 2 of 2\n");
    assert!(told.starts_with(&name), "{told}");
    // What was called back is not cut by, whatever else is known of it.
    let line = format!(
        "{{\"paper\":\"LV2-UP-01 rev B\",\"code\":\"{code}\",\"because\":\"the neck was misread\"}}\n"
    );
    std::fs::write(bench.path("out/withdrawn.jsonl"), line).unwrap();
    bench.run("which two.png").exits(1).results(&format!(
        "{code}: withdrawn, LV2-UP-01 rev B, sheet 2 of 2: the neck was misread\n"
    ));
}

#[test]
fn what_is_unknown_or_no_code_is_said_to_be() {
    let bench = Bench::new().file("note.txt", "a note");
    bench
        .run("which 7K3MQ-9XDT2")
        .exits(1)
        .results("7K3MQ-9XDT2: unknown in `out`\n");
    bench
        .run("which LV2-UP-01")
        .exits(2)
        .says(&["neither a file nor a code", "hint: "]);
    bench
        .run("which note.txt")
        .exits(1)
        .says(&["`note.txt`: it carries no pattern's content"]);
}

#[test]
fn files_of_two_papers_under_one_number_are_told() {
    let bench = bench().file("c.toml", revision("C", 119));
    bench.run("draw c.toml").exits(0);
    bench
        .run("which out/LV2-UP-01-B.svg out/LV2-UP-01-C.pdf")
        .exits(1)
        .says(&["they do not belong together: LV2-UP-01 rev B with code "]);
}
