//! Files that are hardly files: nothing may panic, and every refusal says something.

use super::super::KitSpec;
use super::*;

/// Small generator of even 64-bit numbers (splitmix64, public domain), the same on every machine.
struct Dice(u64);

impl Dice {
    fn next(&mut self, below: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((mixed ^ (mixed >> 31)) >> 33).unwrap() % below
    }
}

/// Whether some reader took the file.
fn read_or_refused(bytes: Vec<u8>) -> bool {
    let source = match Source::from_bytes("a.toml", bytes) {
        Ok(source) => source,
        Err(report) => {
            assert!(report.to_string().contains("error: "));
            return false;
        }
    };
    let reports = [
        PatternSpec::read(&source).err(),
        ShapeSpec::read(&source).err(),
        ShopSpec::read(&source).err(),
        KitSpec::read(&source).err(),
    ];
    let taken = reports.iter().any(Option::is_none);
    for report in reports.into_iter().flatten() {
        assert!(
            report.to_string().contains("error: "),
            "{:?} gave an empty report",
            source.text
        );
    }
    taken
}

#[test]
fn a_file_of_nothing_but_faults_is_not_read_to_its_end() {
    for fault in ["=\n", "]\n", "a\n", "= = =\n"] {
        let clean = "# clean\n".repeat(30_000);
        let text = clean + &fault.repeat(300_000 / fault.len());
        let report = PatternSpec::read(&Source::new("a.toml", text)).unwrap_err();
        let all = report.problems.len() + report.more;
        assert!((1000..=40_000).contains(&all), "{all} of {fault:?}");
    }
    // Few are all told, wherever they stand.
    let text = "format = 1\n# clean\n".to_owned() + &"# clean\n".repeat(60_000) + "]\n= 1\n";
    let report = PatternSpec::read(&Source::new("a.toml", text)).unwrap_err();
    let told = report.to_string();
    for place in ["a.toml:60003:1: error", "a.toml:60004:1: error"] {
        assert!(told.contains(place), "{told}");
    }
}

#[test]
fn random_bytes_never_panic() {
    let mut dice = Dice(1);
    for _ in 0..1000 {
        let length = dice.next(200);
        read_or_refused((0..length).map(|_| dice.next(256) as u8).collect());
        let letters = b"[]{}=\"'.,#\n\r\t -_+0123456789eabnopi\\";
        read_or_refused(
            (0..length)
                .map(|_| letters[dice.next(letters.len())])
                .collect(),
        );
    }
}

#[test]
fn good_files_with_random_faults_never_panic() {
    let mut dice = Dice(2);
    let pieces = [
        "[[",
        "]]",
        "\"",
        "nan",
        "1e999",
        "-",
        "½",
        "\u{feff}",
        "\r\n",
        "= {",
        "\u{1b}",
        "opening",
        "a.b.c = 1\n",
        "0",
    ];
    for good in [PATTERN, PARTS, SHAPE, KIT] {
        let mut taken = 0;
        for _ in 0..1000 {
            let mut bytes = good.as_bytes().to_vec();
            for _ in 0..=dice.next(4) {
                let at = dice.next(bytes.len());
                let end = (at + dice.next(30)).min(bytes.len());
                match dice.next(4) {
                    0 => bytes[at] = dice.next(256) as u8,
                    1 => drop(bytes.drain(at..end)),
                    2 => drop(bytes.splice(at..at, pieces[dice.next(pieces.len())].bytes())),
                    _ => {
                        let piece = bytes[at..end].to_vec();
                        let to = dice.next(bytes.len());
                        drop(bytes.splice(to..to, piece));
                    }
                }
            }
            taken += usize::from(read_or_refused(bytes));
        }
        // Faults in texts and numbers often leave a good file.
        assert!(taken > 15, "only {taken} of 1000 were taken");
    }
}

#[test]
fn brackets_nested_deep_are_refused_and_told_once_a_place() {
    for (open, close) in [("[", "]"), ("{ a = ", "}"), ("[{ a = ", "}]"), ("a.", "b")] {
        let nested = |count: usize| format!("x = {}{}\n", open.repeat(count), close.repeat(count));
        let report = read_pattern(&nested(100_000)).unwrap_err();
        assert!(report.contains("error: "), "{report}");
    }
    let report =
        read_pattern(&format!("x = {}1{}\n", "[".repeat(100), "]".repeat(100))).unwrap_err();
    assert!(
        report.contains("error: brackets are nested too deep: at most 80 are allowed"),
        "{report}"
    );
    let dotted = read_pattern(&format!("{}z = 1\n", "a.".repeat(100_000))).unwrap_err();
    assert!(dotted.contains("nested too deep"), "{dotted}");
    let header = read_pattern(&format!("[{}z]\n", "a.".repeat(100_000))).unwrap_err();
    assert!(header.contains("nested too deep"), "{header}");
}

#[test]
fn a_line_that_can_not_be_parsed_does_not_hide_the_others() {
    let text = changed(PATTERN, "width = 980", "width = = 980");
    let report = read_pattern(&changed(&text, "seen_from", "seen_fom")).unwrap_err();
    assert!(report.starts_with("a.toml:15:9: error: "), "{report}");
    let said = said(&report);
    assert_eq!(
        said[said.len() - 2..],
        [
            "unknown key `seen_fom` in `[panel]`",
            "hint: did you mean `seen_from`?"
        ]
    );
    // What is missing may stand in the line that could not be parsed.
    assert!(!report.contains("is missing"), "{report}");
}

#[test]
fn windows_files_read_as_others() {
    let windows = format!("\u{feff}{}", PATTERN.replace('\n', "\r\n"));
    assert!(read_pattern(&windows).is_ok());
    let report = read_pattern(&windows.replace("width = 980", "width = 0")).unwrap_err();
    assert!(
        report.contains("a.toml:15:9: error: `width = 0`"),
        "{report}"
    );
    assert!(
        report.contains("\n 15 | width = 0\n    |         ^\n"),
        "{report}"
    );
}

/// Each problem takes a walk through the file to be placed, and a program that reads JSON wants all.
#[test]
fn of_a_great_many_problems_the_first_are_kept_and_the_rest_are_counted() {
    let text = (0..50_000).fold(String::from("format = 1\n"), |text, key| {
        text + &format!("k{key} = 1\n")
    });
    let report = PatternSpec::read(&Source::new("a.toml", text)).unwrap_err();
    assert_eq!(report.problems.len(), 1000);
    // The keys, and `[pattern]`, `[panel]` and `[[opening]]`, which are missing.
    assert_eq!(report.more, 50_003 - 1000);
    assert!(
        report.to_string().ends_with("\nand 49903 more\n"),
        "{report}"
    );
}

#[test]
fn a_file_too_large_is_not_read() {
    let report = read_pattern(&"#".repeat((1 << 20) + 1)).unwrap_err();
    assert_eq!(
        said(&report),
        ["the file has 1048577 bytes: at most 1048576 are allowed"]
    );
}
