//! What stands on the panel's hidden side, and what of it meets a part as the panel is brought up.
//!
//! The panel is brought up along the reader's look: a feature passes all depths less than its
//! height, so that only how far behind the hidden face a part begins counts, and how near the two
//! are as the reader sees them.

use super::allowance::Allowances;
use super::foot::kept;
use super::place::Placing;
use super::{Finding, FindingId, Measure, Opening, Part, Severity};
use crate::base::length::Units;
use crate::geometry::outline::{
    ON_EDGE, Outline, Region, Runs, difference, intersection, offset, outers,
};
use crate::input::{FeatureKind, FeatureSpec, Problem};
use kurbo::{Point, Rect};

/// Less of a feature than this, mm^2, is not cut through.
const TOUCHED: f64 = 1.0;

/// A feature on the panel's hidden side, solved.
#[derive(Debug, Clone)]
pub struct Feature {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: FeatureKind,
    /// Its outline as the reader sees it, panel frame, mm.
    pub outline: Outline,
    /// How far it stands out of the hidden face, mm.
    pub height: f64,
    /// What is done about it before the panel is brought up, for each part that it would meet.
    pub first: Vec<String>,
}

/// How near a feature comes to a part as the panel is brought up.
#[derive(Debug, Clone)]
pub struct Foul {
    /// Name of the feature.
    pub feature: String,
    /// Name of the part.
    pub part: String,
    /// The least distance between the two prisms, mm; 0 where they meet.
    pub distance: f64,
    /// How far the two may move towards each other, mm.
    pub movement: f64,
    /// Where on the feature.
    pub at: Point,
}

pub(super) fn feature(spec: &FeatureSpec, placing: &Placing<'_>) -> Result<Feature, Vec<Problem>> {
    let (offset, from_datum) = (&spec.centre_offset, &spec.from_datum);
    Ok(Feature {
        name: spec.name.value.clone(),
        kind: spec.kind,
        outline: placing.solid(&spec.shape, &spec.with, offset, from_datum)?,
        height: spec.height,
        first: vec![],
    })
}

/// How near what is left of a feature comes to a part; none where nothing is left.
fn between(feature: &Feature, left: &[Region], part: &Part, movement: f64) -> Option<Foul> {
    let sides = Runs::new(part.outline.sides());
    let near = left.iter().map(|piece| {
        let first = piece.outer.vertices().first();
        let first = first.map_or(Point::ORIGIN, |vertex| vertex.point);
        if !common(piece, &part.outline).is_empty() {
            return (0.0, first);
        }
        let rims = [&piece.outer].into_iter().chain(&piece.holes);
        let runs = Runs::new(rims.flat_map(Outline::sides));
        let (on_piece, on_part) = runs
            .nearest_to(&sides, f64::INFINITY)
            .unwrap_or((first, first));
        (on_piece.distance(on_part), on_piece)
    });
    let (seen, at) = near.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let behind = part
        .behind
        .map_or(0.0, |behind| (behind - feature.height).max(0.0));
    Some(Foul {
        feature: feature.name.clone(),
        part: part.name.clone(),
        distance: seen.hypot(behind),
        movement,
        at,
    })
}

/// What a region and an outline have in common, but for holes within that.
fn common(region: &Region, outline: &Outline) -> Vec<Outline> {
    let shared = intersection(&region.outer, outline);
    region.holes.iter().fold(shared, |shared, hole| {
        let less = shared.iter().flat_map(|piece| difference(piece, hole));
        outers(less.collect())
    })
}

/// What of each feature meets a part, and what the cuts run through.
pub(super) struct Behind<'a> {
    pub(super) parts: &'a [Part],
    pub(super) openings: &'a [Opening],
    pub(super) allowances: &'a Allowances<'a>,
    pub(super) units: Units,
}

impl Behind<'_> {
    /// How near each feature comes to each part; features are told what is done about them first.
    pub(super) fn fouls(&self, features: &mut [Feature]) -> (Vec<Foul>, Vec<Finding>) {
        let (mut fouls, mut findings) = (vec![], vec![]);
        if features.is_empty() {
            return (fouls, findings);
        }
        let movement = |part: &Part| {
            let own = part.budget(&self.allowances.budget(part.outline.bounds()));
            own.movement().greater()
        };
        let movements: Vec<f64> = self.parts.iter().map(movement).collect();
        for feature in features {
            // What lies in the waste goes with it.
            let left = kept(&feature.outline, self.openings);
            findings.extend(self.cut_through(feature, &left));
            for (part, movement) in self.parts.iter().zip(&movements) {
                let Some(foul) = between(feature, &left, part, *movement) else {
                    continue;
                };
                if foul.distance < foul.movement {
                    let first = self.first(feature, &left, part, &foul);
                    findings.push(self.finding(feature, part, &foul, &first));
                    if !feature.first.contains(&first) {
                        feature.first.push(first);
                    }
                }
                fouls.push(foul);
            }
        }
        (fouls, findings)
    }

    /// What is done about a feature that would meet a part.
    fn first(&self, feature: &Feature, left: &[Region], part: &Part, foul: &Foul) -> String {
        let told = |mm: f64| self.units.length(mm);
        if feature.kind != FeatureKind::Rib {
            return format!("take off {} `{}`", feature.kind.word(), feature.name);
        }
        let reach = outers(offset(&part.outline, foul.movement));
        let meets = reach
            .iter()
            .flat_map(|area| left.iter().flat_map(move |own| common(own, area)));
        let gone = meets
            .map(|piece| piece.bounds())
            .reduce(|a: Rect, b| a.union(b));
        let (gone, whole) = (gone.unwrap_or_default(), feature.outline.bounds());
        // Right across it, it is cut back by the other way; else a piece is cut out of its side.
        let across = |gone: f64, whole: f64| gone >= whole - ON_EDGE;
        let size = match (
            across(gone.width(), whole.width()),
            across(gone.height(), whole.height()),
        ) {
            (true, true) => return format!("take off rib `{}`", feature.name),
            (_, true) => told(gone.width()),
            (true, _) => told(gone.height()),
            _ => format!("{} x {}", told(gone.width()), told(gone.height())),
        };
        let back = format!(
            "cut rib `{}` {size} back beside `{}`",
            feature.name, part.name
        );
        match part.behind {
            Some(behind) if behind > foul.movement => {
                format!("{back}, or down to {}", told(behind - foul.movement))
            }
            _ => back,
        }
    }

    fn finding(&self, feature: &Feature, part: &Part, foul: &Foul, first: &str) -> Finding {
        let told = |mm: f64| self.units.length(mm);
        let message = format!(
            "{} `{}`, {} high, comes within {} of `{}` as the panel is brought up; either may be {} off",
            feature.kind.word(),
            feature.name,
            told(feature.height),
            told(foul.distance),
            part.name,
            told(foul.movement)
        );
        let id = FindingId::of("behind")
            .about(&feature.name)
            .about(&part.name);
        let hint = format!("{first} before the panel goes on");
        Finding::new(Severity::Warning, id, message, &hint)
            .at(foul.at)
            .measured(Measure::Least(foul.distance))
    }

    /// A cut through what places or holds something.
    fn cut_through(&self, feature: &Feature, left: &[Region]) -> Option<Finding> {
        let stays: f64 = left.iter().map(Region::area).sum();
        let whole = feature.outline.area();
        let is_cut = stays < whole - TOUCHED && feature.kind != FeatureKind::Rib;
        let goes = if stays < TOUCHED {
            "goes with the waste"
        } else {
            "is cut through"
        };
        is_cut.then(|| {
            Finding::new(
                Severity::Warning,
                FindingId::of("behind").about(&feature.name),
                format!("{} `{}` {goes}", feature.kind.word(), feature.name),
                "look whether the panel, or what sits in it, is still held without",
            )
            .at(feature.outline.bounds().center())
        })
    }
}
