//! A user's own families, and what is wrong with them.

use crate::common::bench::{Bench, Told};

const DRAW: &str = "draw --shapes own --from-datum 60 --set width=100 --seen-from below --page-up front --only svg --shape";

/// A closed family of four corners, 100 by 60; `radius` is the first corner's.
fn family(name: &str, radius: &str) -> String {
    format!(
        "format = 1\nname = \"{name}\"\ntitle = \"Own\"\nabout = \"Ours.\"\n\
         [parameters.width]\nabout = \"along\"\ndefault = \"100 mm\"\n\
         [[corner]]\nx = \"-width / 2\"\ny = \"20\"\nradius = \"{radius}\"\n\
         [[corner]]\nx = \"width / 2\"\ny = \"20\"\n\
         [[corner]]\nx = \"width / 2\"\ny = \"80\"\n\
         [[corner]]\nx = \"-width / 2\"\ny = \"80\"\n"
    )
}

/// What drawing with a family of this first radius tells.
fn with_radius(radius: &str) -> (Bench, Told) {
    let bench = Bench::new().file("own/plate.toml", family("plate", radius));
    let told = bench.run(&format!("{DRAW} plate"));
    (bench, told)
}

#[test]
fn a_folder_adds_its_families() {
    let (bench, told) = with_radius("6");
    told.exits(0).results("out/plate.svg\n");
    let told = bench.run("shapes --shapes own").exits(0).says_nothing();
    assert!(
        told.stdout.ends_with("plate          Own: Ours.\n"),
        "{told:?}"
    );
    bench.run("shapes plate").exits(2);
    let text = include_str!("fascia-socket.toml").replace("\"window\"", "\"plate\"");
    let with = "with = { width = \"2 1/2 in\", height = 74, corner_radius = 8 }";
    let bench = bench.file("p.toml", text.replace(with, "with = { width = 70 }"));
    bench
        .run("check p.toml --shapes own")
        .exits(0)
        .says_nothing();
    bench
        .run("check p.toml")
        .exits(1)
        .results("")
        .says(&["p.toml:", "there is no shape called `plate`"]);
}

#[test]
fn every_bad_family_is_told_and_nothing_is_done() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .file("own/a.toml", family("notch", "6"))
        .file("own/b.toml", "format = 1\nname = \"b\"\ntitel = \"B\"\n")
        .file("own/c.toml", b"\xff")
        .file("own/notes.txt", "not a family");
    for command in ["draw under-panel.toml", "check under-panel.toml", "shapes"] {
        bench
            .run(&format!("{command} --shapes own"))
            .exits(1)
            .results("")
            .says(&[
                "own/a.toml:2:8: error: there is a shape called `notch` already\n",
                " 2 | name = \"notch\"\n",
                "hint: choose another name\n",
                "own/b.toml:3:1: error: unknown key `titel`",
                "hint: did you mean `title`?\n",
                "own/c.toml:1:1: error: the file is not UTF-8 text\n",
                "\nerror: the shapes of `own` can't be used\n",
            ]);
    }
    assert!(!bench.path("out").exists());
    bench
        .run("shapes --shapes nowhere")
        .exits(1)
        .results("")
        .says(&[
            "error: `nowhere` can not be read",
            "error: the shapes of `nowhere` can't be used\n",
        ]);
}

#[test]
fn a_hundred_thousand_brackets_are_refused_or_worked_out() {
    let brackets = 100_000;
    let deep = format!("{}6{}", "(".repeat(brackets), ")".repeat(brackets));
    let (bench, told) = with_radius(&deep);
    let told = told.exits(1).results("").says(&[
        "own/plate.toml:11:",
        "error: ",
        "the shapes of `own` can't be used\n",
    ]);
    assert!(told.stderr.len() < 1_000, "{} letters", told.stderr.len());
    let bench = bench.file("own/plate.toml", family("plate", &"(".repeat(brackets)));
    let told = bench.run(&format!("{DRAW} plate")).exits(1);
    assert!(told.stderr.len() < 1_000, "{} letters", told.stderr.len());
}

#[test]
fn expressions_that_give_no_number_name_what_is_wrong() {
    for (radius, pieces) in [
        (
            "6 / 0",
            &[
                "own/plate.toml:11:",
                "divides by zero",
                " 11 | radius = \"6 / 0\"\n",
                "^",
            ][..],
        ),
        ("6 / (width - 100)", &["divides by zero"]),
        ("widht / 9", &["`widht`", "hint: did you mean `width`?\n"]),
        (
            "sqrt(-width)",
            &["square root of `-100`, which is negative"],
        ),
        ("2 *", &["own/plate.toml:11:", "error: "]),
        ("", &["own/plate.toml:11:", "error: "]),
        ("1e400", &["own/plate.toml:11:", "error: "]),
    ] {
        let (bench, told) = with_radius(radius);
        told.exits(1).results("").says(pieces);
        assert_eq!(bench.files(), ["own/plate.toml"], "{radius}");
    }
}

#[test]
fn a_radius_that_does_not_fit_names_the_corner_and_the_largest_that_does() {
    let (_, told) = with_radius("61");
    told.exits(1)
        .results("")
        .says(&["corner 1", "61 mm", "60 mm"]);
    with_radius("60").1.exits(0);
}
