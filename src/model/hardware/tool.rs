//! What a shop drills and saws round corners with.

/// What kind of tool makes the hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolKind {
    /// Twist drill.
    Drill,
    /// Cutter by sixteenths of an inch.
    Cutter,
    /// Step drill, for thin sheet.
    StepDrill,
    /// One of the shop's own, of which only the size was told.
    Own,
    /// The same, for thin sheet.
    OwnForThinSheet,
}

impl ToolKind {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Drill => "drill",
            Self::Cutter => "hole cutter",
            Self::StepDrill => "step drill",
            Self::Own => "drill or hole saw",
            Self::OwnForThinSheet => "drill or step drill",
        }
    }
}

/// A tool that makes a round hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tool {
    /// Diameter of its hole, mm.
    pub diameter: f64,
    /// What it is.
    pub kind: ToolKind,
}

/// Hole cutters by sixteenths of an inch, mm (a maker's list: 1/2 to 1-1/2 in by 1/8 in).
const CUTTERS: [f64; 9] = [12.7, 15.9, 19.1, 22.2, 25.4, 28.6, 31.8, 34.9, 38.1];

/// The tools of a shop that has named none: twist drills 3 to 13.9 mm every 0.1 mm and 14 to
/// 25.75 mm every 0.25 mm (BS 328, read second-hand), and hole cutters 12.7 to 38.1 mm (a
/// maker's list). Smallest first.
pub fn default_tools() -> Vec<Tool> {
    let tool = |kind| move |diameter| Tool { diameter, kind };
    let tenths = (30..=139).map(|tenth| f64::from(tenth) / 10.0);
    let quarters = (56..=103).map(|quarter| f64::from(quarter) / 4.0);
    let mut tools: Vec<Tool> = tenths
        .chain(quarters)
        .map(tool(ToolKind::Drill))
        .chain(CUTTERS.into_iter().map(tool(ToolKind::Cutter)))
        .collect();
    tools.sort_by(|one, other| one.diameter.total_cmp(&other.diameter));
    tools
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
const STEPS: std::ops::RangeInclusive<u32> = 2..=15;

/// What of some tools serves for thin sheet metal: no hole cutter, and step drills besides twist
/// drills; of the shop's own each as a drill of its size. Smallest first.
pub fn for_thin_sheet(tools: &[Tool]) -> Vec<Tool> {
    let own = tools.iter().any(|tool| tool.kind == ToolKind::Own);
    let mut fit: Vec<Tool> = tools
        .iter()
        .filter(|tool| tool.kind != ToolKind::Cutter)
        .map(|&tool| match tool.kind {
            ToolKind::Own => Tool {
                kind: ToolKind::OwnForThinSheet,
                ..tool
            },
            _ => tool,
        })
        .collect();
    if !own {
        fit.extend(STEPS.map(|step| Tool {
            diameter: 2.0 * f64::from(step),
            kind: ToolKind::StepDrill,
        }));
        fit.sort_by(|one, other| one.diameter.total_cmp(&other.diameter));
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
    fn the_list_is_the_published_one() {
        let tools = default_tools();
        // 3.0 to 13.9: 110; 14.00 to 25.75: 48; cutters: 9.
        assert_eq!(tools.len(), 110 + 48 + 9);
        assert_eq!(tools[0].diameter, 3.0);
        assert_eq!(tools.last().unwrap().diameter, 38.1);
        let has = |diameter| tools.iter().any(|tool| tool.diameter == diameter);
        assert!(has(10.3) && has(13.9) && has(14.25) && has(25.75) && !has(14.1) && !has(26.0));
        // Cutters are sixteenths of an inch, rounded to a tenth of a millimetre.
        for diameter in CUTTERS {
            let sixteenths: f64 = diameter / 25.4 * 16.0;
            assert!((sixteenths - sixteenths.round()).abs() * 25.4 / 16.0 <= 0.05 + 1e-9);
        }
    }

    #[test]
    fn thin_sheet_meets_no_hole_saw() {
        let thin = for_thin_sheet(&default_tools());
        assert!(thin.iter().all(|tool| tool.kind != ToolKind::Cutter));
        assert!(
            thin.windows(2)
                .all(|two| two[0].diameter <= two[1].diameter)
        );
        let largest = largest_tool_at_most(&thin, 500.0).unwrap();
        assert_eq!(
            (largest.diameter, largest.kind),
            (30.0, ToolKind::StepDrill)
        );
        let own = for_thin_sheet(&own_tools(&[8.0, 32.0]));
        let told: Vec<_> = own
            .iter()
            .map(|tool| (tool.diameter, tool.kind.words()))
            .collect();
        assert_eq!(
            told,
            [(8.0, "drill or step drill"), (32.0, "drill or step drill")]
        );
    }

    #[test]
    fn the_largest_that_goes_is_taken() {
        let tools = default_tools();
        let taken = |radius| largest_tool_at_most(&tools, radius).map(|tool| tool.diameter);
        assert_eq!(taken(6.0), Some(12.0));
        assert_eq!(taken(6.36), Some(12.7));
        assert_eq!(taken(13.5), Some(25.75));
        assert_eq!(taken(14.5), Some(28.6));
        assert_eq!(taken(500.0), Some(38.1));
        assert_eq!(taken(1.49), None);
        assert_eq!(largest_tool_at_most(&[], 10.0), None);
    }
}
