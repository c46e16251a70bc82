//! One page, recognised.

use super::cross::{Cross, crosses};
use super::cut::{CutLine, cut_strokes, is_line_to_cut, painted_box, seen};
use super::layers::Layers;
use super::ruler::{Lie, NoLie, Ruler, lie, rulers};
use super::segments::straights;
use super::window::window;
use crate::check::verify::measured::MeasuredPage;
use kurbo::{Affine, Rect};

/// What a page shows.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub(crate) rulers: Vec<Ruler>,
    /// Combs that are no whole ruler.
    pub(crate) broken: usize,
    pub(crate) lie: Result<Lie, NoLie>,
    /// Scales across and down by the rulers: 1 where there are none.
    pub(crate) scales: (f64, f64),
    /// From the page to the sheet's own directions, at the definition's size.
    pub(crate) to_sheet: Affine,
    /// The usable area, in the sheet's own directions.
    pub(crate) window: Option<Rect>,
    pub(crate) crosses: Vec<Cross>,
    /// What of the cut line can be seen, in the sheet's own directions.
    pub(crate) cut: CutLine,
    /// What of the centreline's layer, where layers are told.
    pub(crate) centreline: CutLine,
    /// Box round all of the cut line that is drawn, seen or not, on the page.
    pub(crate) cut_drawn: Option<Rect>,
    /// Box round what of it can be seen, on the page.
    pub(crate) cut_shown: Option<Rect>,
    /// Some of the cut line is hidden, broken, or of another width.
    pub(crate) hidden: bool,
    /// Part of it may be clipped away by something that is no box.
    pub(crate) ragged: bool,
    /// Something that hides was painted after it, over it.
    pub(crate) covered: bool,
    /// A ruler is clipped, or runs off the page.
    pub(crate) ruler_lost: bool,
    /// Something large was painted over a ruler.
    pub(crate) ruler_covered: bool,
}

/// Looks at a page. `corrected` is what a drawing corrected for a printer is larger by.
pub(crate) fn sheet(page: &MeasuredPage, layers: Layers, corrected: (f64, f64)) -> Sheet {
    let mut straights = straights(page);
    straights
        .long
        .retain(|base| layers.may_be(&page.strokes[base.stroke], layers.check_ruler));
    let (mut rulers, broken) = rulers(&straights);
    let lie = lie(&mut rulers);
    let scales = match &lie {
        Ok(lie) => {
            let mean = |pair: [usize; 2]| (rulers[pair[0]].scale() + rulers[pair[1]].scale()) / 2.0;
            (mean(lie.across), mean(lie.down))
        }
        Err(_) => (1.0, 1.0),
    };
    let scale = (scales.0 * scales.1).sqrt();
    let turned = lie.as_ref().map_or(Affine::IDENTITY, |lie| lie.to_sheet);
    let to_sheet = Affine::scale_non_uniform(1.0 / corrected.0, 1.0 / corrected.1) * turned;
    let window = window(page, layers, to_sheet);
    let crosses = window.map_or_else(Vec::new, |window| {
        crosses(page, &straights, layers, to_sheet, window, scale)
    });
    let own_window = window.map(|window| to_sheet.inverse().transform_rect_bbox(window));
    let cut_strokes = || cut_strokes(page, layers, scale, own_window);
    let strokes = || cut_strokes().map(|(_, stroke)| stroke);
    let cut = seen(strokes(), page.shown, to_sheet);
    let on_page = seen(strokes(), page.shown, Affine::IDENTITY);
    let cut_drawn = painted_box(strokes());
    let covered = |stroke: usize, bounds: Rect| {
        page.covers
            .iter()
            .any(|cover| cover.after > stroke && meets(cover.bounds, bounds))
    };
    Sheet {
        hidden: strokes().any(|stroke| !is_line_to_cut(stroke, scale)),
        ragged: strokes().any(|stroke| stroke.painted.clip.ragged),
        centreline: match layers.are_told() {
            true => seen(
                page.strokes
                    .iter()
                    .filter(|stroke| layers.may_be(stroke, layers.centreline)),
                page.shown,
                to_sheet,
            ),
            false => CutLine::default(),
        },
        covered: cut_strokes()
            .any(|(index, stroke)| covered(index, kurbo::Shape::bounding_box(&stroke.path))),
        ruler_lost: rulers.iter().any(|ruler| {
            let clip = page.strokes[ruler.stroke].painted.clip;
            let room = clip
                .bounds
                .map_or(page.shown, |clip| clip.intersect(page.shown));
            let room = room.inflate(0.01, 0.01);
            clip.ragged || !ruler.ends.iter().all(|end| room.contains(*end))
        }),
        ruler_covered: rulers.iter().any(|ruler| {
            covered(
                ruler.stroke,
                Rect::from_points(ruler.ends[0], ruler.ends[1]),
            )
        }),
        rulers,
        broken,
        lie,
        scales,
        to_sheet,
        window,
        crosses,
        cut_shown: on_page.bounds(),
        cut,
        cut_drawn,
    }
}

/// Whether two boxes touch; flat ones count too.
fn meets(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1.max(b.x0 + 1e-9) && b.x0 < a.x1 && a.y0 < b.y1.max(b.y0 + 1e-9) && b.y0 < a.y1
}

impl Sheet {
    /// It shows work, not instructions.
    pub(crate) fn is_work(&self) -> bool {
        self.cut_drawn.is_some() || !self.crosses.is_empty()
    }
}
