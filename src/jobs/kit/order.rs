//! In which order panels come off: what lies over another comes off before it.

use crate::base::words::shown;
use crate::input::{KitPanel, Problem};
use std::collections::{BTreeSet, HashMap};

/// Places of the panels in the order that they come off; they go back on the other way round.
///
/// A panel that overlaps others comes off before them. Where overlaps leave it open, panels come
/// off in the order of the file: of all orders that respect the overlaps it is the first.
///
/// # Errors
/// Overlaps that run in a circle; the circle is named, at the place where it closes.
pub fn removal_order(panels: &[KitPanel]) -> Result<Vec<usize>, Problem> {
    let under = overlapped(panels);
    let mut lying_over = vec![0_usize; panels.len()];
    for below in under.iter().flatten() {
        lying_over[*below] += 1;
    }
    let mut free: BTreeSet<usize> = (0..panels.len())
        .filter(|panel| lying_over[*panel] == 0)
        .collect();
    let mut order = Vec::with_capacity(panels.len());
    while let Some(panel) = free.pop_first() {
        order.push(panel);
        for below in &under[panel] {
            lying_over[*below] -= 1;
            if lying_over[*below] == 0 {
                free.insert(*below);
            }
        }
    }
    if order.len() == panels.len() {
        return Ok(order);
    }
    Err(circle(panels, &under, &lying_over))
}

/// For each panel the places of those that it overlaps, each once.
fn overlapped(panels: &[KitPanel]) -> Vec<BTreeSet<usize>> {
    let places: HashMap<&str, usize> = panels
        .iter()
        .enumerate()
        .map(|(place, panel)| (panel.name.value.as_str(), place))
        .collect();
    let under = panels.iter().map(|panel| {
        let names = panel.overlaps.iter().map(|name| name.value.as_str());
        names.filter_map(|name| places.get(name).copied()).collect()
    });
    under.collect()
}

/// A circle among the panels that never came free: from each of them another lies over it, so
/// going from one to the next must come round.
fn circle(panels: &[KitPanel], under: &[BTreeSet<usize>], lying_over: &[usize]) -> Problem {
    let held = |panel: usize| lying_over[panel] > 0;
    let over = |panel: usize| {
        let mut all = (0..panels.len()).filter(|other| held(*other));
        all.find(|other| under[*other].contains(&panel))
    };
    let mut walk: Vec<usize> = (0..panels.len())
        .find(|panel| held(*panel))
        .into_iter()
        .collect();
    while let Some(next) = walk.last().and_then(|last| over(*last)) {
        if let Some(met) = walk.iter().position(|panel| *panel == next) {
            walk.drain(..met);
            break;
        }
        walk.push(next);
    }
    // Walked from below upwards; told from above downwards, and from the first in the file.
    walk.reverse();
    let first = (0..walk.len()).min_by_key(|at| walk[*at]).unwrap_or(0);
    walk.rotate_left(first);
    walk.extend(walk.first().copied());
    let names: Vec<&str> = walk
        .iter()
        .map(|panel| panels[*panel].name.value.as_str())
        .collect();
    let closing = walk.iter().rev().nth(1).and_then(|last| {
        let mut overlaps = panels[*last].overlaps.iter();
        overlaps.find(|name| Some(&name.value.as_str()) == names.last())
    });
    let quoted: Vec<String> = names
        .iter()
        .map(|name| format!("`{}`", shown(name)))
        .collect();
    let message = format!(
        "panels overlap in a circle, so that none can come off first: {}",
        quoted.join(" overlaps ")
    );
    let problem = match closing {
        Some(name) => name.problem(message),
        None => Problem::new(message),
    };
    problem.hint("of two panels, only the one that lies outside overlaps the other")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::Placed;
    use proptest::prelude::*;

    /// Panels called by their place, with these overlaps.
    fn panels(count: usize, overlaps: &[(usize, usize)]) -> Vec<KitPanel> {
        let named = |place: usize| Placed::unwritten(format!("panel {place}"));
        (0..count)
            .map(|place| KitPanel {
                name: named(place),
                overlaps: overlaps
                    .iter()
                    .filter(|(over, _)| *over == place)
                    .map(|(_, under)| named(*under))
                    .collect(),
                fasteners: vec![],
            })
            .collect()
    }

    /// All orders of so many panels, the first in the order of the file first.
    fn orders(count: usize) -> Vec<Vec<usize>> {
        let mut all: Vec<Vec<usize>> = vec![vec![]];
        for _ in 0..count {
            let longer = all.iter().flat_map(|order| {
                let left = (0..count).filter(|panel| !order.contains(panel));
                left.map(|panel| [order.as_slice(), &[panel]].concat())
                    .collect::<Vec<_>>()
            });
            all = longer.collect();
        }
        all
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 400,
            failure_persistence: None,
            ..Default::default()
        })]

        #[test]
        fn the_order_is_the_first_that_trying_all_finds(
            count in 1..7_usize,
            pairs in prop::collection::vec((0..6_usize, 0..6_usize), 0..9),
        ) {
            let overlaps: Vec<_> = pairs
                .into_iter()
                .map(|(over, under)| (over % count, under % count))
                .filter(|(over, under)| over != under)
                .collect();
            let fits = |order: &Vec<usize>| {
                let place = |panel| order.iter().position(|other| *other == panel);
                overlaps.iter().all(|(over, under)| place(*over) < place(*under))
            };
            let tried = orders(count).into_iter().find(fits);
            match removal_order(&panels(count, &overlaps)) {
                Ok(order) => prop_assert_eq!(Some(order), tried),
                Err(problem) => {
                    prop_assert_eq!(tried, None);
                    // What is named is a circle of overlaps that are there.
                    let (_, told) = problem.message.split_once("first: ").unwrap();
                    let named: Vec<usize> = told
                        .split(" overlaps ")
                        .map(|name| name.trim_matches('`')[6..].parse().unwrap())
                        .collect();
                    prop_assert!(named.len() > 2 && named.first() == named.last());
                    for pair in named.windows(2) {
                        prop_assert!(overlaps.contains(&(pair[0], pair[1])), "{}", told);
                    }
                }
            }
        }
    }

    #[test]
    fn a_circle_is_named_and_what_leads_to_it_is_not() {
        let all = panels(5, &[(0, 2), (2, 3), (3, 1), (1, 2), (1, 4)]);
        let problem = removal_order(&all).unwrap_err();
        assert_eq!(
            problem.message,
            "panels overlap in a circle, so that none can come off first: `panel 1` overlaps \
             `panel 2` overlaps `panel 3` overlaps `panel 1`"
        );
    }
}
