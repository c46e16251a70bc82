//! `check`, `shapes` and `completions`.

use crate::common::bench::Bench;

#[test]
fn check_tells_what_would_be_cut_and_writes_nothing() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml");
    let told = bench
        .run("check under-panel.toml heat-shield.toml")
        .exits(0)
        .says_nothing();
    assert!(
        told.stdout
            .contains("under-panel.toml: ok\n  neck opening: 76 x "),
        "{told:?}"
    );
    assert!(
        told.stdout.contains("heat-shield.toml: ok\n  bolt notch: "),
        "{told:?}"
    );
    assert!(told.stdout.contains(" to drill\n"), "{told:?}");
    assert_eq!(bench.files(), ["heat-shield.toml", "under-panel.toml"]);
}

#[test]
fn check_says_which_files_fall_short() {
    let text = include_str!("under-panel.toml");
    let bench = Bench::new()
        .sample("heat-shield.toml")
        .file("deep.toml", text.replace("depth = 72", "depth = 330"));
    let told = bench.run("check deep.toml heat-shield.toml").exits(1);
    assert!(told.stdout.contains("heat-shield.toml: ok\n"), "{told:?}");
    let told = told.says(&[
        "deep.toml:40:8: ",
        "error: `neck opening` leaves the panel in 2 pieces\n",
        "error: 1 of 2 patterns can't be drawn\n",
    ]);
    bench
        .run("check deep.toml")
        .exits(1)
        .results("")
        .says(&["error: the pattern can't be drawn\n"]);
    assert!(!told.stdout.contains("deep"), "{told:?}");
}

#[test]
fn check_shows_warnings_as_results() {
    let text = include_str!("heat-shield.toml");
    let bench = Bench::new().file(
        "p.toml",
        text.replace("\"28 mm front\"", "\"255 mm front\""),
    );
    let told = bench.run("check p.toml").exits(0).says_nothing();
    assert!(
        told.stdout
            .starts_with("p.toml: warning: opening `bolt notch` runs 17 mm over"),
        "{told:?}"
    );
    assert!(
        told.stdout.contains("p.toml: look at the warnings\n"),
        "{told:?}"
    );
}

#[test]
fn shapes_are_listed_one_a_line() {
    let told = Bench::new().run("shapes").exits(0).says_nothing();
    assert_eq!(told.stdout.lines().count(), 8);
    for name in [
        "notch",
        "flared-notch",
        "tapered-notch",
        "stepped-notch",
        "t-opening",
        "window",
        "slot",
        "round-hole",
    ] {
        assert!(
            told.stdout
                .lines()
                .any(|line| line.split_whitespace().next() == Some(name)),
            "{name}"
        );
    }
}

#[test]
fn one_shape_shows_its_values_and_their_limits() {
    let told = Bench::new().run("shapes notch").exits(0).says_nothing();
    assert!(told.stdout.starts_with("notch: Open notch\n"), "{told:?}");
    assert!(told.stdout.contains("width          mouth of the notch, along the datum edge (to be given, such as 80 mm; at least 5 mm)\n"), "{told:?}");
    assert!(told.stdout.contains("corner_radius  radius of the two inner corners (in an opening, unless given, 10 mm; at least 1.5 mm, at most min(width / 2, depth))\n"), "{told:?}");
}

#[test]
fn a_shape_that_is_not_there_is_wrong_usage() {
    let bench = Bench::new();
    bench
        .run("shapes nutch")
        .exits(2)
        .results("")
        .says(&["error: there is no shape called `nutch`; hint: did you mean `notch`?\n"]);
    bench
        .run("shapes elephant")
        .exits(2)
        .results("")
        .says(&["hint: known here: `notch`, ", "`round-hole`\n"]);
}

#[test]
fn completions_are_there_for_each_shell() {
    let bench = Bench::new();
    for (shell, sign) in [
        ("bash", "complete -F _trimloft"),
        ("zsh", "#compdef trimloft"),
        ("fish", "complete -c trimloft"),
    ] {
        let told = bench
            .run(&format!("completions {shell}"))
            .exits(0)
            .says_nothing();
        assert!(told.stdout.contains(sign), "{shell}");
        assert!(told.stdout.contains("seen-from"), "{shell}");
    }
    bench
        .run("completions cmd")
        .exits(2)
        .results("")
        .says(&["'cmd'", "bash"]);
}

#[test]
fn strict_lets_warnings_fail_that_nobody_accepted() {
    let demo = include_str!("../../../shapes/demo/under-panel.toml");
    let peg = "\n[[feature]]\nname = \"peg\"\nkind = \"peg\"\nshape = \"round-hole\"\n\
        with = { diameter = 8 }\ncentre_offset = \"44 mm left\"\nfrom_datum = 34\nheight = 20\n";
    // An error that somebody answers for is no warning any more.
    let accepted = include_str!("../../../shapes/demo/fascia-socket.toml");
    let bench = Bench::new()
        .file("plain.toml", accepted)
        .file("warned.toml", demo.to_owned() + peg);
    bench.run("check plain.toml --strict").exits(0);
    let told = bench.run("check warned.toml").exits(0).stdout;
    assert!(told.contains("warned.toml: warning: "), "{told}");
    bench
        .run("check warned.toml plain.toml --strict")
        .exits(1)
        .says(&["1 of 2 with warnings that nobody accepted"]);
}

#[test]
fn letters_that_the_typeface_lacks_are_told_by_check() {
    let demo = include_str!("../../../shapes/demo/under-panel.toml");
    for written in ["drain \u{6f22} hole", "drain \\u6f22 hole"] {
        let bench = Bench::new().file("p.toml", demo.replace("drain hole", written));
        bench.run("check p.toml").exits(1).says(&["\u{6f22}"]);
    }
    // What is not printed is no matter.
    let remark = format!("# \u{6f22}\n{demo}");
    Bench::new()
        .file("p.toml", remark)
        .run("check p.toml")
        .exits(0);
}
