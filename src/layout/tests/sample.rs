//! Drawings to put on sheets.

use crate::base::Direction;
use crate::draw::ink::{
    Anchor, Block, Cell, Column, Drawing, Front, Geometry, Island, Layer, Line, LineType, Mark,
    PageEdges, Text, TitleBlock, Width,
};
use kurbo::{BezPath, Circle, Point, Rect, RoundedRect, Shape, Size};

/// One straight stroke.
pub(super) fn stroke(layer: Layer, from: (f64, f64), to: (f64, f64), line: Line) -> Mark {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    Mark::stroke(layer, path, line)
}

/// A panel of this size with an opening, a hole, a centreline and words.
pub(super) fn panel(width: f64, height: f64) -> Drawing {
    let thick = Line::continuous(Width::Thick);
    let half = width / 2.0;
    let edge = Rect::new(-half, 0.0, half, height);
    let opening = RoundedRect::new(-half / 2.0, height * 0.2, half / 2.0, height * 0.7, 10.0);
    let hole = Circle::new((half * 0.8, height * 0.5), 4.0);
    let words = Text {
        words: "window 96 x 54".into(),
        at: Point::new(0.0, height * 0.8),
        height: 3.5,
        anchor: Anchor::Middle,
        turn: 0.0,
        heavy: false,
    };
    let centre = Line::of(LineType::LongDashDot, Width::Thin);
    let work = vec![
        Mark::stroke(
            Layer::Panel,
            edge.to_path(0.01),
            Line::continuous(Width::Medium),
        ),
        Mark::stroke(Layer::Cut, opening.to_path(0.001), thick),
        Mark::stroke(
            Layer::Locators,
            hole.to_path(0.001),
            Line::continuous(Width::Medium),
        ),
        stroke(Layer::Centreline, (0.0, -5.0), (0.0, height + 5.0), centre),
        Mark::text(Layer::Text, words),
    ];
    drawing(work, vec![hole.bounding_box().inflate(2.0, 2.0)])
}

/// The longest that a sheet has to say.
pub(super) const WARNING: [&str; 2] = ["REFERENCE LINE ASSUMED", "Measure it before you cut"];

/// Marks with a title block and words round them.
pub(super) fn drawing(work: Vec<Mark>, keep_whole: Vec<Rect>) -> Drawing {
    Drawing {
        warning: WARNING.map(str::to_owned),
        scale_error: crate::model::clearance::SCALE_ERROR,
        title: TitleBlock {
            owner: "Tarn fitting bay".into(),
            number: "LV2-UP-01".into(),
            revision: "B".into(),
            issued: "2026-03-02".into(),
            title: "Under-panel, bracket neck".into(),
            supplement: "Tarn LV2 van, fixed bracket, 60 mm neck".into(),
            drawn_by: "parts desk".into(),
            approved_by: "bay lead".into(),
            sizes_in: "mm".into(),
            document_type: "Cutting pattern".into(),
            code: "7K3MQ-9XDT2".into(),
        },
        content: String::new(),
        edges: PageEdges {
            head: Direction::Front,
            foot: Direction::Rear,
            left: Direction::Right,
            right: Direction::Left,
        },
        geometry: Geometry {
            marks: work.clone(),
            islands: vec![Island {
                must_show: work.clone(),
                places: keep_whole,
                ..Island::default()
            }],
            left_out: vec![],
        },
        work,
        front: front(),
        record: record(),
    }
}

/// A front page with something of every kind.
pub(super) fn front() -> Front {
    let words = |words: &[&str]| words.iter().map(|words| (*words).to_owned()).collect();
    Front {
        middle: vec![Block::Notice(
            "Centreline ASSUMED at half the panel's width. Measure the vehicle before any cut is made."
                .into(),
        )],
        lay: words(&["Stand under the panel, looking up.", "Fold the tab over the rear edge."]),
        cautions: words(&[
            "Eye protection when cutting or drilling.",
            "Never work under a vehicle that is held only by a jack; set it on stands on firm \
             ground, and let the exhaust and its shield cool.",
        ]),
        steps: words(&[
            "Lay the centreline ticks on the centreline.",
            "Drill the relief holes, then saw along the thick line on the waste side.",
        ]),
        checks: vec![
            ["left clip hole".into(), "A".into(), "378 mm".into()],
            ["rear edge".into(), "B".into(), "54 mm".into()],
        ],
        findings: words(&["(1) warning: 9 mm stay between window and hole. Move the window."]),
        numbered: words(&["1 window 96 x 54"]),
        notes: words(&["Two clips are shared with the fascia."]),
    }
}

fn record() -> Vec<Block> {
    let words = |words: &str| Cell::Words(words.into());
    let column = |head: &str, right: bool| Column {
        head: head.into(),
        right,
    };
    let row = |name: &str, size: &str| vec![words(name), words(size), Cell::Blank, Cell::TickBox];
    vec![
        Block::Heading("All tape checks".into()),
        Block::Table {
            columns: vec![
                column("Dimension", false),
                column("mm", true),
                column("Reading", false),
                column("", false),
            ],
            rows: vec![
                row("Width of window", "96"),
                row("Depth of window", "54"),
                row("From datum edge to window", "40"),
                row(
                    "Centre of window from the left clip hole, measured along the edge",
                    "378",
                ),
            ],
        },
        Block::Figure {
            size: Size::new(90.0, 30.0),
            marks: vec![stroke(
                Layer::Frame,
                (5.0, 5.0),
                (85.0, 25.0),
                Line::continuous(Width::Medium),
            )],
            caption: "How the panel leans".into(),
        },
        Block::Paragraph("Cut no more than the part needs.".into()),
    ]
}
