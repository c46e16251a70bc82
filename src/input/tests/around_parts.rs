use super::*;
use crate::base::Direction;
use crate::base::length::Offset;
use crate::input::PartPlace;
use crate::input::{
    AroundSpec, ClearanceSpec, Follow, Guarded, LineKind, PartBody, RoundKind, SquareTo,
};
use crate::model::clearance::{Combine, Temperatures};
use crate::model::hardware::Fit;

fn around(pattern: &PatternSpec, index: usize) -> &AroundSpec {
    match &pattern.openings[index].given {
        OpeningGiven::Around(around) => around,
        OpeningGiven::Outright(_) => panic!("opening {index} is given outright"),
    }
}

#[test]
fn every_kind_of_part_is_read() {
    let pattern = read_pattern(PARTS).unwrap();
    let names: Vec<_> = pattern.parts.iter().map(|part| &*part.name.value).collect();
    assert_eq!(
        names,
        ["neck", "bolt", "bolt head", "washer", "socket", "receiver"]
    );
    let PartBody::Shape { shape, with } = &pattern.parts[0].body else {
        panic!("the neck is a shape");
    };
    assert_eq!(shape.value, "window");
    assert_eq!(with["corner_radius"].value.number, 4.0);
    assert_eq!(pattern.parts[0].square_to, SquareTo::Centreline);
    assert_eq!(pattern.parts[1].square_to, SquareTo::DatumEdge);
    let PartBody::Bolt { bolt, drilled } = &pattern.parts[1].body else {
        panic!("the bolt is a bolt");
    };
    assert_eq!((bolt.name, *drilled), ("M10", Some(Fit::Coarse)));
    let round = |index: usize| match pattern.parts[index].body {
        PartBody::Round { kind, diameter } => (kind, diameter),
        _ => panic!("part {index} is round"),
    };
    let (kind, diameter) = round(2);
    assert_eq!(kind, RoundKind::Head);
    assert!((diameter - 22.225).abs() < 1e-9);
    assert_eq!(round(3), (RoundKind::Washer, 24.0));
    assert_eq!(round(4), (RoundKind::Socket, 27.5));
    let PartBody::Tube {
        nominal,
        outside,
        corner_radius,
    } = &pattern.parts[5].body
    else {
        panic!("the receiver is a tube");
    };
    assert_eq!(nominal.value, "2 in");
    assert_eq!((*outside, *corner_radius), (76.5, 5.0));
    let offset = Offset {
        distance: 200.0,
        towards: Some(Direction::Right),
    };
    let PartPlace::Offset {
        centre_offset,
        from_datum,
    } = &pattern.parts[5].place
    else {
        panic!("placed by its offset");
    };
    assert_eq!(centre_offset.value, offset);
    assert_eq!(from_datum.value, 90.0);
}

#[test]
fn clearance_is_read_and_may_be_left_out() {
    let clearance = read_pattern(PARTS).unwrap().clearance;
    let ClearanceSpec {
        gap,
        position,
        centre,
        marking,
        cutting,
        print,
        scale_error,
        thermal,
        temperatures,
        combine,
    } = clearance;
    assert_eq!([gap, position, centre], [Some(0.0), Some(3.0), Some(0.9)]);
    assert_eq!([marking, cutting, print], [Some(0.5), Some(1.5), Some(0.4)]);
    assert!((scale_error.unwrap() - 0.003).abs() < 1e-12);
    assert_eq!(thermal, Some(1.0));
    let expected = Temperatures {
        fitted: 15.0,
        lowest: -20.5,
        highest: 70.0,
    };
    assert_eq!(temperatures, expected);
    assert_eq!(combine, Combine::WorstCase);

    let usual = read_pattern(PATTERN).unwrap().clearance;
    assert_eq!(usual.gap, None);
    assert_eq!(usual.scale_error, None);
    assert_eq!(usual.temperatures, Temperatures::default());
    assert_eq!(usual.combine, Combine::RootSumSquare);
    let zero = read_pattern(&changed(PARTS, "\"0.3 %\"", "0")).unwrap();
    assert_eq!(zero.clearance.scale_error, Some(0.0));
}

#[test]
fn openings_are_read_both_ways() {
    let pattern = read_pattern(PARTS).unwrap();
    let neck = around(&pattern, 0);
    let names: Vec<_> = neck.parts.iter().map(|name| &*name.value).collect();
    assert_eq!(names, ["neck", "receiver"]);
    assert_eq!((neck.follow, neck.open_at_edge), (Follow::Box, true));
    let radius = neck.corner_radius.clone().unwrap();
    assert_eq!(radius.value, 8.0);
    assert_eq!(&PARTS[radius.span.unwrap()], "8");
    let bolt = around(&pattern, 1);
    assert_eq!((bolt.follow, bolt.open_at_edge), (Follow::Contour, false));
    assert_eq!(bolt.corner_radius, None);
    assert_eq!(outright(&pattern, 2).shape.value, "round-hole");
    let plain = read_pattern(&changed(PARTS, "follow = \"contour\"\n", "")).unwrap();
    assert_eq!(around(&plain, 1).follow, Follow::Box);
}

#[test]
fn what_stays_is_read() {
    let pattern = read_pattern(PARTS).unwrap();
    assert!(pattern.locators[0].fixed);
    let [sensor] = pattern.keep_outs.as_slice() else {
        panic!("there is one keep-out area");
    };
    assert_eq!(sensor.guards, Guarded::Sensor);
    assert_eq!(sensor.with["diameter"].value.number, 40.0);
    assert_eq!(sensor.from_datum.value, 150.0);
    assert_eq!(sensor.distance, Some(25.0));
    let [lip] = pattern.lines.as_slice() else {
        panic!("there is one line");
    };
    assert_eq!(lip.kind, LineKind::Fold);
    let points: Vec<_> = lip.points.iter().map(|point| point.value).collect();
    assert_eq!(points, [(100.0, 280.0), (490.0, 280.0), (880.0, 275.0)]);
    let values: Vec<_> = pattern.accepted.iter().map(|one| one.value).collect();
    assert_eq!(values, [14.2, 0.35, 12.7]);
    let first = &pattern.accepted[0];
    assert_eq!(first.finding.value, "ligament: bolt opening, clip hole");
    assert_eq!(
        (&*first.by, &*first.because),
        ("bay lead", "hole is not used with this bracket")
    );
}

#[test]
fn tools_are_sorted_and_each_stands_once() {
    let tools = read_pattern(PARTS).unwrap().tools.unwrap();
    assert_eq!(tools.len(), 3);
    assert_eq!(tools[..2], [8.0, 12.0]);
    assert!((tools[2] - 22.225).abs() < 1e-6);
    assert_eq!(read_pattern(PATTERN).unwrap().tools, None);
}

#[test]
fn a_shop_file_is_read() {
    let text = "format = 1\nname = 'North bay'\nunits = 'in'\ntools = ['1 1/2', 0.5, '10 mm']\n";
    let shop = read_shop(text).unwrap();
    assert_eq!(shop.name, "North bay");
    assert_eq!(shop.tools[..2], [10.0, 12.7]);
    assert!((shop.tools[2] - 38.1).abs() < 1e-9);
}

#[test]
fn a_tube_in_bare_numbers_is_called_with_its_unit() {
    let text = changed(PARTS, "tube = \"2 in\"", "tube = 50.8");
    let pattern = read_pattern(&text).unwrap();
    let PartBody::Tube { nominal, .. } = &pattern.parts[5].body else {
        panic!("the receiver is a tube");
    };
    assert_eq!(nominal.value, "50.8 mm");
}

#[test]
fn a_fit_is_of_a_hole_that_is_drilled_together() {
    let text = PARTS.replacen("drilled_together = true\n", "", 1);
    let report = read_pattern(&text).unwrap_err().to_string();
    assert!(
        report.contains("`fit` goes with `drilled_together = true` only\n"),
        "{report}"
    );
    assert!(
        report.contains("the bolt is round, Ø10 mm, and keeps the full clearance"),
        "{report}"
    );
    let loose = text.replacen("fit = \"coarse\"\n", "", 1);
    let pattern = read_pattern(&loose).unwrap();
    assert!(matches!(
        pattern.parts[1].body,
        PartBody::Bolt { drilled: None, .. }
    ));
}

#[test]
fn a_material_is_known_or_brings_its_expansion() {
    let told = |words: &str| {
        let text = PARTS.replacen("material = \"pp\"\n", &format!("{words}\n"), 1);
        read_pattern(&text).map(|pattern| pattern.panel.material)
    };
    let refused = |words: &str| told(words).unwrap_err().to_string();
    for unknown in ["steel", "grp"] {
        let report = refused(&format!("material = \"{unknown}\""));
        for words in [
            format!("no material `{unknown}` is known; known are `pp`, `pp-talc`, "),
            "`aluminium-3003`\n".into(),
            "hint: for any other write `material = \"other\"` and its `expansion`".into(),
        ] {
            assert!(report.contains(&words), "{report}");
        }
    }
    assert!(refused("material = \"aluminum\"").contains("did you mean `aluminium`?"));
    assert!(refused("material = \"other\"").contains("`expansion` is missing in `[panel]`"));
    assert!(refused("material = \"other\"\nexpansion = 900").contains("1 to 300 millionths per K"));
    for words in ["expansion = 12", "material = \"pp\"\nexpansion = 12"] {
        assert!(refused(words).contains("`expansion` goes with `material = \"other\"` only"));
    }
    let other = told("material = \"Other\"\nexpansion = 12")
        .unwrap()
        .unwrap();
    assert_eq!(
        (other.name, other.expansion, other.is_metal),
        ("other", 12.0, true)
    );
    assert_eq!(told("material = \"PP\"").unwrap().unwrap().name, "pp");
    assert_eq!(told("").unwrap(), None);
}
