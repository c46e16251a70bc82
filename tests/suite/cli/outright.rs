//! A pattern with no file at all.

use crate::common::bench::Bench;

const BELOW: &str = "--seen-from below --page-up front";

#[track_caller]
fn falls_short(flags: &str, status: i32, pieces: &[&str]) {
    let bench = Bench::new();
    bench
        .run(&format!("draw --shape {flags}"))
        .exits(status)
        .results("")
        .says(pieces);
    assert!(bench.files().is_empty(), "{flags}");
}

#[test]
fn one_shape_is_drawn() {
    let bench = Bench::new();
    bench
        .run(&format!("draw --shape notch --set width=92 --set depth=\"2 3/4 in\" --offset \"4 mm left\" {BELOW}"))
        .exits(0)
        .results("out/notch.pdf\nout/notch.svg\n")
        .says(&["--shape notch: ", " pages, a4 "]);
    let svg = String::from_utf8(bench.read("out/notch.svg")).unwrap();
    for words in ["92", "69.9", "REAR", "FRONT"] {
        assert!(svg.contains(&format!("aria-label=\"{words}\"")), "{words}");
    }
    for words in [
        "CENTRELINE ASSUMED",
        "Measure it before you cut",
        "ASSUMED: measure first",
    ] {
        assert!(svg.contains(&format!("aria-label=\"{words}\"")), "{words}");
    }
}

#[test]
fn the_datum_edge_may_lie_at_the_head() {
    let bench = Bench::new();
    bench
        .run(&format!(
            "draw --shape window --set width=200 --set height=60 --from-datum 100 {BELOW}"
        ))
        .exits(0);
    let foot = bench.read("out/window.svg");
    bench
        .run(&format!(
            "draw --shape window --set width=200 --set height=60 --from-datum 100 {BELOW} --datum rear"
        ))
        .exits(0);
    assert!(
        bench.read("out/window.svg") == foot,
        "the foot is where it lies unless told"
    );
    bench
        .run(&format!(
            "draw --shape window --set width=200 --set height=60 --from-datum 100 {BELOW} --datum front"
        ))
        .exits(0);
    let head = bench.read("out/window.svg");
    assert!(String::from_utf8_lossy(&head).contains("FOLD OVER DATUM EDGE (FRONT)"));
    assert!(head != foot);
}

#[test]
fn it_is_refused_without_a_face() {
    let sizes = [
        "\n  --set width=\"80 mm\"  mouth of the notch, along the datum edge; at least 5 mm\n",
        "  --set depth=\"60 mm\"  how far in from the datum edge; at least 5 mm\n",
    ];
    let (face, up) = ("\n  --seen-from below    ", "\n  --page-up front      ");
    falls_short("notch", 2, &[face, up, sizes[0], sizes[1]]);
    falls_short(
        "notch --page-up front",
        2,
        &["--seen-from below", "--set width"],
    );
    falls_short(
        "notch --seen-from below --set width=90",
        2,
        &["--page-up front", "--set depth"],
    );
    falls_short("notsch", 2, &["did you mean `notch`"]);
}

#[test]
fn every_shape_tells_all_that_it_needs() {
    let bench = Bench::new();
    let json = bench.run("shapes --json").exits(0).json();
    let families = json.as_array().unwrap();
    assert!(families.len() >= 8, "{families:?}");
    for family in families {
        let name = family["name"].as_str().unwrap();
        let told = bench.run(&format!("draw --shape {name}")).exits(2).stderr;
        let listed = told.lines().filter(|line| line.starts_with("  --set "));
        let sizes = family["parameters"].as_array().unwrap().iter();
        let sizes: Vec<_> = sizes.filter(|one| one["kind"] == "size").collect();
        assert_eq!(listed.count(), sizes.len(), "{told}");
        for size in sizes {
            let example = format!(
                "--set {}=\"{}\"",
                size["name"].as_str().unwrap(),
                size["default"].as_str().unwrap()
            );
            assert!(told.contains(&example), "{example}: {told}");
        }
        let closed = !family["open"].as_bool().unwrap();
        assert_eq!(told.contains("--from-datum"), closed, "{told}");
        // The examples, as they are listed, draw it.
        let options = told.lines().filter(|line| line.starts_with("  --"));
        let options: Vec<&str> = options
            .map(|line| line.trim().split("  ").next().unwrap())
            .collect();
        bench
            .run(&format!(
                "draw --only svg --out {name} --shape {name} {}",
                options.join(" ")
            ))
            .exits(0);
    }
}

#[test]
fn directions_that_do_not_go_together_are_wrong_usage() {
    falls_short(
        "notch --seen-from beneath --page-up front",
        2,
        &["`--seen-from beneath` is not known; allowed: behind, front, below, above, left, right"],
    );
    falls_short(
        "notch --seen-from below --page-up forwards",
        2,
        &["`--page-up forwards` is not known; allowed: front, rear, left, right, up, down"],
    );
    falls_short(
        "notch --seen-from below --page-up up",
        2,
        &[
            "`--page-up up` lies along the reader's look with `--seen-from below`; allowed: front, rear, left, right",
        ],
    );
    falls_short(
        &format!("notch {BELOW} --datum left"),
        2,
        &[
            "`--datum left` does not lie at the head or the foot of the page with `--page-up front`; allowed: front, rear\n",
        ],
    );
    falls_short(
        &format!("notch {BELOW} --datum edge"),
        2,
        &["`--datum edge` is not known"],
    );
}

#[test]
fn nothing_that_is_measured_is_made_up() {
    falls_short(
        &format!("notch {BELOW}"),
        1,
        &[
            "--shape notch: error: shape `notch` needs `width` (mouth of the notch, along the datum \
             edge; at least 5 mm) and `depth` (how far in from the datum edge; at least 5 mm)\n",
            "`--set NAME=VALUE` where there is no file; `corner_radius` may be left out\n",
        ],
    );
    // What is given is judged in the same run.
    falls_short(
        &format!("stepped-notch {BELOW} --set mouth_width=4 --set depth=90"),
        1,
        &[
            "`mouth_width` is `4 mm`; it must be at least 5 mm",
            "needs `mouth_depth` (how far in the wide part reaches; at least 5 mm) and \
             `throat_width` (width of the narrow part; at least 5 mm, at most mouth_width - 2 * \
             (corner_radius + shoulder_radius))\n",
        ],
    );
    falls_short(
        &format!("window {BELOW} --set width=80 --set height=60"),
        2,
        &["`--shape window` is closed and needs its place: `--from-datum`"],
    );
}

#[test]
fn values_are_named_and_within_their_limits() {
    falls_short(
        &format!("notch {BELOW} --set widht=92"),
        1,
        &[
            "--shape notch: error: shape `notch` has no parameter `widht`\n",
            "hint: did you mean `width`?\n",
            "error: nothing is drawn\n",
        ],
    );
    falls_short(
        &format!("notch {BELOW} --set width=4"),
        1,
        &["`width` is `4 mm`; it must be at least 5 mm"],
    );
    falls_short(
        &format!("notch {BELOW} --set width=80 --set depth=60 --set corner_radius=41"),
        1,
        &[
            "`corner_radius` is `41 mm`; it must be from 1.5 mm to 40 mm\n",
            "hint: the limit here is `min(width / 2, depth)`\n",
        ],
    );
    falls_short(
        &format!("notch {BELOW} --set \"width=12 deg\""),
        1,
        &["`width` is `12 deg`; it must be a length"],
    );
    falls_short(
        &format!("nutch {BELOW}"),
        1,
        &[
            "there is no shape called `nutch`\n",
            "hint: did you mean `notch`?\n",
        ],
    );
    falls_short(
        &format!("../notch {BELOW}"),
        1,
        &[
            "there is no shape called `../notch`\n",
            "hint: known here: `notch`, ",
        ],
    );
}

#[test]
fn words_that_are_no_values_are_wrong_usage() {
    falls_short(
        &format!("notch {BELOW} --set width"),
        2,
        &["`--set width` lacks its `=`; hint: write `--set width=92`"],
    );
    falls_short(
        &format!("notch {BELOW} --set width=broad"),
        2,
        &["`--set width=broad`: `broad` is not a length; hint: "],
    );
    falls_short(
        &format!("notch {BELOW} --set width=9000"),
        2,
        &["`9000` is too long: at most 5 m (196.85 in) is allowed"],
    );
    falls_short(
        &format!("notch {BELOW} --set width=9 --set width=8"),
        2,
        &["`--set` names a value twice"],
    );
    falls_short(
        &format!("notch {BELOW} --offset 4"),
        2,
        &["`4` does not say to which side: only 0 needs none; hint: write `4 left` or `4 right`"],
    );
    falls_short(
        &format!("notch {BELOW} --offset \"-4 mm left\""),
        2,
        &[
            "is negative and names a side",
            "hint: leave out the minus sign",
        ],
    );
    falls_short(
        &format!("notch {BELOW} --offset \"4 mm nearside\""),
        2,
        &["changes with the country"],
    );
    falls_short(
        &format!("window {BELOW} --from-datum deep"),
        2,
        &["`--from-datum deep`: `deep` is not a length"],
    );
    falls_short(
        &format!("notch {BELOW} --set width=80 --set depth=60 --from-datum 20"),
        1,
        &["shape `notch` is open at the datum edge, so `from_datum` can only be 0"],
    );
}

#[test]
fn a_side_must_run_along_the_edge() {
    falls_short(
        &format!("notch {BELOW} --set width=80 --set depth=60 --offset \"4 mm front\""),
        1,
        &[
            "`front` does not run along this panel's datum edge\n",
            "hint: write `left` or `right`\n",
        ],
    );
    let bench = Bench::new();
    bench
        .run("draw --shape notch --set width=80 --set depth=60 --seen-from below --page-up left --offset \"4 mm front\"")
        .exits(0);
}

#[test]
fn a_shape_and_a_file_do_not_go_together() {
    let bench = Bench::new().sample("under-panel.toml");
    bench
        .run(&format!("draw under-panel.toml --shape notch {BELOW}"))
        .exits(2)
        .says(&["cannot be used with"]);
    bench
        .run("draw under-panel.toml --set width=20")
        .exits(2)
        .says(&["--shape <FAMILY>"]);
    assert_eq!(bench.files(), ["under-panel.toml"]);
}
