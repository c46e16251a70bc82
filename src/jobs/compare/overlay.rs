//! Two patterns laid over each other: the new one thick, the old one dashed.

use super::moved::Moved;
use crate::draw::ink::{Anchor, Drawing, Ink, Layer, Line, LineType, Mark, Shade, Text, Width};
use crate::draw::{View, draw};
use crate::geometry::outline::CURVE_TOLERANCE;
use crate::jobs::produce::ProduceError;
use crate::layout::plate;
use crate::output::svg;
use crate::solve::Pattern;
use kurbo::{Circle, Shape};

/// Radius of the ring round the place that moved farthest, mm.
const RING: f64 = 4.0;

/// Layers of the new pattern that are shown.
const SHOWN: [Layer; 5] = [
    Layer::Panel,
    Layer::Fold,
    Layer::Centreline,
    Layer::Locators,
    Layer::Cut,
];

/// Both patterns at full size as the text of an SVG, the places that moved farthest ringed.
///
/// They lie on each other by centreline and datum edge, as both are measured.
///
/// # Errors
/// A letter that the typeface lacks.
pub fn overlay(old: &Pattern, new: &Pattern, moved: &[Moved]) -> Result<String, ProduceError> {
    let view = View::of(new.orientation);
    let drawn = draw(new).map_err(ProduceError::Letter)?;
    let before = draw(old).map_err(ProduceError::Letter)?;
    let turn = view.affine() * View::of(old.orientation).affine();
    let mut work: Vec<Mark> = lines(&drawn, &SHOWN)
        .map(|(mark, _)| mark.clone())
        .collect();
    let dashed = Line::of(LineType::Dashed, Width::Thin);
    work.extend(
        lines(&before, &[Layer::Cut, Layer::Locators])
            .map(|(_, path)| Mark::stroke(Layer::Findings, turn * path.clone(), dashed)),
    );
    for one in moved {
        let at = view.point(one.at);
        let ring = Circle::new(at, RING).to_path(CURVE_TOLERANCE);
        work.push(Mark::stroke(
            Layer::Findings,
            ring,
            Line::continuous(Width::Thin),
        ));
        let words = Text {
            words: new.units.close(one.by),
            at: at + kurbo::Vec2::new(RING + 1.5, -1.25),
            height: 2.5,
            anchor: Anchor::Start,
            turn: 0.0,
            heavy: false,
        };
        let ground = crate::draw::ink::lettering::bounds(&words).inflate(0.8, 0.8);
        work.push(Mark::fill(
            Layer::Findings,
            ground.to_path(0.01),
            Shade::White,
        ));
        work.push(Mark::text(Layer::Findings, words));
    }
    let was = before.title.number_and_revision();
    let mut title = drawn.title.clone();
    title.title = format!("thick; {was} dashed. COMPARISON, NOT FOR CUTTING");
    let drawing = Drawing {
        warning: Default::default(),
        scale_error: crate::model::clearance::SCALE_ERROR,
        title,
        work,
        ..drawn
    };
    let mut plate = plate(&drawing).map_err(ProduceError::Sheets)?;
    plate.description = format!(
        "{} drawn thick over {was} drawn dashed, at full size, in millimetres: for comparison, not \
         for cutting.",
        drawing.title.number_and_revision()
    );
    svg(&plate).map_err(ProduceError::Write)
}

/// Strokes of some layers.
fn lines<'a>(
    drawing: &'a Drawing,
    layers: &'a [Layer],
) -> impl Iterator<Item = (&'a Mark, &'a kurbo::BezPath)> {
    drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Stroke { path, .. } if layers.contains(&mark.layer) => Some((mark, path)),
        _ => None,
    })
}
