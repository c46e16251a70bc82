//! Parts placed by the tape, from definition to record.

use super::{found, panel, refused};
use crate::common::simulated::Random;
use crate::common::{assert_close, drawn, solved};
use kurbo::{Point, Vec2};
use trimloft::model::centre::{Measuring, rectangular, root_sum_square};
use trimloft::model::ties::{Tie, place};
use trimloft::solve::Pattern;

/// Features at 100 and 300 mm across, 40 and 40 mm in, and one at 180 across, 250 mm in.
const FEATURES: &str = "[[locator]]\nname = \"clip left\"\nacross = 100\nfrom_datum = 40\n\
                        [[locator]]\nname = \"clip right\"\nacross = 300\nfrom_datum = 40\n\
                        [[hole]]\nname = \"drain\"\nacross = 180\nfrom_datum = 250\ndiameter = 10\n";

const AROUND: &str = "[[opening]]\nname = \"hole\"\naround = [\"bracket\"]\nfollow = \"box\"\n";

/// The truth, 30 mm towards the right end of the tape and 150 mm in: 230 across.
fn ties(lines: &[(&str, f64)], more: &str) -> String {
    let lines: Vec<String> = lines
        .iter()
        .map(|(from, distance)| format!("{{ from = \"{from}\", distance = {distance}{more} }}"))
        .collect();
    format!(
        "{FEATURES}[[part]]\nname = \"bracket\"\nshape = \"window\"\n\
         with = {{ width = 60, height = 40 }}\nties = [{}]\n{AROUND}",
        lines.join(", ")
    )
}

/// What a tape reads to a place 230 mm across and 150 mm in.
fn reads(across: f64, from_datum: f64) -> f64 {
    (230.0_f64 - across).hypot(150.0 - from_datum)
}

fn three() -> [(&'static str, f64); 3] {
    [
        ("clip left", reads(100.0, 40.0)),
        ("clip right", reads(300.0, 40.0)),
        ("drain", reads(180.0, 250.0)),
    ]
}

fn origin(pattern: &Pattern) -> Point {
    pattern.parts[0].origin
}

#[test]
fn the_part_stands_where_the_tapes_meet() {
    // The tape counts from the left end, which lies to the right of a reader below.
    for count in [2, 3] {
        let pattern = solved(&panel(&ties(&three()[..count], "")));
        assert!(
            origin(&pattern).distance(Point::new(-30.0, 150.0)) < 1e-9,
            "{count}"
        );
        assert_close(pattern.parts[0].offset, -30.0, 1e-9, "offset");
        assert!(!found(&pattern).iter().any(|told| told.contains("ties")));
    }
    // To a corner: 30 mm to its left and 20 mm to the rear of its middle.
    let corner = |across: f64, from_datum: f64| (200.0_f64 - across).hypot(130.0 - from_datum);
    let lines = [
        ("clip left", corner(100.0, 40.0)),
        ("clip right", corner(300.0, 40.0)),
    ];
    let pattern = solved(&panel(&ties(&lines, ", to = \"rear left\"")));
    assert!(origin(&pattern).distance(Point::new(-30.0, 150.0)) < 1e-9);
}

#[test]
fn what_the_place_may_be_off_by_stands_in_its_clearance_each_way() {
    let usual = Measuring::default();
    let pattern = solved(&panel(&ties(&three()[..2], "")));
    let part = &pattern.parts[0];
    let tied = part.tied.as_ref().unwrap();
    // By hand: covariance of two distances, (J^T W J)^-1 (GUM 5.1.2).
    let features = [Point::new(100.0, 40.0), Point::new(-100.0, 40.0)];
    let sigma = |feature: Point, read: f64| {
        let end = rectangular(usual.reading);
        let blade = |length: f64| rectangular(usual.tape.permissible_error(length));
        let rounding = usual.tape.rounding();
        let own = [end, rounding, blade(feature.to_vec2().hypot())];
        root_sum_square([end, end, rounding, blade(read)].into_iter().chain(own))
    };
    let common = |read: f64| rectangular(usual.tape.permissible_error(read));
    let mut normal = [0.0; 3];
    let mut all = Vec2::ZERO;
    for (feature, (_, read)) in features.iter().zip(three()) {
        let unit = (Point::new(-30.0, 150.0) - *feature).normalize();
        let weight = 1.0 / sigma(*feature, read).powi(2);
        all += unit * weight * common(read);
        normal[0] += weight * unit.x * unit.x;
        normal[1] += weight * unit.x * unit.y;
        normal[2] += weight * unit.y * unit.y;
    }
    let determinant = normal[0] * normal[2] - normal[1] * normal[1];
    // And what the whole tape may be wrong by: in both distances, and in both features' places.
    let along = Vec2::new(
        normal[2] * all.x - normal[1] * all.y,
        normal[0] * all.y - normal[1] * all.x,
    ) / determinant;
    let shift = three()[..2]
        .iter()
        .map(|(_, read)| common(*read))
        .fold(0.0, f64::max)
        .powi(2);
    let xx = normal[2] / determinant + along.x * along.x + shift;
    let yy = normal[0] / determinant + along.y * along.y + shift;
    let xy = along.x * along.y - normal[1] / determinant;
    // Wider by their correlation, so that no direction reaches farther.
    let wider = 3.0 * (1.0 + xy.abs() / (xx * yy).sqrt());
    let (sideways, depthways) = ((wider * xx).sqrt(), (wider * yy).sqrt());
    assert_close(tied.off.sideways, sideways, 1e-6, "sideways");
    assert_close(tied.off.depthways, depthways, 1e-6, "depthways");
    // In a box each way has its own: worst case, nothing else but the print.
    let only =
        "[clearance]\ngap = 3\nmarking = 0\ncutting = 0\nprint = 0\ncombine = \"worst-case\"\n";
    let pattern = solved(&panel(&(ties(&three()[..2], "") + only)));
    let bounds = pattern.openings[0].outline.bounds();
    assert_close(
        bounds.width(),
        60.0 + 2.0 * (3.0 + sideways),
        0.021,
        "width",
    );
    assert_close(
        bounds.height(),
        40.0 + 2.0 * (3.0 + depthways),
        0.021,
        "height",
    );
    // A position that is given counts where it is more.
    let given = only.to_owned() + "position = 9\n";
    let pattern = solved(&panel(&(ties(&three()[..2], "") + &given)));
    assert_close(
        pattern.openings[0].outline.bounds().width(),
        60.0 + 24.0,
        1e-9,
        "given",
    );
    let words = format!("{:?}", drawn(&panel(&ties(&three(), ""))).record);
    assert!(words.contains("bracket placed by the tape"), "{words}");
    assert!(
        words.contains("placed by ties, not from the centreline"),
        "{words}"
    );
}

#[test]
fn ties_that_disagree_are_told_with_how_much_each_would_be_off() {
    let mut lines = three();
    lines[1].1 += 10.0;
    let told = found(&solved(&panel(&ties(&lines, ""))));
    let words = "the ties of part `bracket` disagree";
    let told = told.iter().find(|told| told.contains(words)).expect(words);
    assert!(told.contains("`clip right` by 10 mm too long"), "{told}");
    // A fourth shows which.
    let told = found(&solved(&panel(&four(&lines))));
    let told = told.iter().find(|told| told.contains(words)).expect(words);
    let rest = told.split(words).nth(1).unwrap();
    assert!(rest.contains("it is `clip right` by 1"), "{told}");
    assert!(
        !rest.contains("clip left") && !rest.contains("drain"),
        "{told}"
    );
    // Two wrong ones are not told as one.
    lines[0].1 -= 14.0;
    let told = found(&solved(&panel(&four(&lines))));
    assert!(
        told.iter()
            .any(|told| told.contains("more than one of them is wrong")),
        "{told:?}"
    );
}

/// With a fourth from 60 across and 170 in.
fn four(lines: &[(&'static str, f64)]) -> String {
    let more = "[[locator]]\nname = \"peg\"\nacross = 60\nfrom_datum = 170\n";
    more.to_owned() + &ties(&[lines, &[("peg", reads(60.0, 170.0))]].concat(), "")
}

#[test]
fn the_pattern_gives_the_ties_again_as_tape_checks() {
    let [left, right, drain] = three();
    let drawing = drawn(&panel(&ties(&[left, right, drain], "")));
    let record = format!("{:?}", drawing.record);
    // A box without radii has its four corners, A to D: the middle of the part is the next letter.
    for (from, read) in [left, right, drain] {
        let row = format!("[Words(\"{from}\"), Words(\"E\"), Words(\"{read:.1} mm\"), TickBox]");
        assert!(record.contains(&row), "{row}: {record}");
    }
}

#[test]
fn what_places_nothing_is_refused_where_it_stands() {
    let [left, right, _] = three();
    let cases = [
        (ties(&[left], ""), "ties"),
        (
            ties(&[left, ("clip rihgt", right.1)], ""),
            "did you mean `clip right`?",
        ),
        (ties(&[left, left], ""), "`clip left` is tied twice"),
        (
            ties(&[("clip left", 80.0), ("clip right", 90.0)], ""),
            "do not meet: 30 mm are lacking",
        ),
        (
            ties(&[("clip left", 100.1), ("clip right", 100.1)], ""),
            "less than 20 places nothing",
        ),
        // The drain hole lies square to the two that are nearly in line with the part.
        (
            ties(&[("clip left", 100.1), ("clip right", 100.1)], ""),
            "measure from `drain` too, which crosses at 87 degrees",
        ),
        (
            ties(&[("clip left", 300.0), ("clip right", 305.0)], ""),
            "lies off the panel",
        ),
        (
            ties(&[left, right], ", to = \"rear\""),
            "`rear` names no corner",
        ),
        (
            ties(&[left, right], "")
                .replace("height = 40", "height = 40, corner_radius = 8")
                .replace(" }, {", ", to = \"rear left\" }, {"),
            "the part has no sharp corner at its rear left",
        ),
        (
            ties(&[left, right], "").replace("ties =", "from_datum = 3\nties ="),
            "not by `ties` and `from_datum`",
        ),
        (
            ties(&[left, right], "").replace("ties =", "#"),
            "`centre_offset` is missing in `[[part]]`",
        ),
        (
            ties(&[left, right], "")
                .replace(
                    "[[locator]]\nname = \"clip left\"",
                    "thickness = 3\n[[locator]]\nname = \"clip left\"",
                )
                .replace("[[part]]", "[panel.surface]\nrake = \"10 deg\"\n[[part]]"),
            "ties are read along the panel's face",
        ),
    ];
    for (tables, words) in cases {
        let told = refused(&tables);
        assert!(told.contains(words), "{words}: {told}");
    }
}

/// Features and distances are read as a fitter reads them; the share of places that lie within the
/// stated uncertainty, k = 2, along each way is counted (JCGM 100, 6.3.3: some 95 of 100). The blade's
/// error is drawn anew for each reading, or once for the whole tape.
#[test]
fn the_stated_place_holds_as_often_as_it_says() {
    const CASES: u32 = 4000;
    let usual = Measuring::default();
    let mut random = Random(11);
    for (count, one_tape) in [2, 3, 5]
        .map(|count| [(count, false), (count, true)])
        .concat()
    {
        let mut holds = 0;
        for _ in 0..CASES {
            let all = [
                Point::new(-250.0, 40.0),
                Point::new(240.0, 60.0),
                Point::new(-60.0, 320.0),
                Point::new(150.0, 300.0),
                Point::new(-200.0, 250.0),
            ];
            let truth = Point::new(random.between(-150.0, 150.0), random.between(90.0, 260.0));
            let of_tape = usual.tape.permissible_error(300.0) * random.either_way();
            let ties: Vec<Tie> = all[..count]
                .iter()
                .map(|feature| {
                    let blade = usual.tape.permissible_error(300.0);
                    let mut wrong = || match one_tape {
                        true => of_tape,
                        false => blade * random.either_way(),
                    };
                    let wrong = [wrong(), wrong(), wrong()];
                    let mut off = |half: f64| half * random.either_way();
                    let reading = usual.reading;
                    let rounding = usual.tape.graduation / 2.0;
                    let seen = *feature
                        + Vec2::new(
                            off(reading) + off(rounding) + wrong[0],
                            off(reading) + off(rounding) + wrong[1],
                        );
                    let read = feature.distance(truth);
                    let read = read + off(reading) + off(reading) + off(rounding) + wrong[2];
                    let end = rectangular(reading);
                    let blade = rectangular(blade);
                    let round = usual.tape.rounding();
                    let each = [end, end, round, blade, end, round, blade];
                    Tie {
                        from: seen,
                        to: Vec2::ZERO,
                        distance: read,
                        uncertainty: root_sum_square(each),
                        common: blade,
                    }
                })
                .collect();
            let placed = place(&ties, |at| at.distance(truth) < 60.0);
            let Ok(placed) = placed else { continue };
            let off = placed.at - truth;
            for (off, stated) in [(off.x, placed.uncertainty.x), (off.y, placed.uncertainty.y)] {
                holds += u32::from(off.abs() <= 2.0 * stated);
            }
        }
        let share = f64::from(holds) / f64::from(2 * CASES);
        println!("{count} ties, one tape {one_tape}: {:.1} %", share * 100.0);
        assert!(
            (0.93..=0.995).contains(&share),
            "{count}, {one_tape}: {share}"
        );
    }
}
