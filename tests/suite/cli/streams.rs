//! Where files come from and where words go: pipes, standard input, closed ends, full disks.

use crate::common::bench::Bench;

const PDF: &str = "out/LV2-UP-01-B.pdf";
const SVG: &str = "out/LV2-UP-01-B.svg";
const GOOD: &str = include_str!("under-panel.toml");

#[test]
fn standard_input_is_read_once() {
    let bench = Bench::new();
    bench
        .run_fed("draw -", GOOD)
        .exits(0)
        .results(&format!("{PDF}\n{SVG}\n"))
        .says(&["standard input: 2 pages, a4 portrait: page 1 front page"]);
    let checked = bench.run_fed("check -", GOOD).exits(0);
    assert!(checked.stdout.contains("standard input: "), "{checked:#?}");
    let misspelt = GOOD.replace("width = 76", "widht = 76");
    for command in ["draw -", "check -"] {
        bench
            .run_fed(command, &misspelt)
            .exits(1)
            .says(&["standard input:42:18: error: "]);
    }
    bench
        .run_fed("draw - -", GOOD)
        .exits(2)
        .says(&["standard input can be read once"]);
}

#[test]
fn one_file_may_go_to_standard_output_and_none_is_made() {
    let bench = Bench::new().file("good.toml", GOOD);
    bench.run("draw good.toml").exits(0);
    let svg = bench.run_fed("draw - --only svg --out -", GOOD).exits(0);
    assert!(svg.stdout.as_bytes() == bench.read(SVG));
    let pdf = std::process::Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .args(["draw", "good.toml", "--only", "pdf", "--out", "-"])
        .current_dir(bench.path("."))
        .output()
        .unwrap();
    assert!(pdf.status.success() && pdf.stdout == bench.read(PDF));
    assert!(!bench.path("-").exists());
    for (command, words) in [
        (
            "draw good.toml --out -",
            "name which by `--only pdf` or `--only svg`",
        ),
        (
            "draw good.toml --only pdf --out - --json",
            "without `--view` and `--json`",
        ),
        (
            "draw good.toml good.toml --only pdf --out -",
            "takes one pattern, 2 are named",
        ),
    ] {
        bench.run(command).exits(2).results("").says(&[words]);
    }
    let misspelt = GOOD.replace("width = 76", "widht = 76");
    bench
        .run_fed("draw - --only pdf --out -", misspelt)
        .exits(1)
        .results("");
}

#[test]
fn what_is_verified_may_come_from_standard_input() {
    let bench = Bench::new().file("good.toml", GOOD);
    bench.run("draw good.toml").exits(0);
    for file in [PDF, SVG] {
        let told = bench.run_fed("verify - --against good.toml", bench.read(file));
        let told = told.exits(0);
        assert!(
            told.stdout.starts_with("standard input: sound"),
            "{told:#?}"
        );
    }
    let told = bench.run_fed("verify -", "nonsense").exits(1);
    assert!(
        told.stdout.contains("standard input: cannot judge"),
        "{told:#?}"
    );
    for command in ["verify - -", "verify - --against -"] {
        bench
            .run_fed(command, GOOD)
            .exits(2)
            .says(&["standard input can be read once"]);
    }
}

#[test]
#[cfg(target_os = "linux")]
fn named_pipes_are_read_once() {
    let kit = "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"A\"\ntitle = \"Kit\"\n\
               issued = 2026-03-02\n[[pattern]]\nfile = \"good.toml\"\n";
    let bench = Bench::new().file("good.toml", GOOD).file("kit.toml", kit);
    bench.run("draw good.toml").exits(0);
    let pipe = bench.path("pipe");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.unwrap().success());
    for (command, bytes) in [
        ("check pipe", GOOD.as_bytes().to_vec()),
        ("draw pipe --only svg", GOOD.as_bytes().to_vec()),
        ("verify pipe", bench.read(PDF)),
        ("verify pipe", bench.read(SVG)),
        ("kit pipe", kit.as_bytes().to_vec()),
    ] {
        let to = pipe.clone();
        let feeding = std::thread::spawn(move || std::fs::write(to, bytes));
        bench.run(command).exits(0);
        feeding.join().unwrap().unwrap();
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_pipe_is_a_file() {
    let bench = Bench::new();
    bench
        .run_fed("draw /dev/stdin --only svg", GOOD)
        .exits(0)
        .results(&format!("{SVG}\n"));
    bench.run_fed("check /dev/stdin", GOOD).exits(0);
}

#[cfg(target_os = "linux")]
mod ends {
    use super::*;
    use std::fs::File;
    use std::process::{Command, Stdio};

    /// Status of a run whose words go there; its result goes nowhere.
    fn status(bench: &Bench, command: &str, stderr: Stdio) -> Option<i32> {
        Command::new(env!("CARGO_BIN_EXE_trimloft"))
            .args(crate::common::bench::words(command))
            .current_dir(bench.path(""))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(stderr)
            .status()
            .unwrap()
            .code()
    }

    #[test]
    fn words_that_nobody_reads_or_that_find_no_room_leave_a_status() {
        let bench = Bench::new()
            .file("good.toml", GOOD)
            .file("bad.toml", "format = 1\n");
        let full = || Stdio::from(File::create("/dev/full").unwrap());
        let unread = || {
            let (reader, writer) = std::io::pipe().unwrap();
            drop(reader);
            Stdio::from(writer)
        };
        for (command, read, lost) in [
            ("draw good.toml", 0, 1),
            ("draw bad.toml", 1, 1),
            ("check bad.toml good.toml", 1, 1),
            ("draw bad.toml bad.toml", 1, 1),
            ("draw good.toml --shop bad.toml", 1, 1),
            ("verify nothing.pdf --against bad.toml", 1, 1),
            ("scale --across 100 --down 100 --save printer.toml", 0, 1),
            ("compare good.toml bad.toml", 1, 1),
            ("kit bad.toml", 1, 1),
            ("draw --wrong", 2, 2),
        ] {
            assert_eq!(status(&bench, command, unread()), Some(read), "{command}");
            assert_eq!(status(&bench, command, full()), Some(lost), "{command}");
        }
    }

    /// Bytes that a file may have, as `ulimit` counts them.
    const BLOCK: usize = 512;

    #[test]
    fn where_the_second_file_finds_no_room_the_first_is_not_there() {
        let bench = Bench::new().file("good.toml", GOOD);
        bench.run("draw good.toml").exits(0);
        let (first, second) = (bench.read(PDF).len(), bench.read(SVG).len());
        assert!(first + BLOCK < second, "{first} {second}");
        let limited = |words: &str| {
            let script = format!(
                "trap '' XFSZ; ulimit -f {}; exec \"$0\" draw good.toml {words}",
                first / BLOCK + 1
            );
            let done = Command::new("sh")
                .args(["-c", &script, env!("CARGO_BIN_EXE_trimloft")])
                .current_dir(bench.path(""))
                .output()
                .unwrap();
            assert_eq!(done.status.code(), Some(1), "{done:?}");
        };
        limited("--out none");
        assert!(!bench.files().iter().any(|name| name.starts_with("none/")));
        // What was there before stays, both of it.
        let before = GOOD.replace("depth = 72", "depth = 71");
        std::fs::write(bench.path("before.toml"), before).unwrap();
        bench
            .run("draw before.toml --replace --because draft")
            .exits(0);
        let (both, files) = ([bench.read(PDF), bench.read(SVG)], bench.files());
        limited("--replace --because draft");
        assert!([bench.read(PDF), bench.read(SVG)] == both);
        assert_eq!(bench.files(), files);
    }
}

#[test]
fn what_a_killed_run_left_is_cleared_by_the_next_and_a_live_one_is_let_be() {
    let bench = Bench::new()
        .file("good.toml", GOOD)
        .file("out/.trimloft-aB3.part", "left")
        .file("out/.trimloft-cD4.part", "on its way")
        .file("out/mine.part", "mine");
    let alive = std::fs::File::open(bench.path("out/.trimloft-cD4.part")).unwrap();
    alive.lock().unwrap();
    bench.run("draw good.toml").exits(0);
    assert_eq!(
        bench.files(),
        [
            "good.toml",
            "out/.trimloft-cD4.part",
            PDF,
            SVG,
            "out/mine.part"
        ]
    );
}

#[test]
fn a_printer_file_replaces_a_printer_file_and_nothing_else() {
    let bench = Bench::new().file("panel.toml", GOOD).file("notes", "mine");
    let save = |file: &str| bench.run(&format!("scale --across 99.4 --down 99.7 --save {file}"));
    for file in ["panel.toml", "notes"] {
        save(file).exits(1).says(&["is no printer file", "hint: "]);
    }
    assert_eq!(bench.read("panel.toml"), GOOD.as_bytes());
    assert_eq!(bench.read("notes"), b"mine");
    save("desk.toml").exits(0);
    save("desk.toml").exits(0);
    save("NUL.toml")
        .exits(1)
        .says(&["Windows keeps that name for a device"]);
}

#[test]
fn a_pattern_file_is_never_written_over() {
    let name = "LV2-UP-01-B.svg";
    let bench = Bench::new().file(name, GOOD);
    bench.run(&format!("draw {name} --out .")).exits(1).says(&[
        "it is a file that this call reads",
        "hint: choose another folder",
    ]);
    assert_eq!(bench.files(), [name]);
    assert_eq!(bench.read(name), GOOD.as_bytes());
    let other = GOOD.replace("width = 76", "width = 78");
    let overlay = "LV2-UP-01-B-to-LV2-UP-01-B.svg";
    let bench = bench.file(overlay, &other);
    bench
        .run(&format!("compare {name} {overlay} --out ."))
        .exits(1)
        .says(&["it is a file that this call reads"]);
    assert_eq!(bench.read(overlay), other.as_bytes());
}

#[test]
fn folders_that_cannot_be_are_told() {
    let kit = "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"A\"\ntitle = \"Kit\"\n\
               issued = 2026-03-02\n[[pattern]]\nfile = \"good.toml\"\n";
    let bench = Bench::new().file("good.toml", GOOD).file("kit.toml", kit);
    for command in ["draw good.toml", "kit kit.toml"] {
        for out in ["CON", "x/NUL/y", "aux.d"] {
            bench
                .run(&format!("{command} --out {out}"))
                .exits(1)
                .says(&[
                    "Windows keeps that name for a device",
                    "hint: choose another",
                ]);
        }
        #[cfg(unix)]
        {
            let link = bench.path("link");
            let _ = std::os::unix::fs::symlink("nowhere", link);
            bench.run(&format!("{command} --out link")).exits(1).says(&[
                "`link` can't be made a folder: it is a link to `nowhere`, which is not there",
                "hint: make the folder",
            ]);
        }
    }
    assert!(bench.files().iter().all(|file| !file.contains('/')));
}

#[test]
fn numbers_that_make_bad_names_of_files_are_refused() {
    for (number, revision, told) in [
        ("-rf", "B", "begins with `-`"),
        ("LV2.", "B", "ends with a dot"),
        ("LV2", "B.", "ends with a dot"),
        ("LV2 ", "B", "holds other signs"),
        ("LV2", "B ", "holds other signs"),
    ] {
        let text = GOOD
            .replace("\"LV2-UP-01\"", &format!("\"{number}\""))
            .replace("revision = \"B\"", &format!("revision = \"{revision}\""));
        let bench = Bench::new().file("a.toml", text);
        bench
            .run("draw a.toml")
            .exits(1)
            .says(&["a.toml:", "error: ", told]);
        assert_eq!(bench.files(), ["a.toml"]);
    }
    // A first issue is often revision `-`.
    let first = GOOD.replace("revision = \"B\"", "revision = \"-\"");
    Bench::new()
        .file("a.toml", first)
        .run("draw a.toml")
        .exits(0);
}

#[test]
fn names_that_windows_keeps_for_devices_are_refused() {
    for number in ["CON", "nul", "Com1.B", "lpt9...", "aux.2026"] {
        let text = GOOD.replace("LV2-UP-01", number);
        let bench = Bench::new().file("a.toml", text);
        bench
            .run("draw a.toml")
            .exits(1)
            .says(&["a.toml:5:10: error: ", "Windows keeps for a device"]);
        assert_eq!(bench.files(), ["a.toml"]);
    }
    let kit = "format = 1\n[kit]\nnumber = \"prn\"\nrevision = \"A\"\ntitle = \"Kit\"\n\
               issued = 2026-03-02\n[[pattern]]\nfile = \"sub/Aux.toml\"\n";
    let bench = Bench::new()
        .file("kit.toml", kit)
        .file("sub/Aux.toml", GOOD);
    bench.run("kit kit.toml").exits(1).says(&[
        "kit.toml:3:10: error: ",
        "Windows keeps for a device",
        "kit.toml:8:8: error: ",
        "Windows keeps for a device",
    ]);
}
