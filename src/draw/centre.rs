//! What is told of the middle: where it is, how well it is known, and why.

use super::names::short;
use super::panel::line_name;
use crate::base::fixed;
use crate::base::length::Units;
use crate::draw::ink::Block;
use crate::model::centre::{Agreement, ArcCentre, Centre, Residual};
use crate::solve::{Basis, Opening, Pattern};

/// For the front page: where the middle is, or that nobody knows and what to do.
pub(super) fn in_front(pattern: &Pattern) -> Vec<Block> {
    let mut blocks = match &pattern.centreline.basis {
        Basis::Assumed | Basis::Marked => return vec![Block::Notice(assumed(pattern))],
        Basis::Pairs(centre) => disagreement(centre, pattern.units),
        Basis::Arcs(_) => vec![],
    };
    blocks.push(Block::Paragraph(place(pattern)));
    blocks
}

/// For the record: the centre in plain words, and what was read for it.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    let mut blocks = vec![Block::Heading("Where the middle is".into())];
    blocks.push(match &pattern.centreline.basis {
        Basis::Assumed | Basis::Marked => Block::Notice(assumed(pattern)),
        Basis::Pairs(_) | Basis::Arcs(_) => Block::Paragraph(known(pattern)),
    });
    blocks.extend(match &pattern.centreline.basis {
        Basis::Assumed | Basis::Marked => None,
        Basis::Pairs(centre) => Some(pairs(centre, pattern)),
        Basis::Arcs(arcs) => Some(swings(arcs, pattern)),
    });
    blocks
}

/// What every sheet says where nobody measured the middle, and what to do; else empty.
pub(super) fn warning(pattern: &Pattern) -> [String; 2] {
    if pattern.centreline.is_measured() {
        return Default::default();
    }
    let line = line_name(pattern);
    [
        format!("{line} ASSUMED"),
        "Measure it before you cut".into(),
    ]
}

fn assumed(pattern: &Pattern) -> String {
    let [assumed, _] = warning(pattern);
    let datum = pattern.orientation.datum_edge();
    if pattern.centreline.basis == Basis::Marked {
        return format!(
            "{assumed}: nobody measured this panel. Find its true middle. Mark it on the {datum} edge \
             and as far away from it as the pattern reaches. Check it before you cut."
        );
    }
    format!(
        "{assumed} at {} from the {} end, half the panel's width: nobody measured it. Measure the \
         panel from end to end along its {datum} edge. Mark the true middle there and at the far \
         side. Lay the pattern by your marks, not by this figure.",
        pattern.units.length(pattern.centreline.reading),
        pattern.centreline.zero,
    )
}

/// Where it lies, in one breath.
fn place(pattern: &Pattern) -> String {
    let line = &pattern.centreline;
    let units = pattern.units;
    let reading = line.reading_on_edge();
    let from_other = pattern.panel.size.map_or_else(String::new, |size| {
        let rest = units.length(size.width() - reading);
        format!(", {rest} from the {} end", line.zero.opposite())
    });
    format!(
        "{} from the {} end{from_other}, along the {} edge. Known to {}.{}",
        units.length(reading),
        line.zero,
        pattern.orientation.datum_edge(),
        units.doubt(line.uncertainty_on_edge().unwrap_or(0.0), 1),
        lean(pattern)
    )
}

/// How it leans, where it does.
fn lean(pattern: &Pattern) -> String {
    let line = &pattern.centreline;
    let degrees = libm::atan(line.slope).to_degrees();
    if degrees.abs() < 0.005 {
        return String::new();
    }
    let towards = if degrees > 0.0 {
        line.zero.opposite()
    } else {
        line.zero
    };
    format!(
        " It leans {} degrees to the {towards} away from the datum edge.",
        fixed(degrees.abs(), 2)
    )
}

/// A notice where a pair disagrees with the others.
fn disagreement(centre: &Centre, units: Units) -> Vec<Block> {
    let notice = match centre.agreement() {
        Agreement::OneDisagrees(odd) => format!(
            "PAIR DISAGREES: {} is off the others by {} and {} the centre would be {}. Read it \
             again before anything is cut.",
            short(&odd.name),
            units.doubt(odd.by.abs(), 1),
            if odd.left_out {
                "is left out. With it"
            } else {
                "counts still. Without it"
            },
            units.length(odd.otherwise.at(0.0).middle)
        ),
        Agreement::Disagree => {
            "PAIRS DISAGREE by more than tape, eye and moulding explain. Read them again \
                                before anything is cut."
                .into()
        }
        Agreement::Unproved | Agreement::Agree => return vec![],
    };
    vec![Block::Notice(notice)]
}

/// Where the centre lies and how well it is known, at the datum edge and at each opening.
fn known(pattern: &Pattern) -> String {
    let line = &pattern.centreline;
    let units = pattern.units;
    let mut words = format!(
        "{} from the panel's {} end at the datum edge: centre known to {}.",
        units.length(line.reading_on_edge()),
        line.zero,
        units.doubt(line.uncertainty_on_edge().unwrap_or(0.0), 1)
    );
    words += &lean(pattern);
    for opening in &pattern.openings {
        let depth = opening.outline.bounds().y1;
        if let Some(known) = line.uncertainty_at(depth) {
            words += &format!(
                " After cutting, {} may stand up to {} off the true centre{}.",
                opening.name(),
                units.doubt(known, 1),
                beside_the_gap(pattern, opening)
            );
        }
    }
    words + &promise(pattern)
}

/// What is promised of told uncertainties, and on what ground.
fn promise(pattern: &Pattern) -> String {
    let moulding = pattern.centreline.moulding;
    let mut words = format!(
        " Told uncertainties hold in 93 to 99.5 of 100 panels moulded even to {} (standard deviation \
         of a pair's middle",
        pattern.units.doubt(moulding, 1)
    );
    if let Basis::Pairs(centre) = &pattern.centreline.basis {
        let freedom = centre.at(0.0).freedom.floor();
        words += &format!("; Student's t, {} degrees of freedom", fixed(freedom, 0));
    }
    words + ")."
}

/// The gap that was asked for in an opening, where parts pass through it.
fn beside_the_gap(pattern: &Pattern, opening: &Opening) -> String {
    let name = opening.name();
    let gaps = pattern.spacings.iter();
    let gaps = gaps.filter(|clear| clear.opening == name && clear.gap > 0.0);
    match gaps.map(|clear| clear.gap).min_by(f64::total_cmp) {
        Some(gap) => format!(", beside a gap of {}", pattern.units.length(gap)),
        None => String::new(),
    }
}

fn pairs(centre: &Centre, pattern: &Pattern) -> Block {
    let line = &pattern.centreline;
    let told = |residual: &Residual| line.depth_told(&residual.name).unwrap_or(residual.depth);
    let rows = centre.residuals().iter().map(|residual| {
        [
            residual.name.clone(),
            pattern.units.length(told(residual)),
            pattern.units.length(residual.middle),
            signed(residual.residual, pattern),
            pattern.units.doubt(residual.explained, 1),
        ]
    });
    Block::table(
        &[
            ("Pair", false),
            ("From datum edge", false),
            ("Its middle", true),
            ("Off the centre by", true),
            ("Explained", true),
        ],
        rows,
    )
}

fn swings(arcs: &ArcCentre, pattern: &Pattern) -> Block {
    let rows = arcs.residuals().iter().map(|residual| {
        [
            residual.name.clone(),
            residual.what.into(),
            pattern.units.length(residual.measured),
            signed(residual.residual, pattern),
            pattern.units.doubt(residual.explained, 1),
        ]
    });
    Block::table(
        &[
            ("Arcs", false),
            ("Distance", false),
            ("Measured", true),
            ("Off the fit by", true),
            ("Explained", true),
        ],
        rows,
    )
}

fn signed(mm: f64, pattern: &Pattern) -> String {
    let words = pattern.units.doubt(mm, 1);
    if mm > 0.0 && words != pattern.units.doubt(0.0, 1) {
        format!("+{words}")
    } else {
        words
    }
}
