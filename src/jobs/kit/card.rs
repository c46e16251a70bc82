//! The fitting card: what the fitter does round the patterns, from the first clip to handover.

use super::block::{heading, table, words};
use super::handover;
use super::{HoldBack, PatternEntry, held_back};
use crate::base::fixed;
use crate::draw::general_cautions;
use crate::draw::ink::{Block, Cell};
use crate::input::{BoltPosition, Fastener, KitPanel, KitSpec, POUND_FOOT, Torque};

/// Tools that every fitting takes, besides those of fasteners, bolts and patterns.
const ALWAYS: [&str; 2] = ["steel rule and tape", "eye protection"];

/// What the patterns of a kit call for, all together.
#[derive(Debug, Default)]
pub(super) struct CalledFor {
    tools: Vec<String>,
    /// Fasteners that are left out, with their patterns.
    left_out: Vec<String>,
}

impl CalledFor {
    pub(super) fn add(&mut self, entry: &PatternEntry) {
        for tool in &entry.tools {
            if !self.tools.contains(tool) {
                self.tools.push(tool.clone());
            }
        }
        let of = entry.number_and_revision();
        let left_out = entry.left_out.iter();
        self.left_out
            .extend(left_out.map(|at| format!("{at}, {of}")));
    }
}

/// The blocks of the card, in order: its panels come off as `order` says.
pub(super) fn blocks(kit: &KitSpec, order: &[usize], called: &CalledFor) -> Vec<Block> {
    let mut blocks = vec![heading("Cautions"), Block::Points(general_cautions())];
    if !kit.panels.is_empty() {
        blocks.extend(panels_off(&kit.panels, order));
        blocks.extend(panels_on(&kit.panels, order));
    }
    if !kit.bolts.is_empty() {
        blocks.extend(hardware(&kit.bolts));
    }
    blocks.push(heading("Tools"));
    blocks.push(Block::Points(tools(kit, order, &called.tools)));
    if !called.left_out.is_empty() {
        blocks.push(heading(
            "Fasteners that are left out: their holes are cut away",
        ));
        blocks.push(Block::Points(called.left_out.clone()));
    }
    let new = to_replace(&kit.panels);
    if !new.is_empty() {
        blocks.push(heading("Have new before you begin"));
        blocks.push(Block::Points(new));
    }
    if !kit.identity.notes.is_empty() {
        blocks.push(heading("Notes"));
        blocks.push(Block::Points(kit.identity.notes.clone()));
    }
    blocks.extend(handover::blocks(kit));
    blocks
}

/// `6 × push clip`.
fn counted(count: u32, what: &str) -> String {
    format!("{count} × {what}")
}

fn panels_off(panels: &[KitPanel], order: &[usize]) -> [Block; 2] {
    let held = held_back(panels, order);
    let rows = order.iter().enumerate().map(|(step, place)| {
        let panel = &panels[*place];
        let held_by = |number: usize| {
            let mut held = held.iter();
            held.any(|one| (one.panel, one.fastener) == (*place, number))
        };
        let alone = panel.fasteners.iter().enumerate();
        let mut out: Vec<String> = alone
            .filter(|(number, _)| !held_by(*number))
            .map(|(_, fastener)| told(fastener))
            .collect();
        // A shared fastener comes out with the first panel that it holds.
        out.extend(held.iter().filter(|one| one.goes_with(*place)).map(|one| {
            let others: Vec<&str> = one
                .sharing
                .iter()
                .rev()
                .skip(1)
                .map(|other| named(panels, *other))
                .collect();
            let fastener = &panels[one.panel].fasteners[one.fastener];
            format!("{} (shared with {})", told(fastener), others.join(", "))
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

fn named(panels: &[KitPanel], place: usize) -> &str {
    &panels[place].name.value
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
        let what = |one: &HoldBack| {
            let fastener = &panels[one.panel].fasteners[one.fastener];
            counted(fastener.count, &fastener.kind)
        };
        let back = held.iter().filter_map(|one| {
            let until: Vec<&str> = one
                .until(*place)
                .iter()
                .map(|other| named(panels, *other))
                .collect();
            (!until.is_empty()).then(|| format!("{} until on: {}", what(one), until.join(", ")))
        });
        let back: Vec<String> = back.collect();
        let now = held.iter().filter(|one| one.goes_with(*place));
        let now: Vec<String> = now
            .map(|one| format!("{} of {}", what(one), named(panels, one.panel)))
            .collect();
        vec![
            words((step + 1).to_string()),
            words(named(panels, *place)),
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
            "The fasteners held back go through more than one panel: put in early, they keep the next \
             panel off."
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

/// As the maker gives it, with the other system's unit beside it.
fn torque_words(torque: &Torque) -> String {
    let (unit, in_nm) = match torque.in_newton_metres {
        true => ("lbf ft", POUND_FOOT),
        false => ("N m", 1.0),
    };
    let told = |newton_metres: f64| {
        let value = newton_metres / in_nm;
        // Three figures, as torque wrenches are set; small ones would lose most of themselves.
        fixed(value, if value < 10.0 { 1 } else { 0 })
    };
    let (least, greatest) = (told(torque.least), told(torque.greatest));
    let range = if least != greatest {
        format!("{least} to {greatest}")
    } else {
        greatest
    };
    format!("{} ({range} {unit})", torque.written)
}

/// Tools in the order that they are first needed, each once.
fn tools(kit: &KitSpec, order: &[usize], called_for: &[String]) -> Vec<String> {
    let fasteners = order.iter().flat_map(|place| &kit.panels[*place].fasteners);
    let named = fasteners
        .map(|fastener| fastener.tool.as_str())
        .chain(kit.bolts.iter().map(|bolt| bolt.tool.as_str()));
    let mut tools: Vec<String> = vec![];
    let torque = kit.bolts.iter().any(|bolt| bolt.torque.is_some());
    let wrench = torque.then_some("torque wrench");
    let called_for = called_for.iter().map(String::as_str);
    for tool in named.chain(wrench).chain(called_for).chain(ALWAYS) {
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
            .filter(|fastener| fastener.reuse == crate::input::Reuse::Replace);
        new.map(|fastener| {
            let what = counted(fastener.count, &fastener.kind);
            format!("{what}, {}", panel.name.value)
        })
    });
    all.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::Source;
    use crate::jobs::kit::removal_order;

    /// Rows of a table after a heading, with their second to fourth cells.
    fn rows(blocks: &[Block], after: &str) -> Vec<[String; 3]> {
        let heads = |block: &Block| matches!(block, Block::Heading(words) if words == after);
        let at = blocks.iter().position(heads).unwrap();
        let Block::Table { rows, .. } = &blocks[at + 1] else {
            panic!("no table after {after}");
        };
        let told = |cell: &Cell| match cell {
            Cell::Words(words) | Cell::Page(words, _) => words.clone(),
            Cell::TickBox | Cell::Blank => String::new(),
        };
        let three = |row: &Vec<Cell>| [told(&row[1]), told(&row[2]), told(&row[3])];
        rows.iter().map(three).collect()
    }

    /// Three panels, each over the next, with a clip through the first and the last, listed under
    /// one of them.
    fn card(under: usize, with: &str) -> Vec<Block> {
        let panels = ["outer", "middle", "inner"];
        let mut toml = "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"1\"\ntitle = \"T\"\n\
                        issued = 2026-01-01\n[[pattern]]\nfile = \"p.toml\"\n"
            .to_owned();
        for (at, name) in panels.iter().enumerate() {
            toml += &format!("[[panel]]\nname = \"{name}\"\n");
            if let Some(next) = panels.get(at + 1) {
                toml += &format!("overlaps = [\"{next}\"]\n");
            }
            if at == under {
                toml += &format!(
                    "[[panel.fastener]]\nkind = \"clip\"\ncount = 2\nreuse = \"keep\"\n\
                     shared_with = [{with}]\n"
                );
            }
        }
        let kit = KitSpec::read(&Source::new("k", toml)).unwrap();
        let order = removal_order(&kit.panels).unwrap();
        blocks(&kit, &order, &CalledFor::default())
    }

    #[test]
    fn a_shared_fastener_is_held_back_whichever_panel_it_is_listed_under() {
        for (under, with) in [(0, "\"inner\""), (2, "\"outer\"")] {
            let card = card(under, with);
            let on = rows(&card, "Panels on, in this order");
            let [inner, middle, outer] = on.as_slice() else {
                panic!("{on:?}");
            };
            assert_eq!(inner[..2], ["inner", "2 × clip until on: outer"]);
            assert_eq!(middle[1..], ["", ""]);
            assert_eq!(outer[..2], ["outer", ""]);
            assert!(outer[2].starts_with("2 × clip of "), "{outer:?}");
            let off = rows(&card, "Panels off, in this order");
            assert_eq!(off[0][1], "2 × clip, keep (shared with inner)");
            assert_eq!((off[1][1].as_str(), off[2][1].as_str()), ("", ""));
        }
    }

    #[test]
    fn a_fastener_through_three_is_held_back_until_the_last() {
        for (under, with) in [
            (0, "\"inner\", \"middle\""),
            (1, "\"outer\", \"inner\""),
            (2, "\"middle\", \"outer\""),
        ] {
            let on = rows(&card(under, with), "Panels on, in this order");
            let held: Vec<&str> = on.iter().map(|row| row[1].as_str()).collect();
            assert_eq!(
                held,
                [
                    "2 × clip until on: middle, outer",
                    "2 × clip until on: outer",
                    ""
                ]
            );
        }
    }

    #[test]
    fn torques_are_told_in_both_systems() {
        for (torque, told) in [
            // 1 lbf ft is 1.355 818 N m (NIST SP 811, appendix B.8): 86 N m are 63.43 lbf ft.
            ("86 N m", "86 N m (63 lbf ft)"),
            ("80 to 90 N m", "80 to 90 N m (59 to 66 lbf ft)"),
            ("63 lbf ft", "63 lbf ft (85 N m)"),
            ("5 N m", "5 N m (3.7 lbf ft)"),
        ] {
            let toml = format!(
                "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"1\"\ntitle = \"T\"\n\
                 issued = 2026-01-01\n[[pattern]]\nfile = \"p.toml\"\n[[bolt]]\n\
                 position = \"arm\"\nsize = \"M10\"\ntorque = \"{torque}\"\n"
            );
            let kit = KitSpec::read(&Source::new("k", toml)).unwrap();
            assert_eq!(torque_words(kit.bolts[0].torque.as_ref().unwrap()), told);
        }
    }

    #[test]
    fn cautions_come_before_anything_is_done() {
        let card = card(0, "\"inner\"");
        assert_eq!(card[0], heading("Cautions"));
        let limits = "the lowest of vehicle, bracket, ball mount, ball and trailer holds";
        let told = card
            .iter()
            .flat_map(Block::words)
            .filter(|words| words.contains(limits));
        assert_eq!(told.count(), 2, "in the cautions and at the handover");
    }
}
