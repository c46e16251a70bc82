//! `trimloft centre`: the middle from readings on the command line.

use crate::common::assert_close;
use crate::common::bench::Bench;

#[test]
fn it_tells_where_to_put_the_mark_from_each_end() {
    Bench::new()
        .run("centre --width 980 --pair \"outer holes=112,868@18\" --pair 301,679@42")
        .exits(0)
        .says_nothing()
        .results(
            "at the datum edge: 490 mm from the left end, 490 mm from the right end; known to 1.3 mm\n\
             skew: 0 degrees\n\
             outer holes: its middle 490 mm, off by 0 mm, 1.12 mm explained\n\
             pair 2: its middle 490 mm, off by 0 mm, 1.12 mm explained\n\
             uncertainties hold in 93 to 99.5 of 100 cases, where the panel is moulded as evenly as \
             `moulding` says: Student's t with 8 degrees of freedom, 7 of them for the scatter\n",
        );
}

#[test]
fn one_pair_is_half_way_between_its_readings() {
    let told = Bench::new()
        .run("centre --width 1000 --pair 100,880 --at 250 --json")
        .exits(0);
    let centre = told.json();
    let at = &centre["at"];
    assert_close(at[0]["from_zero"].as_f64().unwrap(), 490.0, 1e-9, "middle");
    assert_close(
        at[0]["from_other_end"].as_f64().unwrap(),
        510.0,
        1e-9,
        "from the other end",
    );
    assert_close(
        at[1]["from_datum"].as_f64().unwrap(),
        250.0,
        1e-9,
        "depth asked for",
    );
    let known = |place: usize| at[place]["uncertainty"].as_f64().unwrap();
    assert!(
        known(1) > known(0),
        "the skew limit adds away from the pair: {centre}"
    );
}

#[test]
fn inches_are_read_as_inches() {
    let told = Bench::new()
        .run("centre --units in --width 40 --pair \"4 1/2,35 1/2\" --json")
        .exits(0);
    let middle = told.json()["at"][0]["from_zero"].as_f64().unwrap();
    assert_close(middle, 20.0 * 25.4, 1e-9, "middle, mm");
}

#[test]
fn the_pair_that_disagrees_is_named() {
    Bench::new()
        .run("centre --pair 100,900@20 --pair 150,850@20 --pair \"bent=210,810@20\"")
        .exits(0)
        .says_nothing();
    let told = Bench::new()
        .run("centre --pair 100,900@20 --pair 150,850@20 --pair \"bent=210,810@20\" --json")
        .exits(0);
    let odd = &told.json()["odd_pair"];
    assert_eq!(odd["name"], "bent");
    assert_close(odd["by"].as_f64().unwrap(), 10.0, 1e-9, "off the others");
    assert_close(
        odd["centre_otherwise"].as_f64().unwrap(),
        503.333_333,
        1e-5,
        "with it",
    );
}

#[test]
fn moulding_widens_what_is_promised() {
    let known = |moulding: &str| {
        let line = format!("centre --pair 100,900@20 {moulding} --json");
        let told = Bench::new().run(&line).exits(0);
        told.json()["at"][0]["uncertainty"].as_f64().unwrap()
    };
    assert_eq!(known(""), known("--moulding 0.7"));
    assert!(
        known("--moulding 2") > 2.0 * known(""),
        "a panel three times as uneven"
    );
    assert!(known("--moulding 0") < 0.7 * known(""), "an even panel");
    let told = Bench::new().run("centre --pair 100,900@20 --moulding 21");
    assert!(
        told.exits(1)
            .stderr
            .contains("`moulding` is 21, allowed is 0 to 20 mm")
    );
}

#[test]
fn arcs_tell_which_side_of_the_mark_the_centreline_runs() {
    // Closed form: (300^2 - 294^2) / (2 * 590), to the left of the mark.
    let told = Bench::new()
        .run("centre --swing 300,294,590 --json")
        .exits(0);
    let by = told.json()["mark_right_of_centreline_by"].as_f64().unwrap();
    assert_close(
        by,
        (300.0_f64.powi(2) - 294.0_f64.powi(2)) / (2.0 * 590.0),
        0.05,
        "mark",
    );
    Bench::new()
        .run("centre --swing 300,294,590")
        .exits(0)
        .says_nothing();
}

#[test]
fn readings_that_can_not_be_right_are_told_with_what_to_do() {
    Bench::new()
        .run("centre --pair 868,112")
        .exits(1)
        .results("")
        .says(&[
            "the wrong way round",
            "hint: left and right are the vehicle's own",
        ]);
    Bench::new()
        .run("centre --width 800 --pair 112,868")
        .exits(1)
        .says(&["off the panel"]);
    Bench::new()
        .run("centre --pair 112")
        .exits(2)
        .says(&["write `--pair 112,868`"]);
    Bench::new()
        .run("centre --tape-class IV --pair 1,2")
        .exits(2)
        .says(&["I, II, III"]);
    Bench::new().run("centre").exits(2);
}

#[test]
fn the_picture_needs_a_face_and_is_written_whole() {
    let bench = Bench::new();
    let readings = "centre --width 980 --pair 112,868@18";
    bench
        .run(&format!("{readings} --svg c.svg"))
        .exits(2)
        .says(&["--seen-from"]);
    assert!(bench.files().is_empty());
    bench
        .run(&format!(
            "{readings} --svg c.svg --seen-from below --page-up front"
        ))
        .exits(0);
    assert_eq!(bench.files(), ["c.svg"]);
    let picture = String::from_utf8(bench.read("c.svg")).unwrap();
    for words in [
        "FRONT",
        "LEFT",
        "RIGHT",
        "REAR: datum edge",
        "112",
        "868",
        "centre 490 mm",
    ] {
        assert!(
            picture.contains(&format!("aria-label=\"{words}\"")),
            "`{words}`"
        );
    }
}
