//! The fitting card: what the fitter does round the patterns, from the first clip to handover.

use super::handover;
use super::{held_back, removal_order};
use crate::draft::general_cautions;
use crate::drawing::{Block, Cell, fixed};
use crate::spec::{BoltPosition, Fastener, KitPanel, KitSpec, Problem, Torque};

/// Tools that every fitting takes, besides those of fasteners and bolts.
const ALWAYS: [&str; 3] = [
    "steel rule and tape",
    "drill, saw and file for the panel's material",
    "eye protection",
];

/// The blocks of the card, in order.
///
/// # Errors
/// Overlaps that run in a circle.
pub(super) fn blocks(kit: &KitSpec) -> Result<Vec<Block>, Problem> {
    let order = removal_order(&kit.panels)?;
    let mut blocks = vec![];
    if !kit.panels.is_empty() {
        blocks.extend(panels_off(&kit.panels, &order));
        blocks.extend(panels_on(&kit.panels, &order));
    }
    if !kit.bolts.is_empty() {
        blocks.extend(hardware(&kit.bolts));
    }
    blocks.push(heading("Tools"));
    blocks.push(Block::Points(tools(kit, &order)));
    let new = to_replace(&kit.panels);
    if !new.is_empty() {
        blocks.push(heading("Have new before you begin"));
        blocks.push(Block::Points(new));
    }
    if !kit.identity.notes.is_empty() {
        blocks.push(heading("Notes"));
        blocks.push(Block::Points(kit.identity.notes.clone()));
    }
    blocks.push(heading("Cautions"));
    blocks.push(Block::Points(general_cautions()));
    blocks.extend(handover::blocks(kit));
    Ok(blocks)
}

pub(super) fn heading(words: &str) -> Block {
    Block::Heading(words.into())
}

/// A table with no numbers in it.
pub(super) fn table(heads: &[&str], rows: Vec<Vec<Cell>>) -> Block {
    let heads: Vec<(&str, bool)> = heads.iter().map(|head| (*head, false)).collect();
    Block::table(&heads, rows)
}

pub(super) fn words(text: impl Into<String>) -> Cell {
    Cell::Words(text.into())
}

/// `6 × push clip`.
fn counted(count: u32, what: &str) -> String {
    format!("{count} × {what}")
}

fn panels_off(panels: &[KitPanel], order: &[usize]) -> [Block; 2] {
    let held = held_back(panels, order);
    let rows = order.iter().enumerate().map(|(step, place)| {
        let panel = &panels[*place];
        // A shared fastener comes out with the first panel that it holds.
        let own = panel.fasteners.iter().enumerate().filter(|(number, _)| {
            !held
                .iter()
                .any(|one| (one.panel, one.fastener) == (*place, *number) && one.with != *place)
        });
        let mut out: Vec<String> = own.map(|(_, fastener)| told(fastener)).collect();
        let others = held
            .iter()
            .filter(|one| one.with == *place && one.panel != *place);
        out.extend(others.map(|one| {
            let from = &panels[one.panel];
            let fastener = &from.fasteners[one.fastener];
            format!("{} (shared with {})", told(fastener), from.name.value)
        }));
        let over: Vec<&str> = panel
            .overlaps
            .iter()
            .map(|name| name.value.as_str())
            .collect();
        vec![
            words((step + 1).to_string()),
            words(&panel.name.value),
            words(out.join("; ")),
            words(over.join(", ")),
            Cell::TickBox,
        ]
    });
    [
        heading("Panels off, in this order"),
        table(
            &["", "Panel", "Take out", "Lies over", "Off"],
            rows.collect(),
        ),
    ]
}

fn told(fastener: &Fastener) -> String {
    let mut told = counted(fastener.count, &fastener.kind);
    if !fastener.tool.is_empty() {
        told += &format!(", {}", fastener.tool);
    }
    told + &format!(", {}", fastener.reuse.word())
}

fn panels_on(panels: &[KitPanel], order: &[usize]) -> Vec<Block> {
    let held = held_back(panels, order);
    let rows = order.iter().rev().enumerate().map(|(step, place)| {
        let named = |panel: usize, fastener: usize| {
            let fastener = &panels[panel].fasteners[fastener];
            counted(fastener.count, &fastener.kind)
        };
        let back: Vec<String> = held
            .iter()
            .filter(|one| one.panel == *place && one.with != *place)
            .map(|one| {
                let until = one.until.join(", ");
                format!("{} until on: {until}", named(one.panel, one.fastener))
            })
            .collect();
        let now: Vec<String> = held
            .iter()
            .filter(|one| one.with == *place)
            .map(|one| {
                let from = &panels[one.panel].name.value;
                format!("{} of {from}", named(one.panel, one.fastener))
            })
            .collect();
        vec![
            words((step + 1).to_string()),
            words(&panels[*place].name.value),
            words(back.join("; ")),
            words(now.join("; ")),
            Cell::TickBox,
        ]
    });
    let mut blocks = vec![
        heading("Panels on, in this order"),
        table(
            &["", "Panel", "Hold back", "Now put in", "On"],
            rows.collect(),
        ),
    ];
    if !held.is_empty() {
        blocks.push(Block::Notice(
            "Two panels share the fasteners held back: put in early, they keep the next panel off."
                .into(),
        ));
    }
    blocks
}

fn hardware(bolts: &[BoltPosition]) -> [Block; 3] {
    let rows = bolts.iter().map(|bolt| {
        let stack: Vec<String> = bolt
            .stack
            .iter()
            .map(|item| {
                let what = match item.size.as_str() {
                    "" => item.part.clone(),
                    size => format!("{} {size}", item.part),
                };
                match item.count {
                    1 => what,
                    count => counted(count, &what),
                }
            })
            .collect();
        vec![
            words(counted(bolt.count, &bolt.position.value)),
            words(&bolt.size),
            words(stack.join(", ")),
            bolt.torque
                .as_ref()
                .map_or(Cell::Blank, |torque| words(torque_words(torque))),
            Cell::TickBox,
        ]
    });
    [
        heading("Hardware, position by position"),
        table(
            &[
                "Position",
                "Bolt",
                "On it, in order from its head",
                "Torque",
                "Done",
            ],
            rows.collect(),
        ),
        Block::Paragraph(
            "Sizes and torques are those of the accessory's maker, whose instructions come first. \
             Tighten with a torque wrench, once all bolts are in by hand."
                .into(),
        ),
    ]
}

/// As the maker gives it, with N m beside it where that was not the unit.
fn torque_words(torque: &Torque) -> String {
    if torque.in_newton_metres {
        return torque.written.clone();
    }
    let least = fixed(torque.least, 0);
    let greatest = fixed(torque.greatest, 0);
    let range = if torque.least < torque.greatest {
        format!("{least} to {greatest}")
    } else {
        greatest
    };
    format!("{} ({range} N m)", torque.written)
}

/// Tools in the order that they are first needed, each once.
fn tools(kit: &KitSpec, order: &[usize]) -> Vec<String> {
    let fasteners = order.iter().flat_map(|place| &kit.panels[*place].fasteners);
    let named = fasteners
        .map(|fastener| fastener.tool.as_str())
        .chain(kit.bolts.iter().map(|bolt| bolt.tool.as_str()));
    let mut tools: Vec<String> = vec![];
    let torque = kit.bolts.iter().any(|bolt| bolt.torque.is_some());
    let wrench = torque.then_some("torque wrench");
    for tool in named.chain(wrench).chain(ALWAYS) {
        if !tool.is_empty() && !tools.iter().any(|known| known == tool) {
            tools.push(tool.to_owned());
        }
    }
    tools
}

fn to_replace(panels: &[KitPanel]) -> Vec<String> {
    let all = panels.iter().flat_map(|panel| {
        let new = panel
            .fasteners
            .iter()
            .filter(|fastener| fastener.reuse == crate::spec::Reuse::Replace);
        new.map(|fastener| {
            let what = counted(fastener.count, &fastener.kind);
            format!("{what}, {}", panel.name.value)
        })
    });
    all.collect()
}
