use super::bad_parts::each_says;
use super::*;

#[test]
fn clearance_is_within_reason() {
    let usual = "hint: not given, they are fitted 20, coldest -30 and hottest 80 degC";
    each_says(&[
        (
            "position = 3",
            "position = \"101 mm\"",
            &["`position = \"101 mm\"` is out of range: 0 mm to 100 mm is allowed"],
        ),
        (
            "\"0.3 %\"",
            "\"11 %\"",
            &["`scale_error = \"11 %\"` is out of range: 0 to 3 % is allowed"],
        ),
        (
            "\"0.3 %\"",
            "\"0.003\"",
            &[
                "`scale_error = \"0.003\"` is not a percentage",
                "hint: write it with its sign: `\"0.3 %\"`",
            ],
        ),
        (
            "\"15 degC\"",
            "\"59 degF\"",
            &[
                "`fitted = \"59 degF\"` is not a temperature",
                "hint: write `\"20 degC\"`, or a bare number of degrees Celsius",
            ],
        ),
        (
            "-20.5",
            "-61",
            &["`coldest = -61` is out of range: -60 to 500 degC is allowed"],
        ),
        (
            "-20.5",
            "18",
            &["`coldest`, 18 degC, lies above `fitted`, 15 degC", usual],
        ),
        (
            "fitted = \"15 degC\"\ncoldest = -20.5\nhottest = \"70 °C\"",
            "hottest = 10",
            &["`fitted`, 20 degC, lies above `hottest`, 10 degC", usual],
        ),
        (
            "hottest = \"70 °C\"",
            "hotest = 70",
            &[
                "unknown key `hotest` in `[clearance]`",
                "hint: did you mean `hottest`?",
            ],
        ),
    ]);
}

#[test]
fn what_stays_is_checked() {
    let written = "hint: write `14.2`, `\"14.2 mm\"` or `\"35 %\"`, as the finding tells it";
    let pair = "hint: write `[[120, 40], [860, 40]]`: tape reading, distance from the datum edge";
    each_says(&[
        (
            "distance = 25",
            "distance = 1001",
            &["`distance = 1001` (1001 mm) is out of range: 0 mm to 1000 mm is allowed"],
        ),
        (
            "\"250 mm left\"",
            "\"250 mm up\"",
            &["`up` does not run along the datum edge: `left` and `right` do"],
        ),
        (
            "kind = \"fold\"",
            "kind = \"bend\"",
            &["`kind = \"bend\"` is not known: `fold` is allowed"],
        ),
        (
            "[490, \"28 cm\"]",
            "[490]",
            &[
                "`[490]` in `points` is not two lengths: a tape reading and a distance from the \
                 datum edge",
                pair,
            ],
        ),
        (
            "[490, \"28 cm\"]",
            "490",
            &[
                "an item of `points` must be two lengths, not a number",
                pair,
            ],
        ),
        (
            "[490, \"28 cm\"]",
            "[100, \"28 cm\"]",
            &["this point is the same as the one before it"],
        ),
        (
            "[880, 275]",
            "[981, 275]",
            &[
                "point 3 of line `lower lip`, 981 mm across and 275 mm from the datum edge, lies off \
               the panel",
            ],
        ),
        (
            "value = 14.2",
            "value = inf",
            &["`value = inf` is not a value", written],
        ),
        (
            "value = 14.2",
            "value = []",
            &["`value` must be a value, not a list", written],
        ),
        (
            "\"edge: drain\"",
            "\"share of the width: neck opening\"",
            &[
                "`share of the width: neck opening` names two accepted findings",
                "hint: the other is named in line 120",
            ],
        ),
        (
            "fixed = true",
            "fixed = \"yes\"",
            &[
                "`fixed` must be `true` or `false`, not a text",
                "hint: write it without quotes",
            ],
        ),
        (
            "[12, 8,",
            "[12, 0.4,",
            &["`tools = 0.4` (0.4 mm) is out of range: 0.5 mm to 300 mm is allowed"],
        ),
        (
            "[12, 8, \"7/8 in\", \"8 mm\", 22.225]",
            "8",
            &[
                "`tools` must be a list of diameters, not a number",
                "hint: write `[8, 10, \"7/8 in\"]`",
            ],
        ),
    ]);
}

#[test]
fn a_shop_file_needs_its_name_and_tools() {
    let expected = "a.toml: error: `name` is missing in the file

a.toml: error: `tools` is missing in the file

a.toml:2:1: error: unknown key `tool` in the file
 2 | tool = [8]
   | ^^^^
hint: did you mean `tools`?
";
    assert_eq!(read_shop("format = 1\ntool = [8]\n").unwrap_err(), expected);
}
