use super::*;
use crate::base::Direction;
use crate::base::length::{Offset, Units};
use crate::input::{Extent, Value};
use crate::model::panel::Face;

#[test]
fn a_pattern_file_is_read_whole() {
    let pattern = read_pattern(PATTERN).unwrap();
    assert_eq!(pattern.units, Units::Mm);
    assert_eq!(pattern.identity.number.value, "LV2-UP-01");
    assert_eq!(pattern.identity.issued, "2026-03-02");
    assert_eq!(pattern.identity.drawn_by, "");
    assert_eq!(
        pattern.identity.notes,
        ["Two clips are shared.", "Mind the řasa."]
    );
    assert_eq!(pattern.panel.height, Some(310.0));
    assert_eq!(pattern.panel.thickness, Some(2.5));
    assert_eq!(pattern.panel.seen_from.value, Face::Below);
    assert_eq!(pattern.panel.extent, Extent::Panel);
    assert_eq!(pattern.panel.edge[1].value, (250.0, 4.0));
    assert!(pattern.panel.orientation().is_ok());
    assert_eq!(pattern.locators.len(), 2);
    assert_eq!(pattern.locators[0].diameter, Some(10.0));
    assert!(!pattern.locators[0].fixed);
    let opening = outright(&pattern, 0);
    let value = |number, angle| Some(Value { number, angle });
    let with = |name| opening.with.get(name).map(|value| value.value);
    assert_eq!(with("width"), value(63.5, false));
    assert_eq!(with("lean"), value(12.0, true));
    let offset = Offset {
        distance: 142.0,
        towards: Some(Direction::Left),
    };
    assert_eq!(opening.centre_offset.value, offset);
    assert_eq!(opening.from_datum.value, -3.0);
    // The place of a value is that of its words.
    let span = opening.centre_offset.span.clone().unwrap();
    assert_eq!(&PATTERN[span], "\"142 mm left\"");
}

#[test]
fn bare_numbers_are_in_the_units_of_the_file() {
    let text = "
        [pattern]
        number = '1'
        title = 't'
        issued = '2024-02-29'
        [panel]
        width = 40
        height = '300 mm'
        datum_edge = 'down'
        seen_from = 'behind'
        page_up = 'up'
        [[opening]]
        name = 'o'
        shape = 's'
        with.depth = 2
        centre_offset = '1/2 left'
        from_datum = 0x2
        ";
    let pattern = read_pattern(&format!("units = 'in'\nformat = 1\n{text}")).unwrap();
    assert_eq!(pattern.panel.width, Some(1016.0));
    assert_eq!(pattern.panel.height, Some(300.0));
    let opening = outright(&pattern, 0);
    assert_eq!(opening.with["depth"].value.number, 50.8);
    assert_eq!(opening.centre_offset.value.distance, 12.7);
    assert_eq!(opening.from_datum.value, 50.8);
    assert_eq!(pattern.identity.issued, "2024-02-29");
}

#[test]
fn all_problems_of_a_file_are_shown_at_once() {
    let text = "format = 1
units = \"cm\"

[pattern]
number = \"a/b\"
titel = \"Fascia\"

[panel]
width = \"6 m\"
height = true
dautm_edge = \"rear\"
seen_from = \"bellow\"
page_up = \"front\"

[[opening]]
name = \"neck\"
shape = \"notch\"
centre_offset = \"4 mm\"
from_datum = \"40 ft\"
";
    let expected = r#"a.toml:2:9: error: `units = "cm"` is not known: `mm` or `in` is allowed
 2 | units = "cm"
   |         ^^^^
hint: did you mean `mm`?

a.toml:4:1: error: `title` is missing in `[pattern]`
 4 | [pattern]
   | ^^^^^^^^^

a.toml:5:10: error: `number = "a/b"` holds other signs: up to 64 letters a to z, digits, `-`, `_` and `.` are allowed, with no dot at either end
 5 | number = "a/b"
   |          ^^^^^

a.toml:6:1: error: unknown key `titel` in `[pattern]`
 6 | titel = "Fascia"
   | ^^^^^
hint: did you mean `title`?

a.toml:8:1: error: `datum_edge` is missing in `[panel]`
 8 | [panel]
   | ^^^^^^^

a.toml:9:9: error: `width`: `6 m` is too long: at most 5 m (196.85 in) is allowed
 9 | width = "6 m"
   |         ^^^^^

a.toml:10:10: error: `height` must be a length, not `true` or `false`
 10 | height = true
    |          ^^^^
hint: write `63.5 mm`, or a bare number

a.toml:11:1: error: unknown key `dautm_edge` in `[panel]`
 11 | dautm_edge = "rear"
    | ^^^^^^^^^^
hint: did you mean `datum_edge`?

a.toml:12:13: error: `seen_from = "bellow"` is not known: `behind`, `front`, `below`, `above`, `left` or `right` is allowed
 12 | seen_from = "bellow"
    |             ^^^^^^^^
hint: did you mean `below`?

a.toml:18:17: error: `centre_offset`: `4 mm` does not say to which side: only 0 needs none
 18 | centre_offset = "4 mm"
    |                 ^^^^^^
hint: write `4 mm left` or `4 mm right`, as the vehicle's driver faces

a.toml:19:14: error: `from_datum`: `40 ft` is in `ft`, which is not a known unit of length: `mm`, `cm`, `m` and `in` are
 19 | from_datum = "40 ft"
    |              ^^^^^^^
hint: write it in inches: 1 ft is `12 in`
"#;
    assert_eq!(read_pattern(text).unwrap_err(), expected);
}

#[test]
fn an_empty_file_says_what_belongs_in_it() {
    let expected = "a.toml: error: `format` is missing in the file
hint: write `format = 1` at the head of the file

a.toml: error: `[pattern]` is missing

a.toml: error: `[panel]` is missing

a.toml: error: `[[opening]]` is missing: at least 1 must be there
";
    assert_eq!(read_pattern("").unwrap_err(), expected);
}

#[test]
fn another_format_is_not_guessed_at() {
    for format in ["2", "\"1\"", "1.0", "[1]"] {
        let report = pattern_refused("format = 1\n", &format!("format = {format}\nnew_key = 3\n"));
        let expected = format!("`format = {format}` is not known: 1 is");
        assert_eq!(said(&report), [expected]);
    }
}

#[test]
fn each_wrong_value_is_told_with_what_is_allowed() {
    let cases = [
        (
            "width = 980",
            "width = 0",
            "`width = 0` (0 mm) is out of range: 1 mm to 5000 mm is allowed",
        ),
        (
            "width = 980",
            "width = nan",
            "`width`: `nan` is not a finite number",
        ),
        (
            "width = 980",
            "width = -inf",
            "`width`: `-inf` is not a finite number",
        ),
        (
            "width = 980",
            "width = 1e999",
            "`width`: `1e999` is not a finite number",
        ),
        (
            "width = 980",
            "width = 99999999999999999999",
            "`width`: `99999999999999999999` is too long: at most 5 m (196.85 in) is allowed",
        ),
        (
            "width = 980",
            "width = \"1/0 in\"",
            "`width`: `1/0 in` has a fraction with 0 below the line",
        ),
        (
            "thickness = 2.5",
            "thickness = \"0.05 mm\"",
            "`thickness = \"0.05 mm\"` is out of range: 0.1 mm to 50 mm is allowed",
        ),
        (
            "thickness = 2.5",
            "thickness = \"3 in\"",
            "`thickness = \"3 in\"` (76.2 mm) is out of range: 0.1 mm to 50 mm is allowed",
        ),
        (
            "diameter = 10",
            "diameter = -10",
            "`diameter = -10` (-10 mm) is out of range: 0.1 mm to 5000 mm is allowed",
        ),
        (
            "across = 300",
            "across = 981",
            "locator `drain hole` lies 981 mm across, off the panel: 0 mm to 980 mm is allowed",
        ),
        (
            "from_datum = 120",
            "from_datum = 315",
            "locator `drain hole` lies 315 mm from the datum edge, off the panel: at most 314.471 mm is allowed",
        ),
        (
            "\"LV2-UP-01\"",
            "\".hidden\"",
            "`number = \".hidden\"` begins with a dot: up to 64 letters a to z, digits, `-`, `_` and `.` are allowed, with no dot at either end",
        ),
        ("\"LV2-UP-01\"", "\"\"", "`number` is empty"),
        (
            "revision = \"B\"",
            "revision = 2",
            "`revision` must be a text, not a number",
        ),
        (
            "2026-03-02",
            "2026-02-30",
            "invalid date, expected day between 01 and 28",
        ),
        (
            "2026-03-02",
            "2026-03-02T10:00:00",
            "`issued = 2026-03-02T10:00:00` is not a date: a day of the calendar as `YYYY-MM-DD` is allowed",
        ),
        (
            "2026-03-02",
            "\"2025-02-29\"",
            "`issued = \"2025-02-29\"` is not a date: a day of the calendar as `YYYY-MM-DD` is allowed",
        ),
        (
            "\"Tarn fitting bay\"",
            "\"bell \\u0007\"",
            "`owner` holds `\\u{7}`, which can't be printed: letters, digits, signs and blanks are allowed",
        ),
        (
            "\"Mind the řasa.\"",
            "12",
            "an item of `notes` must be a text, not a number",
        ),
        (
            "extent = \"panel\"",
            "extent = \"all\"",
            "`extent = \"all\"` is not known: `work` or `panel` is allowed",
        ),
        (
            "\"neck opening\"",
            "\"bolt hole\"",
            "`bolt hole` names two openings",
        ),
        (
            "\"corner\"",
            "\"drain hole\"",
            "`drain hole` names two locators",
        ),
        ("\"neck opening\"", "\" \"", "`name` is empty"),
        (
            "with = {",
            "with = 3 #",
            "`with` must be a table, not a number",
        ),
        (
            "\"12 deg\"",
            "\"400 deg\"",
            "`lean`: `400 deg` is too wide: at most 360 deg is allowed",
        ),
        (
            "\"142 mm left\"",
            "142",
            "`centre_offset`: `142` does not say to which side: only 0 needs none",
        ),
        (
            "\"142 mm left\"",
            "\"142 mm driver's side\"",
            "`centre_offset`: `142 mm driver's side` names a side that changes with the country",
        ),
        (
            "\"142 mm left\"",
            "\"142 mm rear\"",
            "`rear` does not run along the datum edge: `left` and `right` do",
        ),
        (
            "page_up = \"front\"",
            "page_up = \"up\"",
            "`page_up = \"up\"` lies along the reader's look when the panel is `seen_from = \"below\"`",
        ),
        (
            "datum_edge = \"rear\"",
            "datum_edge = \"left\"",
            "`datum_edge = \"left\"` would lie at a side of the page when `page_up = \"front\"`; it must lie at the head or the foot: `front` or `rear`",
        ),
        (
            "[[0, 0], [250, 4], [980, 0]]",
            "[[0, 0], [980, 0]]",
            "`edge` has 2 readings: 3 to 500 are allowed",
        ),
        (
            "[250, 4]",
            "[0, 4]",
            "the tape reading 0 mm does not lie past the one before it, 0 mm",
        ),
        (
            "[250, 4]",
            "[250]",
            "`[250]` in `edge` is not two lengths: a tape reading and a rise",
        ),
        (
            "[250, 4]",
            "4",
            "an item of `edge` must be two lengths, not a number",
        ),
        (
            "[980, 0]",
            "[979, 0]",
            "the last reading of `edge` is 979 mm, rise 0 mm: it must be 980 mm, rise 0 mm, within 0.5 mm",
        ),
        (
            "[0, 0]",
            "[0, 0.6]",
            "the first reading of `edge` is 0 mm, rise 0.6 mm: it must be 0 mm, rise 0 mm, within 0.5 mm",
        ),
        (
            "edge = [[0",
            "edge = 4 #",
            "`edge` must be a list of readings, not a number",
        ),
        (
            "[panel]",
            "[panel.sides]\nrake = 3\n[panel]",
            "unknown key `sides` in `[panel]`",
        ),
        (
            "[panel]",
            "[torque]\n[panel]",
            "unknown key `torque` in the file",
        ),
        (
            "[panel]",
            "[[panel]]",
            "`panel` must be a table, not a list",
        ),
        (
            "from_datum = -3",
            "from_datum = -3\nnew.a = 3",
            "unknown key `new` in `[[opening]]`",
        ),
        (
            "width = 980",
            "width = 980\nwidth = 990",
            "`width` is written twice",
        ),
    ];
    for (from, to, expected) in cases {
        let report = pattern_refused(from, to);
        assert!(
            said(&report)[0].starts_with(expected),
            "`{to}` gave:\n{report}"
        );
    }
}
