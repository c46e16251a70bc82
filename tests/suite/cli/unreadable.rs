//! Files that can't be read, and folders that can't be written to.

use crate::common::bench::Bench;

#[track_caller]
fn both_say(bench: &Bench, file: &str, pieces: &[&str]) {
    let files = bench.files();
    for command in ["draw", "check"] {
        bench
            .run(&format!("{command} {file}"))
            .exits(1)
            .results("")
            .says(pieces);
    }
    assert_eq!(bench.files(), files);
}

#[test]
fn what_can_not_be_read_is_named_with_the_reason() {
    let bench = Bench::new()
        .file("latin.toml", b"format = 1\n[pattern]\ntitle = \"T\xfcr\"\n")
        .file("empty.toml", "")
        .file("folder/inside.toml", "")
        .file("noise.toml", b"\x00\x01\x02")
        .file("long.toml", vec![b'#'; 5 << 20]);
    both_say(
        &bench,
        "missing.toml",
        &["missing.toml: error: there is no such file\n", "hint: "],
    );
    both_say(
        &bench,
        "folder",
        &[
            "folder/inside.toml: error: `format` is missing in the file\n",
            "hint: ",
        ],
    );
    both_say(
        &bench,
        "latin.toml",
        &[
            "latin.toml:3:11: error: the file is not UTF-8 text\n",
            " 3 | title = \"T\u{fffd}r\"\n",
            "^",
            "hint: save it as UTF-8",
        ],
    );
    both_say(
        &bench,
        "empty.toml",
        &[
            "empty.toml: error: `format` is missing in the file\n",
            "hint: write `format = 1`",
        ],
    );
    both_say(&bench, "noise.toml", &["noise.toml:1:1: error: "]);
    both_say(
        &bench,
        "long.toml",
        &[
            "long.toml: error: this file is larger than 1 MB\n",
            "hint: ",
        ],
    );
    both_say(&bench, "empty.toml/x.toml", &["empty.toml/x.toml: error: "]);
}

#[test]
fn a_folder_that_can_not_be_written_to_is_named() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .file("taken", "a file")
        .file("dir/LV2-UP-01-B.pdf/x", "");
    for out in ["taken", "taken/below"] {
        bench.run(&format!("draw under-panel.toml --out {out}")).exits(1).results("").says(&[
            "under-panel.toml: error: `taken",
            "can't be made a folder",
            "hint: a file stands where a folder is wanted: choose another folder with `--out`\n",
            "error: nothing is drawn\n",
        ]);
    }
    assert_eq!(bench.read("taken"), b"a file");
    bench
        .run("draw under-panel.toml --out dir")
        .exits(1)
        .results("")
        .says(&[
            "`dir/LV2-UP-01-B.pdf` can't be written",
            "hint: a folder has this name",
        ]);
    assert_eq!(
        bench.files(),
        ["dir/LV2-UP-01-B.pdf/x", "taken", "under-panel.toml"]
    );
}

#[test]
#[cfg(target_os = "linux")]
fn a_reader_that_stops_is_no_fault_and_a_full_disk_is() {
    use std::fs::File;
    use std::process::{Command, Stdio};
    let run = |stdout: Stdio| {
        Command::new(env!("CARGO_BIN_EXE_trimloft"))
            .args(["completions", "bash"])
            .stdout(stdout)
            .output()
            .unwrap()
    };
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = run(writer.into());
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(output.stderr.is_empty(), "{output:?}");
    let output = run(File::create("/dev/full").unwrap().into());
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.contains("error: the result can't be written to stdout"),
        "{told}"
    );
}
