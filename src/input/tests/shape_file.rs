use super::*;
use crate::geometry::outline::Side;

#[test]
fn a_shape_file_is_read_whole() {
    let shape = read_shape(SHAPE).unwrap();
    assert_eq!(shape.name.value, "notch");
    assert_eq!(shape.about, "Cut in from the datum edge.");
    let names = shape
        .parameters
        .iter()
        .map(|parameter| parameter.name.value.as_str());
    assert_eq!(
        names.collect::<Vec<_>>(),
        ["width", "depth", "corner_radius", "angle"]
    );
    let limit = |index: usize| {
        let parameter = &shape.parameters[index];
        let value = |limit: &Option<crate::input::Placed<String>>| {
            limit.as_ref().map(|limit| limit.value.clone())
        };
        (value(&parameter.at_least), value(&parameter.at_most))
    };
    assert_eq!(limit(0), (Some("5".into()), None));
    assert_eq!(limit(1), (Some("5.5".into()), None));
    assert_eq!(limit(2), (None, Some("min(width / 2, depth)".into())));
    assert_eq!(limit(3), (None, Some("45".into())));
    assert!(shape.parameters[3].default.value.angle);
    assert_eq!(shape.parameters[0].default.value.number, 80.0);
    let y: Vec<_> = shape
        .corners
        .iter()
        .map(|corner| corner.y.value.as_str())
        .collect();
    assert_eq!(y, ["0", "depth", "50.8", "0"]);
    let sides: Vec<_> = shape.corners.iter().map(|corner| corner.side).collect();
    assert_eq!(sides, [Side::Cut, Side::Cut, Side::Cut, Side::Open]);
    assert!(shape.corners[0].radius.is_none());
}

#[test]
fn arithmetic_is_not_taken_for_a_length() {
    // `2-1/2` is 3/2 in arithmetic, and 2 1/2 only with a unit after it.
    for (written, expected) in [
        ("2-1/2", "2-1/2"),
        ("2-1/2 in", "63.5"),
        ("-5 mm", "-5"),
        ("2 * m", "2 * m"),
        ("1e1 mm", "10"),
        ("depth - m", "depth - m"),
        ("30 deg", "30"),
    ] {
        let text = changed(SHAPE, "\"2 in\"", &format!("\"{written}\""));
        assert_eq!(
            read_shape(&text).unwrap().corners[2].y.value,
            expected,
            "`{written}`"
        );
    }
}

#[test]
fn each_wrong_value_of_a_shape_is_told() {
    let cases = [
        (
            "name = \"notch\"",
            "name = \"a b\"",
            "`name = \"a b\"` holds other signs",
        ),
        (
            "[parameters.depth]",
            "[parameters.max]",
            "`max` can't name a parameter: expressions keep `min`, `max`,",
        ),
        (
            "[parameters.depth]",
            "[parameters.\"a b\"]",
            "`a b` can't name a parameter: letters",
        ),
        (
            "[parameters.depth]",
            "[parameters.2x]",
            "`2x` can't name a parameter: letters",
        ),
        (
            "default = 60",
            "#",
            "`default` is missing in `[parameters.depth]`",
        ),
        (
            "default = 60",
            "default = true",
            "`default` must be a length, not `true` or `false`",
        ),
        (
            "at_least = 5.5",
            "at_leest = 5.5",
            "unknown key `at_leest` in `[parameters.depth]`",
        ),
        (
            "at_least = 5.5",
            "at_least = \"9 m\"",
            "`at_least`: `9 m` is too long",
        ),
        ("at_least = 5.5", "at_least = \" \"", "`at_least` is empty"),
        (
            "at_least = 5.5",
            "at_least = [1]",
            "`at_least` must be an expression, not a list",
        ),
        (
            "\"open\"",
            "\"closed\"",
            "`to_next = \"closed\"` is not known: `cut` or `open` is allowed",
        ),
        ("y = 0\n", "\n", "`y` is missing in `[[corner]]`"),
        ("y = 0\n", "y = inf\n", "`y`: `inf` is not a finite number"),
        (
            "y = 0\n",
            "y = 0\nz = 3\n",
            "unknown key `z` in `[[corner]]`",
        ),
        (
            "title = \"Open notch\"",
            "",
            "`title` is missing in the file",
        ),
    ];
    for (from, to, expected) in cases {
        let report = shape_refused(from, to);
        assert!(
            said(&report)[0].starts_with(expected),
            "`{to}` gave:\n{report}"
        );
    }
}

#[test]
fn shapes_have_few_enough_parts() {
    let head = "format = 1\nname = 'a'\ntitle = 'b'\n";
    let corners = |count: usize| "[[corner]]\nx = 0\ny = 0\n".repeat(count);
    assert!(read_shape(&format!("{head}{}", corners(3))).is_ok());
    // Each expression is short enough, and all are too long together.
    let long = corners(500).replace("x = 0", &format!("x = \"0{}\"", " + 0".repeat(99)));
    let report = read_shape(&format!("{head}{long}")).unwrap_err();
    assert!(
        report.contains("more than 100000 letters from here on"),
        "{report}"
    );
    for (count, expected) in [
        (0, "`[[corner]]` is missing: at least 3 must be there"),
        (2, "`[[corner]]` is there 2 times: 3 to 500 are allowed"),
        (501, "`[[corner]]` is there 501 times: 3 to 500 are allowed"),
    ] {
        let report = read_shape(&format!("{head}{}", corners(count))).unwrap_err();
        assert_eq!(said(&report), [expected]);
    }
    let parameters: String = (0..51)
        .map(|at| format!("[parameters.p{at}]\ndefault = 1\n"))
        .collect();
    let report = read_shape(&format!("{head}{}{parameters}", corners(3))).unwrap_err();
    assert_eq!(
        said(&report),
        ["`parameters` has 51 parameters: at most 50 are allowed"]
    );
}
