//! What stands behind the panel: boxes and cylinders in closed form, and points drawn by chance.

use super::{found, panel, refused};
use crate::common::simulated::Random;
use crate::common::{assert_close, drawn, solved};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;
use trimloft::solve::Pattern;

const ALLOWED: &str = "[clearance]\ngap = 6\nposition = 2\nmarking = 0.5\ncutting = 1.5\n\
                       print = 0\ncentre = 0\ncombine = \"worst-case\"\n";

fn feature(kind: &str, body: &str, offset: f64, from_datum: f64, height: f64) -> String {
    format!(
        "[[feature]]\nname = \"it\"\nkind = \"{kind}\"\n{body}\n\
         centre_offset = \"{offset} mm left\"\nfrom_datum = {from_datum}\nheight = {height}\n"
    )
}

fn bar(width: f64, height: f64) -> String {
    format!(
        "shape = \"window\"\nwith = {{ width = {width}, height = {height}, corner_radius = 0 }}"
    )
}

/// A bracket of 60 x 40 mm behind the panel, 100 mm in, and a window far from it.
fn bracket(behind: &str) -> String {
    format!(
        "{ALLOWED}[[part]]\nname = \"bracket\"\nshape = \"window\"\n\
         with = {{ width = 60, height = 40 }}\ncentre_offset = 0\nfrom_datum = 100\n{behind}\
         [[opening]]\nname = \"far\"\nshape = \"window\"\n\
         with = {{ width = 40, height = 30, corner_radius = 4 }}\ncentre_offset = \"30 mm right\"\n\
         from_datum = 190\n"
    )
}

fn distance(tables: &str) -> f64 {
    solved(&panel(tables)).fouls[0].distance
}

#[test]
fn prisms_are_as_far_apart_as_boxes_and_cylinders_are() {
    // Two boxes side by side: 50 less 30 less 5. The one behind by 20, the other 12 high: 8 in depth.
    let rib = |offset, height| feature("rib", &bar(10.0, 40.0), offset, 100.0, height);
    assert_close(
        distance(&(bracket("behind = 20\n") + &rib(50.0, 30.0))),
        15.0,
        1e-9,
        "beside",
    );
    assert_close(
        distance(&(bracket("behind = 20\n") + &rib(50.0, 12.0))),
        17.0,
        1e-9,
        "15 and 8",
    );
    assert_close(
        distance(&(bracket("behind = 20\n") + &rib(0.0, 12.0))),
        8.0,
        1e-9,
        "over it",
    );
    assert_close(
        distance(&(bracket("behind = 20\n") + &rib(0.0, 25.0))),
        0.0,
        1e-9,
        "meet",
    );
    // A cylinder off the corner at (30, 120): 3, 4, 5 times 6, less its radius.
    let peg = feature(
        "peg",
        "shape = \"round-hole\"\nwith = { diameter = 8 }",
        48.0,
        144.0,
        30.0,
    );
    assert_close(
        distance(&(bracket("behind = 20\n") + &peg)),
        26.0,
        1e-9,
        "off a corner",
    );
}

#[test]
fn what_fouls_is_told_before_the_cut_with_what_to_do() {
    let rib = feature("rib", &bar(100.0, 4.0), 75.0, 100.0, 30.0);
    // From 25 to 125: it reaches 5 into the bracket, which may stand 4 farther out: 9 mm too long.
    let told = |tables: &str| -> (Vec<String>, Vec<String>) {
        let pattern: Pattern = solved(&panel(tables));
        let hints = pattern.findings.iter().map(|finding| finding.hint.clone());
        (found(&pattern), hints.collect())
    };
    let (findings, hints) = told(&(bracket("behind = 2\n") + &rib));
    let words = "rib `it`, 30 mm high, comes within 0 mm of `bracket` as the panel is brought up";
    assert!(
        findings.iter().any(|told| told.contains(words)),
        "{findings:?}"
    );
    let words = "cut rib `it` 9 mm back beside `bracket` before the panel goes on";
    assert!(hints.iter().any(|told| told == words), "{hints:?}");
    let (_, hints) = told(&(bracket("behind = 20\n") + &rib));
    let words =
        "cut rib `it` 9 mm back beside `bracket`, or down to 16 mm before the panel goes on";
    assert!(hints.iter().any(|told| told == words), "{hints:?}");
    // Along its side it loses 1 mm, not its length; between two parts each has its own amount.
    let along = feature("rib", &bar(40.0, 10.0), 0.0, 128.0, 30.0);
    let (_, hints) = told(&(bracket("behind = 2\n") + &along));
    let words = "cut rib `it` 1 mm back beside `bracket` before the panel goes on";
    assert!(hints.iter().any(|told| told == words), "{hints:?}");
    let two = bracket("behind = 2\n").replace(
        "[[opening]]",
        "[[part]]\nname = \"arm\"\nshape = \"window\"\nwith = { width = 20, height = 40 }\n\
         centre_offset = \"125 mm left\"\nfrom_datum = 100\nbehind = 2\n[[opening]]",
    );
    let steps = drawn(&panel(&(two + &rib))).front.steps.join(" ");
    for words in ["9 mm back beside `bracket`", "14 mm back beside `arm`"] {
        assert!(steps.contains(words), "{words}: {steps}");
    }
    let tower = feature("clip tower", &bar(20.0, 20.0), 43.0, 100.0, 30.0);
    let sheet = format!("{:?}", drawn(&panel(&(bracket("behind = 20\n") + &tower))));
    for words in [
        "On the hidden side, take off clip tower `it`.",
        "behind: it",
        "30 mm high",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
    // Far enough off, nothing is told.
    let (findings, _) =
        told(&(bracket("behind = 20\n") + &feature("peg", &bar(10.0, 10.0), 60.0, 100.0, 30.0)));
    assert!(
        !findings.iter().any(|told| told.contains("behind")),
        "{findings:?}"
    );
    // In the waste of the window it goes with it.
    let lost = feature("clip tower", &bar(20.0, 20.0), -30.0, 190.0, 30.0);
    let (findings, _) =
        told(&(bracket("behind = 20\n") + &lost.replace("-30 mm left", "30 mm right")));
    assert!(
        findings
            .iter()
            .any(|told| told.contains("clip tower `it` goes with the waste")),
        "{findings:?}"
    );
    let named = bracket("behind = 20\n") + "[[opening]]\nname = \"on\"\naround = [\"bracket\"]\n";
    let told = refused(&named);
    assert!(
        told.contains("stands behind the panel and comes through no opening"),
        "{told}"
    );
}

/// Points along each way of a net.
const NET: u32 = 13;

/// No point of a net over the one prism is nearer to the other than is told, and its nearest, sought
/// by finer nets, as near within 0.01 mm.
#[test]
fn sampled_points_come_as_near_as_is_told() {
    let mut random = Random(5);
    for _ in 0..500 {
        let (offset, depth) = (random.between(-120.0, 120.0), random.between(20.0, 140.0));
        let (width, height) = (random.between(4.0, 60.0), random.between(4.0, 60.0));
        let (high, behind) = (random.between(2.0, 40.0), random.between(1.0, 40.0));
        let side = if offset < 0.0 { "right" } else { "left" };
        let is_round = random.between(0.0, 1.0) < 0.3;
        let body = match is_round {
            true => format!("shape = \"round-hole\"\nwith = {{ diameter = {width} }}"),
            false => bar(width, height),
        };
        let own =
            feature("rib", &body, offset.abs(), depth, high).replace(" left", &format!(" {side}"));
        let tables = bracket(&format!("behind = {behind}\n")) + &own;
        let pattern = solved(&panel(&tables));
        let told = pattern.fouls[0].distance;
        let centre = pattern.features[0].outline.bounds().center();
        let half = (width / 2.0, height / 2.0);
        // Points of a box, or of the cylinder in its width, by three numbers from 0 to 1.
        let point = |[a, b, c]: [f64; 3]| {
            let at = match is_round {
                true => centre + half.0 * a * Vec2::from_angle(TAU * b),
                false => {
                    let way = ((2.0 * a - 1.0) * half.0, (2.0 * b - 1.0) * half.1);
                    centre + Vec2::from(way)
                }
            };
            (at, c * high)
        };
        // The nearest place of the other box, coordinate by coordinate.
        let apart = |place: [f64; 3]| {
            let (at, deep) = point(place);
            let other = Point::new(at.x.clamp(-30.0, 30.0), at.y.clamp(80.0, 120.0));
            at.distance(other).hypot(deep.max(behind) - deep)
        };
        // A net over all of it, then ever finer nets round the nearest of its points.
        let (mut nearest, mut best, mut reach) = (f64::INFINITY, [0.5; 3], 0.5);
        while reach > 1e-6 {
            let middle = best;
            for place in 0..NET.pow(3) {
                let step = |index: u32| {
                    let along = f64::from(place / NET.pow(index) % NET) / f64::from(NET - 1);
                    let own = middle[index as usize] + (2.0 * along - 1.0) * reach;
                    // Round a cylinder one goes on past the full turn.
                    match is_round && index == 1 {
                        true => own,
                        false => own.clamp(0.0, 1.0),
                    }
                };
                let place = [step(0), step(1), step(2)];
                let distance = apart(place);
                if distance < nearest {
                    (nearest, best) = (distance, place);
                }
            }
            reach /= 3.0;
        }
        assert!(nearest >= told - 1e-9, "{nearest} {told} {tables}");
        assert!(nearest <= told + 0.01, "{nearest} {told} {tables}");
    }
}

#[test]
fn a_feature_with_a_window_in_it_counts_by_what_is_left_round_it() {
    // A socket of 110 x 90 round a window of 70 x 60: half of 60 less the tube's radius.
    let tables = format!(
        "{ALLOWED}[[part]]\nname = \"tube\"\nsocket = 20\ncentre_offset = 0\nfrom_datum = 100\n\
         [[opening]]\nname = \"window\"\nshape = \"window\"\n\
         with = {{ width = 70, height = 60, corner_radius = 5 }}\ncentre_offset = 0\n\
         from_datum = 100\n{}",
        feature("socket", &bar(110.0, 90.0), 0.0, 100.0, 20.0)
    );
    let pattern = solved(&panel(&tables));
    let radius = pattern.parts[0].outline.bounds().height() / 2.0;
    assert_close(
        pattern.fouls[0].distance,
        30.0 - radius,
        1e-6,
        "to its window's side",
    );
    let told = found(&pattern);
    let is_cut = told
        .iter()
        .any(|told| told.contains("socket `it` is cut through"));
    assert!(is_cut, "{told:?}");
    let record = format!("{:?}", drawn(&panel(&tables)));
    for words in ["On the hidden side", "socket: it", "Nearest part"] {
        assert!(record.contains(words), "{words}");
    }
}
