//! Reads a kit file, and checks what needs more than one of its values.

use super::check_names::check_names;
use super::file::read_file_checked;
use super::kit::KitSpec;
use super::problem::Placed;
use super::reading::Reading;
use super::report::Report;
use super::source::Source;
use crate::base::fixed;
use crate::base::words::{did_you_mean, shown};
use std::collections::{BTreeSet, HashMap, HashSet};

impl KitSpec {
    /// Reads a kit file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file_checked(source, &Self::KEYS, check)
    }
}

/// Reports what does not go together.
fn check(kit: &KitSpec, reading: &Reading<'_>) {
    let files = kit.patterns.iter().map(|pattern| &pattern.file);
    check_names(files, "patterns", reading);
    let positions = kit.bolts.iter().map(|bolt| &bolt.position);
    check_names(positions, "bolt positions", reading);
    let panels = kit.panels.iter().map(|panel| &panel.name);
    check_names(panels, "panels", reading);
    check_neighbours(kit, reading);
    check_shared(kit, reading);
    check_carried(kit, reading);
}

/// Panels named by others must be there, each once, and not the panel itself.
fn check_neighbours(kit: &KitSpec, reading: &Reading<'_>) {
    let known: Vec<&str> = kit
        .panels
        .iter()
        .map(|panel| panel.name.value.as_str())
        .collect();
    let is_known: HashSet<&str> = known.iter().copied().collect();
    for panel in &kit.panels {
        let own = panel.name.value.as_str();
        let shared = panel.fasteners.iter().map(|fastener| &fastener.shared_with);
        for names in std::iter::once(&panel.overlaps).chain(shared) {
            let mut seen = HashSet::new();
            for name in names {
                let problem = if name.value == own {
                    name.problem(format!("panel `{}` can't name itself here", shown(own)))
                } else if !is_known.contains(name.value.as_str()) {
                    let others: Vec<&str> = known.iter().copied().filter(|k| *k != own).collect();
                    unknown_panel(name, &others)
                } else if !seen.insert(name.value.as_str()) {
                    name.problem(format!("`{}` is named twice", shown(&name.value)))
                } else {
                    continue;
                };
                reading.report(problem);
            }
        }
    }
}

/// A fastener through several panels is told under one of them: told under another as well, it would
/// be counted twice.
fn check_shared(kit: &KitSpec, reading: &Reading<'_>) {
    let mut told: HashMap<(String, BTreeSet<&str>), &str> = HashMap::new();
    for panel in &kit.panels {
        let own = panel.name.value.as_str();
        for fastener in &panel.fasteners {
            let Some(first) = fastener.shared_with.first() else {
                continue;
            };
            let others = fastener.shared_with.iter().map(|name| name.value.as_str());
            let through: BTreeSet<&str> = others.chain([own]).collect();
            let under = *told.entry((alike(&fastener.kind), through)).or_insert(own);
            if under != own {
                let message = format!(
                    "`{}` through these panels is told under `{}` already",
                    shown(&fastener.kind),
                    shown(under)
                );
                let hint = "tell all that go through the same panels once, under one of them";
                reading.report(first.problem(message).hint(hint));
            }
        }
    }
}

/// A kind of fastener as it is, whether it is written large or small, wide or narrow, one or many.
fn alike(kind: &str) -> String {
    let words: Vec<&str> = kind.split_whitespace().collect();
    let words = words.join(" ").to_lowercase();
    words.strip_suffix('s').unwrap_or(&words).to_owned()
}

fn unknown_panel(name: &Placed<String>, others: &[&str]) -> super::problem::Problem {
    let problem = name.problem(format!("no panel is called `{}`", shown(&name.value)));
    match others {
        [] => problem.hint("there is no other `[[panel]]` in this file"),
        _ => problem.hint(did_you_mean(&name.value, others)),
    }
}

/// What is carried may not outweigh what the tongue may hold.
fn check_carried(kit: &KitSpec, reading: &Reading<'_>) {
    let handover = &kit.handover;
    let limits = [handover.bracket.tongue, handover.vehicle.tongue];
    let Some(limit) = limits.into_iter().flatten().reduce(f64::min) else {
        return;
    };
    let mut sum = 0.0;
    for carried in &handover.carried {
        let before = sum;
        sum += carried.mass.value;
        if before <= limit && sum > limit {
            let message = format!(
                "with `{}` {} kg are carried on the tongue, and it may hold {} kg",
                shown(&carried.name),
                fixed(sum, 1),
                fixed(limit, 1)
            );
            let hint = "the lower of bracket and vehicle holds; what is carried counts in full";
            reading.report(carried.mass.problem(message).hint(hint));
        }
    }
}
