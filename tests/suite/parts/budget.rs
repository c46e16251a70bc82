//! Clearances: given, standing in, worked out, and how they add up.

use super::{around, only_gap, panel, window};
use crate::common::{assert_close, solved};

fn width_with(clearance: &str) -> f64 {
    let tables = window("neck", 60.0, 60.0, "0", 100.0)
        + clearance
        + &around("hole", "\"neck\"", "follow = \"box\"");
    let pattern = solved(&panel(&tables));
    pattern.openings[0].outline.bounds().width()
}

#[test]
fn a_gap_alone_is_all_there_is() {
    assert_close(width_with(&only_gap(6.0)), 72.0, 1e-9, "60 + 2 x 6");
}

#[test]
fn terms_combine_as_asked() {
    let terms = "[clearance]\ngap = 6\nposition = 2\nmarking = 0.5\ncutting = 1.5\nprint = 0\n";
    // Worst case: 6 + 2 + 0.5 + 1.5 to each side.
    let worst = width_with(&format!("{terms}combine = \"worst-case\"\n"));
    assert_close(worst, 60.0 + 2.0 * 10.0, 1e-9, "worst case");
    // Rectangular half-widths a: u = a / sqrt(3), root of the sum of squares, k = 2 (GUM).
    let squares: f64 = 2.0_f64.powi(2) + 0.5_f64.powi(2) + 1.5_f64.powi(2);
    let each = 6.0 + 2.0 * (squares / 3.0).sqrt();
    let likely = width_with(&format!("{terms}combine = \"root-sum-square\"\n"));
    // Rounded up to what the table prints, 0.01 mm.
    assert!(
        (0.0..0.02).contains(&(likely - (60.0 + 2.0 * each))),
        "{likely}, should be {}",
        60.0 + 2.0 * each
    );
}

#[test]
fn what_is_not_given_has_its_stated_default() {
    let tables =
        window("neck", 60.0, 60.0, "0", 100.0) + &around("hole", "\"neck\"", "follow = \"box\"");
    for (material, gap) in [("pp", 6.0), ("aluminium", 4.0)] {
        let toml = panel(&tables).replace(
            "[panel]\n",
            &format!("[panel]\nmaterial = \"{material}\"\n"),
        );
        let budget = &solved(&toml).clearances[0].budget;
        let terms = [
            &budget.gap,
            &budget.position.sideways,
            &budget.marking,
            &budget.cutting,
        ];
        assert_eq!(terms.map(|term| term.value), [gap, 2.0, 0.5, 1.5]);
        for term in terms {
            assert!(
                term.reason.words().contains("design value"),
                "{:?}",
                term.reason
            );
        }
        // 0.3 % of the way from the farthest corner to where centreline and datum edge meet: there is
        // no locator. Rounded up to what the table prints.
        let total = budget.total();
        let corner = (30.0 + total.sideways).hypot(130.0 + total.depthways);
        let over = budget.print.value - 0.003 * corner;
        assert!((0.0..0.0101).contains(&over), "{:?} {corner}", budget.print);
    }
}

#[test]
fn warmth_moves_the_panel_away_from_its_nearest_fixed_point() {
    let tables = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 100\nright = 900\n\
                  from_datum = 100\nfixed = true\n"
        .to_owned()
        + &window("neck", 60.0, 60.0, "0", 100.0)
        + "[clearance]\nfitted = 20\ncoldest = -10\nhottest = 60\n"
        + &around("hole", "\"neck\"", "follow = \"box\"");
    let toml = panel(&tables).replace("[panel]\n", "[panel]\nmaterial = \"pp\"\n");
    // 121e-6 per K (the upper end of what tables give for PP), 40 K, from the farther cut end in the
    // middle of the opening to either clip, 400 mm aside: rounded up to what the table prints.
    let pattern = solved(&toml);
    let cut = pattern.openings[0].outline.bounds();
    let far = 400f64.hypot((cut.y1 - 100.0).max(100.0 - cut.y0));
    assert_close(
        pattern.clearances[0].budget.thermal.value,
        (121e-6 * far * 40.0 * 100.0).ceil() / 100.0,
        1e-9,
        "thermal",
    );
}

#[test]
fn each_term_is_that_of_the_farthest_cut() {
    // A window that reaches 300 mm from the only clip: its far side moves 2.2 times as far as its
    // middle does, and the centre is known less well there.
    let tables = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 450\nright = 550\n\
                  from_datum = 20\n[[locator]]\nname = \"stud\"\nacross = 350\nfrom_datum = 100\n\
                  diameter = 8\nfixed = true\n"
        .to_owned()
        + &window("plate", 250.0, 60.0, "0", 150.0)
        + "[clearance]\nfitted = 20\ncoldest = -10\nhottest = 60\n"
        + &around("hole", "\"plate\"", "follow = \"box\"");
    let toml = panel(&tables).replace("[panel]\n", "[panel]\nmaterial = \"pp\"\n");
    let pattern = solved(&toml);
    let budget = &pattern.clearances[0].budget;
    let cut = pattern.openings[0].outline.bounds();
    let far = (cut.x1 + 150.0).hypot((cut.y1 - 100.0).max(100.0 - cut.y0));
    assert!(far > 280.0, "{far}");
    let thermal = (121e-6 * far * 40.0 * 100.0).ceil() / 100.0;
    assert_close(budget.thermal.value, thermal, 0.011, "thermal");
    let ends = [cut.y0, cut.y1].map(|y| pattern.centreline.uncertainty_at(y).unwrap());
    assert_close(budget.centre.value, ends[0].max(ends[1]), 0.011, "centre");
}

fn bolt(rest: &str) -> String {
    format!("[[part]]\nname = \"bolt\"\nbolt = \"M10\"\n{rest}centre_offset = 0\nfrom_datum = 90\n")
        + &around("hole", "\"bolt\"", "follow = \"contour\"")
}

#[test]
fn a_bolt_keeps_its_full_clearance_and_what_is_told_is_what_is_cut() {
    let budget = "[clearance]\ngap = 5\nposition = 2\n";
    let kinds = [
        ("bolt = \"M10\"", 10.0),
        ("head = 17", 17.0),
        ("washer = 24", 24.0),
        ("socket = 21", 21.0),
        ("tube = \"2 in\"\noutside = 64\ncorner_radius = 4", 64.0),
        ("shape = \"slot\"\nwith = { length = 30, width = 12 }", 30.0),
    ];
    for (kind, width) in kinds {
        let tables = bolt("").replace("bolt = \"M10\"\n", &format!("{kind}\n")) + budget;
        let pattern = solved(&panel(&tables));
        let total = pattern.clearances[0].budget.total().greater();
        assert!(total > 6.0, "{kind}: {total}");
        // The line itself, a tape across it: part and twice its clearance.
        let cut = pattern.openings[0].outline.bounds().width();
        assert_close(cut, width + 2.0 * total, 1e-6, kind);
        let [clear] = pattern.spacings.as_slice() else {
            panic!("{:?}", pattern.spacings)
        };
        assert_close(clear.now.distance, total, 1e-6, kind);
        assert_close(clear.gap, 5.0, 1e-9, kind);
        assert!(clear.after_moves.distance >= 5.0 - 1e-6, "{kind}");
    }
}

#[test]
fn a_bolt_that_is_drilled_together_has_its_own_hole_and_keeps_its_fit() {
    // ISO 273, medium and fine series, M10: 11 and 10.5 mm.
    for (fit, hole) in [("", 11.0), ("fit = \"fine\"\n", 10.5)] {
        let tables = bolt(&format!("drilled_together = true\n{fit}"));
        let pattern = solved(&panel(&tables));
        let opening = &pattern.openings[0];
        assert!(opening.is_round_hole());
        assert_close(opening.outline.bounds().width(), hole, 1e-9, "M10");
        let part = pattern.parts[0].outline.bounds().width();
        assert_close(part, 10.0, 1e-9, "the bolt itself");
        let clear = &pattern.spacings[0];
        for kept in [clear.now.distance, clear.after_moves.distance, clear.gap] {
            assert_close(kept, (hole - 10.0) / 2.0, 1e-6, "what is kept");
        }
        assert!(!pattern.findings.iter().any(|finding| finding.stops()));
    }
}

#[test]
fn what_the_panel_is_made_of_is_never_made_up() {
    let tables = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 100\nright = 900\n\
                  from_datum = 100\nfixed = true\n"
        .to_owned()
        + &window("neck", 60.0, 60.0, "0", 100.0)
        + &around("hole", "\"neck\"", "follow = \"box\"");
    let told = |material: &str| {
        let toml = panel(&tables).replace("[panel]\n", &format!("[panel]\n{material}"));
        solved(&toml)
    };
    let steel = told("material = \"other\"\nexpansion = 12\n");
    let budget = &steel.clearances[0].budget;
    // 12e-6 per K, 400 mm to the clip, 60 K: 0.288 mm, rounded up to what the table prints.
    assert_close(budget.thermal.value, 0.29, 1e-9, "thermal");
    assert_eq!((budget.gap.value, steel.panel.is_metal()), (6.0, true));

    let unknown = told("");
    let reason = unknown.clearances[0].budget.thermal.reason.words();
    assert_eq!(reason, "not counted: the material is not told");
    assert!(unknown.panel.may_be_metal() && !unknown.panel.is_metal());
    let noted = |finding: &trimloft::solve::Finding| finding.message.contains("made of");
    assert!(unknown.findings.iter().any(noted));
    assert!(!steel.findings.iter().any(noted));
}

#[test]
fn the_middle_counts_sideways_only() {
    let tables = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 100\nright = 900\n\
                  from_datum = 100\n"
        .to_owned()
        + &window("neck", 60.0, 60.0, "0", 100.0)
        + &around("hole", "\"neck\"", "follow = \"box\"");
    let budget = &solved(&panel(&tables)).clearances[0].budget;
    let (total, centre) = (budget.total(), budget.centre.value);
    assert!(centre > 0.3, "{centre}");
    assert!(total.sideways > total.depthways, "{total:?}");
    // An expanded uncertainty has the standard one of its half, a half-width a that of a / sqrt(3)
    // (GUM 4.3.3, 4.3.7).
    let half_widths = [
        &budget.position.sideways,
        &budget.marking,
        &budget.cutting,
        &budget.print,
    ];
    let squares: f64 = half_widths
        .iter()
        .map(|term| term.value.powi(2) / 3.0)
        .sum();
    let should = budget.gap.value + 2.0 * (squares + (centre / 2.0).powi(2)).sqrt();
    // Rounded up to what the table prints.
    assert!(
        (0.0..0.01).contains(&(total.sideways - should)),
        "{} {should}",
        total.sideways
    );
}

#[test]
fn the_print_counts_from_where_sheets_are_laid_by_to_the_farthest_cut() {
    use trimloft::check::scale::Cut;
    let notch = |edge: &str, locator: &str| {
        let tables = format!(
            "{locator}[[opening]]\nname = \"cut\"\nshape = \"notch\"\n\
             with = {{ width = 60, depth = 80, corner_radius = 1.5 }}\ncentre_offset = \"100 mm left\"\n\
             from_datum = 0\n"
        );
        let toml = panel(&tables).replace("[panel]\n", &format!("[panel]\n{edge}"));
        Cut::of(&solved(&toml))
    };
    let flat = notch("", "");
    // On the round of its far corner.
    assert_close(flat.across, 130.0, 1.0, "across");
    assert_close(flat.down, 80.0, 1.0, "down");
    // The same on an edge that bows by 30 mm: the tab is hooked over the bow, not over its chord. At
    // x = -130 the parabola stands 30 (1 - (130 / 500)^2) = 27.97 mm out, under the notch's middle
    // 30 (1 - (100 / 500)^2) = 28.8.
    let bowed = notch("edge = [[0, 0], [500, 30], [1000, 0]]\n", "");
    assert_close(bowed.across, 130.0, 1.0, "across");
    assert_close(bowed.down, 80.0 - 28.8 + 27.97, 1.0, "down");
    // A hole beside it: from its middle to the far corner of the mouth, at 430.
    let hole = "[[locator]]\nname = \"hole\"\nacross = 380\nfrom_datum = 90\ndiameter = 8\n";
    let near = notch("", hole);
    assert_close(near.across, 50.0, 1e-9, "across");
    assert_close(near.down, 90.0, 1e-9, "down");
}
