//! Check rulers: 100 mm and 4 in, back to back.
//!
//! Drawn lying, with the lower left of their row at the origin; the pair that runs down the page
//! is the same, turned a quarter.

use super::words::{MIDDLE, SMALL, Style, straight};
use crate::draw::ink::{Anchor, Layer, Line, Mark, Width, lettering};
use crate::model::clearance::accepted_readings_in_words;
use kurbo::BezPath;

/// Height of the rulers' row, mm.
pub(crate) const ROW: f64 = 9.5;
/// Nominal length of the metric ruler, mm.
pub(crate) const METRIC: f64 = 100.0;
/// Nominal length of the inch ruler, mm: 4 in.
pub(crate) const INCHES: f64 = 101.6;

/// Where the base lines begin, mm: room for the figure 0.
const ZERO: f64 = 4.0;
/// Height of the metric base line over the row's foot, mm, and of the inch one under it.
const METRIC_BASE: f64 = 5.5;
const INCH_BASE: f64 = 4.25;
/// Longest graduation, mm.
const LONG: f64 = 3.0;
/// Gap between the rulers and what follows, mm.
const GAP: f64 = 3.0;

/// What the 100 mm ruler must read, in two lines.
fn words(scale_error: f64) -> [String; 2] {
    let range = accepted_readings_in_words(METRIC, scale_error, "mm");
    ["100 mm must read".into(), range]
}

/// The scale error whose words are as long as any.
const LONGEST_WORDS: f64 = 0.0011;

/// Length of the rulers with their end figures, in lettering of so many mm, mm.
fn rulers_length(text: f64) -> f64 {
    let figure = lettering::width("100 mm", text);
    ZERO + INCHES + 1.2 + figure
}

/// Length of the row across the page in lettering of so many mm: rulers and words, mm.
fn across_length(text: f64) -> f64 {
    let words = words(LONGEST_WORDS).map(|line| lettering::width(&line, text));
    rulers_length(text) + GAP + words.into_iter().fold(0.0, f64::max)
}

/// Length of the column down the page: the rulers alone, mm.
fn down_length(text: f64) -> f64 {
    rulers_length(text) + 1.0
}

/// Least lengths of both, across and down, mm.
pub(crate) fn least_lengths() -> [f64; 2] {
    [across_length(SMALL), down_length(SMALL)]
}

/// As [`least_lengths`], in the lettering that is wanted.
pub(crate) fn lengths() -> [f64; 2] {
    [across_length(MIDDLE), down_length(MIDDLE)]
}

/// The two rulers in a row of `length` mm, with what they must read beside them where there is room;
/// in smaller lettering on paper that leaves room for no other.
pub(crate) fn rulers(length: f64, scale_error: f64) -> Vec<Mark> {
    let has_words = length + 1e-9 >= across_length(SMALL);
    let wanted = if has_words {
        across_length(MIDDLE)
    } else {
        down_length(MIDDLE)
    };
    let text = if length + 1e-9 >= wanted {
        MIDDLE
    } else {
        SMALL
    };
    let mut marks = metric(text);
    marks.extend(inches(text));
    if has_words {
        let left = rulers_length(text) + GAP;
        let style = Style::plain(text);
        for (line, foot) in words(scale_error)
            .into_iter()
            .zip([METRIC_BASE, INCH_BASE - text])
        {
            marks.push(style.at(line, (left, foot)));
        }
    }
    marks
}

fn metric(text: f64) -> Vec<Mark> {
    let (mut fine, mut thin) = (BezPath::new(), BezPath::new());
    for tick in 0..=100_u32 {
        let at = ZERO + f64::from(tick);
        let (path, height) = match tick {
            _ if tick.is_multiple_of(10) => (&mut thin, LONG),
            _ if tick.is_multiple_of(5) => (&mut fine, 0.75 * LONG),
            _ => (&mut fine, 0.5 * LONG),
        };
        graduation(path, at, METRIC_BASE, height);
    }
    let foot = METRIC_BASE;
    parts(
        METRIC,
        METRIC_BASE,
        [fine, thin],
        ["0", "100 mm"],
        (text, foot),
    )
}

fn inches(text: f64) -> Vec<Mark> {
    let (mut fine, mut thin) = (BezPath::new(), BezPath::new());
    for tick in 0..=64_u32 {
        let at = ZERO + f64::from(tick) * 25.4 / 16.0;
        let (path, height) = match tick {
            _ if tick.is_multiple_of(16) => (&mut thin, LONG),
            _ if tick.is_multiple_of(8) => (&mut fine, 0.75 * LONG),
            _ if tick.is_multiple_of(4) => (&mut fine, 0.6 * LONG),
            _ => (&mut fine, 0.4 * LONG),
        };
        graduation(path, at, INCH_BASE, -height);
    }
    let foot = INCH_BASE - text;
    parts(INCHES, INCH_BASE, [fine, thin], ["0", "4 in"], (text, foot))
}

fn graduation(path: &mut BezPath, at: f64, base: f64, height: f64) {
    path.move_to((at, base));
    path.line_to((at, base + height));
}

/// A ruler's base line, alone in its layer, with graduations and end figures beside it.
fn parts(
    length: f64,
    base: f64,
    [fine, thin]: [BezPath; 2],
    [start, end]: [&str; 2],
    (text, foot): (f64, f64),
) -> Vec<Mark> {
    let line = straight((ZERO, base), (ZERO + length, base));
    let figures = Style::plain(text);
    vec![
        Mark::stroke(Layer::CheckRuler, line, Line::continuous(Width::Broad)),
        Mark::stroke(Layer::Frame, fine, Line::continuous(Width::Fine)),
        Mark::stroke(Layer::Frame, thin, Line::continuous(Width::Thin)),
        figures.anchored(Anchor::End).at(start, (ZERO - 1.0, foot)),
        figures.at(end, (ZERO + INCHES + 1.2, foot)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::ink::Ink;
    use kurbo::Shape;

    #[test]
    fn base_lines_are_of_exactly_their_nominal_length() {
        // 1 in = 25.4 mm exactly.
        let bases: Vec<f64> = rulers(200.0, 0.003)
            .iter()
            .filter(|mark| mark.layer == Layer::CheckRuler)
            .map(|mark| match &mark.ink {
                Ink::Stroke { path, .. } => path.perimeter(1e-9),
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(bases.len(), 2);
        for (base, nominal) in bases.iter().zip([100.0, 4.0 * 25.4]) {
            assert!((base - nominal).abs() < 1e-9, "{base} is not {nominal}");
        }
    }

    #[test]
    fn graduations_are_a_millimetre_and_a_sixteenth_apart() {
        for (marks, count, pitch) in [(metric(MIDDLE), 101, 1.0), (inches(MIDDLE), 65, 1.5875)] {
            let mut at: Vec<f64> = marks
                .iter()
                .filter(|mark| mark.layer == Layer::Frame)
                .flat_map(|mark| match &mark.ink {
                    Ink::Stroke { path, .. } => {
                        path.segments().map(|s| s.bounding_box().x0).collect()
                    }
                    _ => vec![],
                })
                .collect();
            at.sort_by(f64::total_cmp);
            assert_eq!(at.len(), count);
            for pair in at.windows(2) {
                assert!((pair[1] - pair[0] - pitch).abs() < 1e-9);
            }
        }
    }
}
