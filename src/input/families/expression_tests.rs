//! What expressions give, and what they refuse.

use super::{Expression, ExpressionError, Fault};
use std::collections::BTreeMap;

const NAMES: [&str; 5] = ["width", "depth", "minimum", "pitch", "e"];

fn values() -> BTreeMap<String, f64> {
    NAMES
        .iter()
        .zip([80.0, 60.0, 7.0, 11.0, 0.0])
        .map(|(name, value)| ((*name).to_owned(), value))
        .collect()
}

fn value(text: &str) -> Result<f64, ExpressionError> {
    Expression::new(text, &NAMES)?.value(&values())
}

fn fault(text: &str) -> (Fault, std::ops::Range<usize>) {
    let error = value(text).unwrap_err();
    (error.fault, error.place)
}

#[test]
fn arithmetic_goes_by_the_rules_of_school() {
    for (text, should) in [
        ("1 + 2 * 3", 7.0),
        ("(1 + 2) * 3", 9.0),
        ("2 - 3 - 4", -5.0),
        ("64 / 4 / 2", 8.0),
        ("64 / 4 * 2", 32.0),
        ("-width / 2", -40.0),
        ("--3 - -+2", 5.0),
        ("-2 * -3", 6.0),
        ("2 * -(1 + 2)", -6.0),
        (".5 + 5. + 0.25", 5.75),
        ("min(width / 2, depth)", 40.0),
        ("2 * min(3, 4) + 1", 7.0),
        ("1 + max(2, 1) * 2", 5.0),
        ("-min(1, 2)", -1.0),
        (
            "min(min(9, 4), max(2, min(3, 8))) * 2 + max(1 + 1, 3 - 2)",
            8.0,
        ),
        ("max(min(1, 2), 3) - min(4, (max(5, 6)))", -1.0),
        ("min (1 , 2)", 1.0),
        ("sqrt(9 + 16)", 5.0),
        ("sqrt(4) * sqrt(9)", 6.0),
        ("sin(30)", 0.5),
        ("cos(60) + sin(90) + cos(180)", 0.5),
        ("tan(45)", 1.0),
        ("sin(-90)", -1.0),
        ("asin(0.5) + acos(0.5) + atan(1)", 135.0),
        ("2 * pi", std::f64::consts::TAU),
        ("minimum + pitch", 18.0),
        ("min(minimum, pitch)", 7.0),
        ("e", 0.0),
        ("\twidth\n+ depth ", 140.0),
    ] {
        let is = value(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!(
            (is - should).abs() < 1e-12,
            "{text}: {is} should be {should}"
        );
    }
}

#[test]
fn quarter_turns_are_exact() {
    assert_eq!(value("cos(90)").unwrap(), 0.0);
    assert_eq!(value("sin(180)").unwrap(), 0.0);
    assert_eq!(fault("tan(90)").0, Fault::DivisionByZero);
}

#[test]
fn what_has_no_value_is_told_by_name() {
    assert_eq!(fault("2 + 1 / e"), (Fault::DivisionByZero, 8..9));
    assert_eq!(
        fault("3 / (width - 80) * 2"),
        (Fault::DivisionByZero, 4..16)
    );
    assert_eq!(fault("min(1, 2 / 0)").0, Fault::DivisionByZero);
    assert_eq!(fault("0 / 0").0, Fault::DivisionByZero);
    assert_eq!(
        fault("1 + sqrt(depth - width)"),
        (Fault::NegativeRoot { value: -20.0 }, 4..23)
    );
    assert_eq!(
        fault("1 + acos(width)").0,
        Fault::OutsideUnit {
            function: "acos",
            value: 80.0
        }
    );
    let large = format!("1{} * 1{}", "0".repeat(300), "0".repeat(300));
    assert_eq!(fault(&large).0, Fault::NotFinite);
    assert_eq!(fault(&format!("min(1, {large})")).0, Fault::NotFinite);
    assert_eq!(
        fault(&format!("1 / 1{}", "0".repeat(400))).0,
        Fault::NotFinite
    );
}

#[test]
fn unknown_names_are_placed_and_the_nearest_named() {
    let (is, place) = fault("depth + widht / 2");
    assert_eq!(place, 8..13);
    let nearest = Some("width".to_owned());
    let name = "widht".to_owned();
    assert_eq!(is, Fault::UnknownName { name, nearest });
    let error = value("sqr(4)").unwrap_err();
    assert_eq!(error.hint().unwrap(), "did you mean `sqrt`?");
    // Words of the evaluator beneath that a shape file may not use.
    for word in [
        "PI",
        "E",
        "TAU",
        "ln(2)",
        "exp(1)",
        "atan2(1, 2)",
        "π",
        "signum(2)",
    ] {
        assert!(matches!(fault(word).0, Fault::UnknownName { .. }), "{word}");
    }
}

#[test]
fn what_the_grammar_does_not_allow_is_refused_with_its_place() {
    for (text, place) in [
        ("", 0..0),
        ("   ", 0..3),
        ("1 +", 3..3),
        ("2 ^ 3", 2..3),
        ("2 % 3", 2..3),
        ("1 | 2", 2..3),
        ("2 3", 2..3),
        ("2 width", 2..7),
        ("width(2)", 5..6),
        ("(1 + 2", 0..1),
        ("1 + 2)", 5..6),
        ("()", 1..2),
        ("* 2", 0..1),
        ("1, 2", 1..2),
        ("(1, 2)", 2..3),
        ("min(1)", 5..6),
        ("min(1, 2, 3)", 8..9),
        ("sqrt(1, 2)", 6..7),
        ("min()", 4..5),
        ("sin 30", 0..3),
        ("1 min 2", 2..5),
        ("{width}", 0..1),
        ("1e3", 0..3),
        ("1.2.3", 0..5),
        ("5 mm", 2..4),
        (".", 0..1),
        ("ä + \u{0}", 0..2),
        ("1 + \u{1f600}", 4..8),
    ] {
        let error = value(text).expect_err(text);
        // Words after a value stand where an operator is due, whole or by their first letter.
        assert_eq!(error.place.start, place.start, "{text}: {error}");
        assert!(
            error.place.end <= place.end.max(error.place.start + 1),
            "{text}"
        );
        assert!(!error.to_string().ends_with('.'));
    }
}

#[test]
fn a_hundred_thousand_brackets_are_an_error() {
    let deep = |count: usize| format!("{}1{}", "(".repeat(count), ")".repeat(count));
    assert_eq!(value(&deep(64)).unwrap(), 1.0);
    assert_eq!(fault(&deep(65)), (Fault::TooDeep { deepest: 64 }, 64..65));
    assert!(matches!(fault(&deep(900)).0, Fault::TooDeep { .. }));
    assert!(matches!(fault(&deep(100_000)).0, Fault::TooLong { .. }));
    let nested = |count: usize| format!("{}1{}", "sqrt(".repeat(count), ")".repeat(count));
    assert!(matches!(fault(&nested(300)).0, Fault::TooDeep { .. }));
    assert!(matches!(fault(&nested(100_000)).0, Fault::TooLong { .. }));
    let signs = |count: usize| format!("{}1", "-".repeat(count));
    assert_eq!(value(&signs(1_999)).unwrap(), -1.0);
    assert!(matches!(fault(&signs(2_000)).0, Fault::TooLong { .. }));
    let long = format!("1{}", " + 1".repeat(100_000));
    assert!(matches!(fault(&long).0, Fault::TooLong { .. }));
    let nest = format!("{}7{}", "min(8, ".repeat(60), ")".repeat(60));
    assert_eq!(value(&nest).unwrap(), 7.0);
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config {
        cases: 500,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(1),
        ..Default::default()
    })]

    #[test]
    fn no_text_panics_and_what_is_read_is_understood(
        text in "([-+*/(),.^% 0-9]|min|max|sqrt|tan|pi|width|e|\\PC){0,24}",
    ) {
        match value(&text) {
            Ok(number) => assert!(number.is_finite()),
            Err(error) => assert!(text.get(error.place).is_some()),
        }
    }
}
