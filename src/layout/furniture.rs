//! What every sheet carries round its window: words, directions, rulers.

use super::frame::{PageFrame, WORD_ROW};
use super::ruler;
use super::setup::Setup;
use super::symbol::symbol;
use super::words::{MIDDLE, SMALL, Style, fitted, outline};
use crate::base::Direction;
use crate::base::paper::{PageName, PageNumber};
use crate::draw::ink::{
    Anchor, Drawing, Layer, Mark, PageEdges, Shade, TitleBlock, Width, lettering,
};
use kurbo::{BezPath, Point, Rect, Vec2};

/// Free space between two things in one row, mm.
const GAP: f64 = 3.0;
/// Size of the arrowhead beside a direction, mm.
const ARROW: f64 = 3.0;

/// Words of one corner of the page: what must be read, and what may be shortened.
#[derive(Debug, Clone, Default)]
pub(crate) struct Corner {
    /// Heavy, and whole wherever it can be.
    pub(crate) strong: String,
    /// Beside it.
    pub(crate) beside: String,
}

/// All words round a window.
#[derive(Debug, Clone)]
pub(crate) struct Furniture {
    /// Head, left.
    pub(crate) head_left: Corner,
    /// Head, right.
    pub(crate) head_right: Corner,
    /// Foot, left.
    pub(crate) foot_left: Corner,
    /// Foot, right.
    pub(crate) foot_right: Corner,
    /// Directions of the page's edges.
    pub(crate) edges: PageEdges,
    /// What the printed scale may be off by, a part of 1.
    pub(crate) scale_error: f64,
    /// What must not be missed, at the left side, read from the right: under its middle and over it.
    pub(crate) warning: [String; 2],
    /// What stands at the right side, read from the right: under its middle and over it.
    pub(crate) note: [String; 2],
    /// Code of the content and the program that drew it, beside what stands over the right side's middle;
    /// may be empty.
    pub(crate) code: Corner,
    /// What its symbol says; none where it has none.
    pub(crate) name: Option<PageName>,
}

/// What the symbol of a page says; nothing of pages that have no code.
pub(crate) fn page_name(title: &TitleBlock, page: Option<PageNumber>) -> Option<PageName> {
    let TitleBlock {
        number,
        revision,
        code,
        ..
    } = title;
    (!code.is_empty()).then(|| PageName {
        number: number.clone(),
        revision: revision.clone(),
        code: code.clone(),
        page,
    })
}

/// The kit that sheets are issued with.
pub(crate) fn kit_words(kit: &str) -> String {
    match kit {
        "" => String::new(),
        kit => format!("{KIT}{kit}"),
    }
}

/// Goes before a kit's number.
pub(crate) const KIT: &str = "Kit ";

/// Words at the foot of every sheet.
const PRINT_WORDS: &str = "PRINT AT ACTUAL SIZE (100 %)";
const COPY_WORDS: &str = "DO NOT COPY";

/// The foot's words, left and right: how it is printed, on what paper, and when it was issued.
pub(crate) fn foot_words(title: &TitleBlock, setup: &Setup) -> [Corner; 2] {
    let corner = |strong: &str, beside: String| Corner {
        strong: strong.into(),
        beside,
    };
    [
        corner(PRINT_WORDS, setup.paper.common_name()),
        corner(COPY_WORDS, title.issued.clone()),
    ]
}

impl Furniture {
    /// What page `number` of `count` carries round its window.
    pub(super) fn of(
        drawing: &Drawing,
        setup: &Setup,
        (number, count): (usize, usize),
        place: &str,
    ) -> Self {
        let [foot_left, foot_right] = foot_words(&drawing.title, setup);
        Self {
            head_left: Corner {
                strong: drawing.title.number_and_revision(),
                beside: drawing.title.title.clone(),
            },
            head_right: Corner {
                strong: format!("SHEET {number} OF {count}"),
                beside: place.into(),
            },
            foot_left,
            foot_right,
            edges: drawing.edges,
            warning: drawing.warning.clone(),
            scale_error: drawing.scale_error,
            note: match setup.note[0].as_str() {
                "" => [kit_words(&setup.kit), setup.note[1].clone()],
                _ => setup.note.clone(),
            },
            code: Corner {
                strong: drawing.title.code.clone(),
                beside: setup.program.clone(),
            },
            name: page_name(
                &drawing.title,
                Some(PageNumber {
                    of_record: false,
                    number,
                    count,
                }),
            ),
        }
    }

    /// Width of a window over which all words stand whole, mm.
    pub(crate) fn whole_width(&self) -> f64 {
        let half = |direction, [start, end]: [&Corner; 2]| {
            let label = direction_label(direction, Vec2::ZERO).half_length;
            start.width(MIDDLE).max(end.width(MIDDLE)) + label + GAP
        };
        let head = half(self.edges.head, [&self.head_left, &self.head_right]);
        let foot = half(self.edges.foot, [&self.foot_left, &self.foot_right]);
        2.0 * head.max(foot)
    }

    /// All marks round the window of `frame`.
    pub(crate) fn marks(&self, frame: &PageFrame) -> Vec<Mark> {
        let window = frame.window;
        let mut marks = vec![outline(window, Width::Thin)];
        marks.extend(self.words_round(window, ruler::ROW));
        let at = frame.foot_rulers().to_vec2();
        marks.extend(
            ruler::rulers(window.width(), self.scale_error)
                .iter()
                .map(|mark| mark.moved(at)),
        );
        let at = frame.left_rulers().to_vec2();
        marks.extend(
            ruler::rulers(window.height(), self.scale_error)
                .iter()
                .map(|mark| mark.turned(1, at)),
        );
        let name = self.name.as_ref();
        marks.extend(name.and_then(|name| symbol(&name.to_string(), frame)));
        marks
    }

    /// The words alone, with a row of `rulers` mm left free at the foot and the left.
    pub(crate) fn words_round(&self, window: Rect, rulers: f64) -> Vec<Mark> {
        let mut marks = vec![];
        let head = window.y1;
        let foot = window.y0 - rulers - WORD_ROW;
        let (across, down) = (window.width(), window.height());
        let edges = self.edges;
        let up = Vec2::new(0.0, 1.0);
        let right = Vec2::new(1.0, 0.0);
        let rows = [
            (edges.head, up, [&self.head_left, &self.head_right], head),
            (edges.foot, -up, [&self.foot_left, &self.foot_right], foot),
        ];
        for (direction, towards, [start, end], base) in rows {
            // A title may be shortened; paper and date may not.
            let yields = base == head;
            let label = direction_label(direction, towards);
            let half = label.half_length;
            let by = Vec2::new(window.x0, base);
            let at = middle(across, half, [start, end], yields);
            let place = Vec2::new(window.x0 + at, base);
            marks.extend(label.marks.iter().map(|mark| mark.moved(place)));
            let sides = [at, across - at].map(|side| (side - half - GAP).max(0.0));
            let row = corner(start, sides[0], false, yields)
                .into_iter()
                .chain(
                    corner(end, sides[1], true, yields)
                        .iter()
                        .map(|mark| mark.moved(Vec2::new(across, 0.0))),
                )
                .collect::<Vec<_>>();
            marks.extend(row.iter().map(|mark| mark.moved(by)));
        }
        // Read from the right, as ISO 3098 has it: a row turned a quarter, its foot to the right.
        let alone = |words: &String| Corner {
            strong: words.clone(),
            beside: String::new(),
        };
        let note = match self.note[1].as_str() {
            "" => self.code.clone(),
            note => Corner {
                strong: note.into(),
                beside: [&*self.code.strong, &*self.code.beside].join(" · "),
            },
        };
        let warning = self.warning.each_ref().map(alone);
        let sides = [
            (edges.left, -right, window.x0 - rulers, warning),
            (
                edges.right,
                right,
                window.x1 + WORD_ROW,
                [alone(&self.note[0]), note],
            ),
        ];
        for (direction, towards, foot, [under, over]) in sides {
            let middle = Vec2::new(foot, window.y0 + down / 2.0);
            // The arrow is turned with its row, so it is given turned back.
            let label = direction_label(direction, Vec2::new(towards.y, -towards.x));
            marks.extend(label.marks.iter().map(|mark| mark.turned(1, middle)));
            let room = (down / 2.0 - label.half_length - GAP).max(0.0);
            for (words, leftwards, y) in [(under, false, window.y0), (over, true, window.y1)] {
                if !words.strong.is_empty() {
                    let row = corner(&words, room, leftwards, false);
                    let at = Vec2::new(foot, y);
                    marks.extend(row.iter().map(|mark| mark.turned(1, at)));
                }
            }
        }
        marks
    }
}

impl Corner {
    /// Width that all of it takes in lettering of one height, mm.
    fn width(&self, height: f64) -> f64 {
        let beside = match self.beside.as_str() {
            "" => 0.0,
            words => lettering::width(words, height) + GAP,
        };
        // Heavy letters take a little more than their advances.
        lettering::width(&self.strong, height) + 0.5 + beside
    }

    /// The same where what stands beside it may be shortened.
    fn least_width(&self, height: f64, yields: bool) -> f64 {
        match yields {
            true => lettering::width(&self.strong, height) + 0.5,
            false => self.width(height),
        }
    }
}

/// Where the middle of a direction of half a length `half` stands in a row of `across` mm: in its
/// middle, or as far aside as what must be read at the ends asks for.
fn middle(across: f64, half: f64, ends: [&Corner; 2], yields: bool) -> f64 {
    let asked = |height: f64, yields: bool| {
        ends.map(|corner| corner.least_width(height, yields) + half + GAP)
    };
    let fits = |[start, end]: &[f64; 2]| start + end <= across;
    let whole = [asked(MIDDLE, yields), asked(SMALL, yields)];
    let [start, end] = whole.into_iter().find(fits).unwrap_or(asked(SMALL, true));
    // What stands first is the number, and is the last to be cut short.
    (across / 2.0)
        .min(across - end)
        .max(start)
        .min((across - half).max(half))
}

/// Words in half a row of `width` mm from the origin rightwards, or leftwards.
pub(crate) fn corner(words: &Corner, width: f64, leftwards: bool, yields: bool) -> Vec<Mark> {
    let (anchor, sign) = if leftwards {
        (Anchor::End, -1.0)
    } else {
        (Anchor::Start, 1.0)
    };
    let whole = words.least_width(MIDDLE, yields) <= width + 1e-9;
    let height = if whole { MIDDLE } else { SMALL };
    let (strong, _) = fitted(&words.strong, width, &[height]);
    let used = lettering::width(&strong, height) + GAP;
    let strong = Style::heavy(height)
        .anchored(anchor)
        .at(strong, (0.0, baseline(height)));
    let mut marks = vec![strong];
    let (beside, _) = fitted(&words.beside, width - used, &[height]);
    if !beside.is_empty() {
        let style = Style::plain(height).anchored(anchor);
        marks.push(style.at(beside, (sign * used, baseline(MIDDLE))));
    }
    marks
}

/// Height of a baseline over the foot of its row.
fn baseline(height: f64) -> f64 {
    // Small words share the baseline of those beside them.
    (WORD_ROW - MIDDLE.max(height)) / 2.0
}

struct DirectionLabel {
    marks: Vec<Mark>,
    half_length: f64,
}

/// A direction's word with an arrowhead that points `towards`, centred on the origin along a row.
fn direction_label(direction: Direction, towards: Vec2) -> DirectionLabel {
    let word = direction.word().to_uppercase();
    let length = lettering::width(&word, MIDDLE);
    let whole = ARROW + 1.5 + length;
    let start = -whole / 2.0;
    let base = baseline(MIDDLE);
    let centre = Point::new(start + ARROW / 2.0, base + MIDDLE / 2.0);
    let word = Style::heavy(MIDDLE).at(word, (start + ARROW + 1.5, base));
    DirectionLabel {
        marks: vec![arrowhead(centre, towards), word],
        half_length: whole / 2.0,
    }
}

/// A filled arrowhead of [`ARROW`] mm, centred on `centre`, that points along a unit vector.
pub(crate) fn arrowhead(centre: Point, towards: Vec2) -> Mark {
    let aside = Vec2::new(-towards.y, towards.x);
    let half = ARROW / 2.0;
    let mut path = BezPath::new();
    path.move_to(centre + half * towards);
    path.line_to(centre - half * towards + half * 0.8 * aside);
    path.line_to(centre - half * towards - half * 0.8 * aside);
    path.close_path();
    Mark::fill(Layer::Frame, path, Shade::Black)
}
