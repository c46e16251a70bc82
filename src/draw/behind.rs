//! What stands on the panel's hidden side, in the record: where, how high, and how near to a part.

use super::place::middle;
use crate::draw::ink::Block;
use crate::solve::{Feature, Pattern};

/// A row for each feature, with the part that it comes nearest to for what both may move.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    if pattern.features.is_empty() {
        return vec![];
    }
    let heads = [
        ("Feature", false),
        ("Stands out", true),
        ("From centreline", false),
        ("From datum edge", true),
        ("Nearest part", false),
        ("Apart", true),
        ("May move", true),
    ];
    let rows = pattern.features.iter().map(|own| row(pattern, own));
    vec![
        Block::Heading("On the hidden side".into()),
        Block::table(&heads, rows),
    ]
}

fn row(pattern: &Pattern, feature: &Feature) -> [String; 7] {
    let units = pattern.units;
    let [across, deep] = middle(pattern, &feature.outline);
    let fouls = pattern.fouls.iter();
    let own = fouls.filter(|foul| foul.feature == feature.name);
    let spare = |foul: &&crate::solve::Foul| foul.distance - foul.movement;
    let nearest = own.min_by(|one, other| spare(one).total_cmp(&spare(other)));
    let [part, apart, moves] = match nearest {
        Some(foul) => [
            foul.part.clone(),
            units.length(foul.distance),
            units.length(foul.movement),
        ],
        None => ["none".into(), "-".into(), "-".into()],
    };
    [
        format!("{}: {}", feature.kind.word(), feature.name),
        units.length(feature.height),
        across,
        deep,
        part,
        apart,
        moves,
    ]
}
