//! What `check` tells a program.

use crate::cli::report::{self, FindingJson, ProblemJson};
use serde::Serialize;
use std::path::PathBuf;
use trimloft::geometry::outline::Outline;
use trimloft::input::Report;
use trimloft::solve::{Opening, Pattern, Slide};

#[derive(Serialize)]
pub(super) struct CheckJson<'a> {
    pattern: String,
    openings: Vec<OpeningJson>,
    parts: Vec<KeptJson<'a>>,
    /// Parts that ties place.
    tied: Vec<TiedJson<'a>>,
    /// What the accessory presses.
    feet: Vec<FootJson<'a>>,
    /// Fixed points that stay, and those whose fasteners are left out.
    held_by: &'a [String],
    left_out: &'a [String],
    /// Straight ways that no part keeps the panel from sliding; null where they were not sought, as
    /// where a fixed point holds it.
    slides: Option<Vec<SlideJson>>,
    /// What stands on the hidden side, against each part.
    behind: Vec<FoulJson<'a>>,
    keep_outs: Vec<KeepOutJson<'a>>,
    findings: Vec<FindingJson<'a>>,
    problems: Vec<ProblemJson<'a>>,
}

impl<'a> CheckJson<'a> {
    pub(super) fn of(outcome: &'a Result<(PathBuf, Pattern), Report>) -> Self {
        let (name, pattern) = match outcome {
            Ok((name, pattern)) => (name, Some(pattern)),
            Err(report) => (&report.source.name, None),
        };
        let openings = pattern.map_or(&[][..], |pattern| &pattern.openings);
        let findings = pattern.map_or(&[][..], |pattern| &pattern.findings);
        Self {
            pattern: name.display().to_string(),
            openings: openings.iter().map(OpeningJson::from).collect(),
            parts: pattern.map_or_else(Vec::new, kept),
            tied: pattern.map_or_else(Vec::new, tied),
            feet: pattern.map_or_else(Vec::new, feet),
            held_by: pattern.map_or(&[], |pattern| &pattern.hold.held_by),
            left_out: pattern.map_or(&[], |pattern| &pattern.hold.left_out),
            slides: pattern.and_then(|pattern| {
                let hold = &pattern.hold;
                let slides = hold.slides.iter().map(|way| SlideJson::of(way, pattern));
                hold.was_sought.then(|| slides.collect())
            }),
            behind: pattern.map_or_else(Vec::new, behind),
            keep_outs: pattern.map_or_else(Vec::new, keep_outs),
            findings: findings.iter().map(FindingJson::from).collect(),
            problems: outcome
                .as_ref()
                .err()
                .map_or_else(Vec::new, report::problems),
        }
    }
}

/// What a part keeps in its opening, measured on the finished line, mm.
#[derive(Serialize)]
struct KeptJson<'a> {
    name: &'a str,
    opening: &'a str,
    distance: f64,
    after_moves: f64,
    gap: f64,
    at_worst: f64,
    /// Diameter of the hole where panel and bracket are drilled together.
    drilled_together: Option<f64>,
}

fn kept(pattern: &Pattern) -> Vec<KeptJson<'_>> {
    let hole = |name: &str| {
        let part = pattern.parts.iter().find(|part| part.name == name)?;
        part.drilled.map(|drilled| drilled.hole())
    };
    let kept = pattern.spacings.iter().map(|clear| KeptJson {
        name: &clear.part,
        opening: &clear.opening,
        distance: clear.now.distance,
        after_moves: clear.after_moves.distance,
        gap: clear.gap,
        at_worst: clear.at_worst,
        drilled_together: hole(&clear.part),
    });
    kept.collect()
}

/// A part that ties place, panel frame, mm.
#[derive(Serialize)]
struct TiedJson<'a> {
    part: &'a str,
    at: [f64; 2],
    /// Half-widths of what it may be off by, along the datum edge and away from it.
    off: [f64; 2],
    /// Degrees.
    crossing: f64,
    residuals: Vec<f64>,
}

fn tied(pattern: &Pattern) -> Vec<TiedJson<'_>> {
    let parts = pattern.parts.iter().filter_map(|part| {
        let tied = part.tied.as_ref()?;
        Some(TiedJson {
            part: &part.name,
            at: [part.origin.x, part.origin.y],
            off: [tied.off.sideways, tied.off.depthways],
            crossing: tied.crossing,
            residuals: tied.ties.iter().map(|tie| tie.over).collect(),
        })
    });
    parts.collect()
}

/// Where the accessory presses, mm and mm².
#[derive(Serialize)]
struct FootJson<'a> {
    name: &'a str,
    area: f64,
    clamped: f64,
    narrowest_land: Option<f64>,
}

fn feet(pattern: &Pattern) -> Vec<FootJson<'_>> {
    let feet = pattern.feet.iter().map(|foot| FootJson {
        name: &foot.name,
        area: foot.outline.area(),
        clamped: foot.clamped,
        narrowest_land: foot.land.width(),
    });
    feet.collect()
}

/// A stretch of directions that the panel could slide out in, degrees counter-clockwise from the
/// panel frame's x.
#[derive(Serialize)]
struct SlideJson {
    told: String,
    middle: f64,
    either_way: f64,
}

impl SlideJson {
    fn of(slide: &Slide, pattern: &Pattern) -> Self {
        Self {
            told: slide.told(pattern.orientation),
            middle: slide.middle.to_degrees(),
            either_way: slide.either_way.to_degrees(),
        }
    }
}

/// How near a feature of the hidden side comes to a part, mm.
#[derive(Serialize)]
struct FoulJson<'a> {
    feature: &'a str,
    part: &'a str,
    distance: f64,
    movement: f64,
}

fn behind(pattern: &Pattern) -> Vec<FoulJson<'_>> {
    let fouls = pattern.fouls.iter().map(|foul| FoulJson {
        feature: &foul.feature,
        part: &foul.part,
        distance: foul.distance,
        movement: foul.movement,
    });
    fouls.collect()
}

/// An area that no cut may come near, mm.
#[derive(Serialize)]
struct KeepOutJson<'a> {
    name: &'a str,
    guards: &'static str,
    distance: f64,
    given: bool,
}

fn keep_outs(pattern: &Pattern) -> Vec<KeepOutJson<'_>> {
    let areas = pattern.keep_outs.iter().map(|area| KeepOutJson {
        name: &area.name,
        guards: area.guards.word(),
        distance: area.distance,
        given: area.is_given,
    });
    areas.collect()
}

/// An opening in the panel frame, mm and mm².
#[derive(Serialize)]
struct OpeningJson {
    name: String,
    bounds: [f64; 4],
    area: f64,
    cut_length: f64,
    relief: Vec<[f64; 3]>,
    /// Holes of the panel that it takes in.
    takes_in: Vec<String>,
    /// What falls away at an edge, of its names.
    trims: Vec<String>,
    /// What is cut first.
    rough: Vec<RoughJson>,
}

/// A rough cut, mm and mm².
#[derive(Serialize)]
struct RoughJson {
    bounds: [f64; 4],
    area: f64,
    cut_length: f64,
}

impl From<&Outline> for RoughJson {
    fn from(rough: &Outline) -> Self {
        Self {
            bounds: corners(rough),
            area: rough.area(),
            cut_length: rough.cut_length(),
        }
    }
}

/// The lower left and the upper right corner of the box that an outline takes, mm.
fn corners(outline: &Outline) -> [f64; 4] {
    let bounds = outline.bounds();
    [bounds.x0, bounds.y0, bounds.x1, bounds.y1]
}

impl From<&Opening> for OpeningJson {
    fn from(opening: &Opening) -> Self {
        let trimmed = opening.declared.iter().filter(|own| own.trimmed.is_some());
        Self {
            name: opening.name(),
            bounds: corners(&opening.outline),
            area: opening.outline.area(),
            cut_length: opening.outline.cut_length(),
            relief: opening
                .relief
                .iter()
                .map(|hole| [hole.at.x, hole.at.y, hole.tool.diameter])
                .collect(),
            takes_in: opening.holes.iter().map(|own| own.name.clone()).collect(),
            trims: trimmed.map(|own| own.name.clone()).collect(),
            rough: opening
                .rough
                .iter()
                .flat_map(|own| &own.lines)
                .map(RoughJson::from)
                .collect(),
        }
    }
}
