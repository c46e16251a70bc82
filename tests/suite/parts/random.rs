//! Random parts: what is measured keeps what was asked for.

use crate::common::random::{Came, hold};
use crate::common::{shipped, under_panel};
use proptest::prelude::*;
use std::fmt::Write;
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::solve;

#[test]
fn parts_keep_their_gap_when_all_has_moved() {
    let part = (
        0_usize..3,
        10.0..80.0_f64,
        -120.0..120.0_f64,
        60.0..220.0_f64,
    );
    let case = (
        prop::collection::vec(part, 1..5),
        0.5..12.0_f64,
        0.0..5.0_f64,
        any::<bool>(),
        any::<bool>(),
    );
    hold(120, 0.8, case, |(parts, gap, position, boxed, open)| {
        let mut tables = format!("[clearance]\ngap = {gap:.3}\nposition = {position:.3}\n");
        let mut names = String::new();
        for (i, (kind, size, x, depth)) in parts.iter().enumerate() {
            let side = if *x < 0.0 { "left" } else { "right" };
            let body = match kind {
                0 => format!(
                    "shape = \"window\"\nwith = {{ width = {size:.2}, height = {:.2}, corner_radius = 3 }}",
                    size * 0.8
                ),
                1 => format!("socket = {size:.2}"),
                _ => "bolt = \"M12\"".into(),
            };
            writeln!(tables, "[[part]]\nname = \"part {i}\"\n{body}\ncentre_offset = \"{:.2} mm {side}\"\nfrom_datum = {depth:.2}", x.abs()).unwrap();
            write!(names, "\"part {i}\", ").unwrap();
        }
        let follow = if boxed { "box" } else { "contour" };
        writeln!(tables, "[[opening]]\nname = \"hole\"\naround = [{names}]\nfollow = \"{follow}\"\nopen_at_edge = {open}").unwrap();
        let toml = under_panel(1400.0, 600.0, &tables);
        let spec = PatternSpec::read(&Source::new("random.toml", toml.clone()))
            .map_err(|report| TestCaseError::fail(report.to_string()))?;
        let pattern = match solve(&spec, &shipped()) {
            Ok(pattern) => pattern,
            // Parts round a free place would leave a loose island.
            Err(problems) => {
                let island = problems
                    .iter()
                    .all(|one| one.message.contains("a loose island"));
                prop_assert!(island, "{problems:?}\n{toml}");
                return Ok(Came::Refused);
            }
        };
        prop_assert_eq!(pattern.spacings.len(), parts.len());
        for clear in &pattern.spacings {
            prop_assert!(
                clear.after_moves.distance >= clear.gap - 0.01,
                "{clear:?}\n{toml}"
            );
            // Sideways and depthways may differ: a box keeps each its own, the lesser at least.
            let least = pattern.clearances[0].budget.total();
            let least = least.sideways.min(least.depthways);
            prop_assert!(
                clear.asked == 0.0 || clear.now.distance >= least - 0.01,
                "{clear:?}\n{toml}"
            );
            prop_assert!(clear.at_worst <= clear.now.distance);
        }
        Ok(Came::Through)
    });
}
