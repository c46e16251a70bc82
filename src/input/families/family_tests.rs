//! What families refuse, and how they say it.

use super::{Family, Purpose, ShapeError};
use crate::geometry::outline::OutlineError;
use crate::input::{Problem, ShapeSpec, Source, Value};
use std::collections::BTreeMap;

fn read(text: &str) -> Result<Family, Vec<Problem>> {
    let source = Source::new("odd.toml", text);
    let spec = ShapeSpec::read(&source).map_err(|report| report.problems)?;
    Family::from_spec(&spec)
}

pub(super) fn family(name: &str) -> Family {
    let file = format!("{}/shapes/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&file).unwrap();
    read(&text).unwrap_or_else(|problems| panic!("{file}: {problems:?}"))
}

pub(super) fn given(pairs: &[(&str, f64)]) -> BTreeMap<String, Value> {
    let length = |number| Value {
        number,
        angle: false,
    };
    pairs
        .iter()
        .map(|&(name, number)| (name.to_owned(), length(number)))
        .collect()
}

fn errors(name: &str, pairs: &[(&str, f64)]) -> Vec<ShapeError> {
    family(name).outline(&given(pairs)).unwrap_err()
}

fn only(name: &str, pairs: &[(&str, f64)]) -> (String, Option<String>) {
    let errors = errors(name, pairs);
    assert_eq!(errors.len(), 1, "{errors:?}");
    (errors[0].to_string(), errors[0].hint())
}

fn shape(text: &str) -> String {
    format!("format = 1\nname = \"odd\"\ntitle = \"Odd\"\n{text}")
}

/// A square of side `a` with its parts replaced.
fn square(parameter: &str, replaced: &str, by: &str) -> String {
    let corners = "[[corner]]\nx = \"0\"\ny = \"0\"\n[[corner]]\nx = \"a\"\ny = \"0\"\n\
                   [[corner]]\nx = \"a\"\ny = \"a\"\nradius = \"r\"\n\
                   [[corner]]\nx = \"0\"\ny = \"a\"\n";
    let parameters = format!("[parameters.a]\n{parameter}\n[parameters.r]\ndefault = \"2 mm\"\n");
    shape(&format!(
        "{parameters}{}",
        corners.replacen(replaced, by, 1)
    ))
}

const PLAIN: &str = "default = \"40 mm\"";

/// Message of the only problem, and the bytes it points at.
fn refused(text: &str) -> (String, String) {
    let problems = read(text).unwrap_err();
    assert_eq!(problems.len(), 1, "{problems:?}");
    let place = problems[0].span.clone().map(|span| text[span].to_owned());
    (problems[0].message.clone(), place.unwrap_or_default())
}

#[test]
fn words_of_expressions_name_no_parameter() {
    for word in super::fault::RESERVED_WORDS {
        let text = square(PLAIN, "radius", "radius")
            .replace("parameters.r]", &format!("parameters.{word}]"));
        assert!(read(&text).is_err(), "{word}");
    }
}

#[test]
fn limits_name_the_value_and_the_allowed_range() {
    let (message, hint) = only("notch", &[("width", 3.0), ("corner_radius", 1.5)]);
    assert_eq!(message, "`width` is `3 mm`; it must be at least 5 mm");
    assert_eq!(hint, None);
    let (message, hint) = only("notch", &[("corner_radius", 41.0)]);
    assert_eq!(
        message,
        "`corner_radius` is `41 mm`; it must be from 1.5 mm to 40 mm"
    );
    assert_eq!(hint.unwrap(), "the limit here is `min(width / 2, depth)`");
    assert!(
        family("notch")
            .outline(&given(&[("corner_radius", 40.0)]))
            .is_ok()
    );
    let (message, _) = only("notch", &[("corner_radius", -1.0)]);
    assert_eq!(
        message,
        "`corner_radius` is `-1 mm`; it must be from 1.5 mm to 40 mm"
    );
}

#[test]
fn all_troubles_are_told_at_once() {
    let all = errors(
        "notch",
        &[("widht", 80.0), ("depht", 3.0), ("width", f64::NAN)],
    );
    assert_eq!(all.len(), 3);
    let hints: Vec<_> = all.iter().filter_map(ShapeError::hint).collect();
    assert_eq!(hints, ["did you mean `depth`?", "did you mean `width`?"]);
    assert_eq!(all[0].to_string(), "shape `notch` has no parameter `depht`");
    assert_eq!(
        errors("stepped-notch", &[("depth", 1.0), ("mouth_depth", 1.0)]).len(),
        3
    );
}

#[test]
fn angles_and_lengths_are_not_mixed_up() {
    let angle = |number| Value {
        number,
        angle: true,
    };
    let notch = family("notch");
    let values = BTreeMap::from([("width".to_owned(), angle(80.0))]);
    let errors = notch.outline(&values).unwrap_err();
    assert_eq!(
        errors[0].to_string(),
        "`width` is `80 deg`; it must be a length"
    );
    let text = square("default = \"40 deg\"", "radius", "radius");
    let odd = read(&text).unwrap();
    let errors = odd.outline(&given(&[("a", 12.0)])).unwrap_err();
    assert_eq!(errors[0].to_string(), "`a` is `12 mm`; it must be an angle");
    assert!(
        odd.outline(&BTreeMap::from([("a".to_owned(), angle(12.0))]))
            .is_ok()
    );
}

#[test]
fn a_radius_that_does_not_fit_names_the_corner_and_the_largest() {
    let (message, hint) = only(
        "tapered-notch",
        &[("throat_width", 20.0), ("corner_radius", 45.0)],
    );
    // Turn 90 - atan(40 / 60): half the throat over the tangent of half of it.
    let turn = (90.0 - (40.0_f64 / 60.0).atan().to_degrees()).to_radians();
    // The neighbour has the same radius and leaves this corner nothing; 20 mm of throat in all.
    let left = (20.0 - 45.0 * (turn / 2.0).tan()).max(0.0);
    assert_eq!(left, 0.0);
    assert_eq!(
        message,
        "the radius of corner 2 is `45 mm`; the largest that fits is 0 mm"
    );
    assert_eq!(
        hint.unwrap(),
        "the radius of that corner is `corner_radius`"
    );
    let all = errors(
        "tapered-notch",
        &[("throat_width", 20.0), ("corner_radius", 20.0)],
    );
    let ShapeError::Outline { error, .. } = &all[0] else {
        panic!("{all:?}");
    };
    let OutlineError::RadiusTooLarge {
        largest, corner, ..
    } = error
    else {
        panic!("{error:?}");
    };
    let expected = (20.0 - 20.0 * (turn / 2.0).tan()) / (turn / 2.0).tan();
    assert_eq!(*corner, 2);
    assert!(
        (largest - expected).abs() < 1e-9,
        "{largest} should be {expected}"
    );
    assert_eq!(all[0].parameter(), Some("corner_radius"));
}

#[test]
fn a_file_is_told_where_its_expressions_go_wrong() {
    assert_eq!(
        refused(&square(PLAIN, "x = \"a\"", "x = \"3 * b\"")),
        (
            "`b` is neither a parameter of this shape nor a function".into(),
            "b".into()
        )
    );
    assert_eq!(
        refused(&square(PLAIN, "x = \"a\"", "x = \"a / (a - 40)\"")),
        (
            "with the defaults, the expression divides by zero".into(),
            "(a - 40)".into()
        )
    );
    let deep = |count| {
        let brackets = format!("x = \"{}a{}\"", "(".repeat(count), ")".repeat(count));
        refused(&square(PLAIN, "x = \"a\"", &brackets)).0
    };
    assert_eq!(deep(100), "brackets are nested more than 64 deep");
    assert!(deep(100_000).contains("letters: at most"));
    let both = square(PLAIN, "x = \"a\"\ny = \"0\"", "x = \"a +\"\ny = \"sqrt\"");
    assert_eq!(read(&both).unwrap_err().len(), 2);
}

#[test]
fn defaults_must_hold_and_give_an_outline() {
    let (message, place) = refused(&square(
        "default = \"40 mm\"\nat_least = \"r * 30\"",
        "radius",
        "radius",
    ));
    assert_eq!(
        message,
        "the default of `a` is `40 mm`; it must be at least 60 mm"
    );
    assert!(place.contains("40 mm"));
    let (message, place) = refused(&square(PLAIN, "radius = \"r\"", "radius = \"41\""));
    assert_eq!(
        message,
        "the defaults give no outline: the radius of corner 3 is `41 mm`; the largest that fits \
         is 40 mm"
    );
    assert!(place.contains("41"));
    let (message, _) = refused(&square(
        PLAIN,
        "x = \"a\"\ny = \"0\"",
        "x = \"0\"\ny = \"2 * a\"",
    ));
    assert!(message.contains("crosses or touches itself"), "{message}");
}

fn lacking(family: &Family, purpose: Purpose, pairs: &[(&str, f64)]) -> Vec<String> {
    match family.outline_for(purpose, &given(pairs)) {
        Ok(_) => vec![],
        Err(errors) => match errors.as_slice() {
            [ShapeError::Lacking { lacking, .. }] => {
                lacking.iter().map(|one| one.name.clone()).collect()
            }
            other => panic!("{other:?}"),
        },
    }
}

#[test]
fn no_shipped_family_makes_up_a_size() {
    use Purpose::{Opening, Solid};
    let sizes = [
        ("notch", vec!["width", "depth"]),
        (
            "flared-notch",
            vec!["width", "depth", "mouth_width", "flare_depth"],
        ),
        (
            "tapered-notch",
            vec!["mouth_width", "throat_width", "depth"],
        ),
        (
            "stepped-notch",
            vec!["mouth_width", "mouth_depth", "throat_width", "depth"],
        ),
        (
            "t-opening",
            vec!["stem_width", "stem_depth", "bar_width", "bar_depth"],
        ),
        ("window", vec!["width", "height"]),
        ("slot", vec!["length", "width"]),
        ("round-hole", vec!["diameter"]),
    ];
    for (name, sizes) in &sizes {
        assert_eq!(lacking(&family(name), Opening, &[]), *sizes, "{name}");
    }
    let window = family("window");
    assert_eq!(lacking(&window, Solid, &[("width", 60.0)]), ["height"]);
    // The inner corners of a notch are at least 1.5 mm, so that nobody can leave them out of an area.
    let notch = [("width", 60.0), ("depth", 40.0)];
    assert_eq!(lacking(&family("notch"), Solid, &notch), ["corner_radius"]);
}

#[test]
fn a_corner_radius_left_out_is_sharp_for_a_part_and_the_familys_own_for_an_opening() {
    let window = family("window");
    let size = given(&[("width", 60.0), ("height", 40.0)]);
    let area = |purpose| window.outline_for(purpose, &size).unwrap().area();
    assert!((area(Purpose::Solid) - 2400.0).abs() < 1e-9);
    let round = (4.0 - std::f64::consts::PI) * 100.0;
    assert!((area(Purpose::Opening) - (2400.0 - round)).abs() < 1e-9);
}

/// An L of 40 mm with a radius in its inner corner.
const ELL: &str = "[parameters.r]\nkind = \"radius\"\ndefault = \"5 mm\"\n\
    [[corner]]\nx = \"0\"\ny = \"0\"\n[[corner]]\nx = \"40\"\ny = \"0\"\n\
    [[corner]]\nx = \"40\"\ny = \"20\"\n[[corner]]\nx = \"20\"\ny = \"20\"\nradius = \"r\"\n\
    [[corner]]\nx = \"20\"\ny = \"40\"\n[[corner]]\nx = \"0\"\ny = \"40\"\n";

#[test]
fn a_fillet_in_an_inner_corner_of_a_part_must_be_given() {
    // Sharp, it would make the part smaller than it is.
    let ell = read(&shape(ELL)).unwrap();
    assert_eq!(lacking(&ell, Purpose::Solid, &[]), ["r"]);
    assert_eq!(lacking(&ell, Purpose::Solid, &[("r", 5.0)]), [""; 0]);
    assert_eq!(lacking(&ell, Purpose::Opening, &[]), [""; 0]);
    // The same radius at an outer corner may be left out, unless 0 does not make it sharp.
    let outer = ELL.replacen("radius = \"r\"\n", "", 1);
    let at_outer = |radius: &str| {
        outer.replacen(
            "x = \"40\"\ny = \"0\"\n",
            &format!("x = \"40\"\ny = \"0\"\nradius = \"{radius}\"\n"),
            1,
        )
    };
    let sharp = |radius| {
        lacking(
            &read(&shape(&at_outer(radius))).unwrap(),
            Purpose::Solid,
            &[],
        )
    };
    assert_eq!(sharp("r"), [""; 0]);
    assert_eq!(sharp("8 - r"), ["r"]);
}

#[test]
fn a_radius_moves_no_corner() {
    let text = shape(&ELL.replacen("x = \"40\"", "x = \"40 + r\"", 1));
    let (message, at) = refused(&text);
    assert_eq!(
        message,
        "`r` is a radius, and a corner's place can't hang on it"
    );
    assert!(at.contains("40 + r"), "{at}");
}
