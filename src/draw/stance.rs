//! How panel and parts stand to each other, in words.

use super::in_space::on_page;
use super::side_views::side_views;
use crate::base::Direction;
use crate::base::fixed;
use crate::draw::ink::Block;
use crate::geometry::development::{Along, Bulge, Whereabouts, radius_of};
use crate::input::{CircleSize, FormSpec};
use crate::solve::{Developed, Part, Pattern};

/// Whether there is anything to tell: not where the panel is flat and every part meets it squarely.
pub(super) fn is_told(pattern: &Pattern) -> bool {
    !(pattern.surface.is_plain() && pattern.developed.is_empty())
}

/// Words and views.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    if !is_told(pattern) {
        return vec![];
    }
    let mut points = vec![];
    points.extend(lean(pattern));
    points.extend(curve(pattern));
    points.extend(pattern.parts.iter().filter_map(|part| way(part, pattern)));
    points.extend(
        pattern
            .developed
            .iter()
            .map(|one| beside_flat(one, pattern)),
    );
    points.push(
        "Press the paper to the panel all over, from the centreline outwards: it is the panel's own \
         skin, rolled flat. Paper that bridges a hollow cuts wrong."
            .into(),
    );
    vec![
        Block::Heading("How the panel stands".into()),
        Block::Points(points),
        side_views(pattern),
    ]
}

/// A side of something on a panel, before its noun.
fn side(direction: Direction) -> &'static str {
    match direction {
        Direction::Up => "upper",
        Direction::Down => "lower",
        other => other.word(),
    }
}

/// Which way something runs.
fn towards(direction: Direction) -> String {
    match direction {
        Direction::Up => "upwards".into(),
        Direction::Down => "downwards".into(),
        other => format!("to the {other}"),
    }
}

fn degrees(radians: f64) -> String {
    format!("{} degrees", fixed(radians.to_degrees().abs(), 1))
}

fn lean(pattern: &Pattern) -> Option<String> {
    let rake = on_page(pattern.surface.surface.rake(), pattern);
    if rake == 0.0 {
        return None;
    }
    let head = side(pattern.orientation.page_up());
    let away = if rake > 0.0 { "away from" } else { "towards" };
    Some(format!(
        "The panel leans {}: its {head} edge leans {away} you.",
        degrees(rake)
    ))
}

fn curve(pattern: &Pattern) -> Option<String> {
    let surface = &pattern.surface;
    let way = match surface.surface.along() {
        Along::Across => "across",
        Along::EdgeToEdge => "from edge to edge",
    };
    match surface.form.as_ref()? {
        FormSpec::Flat => None,
        FormSpec::Circle { size, bulges, .. } => {
            let radius = match *size {
                CircleSize::Chord { chord, rise } => radius_of(chord, rise),
                CircleSize::Radius(radius) => radius,
            };
            let side = match bulges {
                Bulge::Towards => "towards you",
                Bulge::Away => "away from you",
            };
            Some(format!(
                "It is curved {way}, bulging {side}, to a radius of {}.",
                pattern.units.length(radius)
            ))
        }
        FormSpec::Profile { one, error, .. } => {
            let farthest = surface
                .smoothings
                .iter()
                .flat_map(|smoothing| &smoothing.residuals)
                .fold(0.0, |most: f64, residual| most.max(residual.abs()));
            let units = pattern.units;
            let left = match units.doubt(farthest, 2) {
                none if none == units.doubt(0.0, 2) => "goes through them all".to_owned(),
                by => format!("leaves the farthest by {by}"),
            };
            Some(format!(
                "It is curved {way} as {} readings tell, each known to {}; the smooth curve {left}.",
                one.readings.value.len(),
                units.doubt(*error, 1),
            ))
        }
    }
}

fn way(part: &Part, pattern: &Pattern) -> Option<String> {
    let along = part.through.as_ref()?.passage.along();
    let (up, right) = (on_page(along.z, pattern), on_page(along.x, pattern));
    let level = libm::hypot(along.x, along.depth);
    let (slope, yaw) = (libm::atan2(up, level), libm::atan2(right, along.depth));
    let mut told = vec![];
    for (angle, direction) in [
        (slope, pattern.orientation.page_up()),
        (yaw, pattern.orientation.page_right()),
    ] {
        if angle.abs() > 1e-9 {
            let to = if angle > 0.0 {
                direction
            } else {
                direction.opposite()
            };
            told.push(format!("{} {}", degrees(angle), towards(to)));
        }
    }
    (!told.is_empty()).then(|| {
        format!(
            "Going away from you, {} runs off {}.",
            part.name,
            told.join(" and ")
        )
    })
}

fn beside_flat(one: &Developed, pattern: &Pattern) -> String {
    let datum = pattern.orientation.datum_edge();
    let right = pattern.orientation.frame_right();
    let place = match one.guess.place {
        Whereabouts::Top => datum.opposite(),
        Whereabouts::Bottom => datum,
        Whereabouts::Left => right.opposite(),
        Whereabouts::Right => right,
    };
    let by = one.guess.short_by;
    let off = pattern.units.length(by.abs());
    if by >= 0.0 {
        format!(
            "A flat pattern would have been {off} short at the {} edge of {}.",
            side(place),
            one.opening
        )
    } else {
        format!(
            "A flat pattern would have cut {off} too far at the {} edge of {}.",
            side(place),
            one.opening
        )
    }
}
