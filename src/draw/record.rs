//! The record: what is kept and not needed at the panel, in order, and what is cut in a table.

use super::front::stand;
use super::place::offset_words;
use super::tools::tools;
use super::{
    Way, behind, budget, centre, drilling, finding_marks, hold, legend, stance, tape_check, ties,
};
use crate::draw::ink::Block;
use crate::geometry::outline::Side;
use crate::solve::{Opening, Pattern};

const TAPE_CHECK: &str = "With the pattern taped on, lay the tape flat on it. Letters are printed at \
    their points: crosses of the holes to drill, and ends of the cut line.";

/// The blocks of the record, in order.
pub(super) fn blocks(pattern: &Pattern, way: &Way) -> Vec<Block> {
    let mut blocks = centre::blocks(pattern);
    blocks.push(Block::Heading("What is cut".into()));
    blocks.push(openings(pattern));
    blocks.extend(besides(pattern));
    blocks.push(Block::Paragraph(which_way_round(pattern)));
    blocks.extend(stance::blocks(pattern));
    if let Some(table) = tape_check::table(pattern, &way.locators) {
        blocks.push(Block::Heading("All tape checks".into()));
        let mut how = TAPE_CHECK.to_owned();
        if pattern.parts.iter().any(|part| part.tied.is_some()) {
            how += " The crosses in parts are what the tape was held to when they were placed.";
        }
        blocks.push(Block::Paragraph(how));
        blocks.push(table);
    }
    blocks.extend(ties::blocks(pattern));
    blocks.extend(budget::blocks(pattern));
    blocks.extend(hold::blocks(pattern));
    if !pattern.keep_outs.is_empty() {
        blocks.push(Block::Heading("Areas to keep out of".into()));
        blocks.push(keep_outs(pattern));
    }
    blocks.extend(behind::blocks(pattern));
    let lists = [
        ("Tools", tools(pattern)),
        ("Drilling", drilling::every(pattern)),
        ("Findings", finding_marks::listed(pattern)),
        ("Notes", pattern.identity.notes.clone()),
    ];
    for (heading, points) in lists {
        if !points.is_empty() {
            blocks.push(Block::Heading(heading.into()));
            blocks.push(Block::Points(points));
        }
    }
    blocks.push(Block::Heading("Lines on the sheets".into()));
    blocks.push(legend::figure(pattern));
    blocks.push(Block::Heading("Provenance".into()));
    blocks.push(Block::Paragraph(PROVENANCE.into()));
    blocks
}

const PROVENANCE: &str = concat!(
    "Solved, drawn and proven by Trimloft ",
    env!("CARGO_PKG_VERSION"),
    ". Rulers, cut line and all that is worked by were read back from the finished file and held \
     against the definition of this number and revision. What is not given there has a design \
     value, told as such in the tables."
);

/// One row for each area, with how near a cut may come and who says so.
fn keep_outs(pattern: &Pattern) -> Block {
    let heads = [("Area", false), ("Guards", false), ("No cut within", false)];
    let rows = pattern.keep_outs.iter().map(|area| {
        let guards = area.guards.word().to_owned();
        [area.name.clone(), guards, area.asked(pattern.units)]
    });
    Block::table(&heads, rows)
}

/// What openings take in, and how far inside their lines rough cuts lie.
fn besides(pattern: &Pattern) -> Option<Block> {
    let mut points = vec![];
    for opening in &pattern.openings {
        let name = opening.name();
        let holes: Vec<&str> = opening.holes.iter().map(|own| own.name.as_str()).collect();
        if !holes.is_empty() {
            let holes = holes.join(", ");
            points.push(format!(
                "{name} takes in {holes}: what of the rim is there already is no cut."
            ));
        }
        if let Some(rough) = &opening.rough {
            let inside = pattern.units.length(rough.inside);
            points.push(format!(
                "{name}: the rough cut lies {inside} inside the line."
            ));
        }
    }
    (!points.is_empty()).then_some(Block::Points(points))
}

/// One row for each opening, with what a tape can check.
fn openings(pattern: &Pattern) -> Block {
    let heads = [
        ("Opening", false),
        ("Width", true),
        ("Depth", true),
        ("Corner radii", false),
        ("From centreline", false),
        ("From datum edge", false),
    ];
    let rows = pattern.openings.iter().map(|opening| row(pattern, opening));
    Block::table(&heads, rows)
}

fn row(pattern: &Pattern, opening: &Opening) -> [String; 6] {
    let bounds = opening.bounds();
    let edge = pattern.panel.edge.at(opening.tape_at());
    let from_datum = if opening.is_open() {
        "open at the edge".into()
    } else {
        pattern.units.length(bounds.y0 - edge)
    };
    let from_centre: Vec<String> = opening
        .declared
        .iter()
        .map(|declared| match declared.trim_line() {
            Some(_) => "along its line".into(),
            None => offset_words(declared.offset, pattern),
        })
        .collect();
    [
        opening.name(),
        pattern.units.length(bounds.width()),
        pattern.units.length(opening.depth(&pattern.panel.edge)),
        radii(opening, pattern),
        from_centre.join("; "),
        from_datum,
    ]
}

/// The different radii of an opening's corners, smallest first.
fn radii(opening: &Opening, pattern: &Pattern) -> String {
    if opening.fitted {
        return "as drawn".into();
    }
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
        .map(|radius| pattern.units.length(*radius))
        .collect();
    words.join(", ")
}

fn which_way_round(pattern: &Pattern) -> String {
    let way = pattern.orientation;
    format!(
        "The pattern is taped to the face that you see from {}. The head of each sheet lies to the \
         vehicle's {}, its right edge to the vehicle's {}. Left and right are the vehicle's own, as \
         its driver faces.",
        stand(way.seen_from()),
        way.page_up(),
        way.page_right(),
    )
}
