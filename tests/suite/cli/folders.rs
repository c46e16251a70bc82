//! `draw` and `check` of whole folders.

use crate::common::bench::Bench;

fn bench() -> Bench {
    let good = include_str!("under-panel.toml");
    Bench::new()
        .file("bay/a.toml", good)
        .file(
            "bay/b.toml",
            good.replace("width = 76", "widht = 76")
                .replace("UP-01", "UP-09"),
        )
        .file("bay/c.toml", include_str!("heat-shield.toml"))
        .file("bay/kit.toml", "format = 1\n[kit]\nnumber = \"K\"\n")
        .file("bay/notes.txt", "no pattern")
        .file("bay/below/d.toml", "not looked at")
}

#[test]
fn one_bad_file_does_not_stop_the_rest() {
    let bench = bench();
    let summary = "error: 1 of 3 patterns are not drawn\n  bay/b.toml: shape `notch` has no \
                   parameter `widht`\n";
    bench
        .run("draw bay --only svg")
        .exits(1)
        .results("out/LV2-UP-01-B.svg\nout/LV2-HS-03-A.svg\n")
        .says(&["bay/kit.toml: a kit file, left out", summary]);
    bench
        .run("check bay")
        .exits(1)
        .says(&["error: 1 of 3 patterns can't be drawn\n  bay/b.toml: "]);
    let json = bench.run("draw bay --only svg --json").exits(1).stdout;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json.as_array().unwrap().len(), 3);
}

#[test]
fn twins_in_a_folder_leave_the_rest_to_be_drawn() {
    let bench = bench().file("bay/b.toml", include_str!("under-panel.toml"));
    bench
        .run("draw bay --only svg")
        .exits(1)
        .results("out/LV2-HS-03-A.svg\n")
        .says(&[
            "error: 2 of 3 patterns are not drawn",
            "would both be written as `LV2-UP-01-B`",
        ]);
}

#[test]
fn a_folder_without_patterns_is_told() {
    let bench = Bench::new().file("bay/notes.txt", "no pattern");
    for command in ["draw bay", "check bay"] {
        bench
            .run(command)
            .exits(1)
            .says(&["error: the folder `bay` holds no pattern files"]);
    }
}
