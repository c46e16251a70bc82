//! What became of the panel otherwise, without a line of the definition that says so: what the feet
//! press, what still holds, what is met behind, what falls away, is taken in or is cut first.

use super::written::Change;
use crate::base::length::Units;
use crate::geometry::outline::Outline;
use crate::solve::{Opening, Pattern};
use kurbo::Point;

/// What is told of something, by what it is called.
type Fact = (String, String);

/// What is worked out otherwise in `new` than in `old`, told in the new one's units; what both tell
/// in the same words is the same.
pub(super) fn worked_out(old: &Pattern, new: &Pattern) -> Vec<Change> {
    let (before, now) = (facts(old, new.units), facts(new, new.units));
    let find = |facts: &[Fact], what: &str| {
        let fact = facts.iter().find(|(own, _)| own == what);
        fact.map(|(_, told)| told.clone())
    };
    let gone = before.iter().filter(|(what, _)| find(&now, what).is_none());
    now.iter()
        .chain(gone)
        .map(|(what, _)| Change {
            what: what.clone(),
            old: find(&before, what),
            new: find(&now, what),
        })
        .filter(|change| change.old != change.new)
        .collect()
}

fn facts(pattern: &Pattern, units: Units) -> Vec<Fact> {
    let mut facts = vec![];
    for part in &pattern.parts {
        let Some(tied) = &part.tied else { continue };
        let off = [tied.off.sideways, tied.off.depthways].map(|off| units.length(off));
        let place = whereabouts(part.origin, pattern, units);
        let told = format!("{place}, {} and {} either way", off[0], off[1]);
        facts.push((format!("part `{}` by its ties", part.name), told));
    }
    for foot in &pattern.feet {
        facts.push((format!("foot `{}`", foot.name), foot.told(units)));
    }
    let hold = &pattern.hold;
    let all = |told: &[String]| match told.is_empty() {
        true => "none".to_owned(),
        false => told.join(", "),
    };
    let slides = hold.slides.iter();
    let slides: Vec<String> = slides.map(|way| way.told(pattern.orientation)).collect();
    for (what, told) in [
        ("fixed points that stay", all(&hold.held_by)),
        ("fasteners left out", all(&hold.left_out)),
        (
            "straight ways to slide out",
            match hold.was_sought {
                true => all(&slides),
                false => "not sought".into(),
            },
        ),
    ] {
        facts.push((what.into(), told));
    }
    for foul in &pattern.fouls {
        facts.push((
            format!("`{}` beside `{}`", foul.feature, foul.part),
            units.length(foul.distance),
        ));
    }
    for feature in pattern.features.iter().filter(|own| !own.first.is_empty()) {
        facts.push((
            format!("before `{}` goes on", feature.name),
            feature.first.join(", "),
        ));
    }
    facts.extend(
        pattern
            .openings
            .iter()
            .flat_map(|own| of_opening(own, units)),
    );
    facts
}

/// `38 mm left, 70 mm from the datum edge`.
pub(super) fn whereabouts(at: Point, pattern: &Pattern, units: Units) -> String {
    let right = pattern.orientation.frame_right();
    let side = if at.x < 0.0 { right.opposite() } else { right };
    format!(
        "{} {side}, {} from the datum edge",
        units.length(at.x.abs()),
        units.length(at.y - pattern.panel.edge.at(at.x))
    )
}

fn of_opening(opening: &Opening, units: Units) -> Vec<Fact> {
    let called = opening.name();
    let mut facts = vec![];
    if opening.has_trim() {
        let area = units.area(opening.outline.area());
        facts.push((format!("`{called}` falls away"), area));
    }
    if !opening.holes.is_empty() {
        let names: Vec<&str> = opening.holes.iter().map(|own| own.name.as_str()).collect();
        facts.push((format!("`{called}` takes in"), names.join(", ")));
    }
    if let Some(rough) = &opening.rough {
        let length: f64 = rough.lines.iter().map(Outline::cut_length).sum();
        let (inside, length) = (units.length(rough.inside), units.length(length));
        let told = format!("{inside} inside the line, {length} to cut");
        facts.push((format!("`{called}` rough cut"), told));
    }
    facts
}
