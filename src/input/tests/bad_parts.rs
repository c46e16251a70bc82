use super::*;

pub(super) fn refused(from: &str, to: &str) -> String {
    read_pattern(&changed(PARTS, from, to)).expect_err("the file is bad")
}

/// What is said about the good file with each of the changes.
#[track_caller]
pub(super) fn each_says(cases: &[(&str, &str, &[&str])]) {
    for (from, to, expected) in cases {
        let report = refused(from, to);
        assert_eq!(said(&report), *expected, "`{to}` gave:\n{report}");
    }
}

#[test]
fn all_problems_are_shown_at_once_at_their_places() {
    let text = "format = 1
tools = []
[pattern]
number = '1'
title = 't'
[panel]
width = 980
height = 310
datum_edge = 'rear'
seen_from = 'below'
page_up = 'front'
[[part]]
name = 'neck'
centre_offset = 0
from_datum = 40
[[part]]
name = 'receiver'
tube = \"2 in\"
centre_offset = 0
from_datum = 40
[clearance]
gap = -1
scale_error = 0.3
combine = 'worst'
[[opening]]
name = 'mixed'
around = ['nekc', 'receiver', 'receiver']
shape = 'notch'
from_datum = 40
[[keep_out]]
name = 'radar'
guards = 'radar'
shape = 'window'
centre_offset = 0
from_datum = 1
[[line]]
name = 'lip'
kind = 'fold'
points = [[100, 40]]
[[accepted]]
finding = 'ligament: a, b'
value = 'much'
by = ''
";
    let expected = r#"a.toml:2:9: error: `tools` has 0 diameters: 1 to 200 are allowed
 2 | tools = []
   |         ^^

a.toml:12:1: error: `[[part]]` does not say what the part is
 12 | [[part]]
    | ^^^^^^^^
hint: give one of `shape`, `bolt`, `head`, `washer`, `socket` and `tube`

a.toml:18:8: error: a 2 in receiver is named by its inside, 50.8 mm; its outside varies with wall and collar
 18 | tube = "2 in"
    |        ^^^^^^
hint: measure the outside over the collar and give that as `outside`

a.toml:22:7: error: `gap = -1` (-1 mm) is out of range: 0 mm to 100 mm is allowed
 22 | gap = -1
    |       ^^

a.toml:23:15: error: `scale_error` must be a percentage, not a number
 23 | scale_error = 0.3
    |               ^^^
hint: write it with its sign: `"0.3 %"`

a.toml:24:11: error: `combine = 'worst'` is not known: `root-sum-square` or `worst-case` is allowed
 24 | combine = 'worst'
    |           ^^^^^^^
hint: did you mean `worst-case`?

a.toml:27:1: error: an opening is given in one way, not by `shape` and `around` at once
 27 | around = ['nekc', 'receiver', 'receiver']
    | ^^^^^^
hint: give a shape and its place, or the parts that pass through, as `around = ["neck"]`

a.toml:27:11: error: no part is called `nekc`
 27 | around = ['nekc', 'receiver', 'receiver']
    |           ^^^^^^
hint: did you mean `neck`?

a.toml:27:31: error: `receiver` is named twice in one opening
 27 | around = ['nekc', 'receiver', 'receiver']
    |                               ^^^^^^^^^^
hint: keep one of the two

a.toml:32:10: error: `guards = 'radar'` is not known: `sensor`, `wiring` or `exhaust` is allowed
 32 | guards = 'radar'
    |          ^^^^^^^

a.toml:39:10: error: `points` has 1 points: 2 to 200 are allowed
 39 | points = [[100, 40]]
    |          ^^^^^^^^^^^
hint: a line runs through two points or more

a.toml:40:1: error: `because` is missing in `[[accepted]]`
 40 | [[accepted]]
    | ^^^^^^^^^^^^

a.toml:42:9: error: `value = 'much'` is not a value
 42 | value = 'much'
    |         ^^^^^^
hint: write `14.2`, `"14.2 mm"` or `"35 %"`, as the finding tells it

a.toml:43:6: error: `by` is empty
 43 | by = ''
    |      ^^
"#;
    assert_eq!(read_pattern(text).unwrap_err(), expected);
}

#[test]
fn a_part_is_one_thing_with_its_own_keys() {
    let known = "hint: give one of `shape`, `bolt`, `head`, `washer`, `socket` and `tube`";
    let measure = "hint: measure the outside over the collar and give that as `outside`";
    each_says(&[
        (
            "washer = 24",
            "washer = 24\nhead = 20\nfit = \"fine\"",
            &[
                "a part is one thing, not `head` and `washer` at once",
                known,
            ],
        ),
        (
            "washer = 24",
            "wascher = 24",
            &[
                "`[[part]]` does not say what the part is",
                known,
                "unknown key `wascher` in `[[part]]`",
                "hint: did you mean `washer`?",
            ],
        ),
        (
            "washer = 24",
            "washer = 24\nfit = \"fine\"\nwith = { a = 1 }",
            &[
                "`fit` goes with `bolt`, not with `washer`",
                "`with` goes with `shape`, not with `washer`",
            ],
        ),
        (
            "washer = 24",
            "washer = 0.5",
            &["`washer = 0.5` (0.5 mm) is out of range: 1 mm to 500 mm is allowed"],
        ),
        (
            "washer = 24",
            "washer = 24\ngap = -1",
            &["`gap = -1` (-1 mm) is out of range: 0 mm to 100 mm is allowed"],
        ),
        (
            "washer = 24",
            "washer = 24\ngap = 101",
            &["`gap = 101` (101 mm) is out of range: 0 mm to 100 mm is allowed"],
        ),
        (
            "washer = 24",
            "washer = 24\ngap = \"snug\"",
            &[
                "`gap`: `snug` is not a length",
                "hint: a length is written `63.5 mm`, `6.35 cm`, `2.5 in` or `2 1/2 in`",
            ],
        ),
        (
            "fit = \"coarse\"",
            "fit = \"coarse\"\ngap = 4",
            &[
                "`gap` does not go with `drilled_together = true`",
                "hint: leave `gap` out: the hole's fit is all the clearance that such a bolt has",
            ],
        ),
        (
            "fit = \"coarse\"",
            "fit = \"loose\"",
            &["`fit = \"loose\"` is not known: `fine`, `medium` or `coarse` is allowed"],
        ),
        (
            "\"m10\"",
            "\"M9\"",
            &[
                "no bolt `M9` in the table: `M5`, `M6`, `M8`, `M10`, `M12`, `M14` and `M16` are known",
                "hint: next to it are `M8` and `M10`; give any other as `shape = \"round-hole\"` \
                 with the diameter it needs",
            ],
        ),
        (
            "tube = \"2 in\"\noutside = 76.5",
            "tube = \"3 in\"",
            &[
                "a receiver is named by its inside, here `3 in`; its outside varies with wall and \
                 collar",
                measure,
            ],
        ),
        (
            "outside = 76.5",
            "outside = 50.8",
            &[
                "the outside, 50.8 mm, is not larger than the inside that names the tube, 50.8 mm",
                measure,
            ],
        ),
        (
            "outside = 76.5",
            "outside = true",
            &[
                "`outside` must be a length, not `true` or `false`",
                "hint: write `63.5 mm`, or a bare number",
            ],
        ),
        (
            "corner_radius = 5\n",
            "corner_radius = 40\n",
            &[
                "`corner_radius`, 40 mm, does not fit: at most half the outside, 38.25 mm, is allowed",
            ],
        ),
        (
            "\"200 mm right\"",
            "\"200 mm rear\"",
            &["`rear` does not run along the datum edge: `left` and `right` do"],
        ),
    ]);
}

#[test]
fn a_bad_part_is_still_known_by_its_name() {
    let report = refused("washer = 24", "washer = 'wide'");
    assert_eq!(
        said(&report),
        [
            "`washer`: `wide` is not a length",
            "hint: a length is written `63.5 mm`, `6.35 cm`, `2.5 in` or `2 1/2 in`",
        ]
    );
}

#[test]
fn a_part_passes_through_an_opening_where_all_are_worked_out() {
    let drain = PARTS.find("[[opening]]\nname = \"drain\"").unwrap();
    let after = drain + PARTS[drain..].find("[[keep_out]]").unwrap();
    let text = format!("{}{}", &PARTS[..drain], &PARTS[after..]);
    let report = read_pattern(&text.replace(", \"receiver\"]", "]")).expect_err("the file is bad");
    assert_eq!(
        said(&report),
        [
            "part `receiver` passes through no opening",
            "hint: name it in an `[[opening]]`, as `around = [\"receiver\"]`, or leave it out",
        ]
    );
    // The one given outright may have it pass through, which is known when it is placed.
    assert!(read_pattern(&PARTS.replace(", \"receiver\"]", "]")).is_ok());
}

#[test]
fn openings_and_parts_know_each_other() {
    let ways = "hint: give a shape and its place, or the parts that pass through, as \
                `around = [\"neck\"]`";
    each_says(&[
        (
            "[\"neck\", \"receiver\"]",
            "[]",
            &["`around` has 0 names of parts: 1 to 50 are allowed"],
        ),
        (
            "[\"neck\", \"receiver\"]",
            "\"neck\"",
            &[
                "`around` must be a list of names of parts, not a text",
                "hint: write `[\"neck\", \"bolt\"]`",
            ],
        ),
        (
            "around = [\"neck\", \"receiver\"]",
            "arround = [\"neck\", \"receiver\"]",
            &[
                "`shape` is missing in `[[opening]]`",
                ways,
                "unknown key `arround` in `[[opening]]`",
                "hint: did you mean `around`?",
            ],
        ),
        (
            "from_datum = 200",
            "from_datum = 200\nfollow = \"box\"",
            &["`follow` goes with `around`, not with `shape`"],
        ),
        (
            "follow = \"contour\"",
            "follow = \"contour\"\ncorner_radius = 3",
            &[
                "`corner_radius` goes with `follow = \"box\"` only",
                "hint: a contour has the corners of its parts: leave `corner_radius` out, or follow \
                 a box",
            ],
        ),
        (
            "follow = \"contour\"",
            "follow = \"outline\"",
            &["`follow = \"outline\"` is not known: `box` or `contour` is allowed"],
        ),
        (
            "open_at_edge = true",
            "open_at_edge = 1",
            &[
                "`open_at_edge` must be `true` or `false`, not a number",
                "hint: write it without quotes",
            ],
        ),
        (
            "name = \"bolt head\"",
            "name = \"bolt\"",
            &[
                "`bolt` names two parts",
                "hint: the other is named in line 33",
                "no part is called `bolt head`",
                "hint: known here: `neck`, `bolt`, `washer`, `socket` and `receiver`",
            ],
        ),
    ]);
    let report = pattern_refused("shape = \"round-hole\"", "around = [\"neck\"]");
    assert_eq!(
        said(&report),
        [
            "no part is called `neck`",
            "hint: describe it in a `[[part]]`",
            "`centre_offset` goes with `shape`, not with `around`",
            "`from_datum` goes with `shape`, not with `around`",
        ]
    );
}
