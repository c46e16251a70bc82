//! To and from the polylines of the boolean library, which hold bulges as outlines do.

use super::{Outline, SHORTEST_SIDE, Side, Vertex};
use cavalier_contours::polyline::{
    PlineCreation, PlineSource, PlineSourceMut, PlineVertex, Polyline,
};
use kurbo::Point;

/// Leftovers narrower than this on average are where two edges coincide, mm. The library joins
/// points within 1e-5 mm, so what it leaves behind is some of those wide.
pub(crate) const SLIVER: f64 = 1e-4;

/// Leftovers smaller than this are nothing that could be cut, mm^2.
const SPECK: f64 = 1e-4;

/// The outline as a closed polyline; flags of sides are lost.
pub(crate) fn to_polyline(outline: &Outline) -> Polyline<f64> {
    let mut line = Polyline::new_closed();
    for vertex in outline.vertices() {
        line.add(vertex.point.x, vertex.point.y, vertex.bulge);
    }
    line
}

/// A line that touches itself at points, as loops that do not.
pub(crate) fn simple_loops(line: &Polyline<f64>) -> Vec<Polyline<f64>> {
    let mut loops = Vec::new();
    let mut open: Vec<PlineVertex<f64>> = Vec::with_capacity(line.vertex_count());
    for vertex in line.iter_vertexes() {
        let again = open
            .iter()
            .position(|earlier| earlier.pos().fuzzy_eq_eps(vertex.pos(), SHORTEST_SIDE));
        if let Some(start) = again {
            loops.push(PlineCreation::from_iter(open.drain(start..), true));
        }
        open.push(vertex);
    }
    loops.push(PlineCreation::from_iter(open.into_iter(), true));
    loops
}

/// A polyline as an outline with all sides to be cut; none for slivers without area.
pub(crate) fn from_polyline(line: &Polyline<f64>) -> Option<Outline> {
    let outline = all_cut(line)?;
    if outline.area() <= SPECK || outline.area() <= SLIVER * outline.length() / 2.0 {
        return None;
    }
    // Only now: a line without area has all its vertices found redundant, and none may be left.
    match to_polyline(&outline).remove_redundant(SHORTEST_SIDE) {
        Some(tidy) => all_cut(&tidy),
        None => Some(outline),
    }
}

fn all_cut(line: &Polyline<f64>) -> Option<Outline> {
    let vertices = line
        .iter_vertexes()
        .map(|vertex| Vertex {
            point: Point::new(vertex.x, vertex.y),
            bulge: vertex.bulge,
            side: Side::Cut,
        })
        .collect();
    Outline::tidied(vertices).ok()
}
