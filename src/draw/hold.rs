//! What still holds the panel once it is cut: told, as nobody has published how much is enough.

use super::names::{MOST_NAMED, named, short};
use super::place::middle;
use crate::draw::ink::Block;
use crate::solve::Pattern;

/// What the feet press, which fasteners stay, and which way the panel could slide.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    let hold = &pattern.hold;
    if pattern.feet.is_empty() && hold.left_out.is_empty() {
        return vec![];
    }
    let mut points = hold.told(pattern.orientation);
    points.push("No threshold is published: judge it on the vehicle.".into());
    let mut blocks = vec![Block::Heading("What holds the panel".into())];
    if !pattern.feet.is_empty() {
        blocks.push(feet(pattern));
    }
    blocks.push(Block::Points(points));
    blocks
}

/// A row for each foot.
fn feet(pattern: &Pattern) -> Block {
    let heads = [
        ("Foot", false),
        ("From centreline", false),
        ("From datum edge", true),
        ("Its area", true),
        ("Clamps the panel", true),
        ("Narrowest land", true),
    ];
    let rows = pattern.feet.iter().map(|foot| {
        let [across, deep] = middle(pattern, &foot.outline);
        [
            foot.name.clone(),
            across,
            deep,
            pattern.units.area(foot.outline.area()),
            pattern.units.area(foot.clamped),
            foot.land.told(pattern.units),
        ]
    });
    Block::table(&heads, rows)
}

/// The same in one line of the front page's last step; nothing where nothing is to be said.
pub(super) fn in_front(pattern: &Pattern) -> String {
    let feet = pattern.feet.iter();
    let feet = feet.take(MOST_NAMED);
    let feet = feet.map(|foot| format!("{}: {}", short(&foot.name), foot.told(pattern.units)));
    let sliding = pattern.hold.sliding(pattern.orientation);
    let all = feet.chain(left_out(pattern)).chain(sliding);
    all.map(|words| format!(" {words}.")).collect()
}

fn left_out(pattern: &Pattern) -> Option<String> {
    let names: Vec<&str> = pattern.hold.left_out.iter().map(String::as_str).collect();
    (!names.is_empty()).then(|| {
        let at = named(&names, "the holes that fall away");
        format!("Leave out the fastener at {at}")
    })
}
