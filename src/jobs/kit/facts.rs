//! What a kit file says besides its patterns, as facts: see [`Content`](crate::solve::Content).
//!
//! Every field is named, so that one that is added is a fact or is said to be none.

use crate::base::fixed;
use crate::input::{BoltPosition, HandoverSpec, KitIdentity, KitPanel, KitSpec, ShopSpec};
use crate::solve::Facts;

/// The facts of a kit file, and of the shop that it is issued for, in no order.
pub(super) fn facts(kit: &KitSpec, shop: Option<&ShopSpec>) -> Vec<String> {
    let KitSpec {
        units,
        identity,
        bolts,
        panels,
        handover,
        // Held by their own codes.
        patterns: _,
    } = kit;
    let mut facts = Facts::default();
    facts.add("sizes in", units.word());
    // What its tools cut is in the patterns' codes.
    facts.add("for the tools of", shop.map_or("", |shop| &shop.name));
    of_identity(&mut facts, identity);
    for (at, bolt) in bolts.iter().enumerate() {
        of_bolt(&mut facts, at + 1, bolt);
    }
    panels.iter().for_each(|panel| of_panel(&mut facts, panel));
    of_handover(&mut facts, handover);
    facts.into_lines()
}

fn of_identity(facts: &mut Facts, identity: &KitIdentity) {
    let KitIdentity {
        number,
        revision,
        title,
        issued,
        owner,
        drawn_by,
        approved_by,
        vehicle,
        accessory,
        notes,
    } = identity;
    let words = [
        ("number", &number.value),
        ("revision", &revision.value),
        ("title", title),
        ("issued", issued),
        ("owner", owner),
        ("drawn by", drawn_by),
        ("approved by", approved_by),
        ("vehicle", vehicle),
        ("accessory", accessory),
    ];
    facts.titles(words, notes);
}

/// Positions are in the order that they are told on the card.
fn of_bolt(facts: &mut Facts, place: usize, bolt: &BoltPosition) {
    let BoltPosition {
        position,
        count,
        size,
        stack,
        torque,
        tool,
    } = bolt;
    let mut words = vec![format!("{count} of {size}")];
    words.extend(
        stack
            .iter()
            .map(|item| format!("{} {} {}", item.count, item.part, item.size)),
    );
    words.extend(torque.as_ref().map(|torque| torque.written.clone()));
    words.push(tool.clone());
    facts.about(&format!("bolts {place}"), &position.value, words);
}

fn of_panel(facts: &mut Facts, panel: &KitPanel) {
    let KitPanel {
        name,
        overlaps,
        fasteners,
    } = panel;
    let overlaps = overlaps
        .iter()
        .map(|other| format!("overlaps {}", other.value));
    let fasteners = fasteners.iter().map(|own| {
        let shared: Vec<&str> = own
            .shared_with
            .iter()
            .map(|with| with.value.as_str())
            .collect();
        let (kind, tool, reuse) = (&own.kind, &own.tool, own.reuse.word());
        format!("{} {kind} {tool} {reuse} {}", own.count, shared.join(" "))
    });
    facts.about("card's panel", &name.value, overlaps.chain(fasteners));
}

fn of_handover(facts: &mut Facts, handover: &HandoverSpec) {
    let HandoverSpec {
        pin_hole_to_bumper,
        ground_to_receiver,
        bracket,
        vehicle,
        carried,
    } = handover;
    let values = [
        ("pin hole to bumper", pin_hole_to_bumper),
        ("ground to receiver", ground_to_receiver),
        ("bracket tows", &bracket.towed),
        ("bracket carries", &bracket.tongue),
        ("vehicle tows", &vehicle.towed),
        ("vehicle carries", &vehicle.tongue),
    ];
    for (name, value) in values {
        facts.add(
            name,
            value.map_or_else(String::new, |value| fixed(value, 3)),
        );
    }
    for own in carried {
        facts.about("carried", &own.name, [fixed(own.mass.value, 3)]);
    }
}
