//! Fasteners that two panels share: left out until the last of them is on.

use crate::spec::KitPanel;

/// Fasteners to hold back when a panel goes on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldBack<'a> {
    /// Place of the panel that they are listed under.
    pub panel: usize,
    /// Place among its fasteners.
    pub fastener: usize,
    /// Panels that must be on before they go in, by name, in the order that they go on.
    pub until: Vec<&'a str>,
    /// Place of the panel that they come out and go in with: of all that share them, the first off
    /// and the last on.
    pub with: usize,
}

/// What is to be held back, in the order of the file, for panels that come off in this order.
///
/// A fastener through several panels can only go in once all of them are on; it comes out with
/// the first that comes off.
pub fn held_back<'a>(panels: &'a [KitPanel], order: &[usize]) -> Vec<HoldBack<'a>> {
    let comes_off = |name: &str| {
        order
            .iter()
            .position(|panel| panels[*panel].name.value == name)
    };
    let mut held = vec![];
    for (place, panel) in panels.iter().enumerate() {
        for (number, fastener) in panel.fasteners.iter().enumerate() {
            let own = std::iter::once(panel.name.value.as_str());
            let names = own.chain(fastener.shared_with.iter().map(|name| name.value.as_str()));
            let mut sharing: Vec<(usize, &str)> = names
                .filter_map(|name| Some((comes_off(name)?, name)))
                .collect();
            // What comes off last goes on first.
            sharing.sort_by_key(|(off, _)| std::cmp::Reverse(*off));
            if sharing.len() < 2 {
                continue;
            }
            let (Some(first_on), Some(last_on)) = (sharing.first(), sharing.last()) else {
                continue;
            };
            let (with, first_on) = (order[last_on.0], first_on.0);
            held.push(HoldBack {
                panel: place,
                fastener: number,
                until: sharing
                    .iter()
                    .filter(|(off, _)| *off != first_on)
                    .map(|(_, name)| *name)
                    .collect(),
                with,
            });
        }
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::removal_order;
    use crate::spec::{KitSpec, Source};

    const KIT: &str = r#"
        format = 1
        [kit]
        number = "K"
        revision = "1"
        title = "T"
        issued = 2026-01-01
        [[pattern]]
        file = "p.toml"
        [[panel]]
        name = "fascia"
        [[panel.fastener]]
        kind = "screw"
        count = 4
        reuse = "keep"
        [[panel.fastener]]
        kind = "clip"
        count = 2
        reuse = "replace"
        shared_with = ["liner", "under-panel"]
        [[panel]]
        name = "under-panel"
        overlaps = ["fascia"]
        [[panel]]
        name = "liner"
        overlaps = ["under-panel"]
    "#;

    #[test]
    fn a_shared_fastener_waits_for_the_last_panel_on() {
        let kit = KitSpec::read(&Source::new("k", KIT)).unwrap();
        let order = removal_order(&kit.panels).unwrap();
        // Off: liner, under-panel, fascia; on: fascia, under-panel, liner.
        assert_eq!(order, [2, 1, 0]);
        let held = held_back(&kit.panels, &order);
        assert_eq!(held.len(), 1);
        assert_eq!((held[0].panel, held[0].fastener), (0, 1));
        assert_eq!(held[0].until, ["under-panel", "liner"]);
        assert_eq!(held[0].with, 2);
    }
}
