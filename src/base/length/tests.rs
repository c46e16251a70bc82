use super::*;
use crate::random::{Came, hold};
use proptest::prelude::*;

fn mm(text: &str) -> f64 {
    parse_length(text, Units::Mm).unwrap_or_else(|error| panic!("`{text}`: {error}"))
}

fn assert_mm(text: &str, expected: f64) {
    let read = mm(text);
    assert!(
        (read - expected).abs() < 1e-12,
        "`{text}` read as {read}, not {expected}"
    );
}

fn message(text: &str) -> String {
    parse_length(text, Units::Mm).unwrap_err().to_string()
}

#[test]
fn one_length_reads_the_same_in_every_notation() {
    // 2 1/2 in = 63.5 mm, from 1 in = 25.4 mm exactly.
    let notations = [
        "63.5 mm",
        "63.5mm",
        "63.5",
        "+63.5",
        " 63.50 mm ",
        "6.35 cm",
        "0.0635 m",
        "6.35e1 mm",
        "2.5 in",
        "2.5\"",
        "2.5 ″",
        "2 1/2 in",
        "2-1/2 in",
        "2  1/2\"",
        "2½ in",
        "2 ½ in",
        "2-½ in",
        "5/2 in",
        "2 1⁄2 in",
        "127/2",
    ];
    for text in notations {
        assert_mm(text, 63.5);
    }
    assert_mm("5/8\"", 15.875);
    assert_mm("¾ in", 19.05);
    assert_mm("-2 1/2 in", -63.5);
    assert_mm("−2-1/2 in", -63.5);
    assert_eq!(parse_length("2.5", Units::In), Ok(63.5));
    assert_eq!(parse_length("10 mm", Units::In), Ok(10.0));
    assert_eq!(length_of(2.5, "2.5", Units::In), Ok(63.5));
}

#[test]
fn what_is_no_length_is_refused_by_name() {
    for text in [
        "NaN", "inf mm", "-inf", "infinity", "1e999", "1e999 mm", "nan in",
    ] {
        assert_eq!(message(text), format!("`{text}` is not a finite number"));
    }
    for text in [
        "",
        "mm",
        "abc",
        "--5",
        "5 5",
        "2 -1/2 in",
        "2- 1/2 in",
        "1/2/3",
        "/2",
        "1/",
        "--1/2",
        "1.5 1/2 in",
        "2.5/2",
        "1_000 mm",
        "0x10",
        "5 mm left",
        "½½",
        ".",
        "1e",
        "5 mm²",
    ] {
        assert!(parse_length(text, Units::Mm).is_err(), "`{text}` was read");
    }
    assert_eq!(
        message("1/0 in"),
        "`1/0 in` has a fraction with 0 below the line"
    );
    assert_eq!(
        message("2 3/2 in"),
        "`2 3/2 in` has a fraction of 1 or more beside a whole number"
    );
    assert_eq!(
        message("6 m"),
        "`6 m` is too long: at most 5 m (196.85 in) is allowed"
    );
    assert_eq!(mm("5 m"), 5000.0);
    assert!(parse_length("-5000.1", Units::Mm).is_err());
    assert_eq!(
        message("4 ft"),
        "`4 ft` is in `ft`, which is not a known unit of length: `mm`, `cm`, `m` and `in` are"
    );
    let feet = parse_length("5 1/2 ft", Units::In).unwrap_err();
    assert!(
        feet.hint()
            .is_some_and(|hint| hint.contains("1 ft is `12 in`"))
    );
    let comma = parse_length("63,5 mm", Units::Mm).unwrap_err();
    assert_eq!(
        comma.to_string(),
        "`63,5 mm` has a comma for a decimal point"
    );
    assert_eq!(comma.hint().as_deref(), Some("write `63.5 mm`"));
}

#[test]
fn angles_need_their_unit() {
    assert_eq!(parse_angle("12 deg"), Ok(12.0));
    assert_eq!(parse_angle("-12.5°"), Ok(-12.5));
    assert_eq!(parse_angle("22 1/2 deg"), Ok(22.5));
    for (text, expected) in [
        ("12", "`12` is not an angle"),
        ("12 mm", "`12 mm` is not an angle"),
        ("x deg", "`x deg` is not an angle"),
        ("nan deg", "`nan deg` is not a finite number"),
        ("nan", "`nan` is not a finite number"),
        (
            "361 deg",
            "`361 deg` is too wide: at most 360 deg is allowed",
        ),
        ("1/0 deg", "`1/0 deg` has a fraction with 0 below the line"),
    ] {
        assert_eq!(parse_angle(text).unwrap_err().to_string(), expected);
    }
}

#[test]
fn offsets_name_their_side() {
    let offset = |text: &str| parse_offset(text, Units::Mm);
    let left = |distance| {
        Ok(Offset {
            distance,
            towards: Some(Direction::Left),
        })
    };
    assert_eq!(offset("4 mm left"), left(4.0));
    assert_eq!(offset("4 left"), left(4.0));
    assert_eq!(offset("2-1/2\" left"), left(63.5));
    assert_eq!(parse_offset("1 left", Units::In), left(25.4));
    assert_eq!(offset("0 mm left"), left(0.0));
    let none = Offset {
        distance: 0.0,
        towards: None,
    };
    assert_eq!(offset("0"), Ok(none));
    assert_eq!(offset("-0 mm"), Ok(none));
    assert!(offset("-0").is_ok_and(|zero| zero.distance.is_sign_positive()));
    assert_eq!(
        offset("4 mm rear").map(|read| read.towards),
        Ok(Some(Direction::Rear))
    );
}

#[test]
fn offsets_that_leave_the_side_in_doubt_are_refused() {
    let refused = |text: &str| {
        let error = parse_offset(text, Units::Mm).unwrap_err();
        let hint = error.hint().unwrap_or_default();
        (error.to_string(), hint)
    };
    let (said, hint) = refused("4 mm");
    assert_eq!(said, "`4 mm` does not say to which side: only 0 needs none");
    assert!(hint.contains("`4 mm left` or `4 mm right`"), "{hint}");
    let (said, _) = refused("-4 mm left");
    assert_eq!(
        said,
        "`-4 mm left` is negative and names a side: 0 or more is allowed"
    );
    for text in [
        "4 mm driver's side",
        "4 mm nearside",
        "4 mm Offside",
        "4 mm off side",
    ] {
        let (said, hint) = refused(text);
        assert!(
            said.ends_with("names a side that changes with the country"),
            "{said}"
        );
        assert!(hint.contains("`left` or `right`"), "{hint}");
    }
    let (said, hint) = refused("4 mm lfet");
    assert!(
        said.contains("goes to `lfet`, which is not a side"),
        "{said}"
    );
    assert_eq!(hint, "did you mean `left`?");
    assert!(refused("4 mm out").0.contains("not a side"));
    assert!(refused("4 rihgt").0.contains("not a side"));
    assert!(refused("4 ft").0.contains("not a known unit"));
    assert!(refused("4 ft left").0.contains("not a known unit"));
    assert!(refused("left").0.contains("`` is not a length"));
    assert!(refused("nan").0.contains("finite"));
}

proptest! {
    #[test]
    fn decimals_read_back_in_every_unit(length in -4999.0..4999.0f64) {
        for (unit, factor) in [("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4), ("\"", 25.4)] {
            for blank in ["", " "] {
                let text = format!("{}{blank}{unit}", length / factor);
                let read = mm(&text);
                prop_assert!((read - length).abs() < 1e-9, "`{}` read as {}", text, read);
            }
        }
    }

    #[test]
    fn mixed_fractions_read_back(whole in 0u32..190, part in 0u32..64, power in 1u32..7, minus: bool) {
        let denominator = 1 << power;
        let numerator = part % denominator;
        let sign = if minus { -1.0 } else { 1.0 };
        let expected = sign * 25.4 * (f64::from(whole) + f64::from(numerator) / f64::from(denominator));
        let minus = if minus { "-" } else { "" };
        for joint in [" ", "-"] {
            for unit in [" in", "\"", "″"] {
                let text = format!("{minus}{whole}{joint}{numerator}/{denominator}{unit}");
                let read = mm(&text);
                prop_assert!((read - expected).abs() < 1e-9, "`{}` read as {}", text, read);
            }
        }
    }

    #[test]
    fn offsets_read_back(distance in 0.001..4999.0f64, side in 0usize..6) {
        let side = Direction::ALL[side];
        let read = parse_offset(&format!("{distance} mm {side}"), Units::In);
        prop_assert_eq!(read, Ok(Offset { distance, towards: Some(side) }));
    }
}

#[test]
fn no_text_stops_the_readers() {
    let text =
        "\\PC{0,24}|[-+0-9./ eEminf½\"leftright]{0,16}|[-]?[0-9]{1,3}([.][0-9]{1,3})?( in| mm|\"|)";
    hold(600, 0.25, text, |text| {
        let mut came = Came::Refused;
        for units in Units::ALL {
            match parse_length(&text, units) {
                Ok(length) => {
                    prop_assert!(length.abs() <= LONGEST);
                    came = Came::Through;
                }
                Err(error) => prop_assert!(!error.to_string().is_empty()),
            }
            if let Err(error) = parse_offset(&text, units) {
                prop_assert!(!error.to_string().is_empty());
            }
        }
        match parse_angle(&text) {
            Ok(angle) => prop_assert!(angle.abs() <= 360.0),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
        Ok(came)
    });
}
