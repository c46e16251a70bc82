//! What the instruction sheet tells: openings, steps in order, cautions, findings.

use super::measure::length;
use super::{centre, legend, tape_check};
use crate::drawing::{Block, Cell, Column, fixed};
use crate::outline::Side;
use crate::panel::Direction;
use crate::pattern::{Basis, Locator, Opening, Pattern};

const TAPE_CHECK: &str = "With the pattern taped on, lay the tape flat on it. Letters are printed at \
    their points: crosses of the holes to drill, and ends of the cut line.";

/// The blocks of the instruction sheet, in order.
pub(super) fn blocks(pattern: &Pattern, locators: &[Locator]) -> Vec<Block> {
    let mut blocks = centre::blocks(pattern);
    blocks.push(Block::Heading("What is cut".into()));
    blocks.push(openings(pattern));
    blocks.push(Block::Paragraph(which_way_round(pattern)));
    blocks.push(Block::Heading("Steps".into()));
    blocks.push(Block::Steps(steps(pattern)));
    if let Some(table) = tape_check::table(pattern, locators) {
        blocks.push(Block::Heading("Tape check, before cutting".into()));
        blocks.push(Block::Paragraph(TAPE_CHECK.into()));
        blocks.push(table);
    }
    if !pattern.findings.is_empty() {
        blocks.push(Block::Heading("Findings".into()));
        blocks.push(Block::Points(findings(pattern)));
    }
    if !pattern.identity.notes.is_empty() {
        blocks.push(Block::Heading("Notes".into()));
        blocks.push(Block::Points(pattern.identity.notes.clone()));
    }
    blocks.push(Block::Heading("Cautions".into()));
    blocks.push(Block::Points(cautions(pattern)));
    blocks.push(Block::Heading("Lines on the sheets".into()));
    blocks.push(legend::figure());
    blocks
}

/// One row for each opening, with what a tape can check.
fn openings(pattern: &Pattern) -> Block {
    let heads = [
        "Opening",
        "Width",
        "Depth",
        "Corner radii",
        "From centreline",
        "From datum edge",
    ];
    let columns = heads
        .into_iter()
        .enumerate()
        .map(|(i, head)| Column {
            head: head.into(),
            right: (1..=2).contains(&i),
        })
        .collect();
    let rows = pattern
        .openings
        .iter()
        .map(|opening| row(pattern, opening))
        .collect();
    Block::Table { columns, rows }
}

fn row(pattern: &Pattern, opening: &Opening) -> Vec<Cell> {
    let bounds = opening.outline.bounds();
    let edge = pattern.panel.edge.at(bounds.center().x);
    let (depth, from_datum) = if opening.is_open() {
        (bounds.y1 - edge, "open at the edge".into())
    } else {
        (bounds.height(), length(bounds.y0 - edge, pattern.units))
    };
    let from_centre: Vec<String> = opening
        .declared
        .iter()
        .map(|declared| offset_words(declared.offset, pattern))
        .collect();
    [
        opening.name(),
        length(bounds.width(), pattern.units),
        length(depth, pattern.units),
        radii(opening, pattern),
        from_centre.join("; "),
        from_datum,
    ]
    .into_iter()
    .map(Cell::Words)
    .collect()
}

/// An offset with the vehicle's side: `142 mm left`.
fn offset_words(offset: f64, pattern: &Pattern) -> String {
    if offset.abs() <= super::ON_CENTRELINE {
        return "on it".into();
    }
    let right = pattern.orientation.frame_right();
    let side: Direction = if offset > 0.0 {
        right
    } else {
        right.opposite()
    };
    format!("{} {side}", length(offset.abs(), pattern.units))
}

/// The different radii of an opening's corners, smallest first.
fn radii(opening: &Opening, pattern: &Pattern) -> String {
    let mut radii: Vec<f64> = opening
        .outline
        .sides()
        .filter(|side| side.side == Side::Cut)
        .filter_map(|side| side.radius())
        .collect();
    radii.sort_by(f64::total_cmp);
    radii.dedup_by(|a, b| (*a - *b).abs() < 0.005);
    if radii.is_empty() {
        return "sharp".into();
    }
    let words: Vec<String> = radii
        .iter()
        .map(|radius| length(*radius, pattern.units))
        .collect();
    words.join(", ")
}

fn which_way_round(pattern: &Pattern) -> String {
    let way = pattern.orientation;
    let stand = match way.seen_from() {
        crate::panel::Face::Behind => "behind the vehicle, looking to its front",
        crate::panel::Face::Front => "in front of the vehicle, looking to its rear",
        crate::panel::Face::Below => "under the panel, looking up",
        crate::panel::Face::Above => "over the panel, looking down",
        crate::panel::Face::Left => "at the vehicle's left, looking to its right",
        crate::panel::Face::Right => "at the vehicle's right, looking to its left",
    };
    format!(
        "The pattern is taped to the face that you see from {stand}. The head of each sheet lies to \
         the vehicle's {}, its right edge to the vehicle's {}. Left and right are the vehicle's own, \
         as its driver faces.",
        way.page_up(),
        way.page_right(),
    )
}

fn steps(pattern: &Pattern) -> Vec<String> {
    let datum = pattern.orientation.datum_edge();
    let mut steps = vec![
        "Print at actual size (100 %), never \"fit to page\", on one side of the paper. Lay a steel \
         rule on the rulers of every sheet, across and down: 100 mm must read 100 mm within half a \
         millimetre, 4 in must read 4 in. If they do not, print again; do not cut."
            .to_owned(),
        "Where there is more than one sheet, join them: crosses with the same name lie on one \
         another. Tape the joins."
            .to_owned(),
        find_the_middle(pattern),
        format!(
            "Fold the tab back along the {datum} edge and hook it over. Lay the ticks of the \
             centreline on your marks; printed holes must lie over the panel's own. Tape it down \
             flat."
        ),
        "Check the printed dimensions on the panel with a tape. Hold the part up and look through. \
         Only then mark and cut."
            .to_owned(),
    ];
    if let Some(holes) = holes(pattern) {
        steps.push(format!(
            "Drill the inner corners first, from the face with the pattern, at the crosses: {holes}."
        ));
    }
    steps.extend([
        "Saw along the line on its hatched side and file to the line. Nothing outside it is cut."
            .to_owned(),
        "Take off the burr, try the part, refit the panel.".to_owned(),
    ]);
    steps
}

fn find_the_middle(pattern: &Pattern) -> String {
    let datum = pattern.orientation.datum_edge();
    let line = &pattern.centreline;
    let at = |reading: f64| length(reading, pattern.units);
    match &line.basis {
        Basis::Assumed => format!(
            "Measure the panel from end to end along its {datum} edge and mark its true middle \
             there and at the far side. The pattern assumes {} from the {} end.",
            at(line.reading),
            line.zero
        ),
        Basis::Marked => "Find the vehicle's centreline on the panel and mark it at the datum \
                          edge and as far away from it as the pattern reaches."
            .to_owned(),
        Basis::Pairs(_) | Basis::Arcs(_) => {
            let from_other = pattern.panel.size.map_or_else(String::new, |size| {
                let rest = at(size.width() - line.reading);
                format!(", {rest} from the {} end", line.zero.opposite())
            });
            format!(
                "Mark the middle on the {datum} edge: {} from the {} end{from_other}.",
                at(line.reading),
                line.zero
            )
        }
    }
}

/// The holes to drill, largest first: `2 × Ø20 mm, 4 × Ø12 mm`.
fn holes(pattern: &Pattern) -> Option<String> {
    let mut diameters: Vec<f64> = pattern
        .openings
        .iter()
        .flat_map(|opening| opening.relief.iter().map(|hole| hole.diameter))
        .collect();
    diameters.sort_by(|a, b| b.total_cmp(a));
    let mut counted: Vec<(f64, usize)> = vec![];
    for diameter in diameters {
        match counted.last_mut() {
            Some((last, count)) if (*last - diameter).abs() < 0.01 => *count += 1,
            _ => counted.push((diameter, 1)),
        }
    }
    let words: Vec<String> = counted
        .iter()
        .map(|(diameter, count)| format!("{count} × Ø{}", length(*diameter, pattern.units)))
        .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

fn findings(pattern: &Pattern) -> Vec<String> {
    pattern
        .findings
        .iter()
        .map(|finding| {
            format!(
                "{}: {}. {}.",
                finding.severity.word(),
                finding.message,
                capital(&finding.hint)
            )
        })
        .collect()
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The usual cautions, and whom they defer to.
///
/// Sources: eye protection 29 CFR 1910.133(a)(1) (read second-hand); heat shields NHTSA recall
/// campaigns 92V144 and 83V108000; sensors: vehicle makers' guidance; the rest common practice.
pub(crate) fn general_cautions() -> Vec<String> {
    vec![
        "Local rules, the vehicle maker's and the accessory maker's instructions come before this \
         sheet. Leave to licensed people what is theirs."
            .to_owned(),
        "Wear eye protection to drill, saw or grind. Never work under a vehicle held only by a jack."
            .to_owned(),
        "Exhaust and heat shield are hot after driving: let them cool.".to_owned(),
        "Look behind the panel before you drill: wiring, hoses, radar and parking sensors. Air-bag \
         parts: only by the vehicle maker's repair manual."
            .to_owned(),
        "Cut no more than the part needs. A heat shield with too large a hole, or left off, is a \
         fire hazard."
            .to_owned(),
        "Number plate and lamps stay in sight. Tow limits are those of the vehicle's own manual, \
         never the bracket's class."
            .to_owned(),
        "Do not copy this sheet: a copy is not full size. Print it again.".to_owned(),
    ]
}

fn cautions(pattern: &Pattern) -> Vec<String> {
    let mut cautions = general_cautions();
    let thickness = pattern
        .panel
        .thickness
        .map(|thickness| format!("{} mm thick", fixed(thickness, 2)));
    let about: Vec<String> = [Some(pattern.panel.material.clone()), thickness]
        .into_iter()
        .flatten()
        .filter(|words| !words.is_empty())
        .collect();
    if !about.is_empty() {
        cautions.push(format!("Panel: {}. Cut edges are sharp.", about.join(", ")));
    }
    cautions
}
