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
            &budget.position,
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
        // 0.3 % of the way from the centreline at the datum edge: there is no locator.
        assert_close(budget.print.value, 0.3, 1e-9, "print");
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
    // 121e-6 per K (the upper end of what tables give for PP), 400 mm to the clip, 40 K: 1.936 mm,
    // rounded up to what the table prints.
    assert_close(
        solved(&toml).clearances[0].budget.thermal.value,
        1.94,
        1e-9,
        "thermal",
    );
}

#[test]
fn a_bolt_hole_is_clearance_already() {
    // ISO 273, medium series, read second-hand: M10 has 11 mm.
    let tables = "[[part]]\nname = \"bolt\"\nbolt = \"M10\"\ncentre_offset = 0\nfrom_datum = 90\n"
        .to_owned()
        + &around("hole", "\"bolt\"", "follow = \"contour\"");
    let pattern = solved(&panel(&tables));
    let opening = &pattern.openings[0];
    assert!(opening.is_round_hole());
    assert_close(opening.outline.bounds().width(), 11.0, 1e-9, "M10");
    assert!(
        !pattern.findings.iter().any(|finding| finding.stops()),
        "{:?}",
        pattern.findings
    );
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
}
