//! What a shop drills and saws round corners with.

use crate::base::length::{INCH, Units};
use std::ops::RangeInclusive;

/// What kind of tool makes the hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolKind {
    /// Twist drill.
    Drill,
    /// Hole saw, led by its pilot drill.
    HoleSaw,
    /// Step drill, for thin sheet.
    StepDrill,
    /// One of the shop's own, of which only the size was told.
    Own,
    /// The same, for thin sheet.
    OwnForThinSheet,
}

/// A tool that makes a round hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tool {
    /// Diameter of its hole, mm.
    pub diameter: f64,
    /// What it is.
    pub kind: ToolKind,
}

impl Tool {
    /// What it is, in words.
    pub fn words(self) -> &'static str {
        match self.kind {
            ToolKind::Drill => "drill",
            ToolKind::HoleSaw => "hole saw",
            ToolKind::StepDrill => "step drill",
            ToolKind::Own if self.diameter <= CHUCK => "drill",
            ToolKind::Own => "hole saw or step drill",
            ToolKind::OwnForThinSheet if self.diameter <= LARGEST_TWIST_IN_THIN_SHEET => "drill",
            ToolKind::OwnForThinSheet => "step drill",
        }
    }
}

/// What the chuck of a hand drill takes, mm: no twist drill is larger (common practice, no source).
const CHUCK: f64 = 13.0;

/// A larger twist drill catches in thin sheet, mm: common practice, no source.
const LARGEST_TWIST_IN_THIN_SHEET: f64 = 6.0;

/// Hole saws by sixteenths of an inch, mm (a maker's list: 5/8 to 1-1/2 in by 1/8 in).
const HOLE_SAWS: [f64; 8] = [15.9, 19.1, 22.2, 25.4, 28.6, 31.8, 34.9, 38.1];

/// Twist drills of a shop that works in inches, in 64ths: 1/8 to 1/2 in. Common practice, no source.
const INCH_DRILLS: RangeInclusive<u32> = 8..=32;

/// Its hole saws, in 16ths: 9/16 to 1-1/2 in. Common practice, no source.
const INCH_HOLE_SAWS: RangeInclusive<u32> = 9..=24;

/// Its larger ones, in 8ths: to 3 in. Common practice, no source.
const LARGE_INCH_HOLE_SAWS: RangeInclusive<u32> = 13..=24;

/// Steps of its step drills, in 16ths: 1/4 to 1-3/8 in. Common practice, no source.
const INCH_STEPS: RangeInclusive<u32> = 4..=22;

/// Sizes of so many of an inch's `parts`, mm, exact.
fn parts_of_inch(counts: RangeInclusive<u32>, parts: f64) -> impl Iterator<Item = f64> {
    counts.map(move |count| f64::from(count) * INCH / parts)
}

/// The tools of a shop that has named none, by the units that it works in. Smallest first.
///
/// In mm: twist drills from 3 mm to what a chuck takes, every 0.1 mm (BS 328, read second-hand), and
/// hole saws 15.9 to 38.1 mm (a maker's list). In inches: twist drills from 1/8 to 1/2 in by 1/64,
/// hole saws from 9/16 to 1-1/2 in by 1/16 and on to 3 in by 1/8 (common practice, no source).
pub fn default_tools(units: Units) -> Vec<Tool> {
    let tool = |kind| move |diameter| Tool { diameter, kind };
    if units == Units::In {
        let drills = parts_of_inch(INCH_DRILLS, 64.0);
        let saws = parts_of_inch(INCH_HOLE_SAWS, 16.0);
        let saws = saws.chain(parts_of_inch(LARGE_INCH_HOLE_SAWS, 8.0));
        return drills
            .map(tool(ToolKind::Drill))
            .chain(saws.map(tool(ToolKind::HoleSaw)))
            .collect();
    }
    let tenths = (30..).map(|tenth| f64::from(tenth) / 10.0);
    tenths
        .take_while(|&diameter| diameter <= CHUCK)
        .map(tool(ToolKind::Drill))
        .chain(HOLE_SAWS.into_iter().map(tool(ToolKind::HoleSaw)))
        .collect()
}

/// A shop's own tools by their diameters, mm.
pub fn own_tools(diameters: &[f64]) -> Vec<Tool> {
    let own = |&diameter: &f64| Tool {
        diameter,
        kind: ToolKind::Own,
    };
    diameters.iter().map(own).collect()
}

/// Sheet metal thinner than this, mm, a hole saw snatches: common practice, no source.
pub const THIN_SHEET: f64 = 1.0;

/// Steps of a step drill, mm: 4 to 30 by 2 (from memory of common ones, not read anywhere).
const STEPS: RangeInclusive<u32> = 2..=15;

/// What serves for thin sheet metal instead of `tools`: small twist drills, and step drills above
/// them; of the shop's own each size as a drill or step drill. No hole saw. Smallest first.
pub fn for_thin_sheet(tools: &[Tool], units: Units) -> Vec<Tool> {
    let mut fit: Vec<Tool> = vec![];
    for &tool in tools {
        match tool.kind {
            ToolKind::Own | ToolKind::OwnForThinSheet => fit.push(Tool {
                kind: ToolKind::OwnForThinSheet,
                ..tool
            }),
            ToolKind::Drill if tool.diameter <= LARGEST_TWIST_IN_THIN_SHEET => fit.push(tool),
            ToolKind::Drill | ToolKind::HoleSaw | ToolKind::StepDrill => {}
        }
    }
    if tools.iter().all(|tool| tool.kind != ToolKind::Own) {
        let steps: Vec<f64> = match units {
            Units::Mm => STEPS.map(|step| 2.0 * f64::from(step)).collect(),
            Units::In => parts_of_inch(INCH_STEPS, 16.0).collect(),
        };
        let steps = steps
            .into_iter()
            .filter(|&diameter| diameter > LARGEST_TWIST_IN_THIN_SHEET);
        fit.extend(steps.map(|diameter| Tool {
            diameter,
            kind: ToolKind::StepDrill,
        }));
    }
    fit
}

/// Slack for a radius worked out, mm, so that one of exactly a tool's is not lost to rounding.
const RADIUS_SLACK: f64 = 1e-6;

/// The largest of `tools` whose corner is no rounder than `radius` mm; the first of equal ones.
pub fn largest_tool_at_most(tools: &[Tool], radius: f64) -> Option<Tool> {
    tools
        .iter()
        .filter(|tool| tool.diameter / 2.0 <= radius + RADIUS_SLACK)
        .fold(None, |best: Option<Tool>, &tool| match best {
            Some(best) if best.diameter >= tool.diameter => Some(best),
            _ => Some(tool),
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_twist_drill_is_larger_than_a_chuck_takes() {
        let tools = default_tools(Units::Mm);
        // 3.0 to 13.0: 101; hole saws: 8.
        assert_eq!(tools.len(), 101 + 8);
        assert_eq!(tools[0].diameter, 3.0);
        assert_eq!(tools[100].diameter, 13.0);
        assert_eq!(tools[108].diameter, 38.1);
        for tool in &tools {
            assert_eq!(
                tool.kind == ToolKind::Drill,
                tool.diameter <= 13.0,
                "{tool:?}"
            );
        }
        // Hole saws are sixteenths of an inch, rounded to a tenth of a millimetre.
        for diameter in HOLE_SAWS {
            let sixteenths: f64 = diameter / 25.4 * 16.0;
            assert!((sixteenths - sixteenths.round()).abs() * 25.4 / 16.0 <= 0.05 + 1e-9);
        }
    }

    #[test]
    fn thin_sheet_meets_no_hole_saw_and_no_large_twist_drill() {
        let thin = for_thin_sheet(&default_tools(Units::Mm), Units::Mm);
        for tool in &thin {
            let kind = if tool.diameter <= 6.0 {
                ToolKind::Drill
            } else {
                ToolKind::StepDrill
            };
            assert_eq!(tool.kind, kind, "{tool:?}");
        }
        assert!(
            thin.windows(2)
                .all(|two| two[0].diameter <= two[1].diameter)
        );
        assert_eq!(thin.last().unwrap().diameter, 30.0);
    }

    #[test]
    fn a_shop_that_works_in_inches_has_sizes_sold_in_inches() {
        let tools = default_tools(Units::In);
        let thin = for_thin_sheet(&tools, Units::In);
        for tools in [&tools, &thin] {
            for tool in tools {
                let told = Units::In.tool(tool.diameter);
                assert!(told.ends_with(" in") && !told.contains('.'), "{told}");
            }
            assert!(
                tools
                    .windows(2)
                    .all(|two| two[0].diameter < two[1].diameter)
            );
        }
        let told = |tool: Option<Tool>| tool.map(|tool| Units::In.tool(tool.diameter));
        assert_eq!(told(tools.first().copied()).as_deref(), Some("1/8 in"));
        assert_eq!(told(tools.last().copied()).as_deref(), Some("3 in"));
        assert_eq!(told(thin.last().copied()).as_deref(), Some("1-3/8 in"));
        assert!(thin.iter().all(|tool| tool.kind != ToolKind::HoleSaw));
        let taken = |radius| largest_tool_at_most(&tools, radius);
        assert_eq!(told(taken(4.0)).as_deref(), Some("5/16 in"));
        assert_eq!(told(taken(14.5)).as_deref(), Some("1-1/8 in"));
        assert_eq!(taken(14.5).map(Tool::words), Some("hole saw"));
    }

    #[test]
    fn a_shops_own_are_called_what_one_has_of_that_size() {
        let own = own_tools(&[5.0, 8.0, 32.0]);
        let told = |tools: &[Tool]| tools.iter().map(|tool| tool.words()).collect::<Vec<_>>();
        assert_eq!(told(&own), ["drill", "drill", "hole saw or step drill"]);
        let thin = for_thin_sheet(&own, Units::In);
        assert_eq!(told(&thin), ["drill", "step drill", "step drill"]);
    }

    #[test]
    fn the_largest_that_goes_is_taken() {
        let tools = default_tools(Units::Mm);
        let taken = |radius| largest_tool_at_most(&tools, radius).map(|tool| tool.diameter);
        assert_eq!(taken(6.0), Some(12.0));
        assert_eq!(taken(6.36), Some(12.7));
        assert_eq!(taken(7.9), Some(13.0));
        assert_eq!(taken(14.5), Some(28.6));
        assert_eq!(taken(500.0), Some(38.1));
        assert_eq!(taken(1.49), None);
        assert_eq!(largest_tool_at_most(&[], 10.0), None);
    }
}
