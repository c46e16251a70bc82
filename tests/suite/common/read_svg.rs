//! An SVG as an outsider sees it: read by usvg, which shares no code with what writes it.

use kurbo::{Affine, BezPath};
use usvg::tiny_skia_path::PathSegment;
use usvg::{Group, Node, Options, Tree};

/// Millimetres in a pixel: 1 in is 96 px and 25.4 mm (CSS Values and Units, read second-hand).
pub const MM: f64 = 25.4 / 96.0;

/// The file as a tree in pixels.
pub fn read(text: &str) -> Tree {
    Tree::from_str(text, &Options::default()).unwrap()
}

/// Stroked paths of the group with this `id`, mm, y down.
pub fn layer(tree: &Tree, id: &str) -> Vec<BezPath> {
    let mut found = vec![];
    if let Some(group) = group(tree.root(), id) {
        strokes(group, &mut found);
    }
    found
}

fn group<'a>(within: &'a Group, id: &str) -> Option<&'a Group> {
    if within.id() == id {
        return Some(within);
    }
    within.children().iter().find_map(|node| match node {
        Node::Group(inner) => group(inner, id),
        _ => None,
    })
}

fn strokes(within: &Group, found: &mut Vec<BezPath>) {
    for node in within.children() {
        match node {
            Node::Group(inner) => strokes(inner, found),
            Node::Path(path) if path.stroke().is_some() && path.fill().is_none() => {
                let turn = path.abs_transform();
                let turn = [turn.sx, turn.ky, turn.kx, turn.sy, turn.tx, turn.ty].map(f64::from);
                let drawn: BezPath = path.data().segments().map(element).collect();
                found.push(Affine::scale(MM) * Affine::new(turn) * drawn);
            }
            _ => {}
        }
    }
}

fn element(segment: PathSegment) -> kurbo::PathEl {
    let at = |p: usvg::tiny_skia_path::Point| kurbo::Point::new(p.x.into(), p.y.into());
    match segment {
        PathSegment::MoveTo(to) => kurbo::PathEl::MoveTo(at(to)),
        PathSegment::LineTo(to) => kurbo::PathEl::LineTo(at(to)),
        PathSegment::QuadTo(a, to) => kurbo::PathEl::QuadTo(at(a), at(to)),
        PathSegment::CubicTo(a, b, to) => kurbo::PathEl::CurveTo(at(a), at(b), at(to)),
        PathSegment::Close => kurbo::PathEl::ClosePath,
    }
}
