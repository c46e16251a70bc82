use super::*;

#[test]
fn hints_say_what_to_do() {
    let cases = [
        (
            "[panel]",
            "[torque]\n[panel]",
            "hint: known here: `format`, `units`, `pattern`, `panel`, `centreline`, `locator`, `part`, \
             `clearance`, `hole`, `opening`, `trim`, `keep_out`, `foot`, `feature`, `line`, `accepted` and `tools`",
        ),
        (
            "[panel]",
            "[[panel]]",
            "hint: write `[panel]`, then a line for each key",
        ),
        (
            "page_up = \"front\"",
            "page_up = \"up\"",
            "hint: write `front`, `rear`, `left` or `right`",
        ),
        (
            "datum_edge = \"rear\"",
            "datum_edge = \"left\"",
            "hint: or turn the page: `page_up = \"left\"` or `page_up = \"right\"`",
        ),
        (
            "\"neck opening\"",
            "\"bolt hole\"",
            "hint: the other is named in line 35",
        ),
        (
            "width = 980",
            "width = 980\nwidth = 990",
            "hint: keep one of the two",
        ),
    ];
    for (from, to, expected) in cases {
        let report = pattern_refused(from, to);
        assert_eq!(said(&report)[1], expected, "`{to}` gave:\n{report}");
    }
}

#[test]
fn lists_that_are_no_lists_or_too_long_are_refused() {
    let head = &PATTERN[..PATTERN.find("[[locator]]").unwrap()];
    let report = read_pattern(&format!("{head}[opening]\nname = 'a'\n")).unwrap_err();
    assert_eq!(
        said(&report),
        [
            "`opening` must be a list of tables, not a table",
            "hint: write `[[opening]]`, with two brackets, before each"
        ]
    );
    let report = read_pattern(&format!("opening = []\n{head}")).unwrap_err();
    assert_eq!(
        said(&report),
        ["`[[opening]]` is there 0 times: 1 to 200 are allowed"]
    );
    let report = read_pattern(&format!("opening = [3]\n{head}")).unwrap_err();
    assert_eq!(
        said(&report)[0],
        "an item of `opening` must be a table, not a number"
    );
    let many = "[[opening]]\nname = 'a'\n".repeat(201);
    let report = read_pattern(&format!("{head}{many}")).unwrap_err();
    assert_eq!(
        said(&report),
        ["`[[opening]]` is there 201 times: 1 to 200 are allowed"]
    );
    let values = (0..101)
        .map(|at| format!("v{at} = 1"))
        .collect::<Vec<_>>()
        .join(", ");
    let report = pattern_refused("depth = 45", &values);
    assert_eq!(
        said(&report),
        ["`with` has 103 values: at most 100 are allowed"]
    );
}

#[test]
fn letters_of_phones_are_read_where_they_are_meant_and_named_where_they_break_toml() {
    let read = |to: &str| read_pattern(&changed(PATTERN, "height = \"31 cm\"", to)).unwrap();
    for (written, mm) in [
        ("height = '12½″'", 317.5),
        ("height = \"12\u{a0}1⁄2\u{a0}in\"", 317.5),
        ("height = \"12-1/2”\"", 317.5),
        ("height = '３１０ｍｍ'", 310.0),
        ("height = '12 1/2 inches'", 317.5),
        ("height = '12.5 in.'", 317.5),
    ] {
        let height = read(written).panel.height.unwrap();
        assert!((height - mm).abs() < 1e-9, "{written} read as {height}");
    }
    for (to, place, letter) in [
        (
            "name = “Rear fascia”",
            8,
            "`“`, a typographic quotation mark (U+201C), is not known",
        ),
        (
            "name\u{a0}= 'Rear fascia'",
            5,
            "a non-breaking blank (U+00A0) is not known",
        ),
        (
            "name = \"Rear fascia”",
            20,
            "`”`, a typographic quotation mark (U+201D), is not known",
        ),
        (
            "name = 'Rear fascia'\nrim = 3½",
            8,
            "`½`, a fraction in one letter (U+00BD),",
        ),
    ] {
        let from = PATTERN
            .lines()
            .find(|line| line.starts_with("name = \"Rear"))
            .unwrap();
        let report = pattern_refused(from, to);
        assert!(report.contains(letter), "{report}");
        assert!(report.contains(&format!(":{place}: error: ")), "{report}");
        assert_eq!(report.matches(": error: ").count(), 1, "{report}");
        assert!(report.contains("\nhint: "), "{report}");
    }
}

#[test]
fn a_length_that_lacks_its_quotes_is_told_so_and_nothing_that_follows_from_it() {
    for to in [
        "width = 38 1/2",
        "width = 5/16\"",
        "width = 38 in",
        "width = 2½",
    ] {
        let text = changed(PATTERN, "width = 980", to);
        let text = changed(&text, "edge = [[0, 0], [250, 4], [980, 0]]\n", "");
        let report = read_pattern(&text).unwrap_err();
        assert_eq!(report.matches(": error: ").count(), 1, "{report}");
        assert!(report.contains("`\"2 1/2 in\"`"), "{report}");
    }
}

#[test]
fn words_of_daily_talk_lead_to_the_right_direction() {
    for (word, meant) in [
        ("back", "write `rear`: "),
        ("Bottom", "write `down`: "),
        ("top", "write `up`: "),
        ("driver side", "write `left` or `right`: "),
        ("driver's side", "write `left` or `right`: "),
        ("passenger side", "write `left` or `right`: "),
        ("nearside", "write `left` or `right`: "),
        ("off-side", "write `left` or `right`: "),
        ("kerb side", "write `left` or `right`: "),
    ] {
        let report = pattern_refused("datum_edge = \"rear\"", &format!("datum_edge = \"{word}\""));
        assert!(report.contains(&format!("hint: {meant}")), "{report}");
        assert!(
            report.contains("the vehicle's own, as its driver faces"),
            "{report}"
        );
    }
    for (word, face) in [("rear", "behind"), ("bottom", "below"), ("top", "above")] {
        let from = PATTERN
            .lines()
            .find(|line| line.starts_with("seen_from"))
            .unwrap();
        let report = pattern_refused(from, &format!("seen_from = \"{word}\""));
        assert!(
            report.contains(&format!("hint: write `{face}`: ")),
            "{report}"
        );
    }
}
