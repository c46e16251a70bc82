//! A small picture of the panel as its reader sees it, with the readings of the centre on it.

use super::dimension::{LabelLine, beside_picture};
use super::field::Field;
use super::leader::{Start, around};
use super::note::note_list;
use super::opening::cross;
use crate::base::Direction;
use crate::base::length::Units;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width, lettering};
use crate::draw::ink::{Plate, Rooms};
use crate::model::centre::{Centre, Readings, Zero};
use crate::model::panel::Orientation;
use kurbo::{Point, Rect, Shape, Size, Vec2};

/// Width of the panel in the picture, mm.
const PANEL: f64 = 240.0;

/// Room for words round the panel, mm.
const BORDER: f64 = 26.0;

/// Least and greatest height of the panel in the picture, mm.
const HEIGHT: (f64, f64) = (50.0, 200.0);

/// A picture of the panel, not to scale, with every reading at its place.
///
/// `width` is the panel's, mm, above 0; lengths are told in `units`.
///
/// # Errors
/// A pair's name with a letter that the typeface lacks.
pub fn reading_picture(
    readings: &Readings,
    centre: &Centre,
    width: f64,
    (orientation, units): (Orientation, Units),
) -> Result<Plate, lettering::MissingLetter> {
    let picture = Picture::of(readings, width, orientation);
    let mut field = Field::new(&Rooms::boundless());
    let mut marks = picture.panel(centre);
    field.stand(&marks, false);
    for pair in &readings.pairs {
        lettering::check(&pair.name)?;
        for (side, reading) in [("left", pair.left), ("right", pair.right)] {
            let at = picture.point(reading, pair.depth);
            let feature = Mark::stroke(
                Layer::Locators,
                cross(at, 2.0),
                Pen::continuous(Width::Medium),
            );
            field.stand(std::slice::from_ref(&feature), false);
            marks.push(feature);
            let words = [
                LabelLine::heavy(units.figure(reading), 3.5),
                LabelLine::new(format!("{}, {side}", pair.name), 2.5),
            ];
            let candidates: Vec<_> =
                around(at, &words, Layer::Text, Start::Point, |_| 0.0).collect();
            marks.extend(field.place_or_note(candidates, at, &pair.name, Layer::Text));
        }
    }
    let foot = centre.at(0.0);
    let words = [
        LabelLine::heavy(format!("centre {}", units.length(foot.middle)), 3.5),
        LabelLine::new(
            format!("known to {}", units.doubt(foot.uncertainty, 1)),
            2.5,
        ),
    ];
    let at = picture.point(foot.middle, 0.0);
    let candidates: Vec<_> = around(at, &words, Layer::Text, Start::Arrow, |_| 0.0).collect();
    marks.extend(field.place_or_note(candidates, at, "centre", Layer::Text));
    let beside = Point::new(4.0, picture.size.height - 4.0);
    marks.extend(note_list(&field.notes, beside));
    marks.extend(picture.words());
    Ok(Plate {
        title: "The middle of the panel".into(),
        description: format!(
            "The panel as seen from {}, not to scale, with the readings of its centre.",
            orientation.seen_from()
        ),
        content: String::new(),
        size: picture.size,
        marks,
    })
}

/// From readings to places in the picture.
struct Picture {
    orientation: Orientation,
    zero: Zero,
    /// The panel's width, mm.
    width: f64,
    /// Picture millimetres for a millimetre of the panel.
    scale: f64,
    panel: Rect,
    size: Size,
}

impl Picture {
    fn of(readings: &Readings, width: f64, orientation: Orientation) -> Self {
        let scale = PANEL / width;
        let deepest = readings
            .pairs
            .iter()
            .map(|pair| pair.depth)
            .fold(0.0, f64::max);
        let height = (deepest * scale * 1.25).clamp(HEIGHT.0, HEIGHT.1);
        Self {
            orientation,
            zero: readings.zero,
            width,
            scale,
            panel: Rect::new(BORDER, BORDER, BORDER + PANEL, BORDER + height),
            size: Size::new(PANEL + 2.0 * BORDER, height + 2.0 * BORDER),
        }
    }

    /// Whether readings grow to the right of the page.
    fn grows_right(&self) -> bool {
        let zero_at_left = self.orientation.page_right() == Direction::Right;
        (self.zero == Zero::Left) == zero_at_left
    }

    fn point(&self, reading: f64, depth: f64) -> Point {
        let along = reading.clamp(0.0, self.width) * self.scale;
        let away = (depth * self.scale).clamp(-BORDER, self.panel.height());
        Point::new(
            if self.grows_right() {
                self.panel.x0 + along
            } else {
                self.panel.x1 - along
            },
            if self.orientation.datum_at_head() {
                self.panel.y1 - away
            } else {
                self.panel.y0 + away
            },
        )
    }

    /// The panel's edges and its centreline.
    fn panel(&self, centre: &Centre) -> Vec<Mark> {
        let far = self.panel.height() / self.scale;
        let line = |depth: f64| self.point(centre.at(depth).middle, depth);
        let mut path = kurbo::BezPath::new();
        let (foot, head) = (line(0.0), line(far));
        let past = (head - foot).normalize() * 6.0;
        path.move_to(foot - past);
        path.line_to(head + past);
        vec![
            Mark::stroke(
                Layer::Panel,
                self.panel.to_path(0.1),
                Pen::continuous(Width::Broad),
            ),
            Mark::stroke(
                Layer::Centreline,
                path,
                Pen::of(LineType::LongDashDot, Width::Thin),
            ),
        ]
    }

    /// The vehicle's directions, the datum edge and the zero end.
    fn words(&self) -> Vec<Mark> {
        let up = self.orientation.page_up();
        let right = self.orientation.page_right();
        let middle = self.panel.center();
        let upper = |direction: Direction| direction.word().to_uppercase();
        let datum = if self.orientation.datum_at_head() {
            (up, upper(up.opposite()))
        } else {
            (up.opposite(), upper(up))
        };
        let datum_words = format!("{}: datum edge", upper(datum.0));
        let (head, foot) = if self.orientation.datum_at_head() {
            (datum_words, datum.1)
        } else {
            (datum.1, datum_words)
        };
        let zero = self.point(0.0, 0.0)
            + Vec2::new(
                0.0,
                if self.orientation.datum_at_head() {
                    3.0
                } else {
                    -5.5
                },
            );
        [
            (head, Point::new(middle.x, self.size.height - 8.0), 0.0),
            (foot, Point::new(middle.x, 5.0), 0.0),
            (upper(right.opposite()), Point::new(8.0, middle.y), 90.0),
            (
                upper(right),
                Point::new(self.size.width - 8.0, middle.y),
                -90.0,
            ),
            ("0".to_owned(), zero, 0.0),
            ("not to scale".to_owned(), Point::new(20.0, 5.0), 0.0),
        ]
        .into_iter()
        .map(|(words, at, turn)| beside_picture(words, at, turn))
        .collect()
    }
}
