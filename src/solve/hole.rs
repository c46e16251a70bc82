//! Round holes that the panel has already, and openings that take them in: the hole's rim is then no
//! cut, and what stays of the wall between the two goes with the opening.

use super::Locator;
use super::judge::ligament_rule;
use super::opening::Placed;
use crate::base::length::Units;
use crate::base::words::did_you_mean;
use crate::geometry::outline::{Outline, Side, Vertex, offset, union};
use crate::input::{OpeningSpec, Problem};
use kurbo::{Point, Vec2};

/// What an opening may take in: the panel's holes, and locators that are holes.
pub(super) struct Takeable<'a> {
    pub(super) holes: &'a [Locator],
    pub(super) locators: &'a [Locator],
    /// Thickness of the panel, mm, where it was told.
    pub(super) thickness: Option<f64>,
    pub(super) units: Units,
}

impl Takeable<'_> {
    /// The pieces of an opening with the holes that it takes in, each in the piece that is nearest.
    ///
    /// # Errors
    /// A name that no hole has, and a hole too far off.
    pub(super) fn taken_into(
        &self,
        spec: &OpeningSpec,
        mut pieces: Vec<Placed>,
    ) -> Result<Vec<Placed>, Vec<Problem>> {
        let mut problems = vec![];
        for name in &spec.take_in {
            let taken = self.find(&name.value).and_then(|hole| {
                let away = |piece: &Placed| away(&hole, &piece.outline);
                let nearest = pieces
                    .iter_mut()
                    .min_by(|a, b| away(a).total_cmp(&away(b)))
                    .ok_or(("is in no opening".to_owned(), String::new()))?;
                nearest.outline = self.with(&nearest.outline, &hole)?;
                nearest.holes.push(hole);
                Ok(())
            });
            if let Err((why, hint)) = taken {
                let message = format!("hole `{}` {why}", name.value);
                problems.push(name.problem(message).hint(hint));
            }
        }
        match problems.is_empty() {
            true => Ok(pieces),
            false => Err(problems),
        }
    }

    fn find(&self, name: &str) -> Result<Locator, (String, String)> {
        let all = self.holes.iter().chain(self.locators);
        let all = all.filter(|own| own.diameter.is_some());
        let names: Vec<&str> = all.clone().map(|hole| hole.name.as_str()).collect();
        let hint = match names.is_empty() {
            true => "give it as a `[[hole]]`, or its locator a `diameter`".into(),
            false => did_you_mean(name, &names),
        };
        let found = all.clone().find(|hole| hole.name == name).cloned();
        found.ok_or(("is not known".into(), hint))
    }

    /// An outline with a hole, and with what lies between them where they do not meet.
    fn with(&self, outline: &Outline, hole: &Locator) -> Result<Outline, (String, String)> {
        let mut all: Vec<Outline> = [outline.clone()].into_iter().chain(hole.rim()).collect();
        let gap = away(hole, outline);
        let most = ligament_rule(self.thickness.unwrap_or(0.0));
        let told = |mm: f64| self.units.length(mm);
        let hint = || "leave it out of `take_in`, or make the opening larger".to_owned();
        if gap > most {
            let why = format!(
                "lies {} from the opening: only one nearer than {} is taken in",
                told(gap),
                told(most)
            );
            return Err((why, hint()));
        }
        if gap > -MEETS {
            all.extend(swept(hole, outline));
        }
        match union(&all).as_slice() {
            [one] if one.holes.is_empty() => Ok(one.outer.clone()),
            _ => Err(("can't be taken in as it stands".into(), hint())),
        }
    }
}

/// A hole that reaches this far into an opening is one with it, mm.
const MEETS: f64 = 0.05;

fn radius(hole: &Locator) -> f64 {
    hole.diameter.unwrap_or(0.0) / 2.0
}

/// What stays between a hole's rim and an outline, mm; less than 0 where they meet.
fn away(hole: &Locator, outline: &Outline) -> f64 {
    let distance = outline.distance(hole.at).0;
    let sense = if outline.contains(hole.at) { -1.0 } else { 1.0 };
    sense * distance - radius(hole)
}

/// What a hole sweeps on its way to the nearest place where it lies in the opening altogether: no
/// thin wall stays beside it. None where the opening has no such place.
fn swept(hole: &Locator, outline: &Outline) -> Option<Outline> {
    let radius = radius(hole);
    let places = offset(outline, -radius);
    let nearest = places.iter().map(|place| place.outer.distance(hole.at));
    let (distance, to) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let way = (to - hole.at) / distance;
    let aside = Vec2::new(-way.y, way.x) * radius;
    let vertex = |point: Point, bulge: f64| Vertex {
        point,
        bulge,
        side: Side::Cut,
    };
    let stadium = vec![
        vertex(hole.at - aside, 0.0),
        vertex(to - aside, 1.0),
        vertex(to + aside, 0.0),
        vertex(hole.at + aside, 1.0),
    ];
    Outline::new(stadium).ok()
}
