use super::*;

#[test]
fn hints_say_what_to_do() {
    let cases = [
        (
            "[panel]",
            "[torque]\n[panel]",
            "hint: known here: `format`, `units`, `pattern`, `panel`, `centreline`, `locator`, `part`, \
             `clearance`, `opening`, `keep_out`, `line`, `accepted` and `tools`",
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
        ["`with` gives 103 values: at most 100 are allowed"]
    );
}
