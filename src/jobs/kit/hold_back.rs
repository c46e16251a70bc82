//! Fasteners that two panels share: left out until the last of them is on.

use crate::input::KitPanel;

/// A fastener that more than one panel is held by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldBack {
    /// Place of the panel that it is listed under.
    pub panel: usize,
    /// Place among its fasteners.
    pub fastener: usize,
    /// Places of the panels that it holds, in the order that they go on; two and more.
    pub sharing: Vec<usize>,
}

impl HoldBack {
    /// Whether it comes out and goes in with the panel at that place: the first off and the last on.
    pub fn goes_with(&self, place: usize) -> bool {
        self.sharing.last() == Some(&place)
    }

    /// Places of the panels that must still go on before it does, once the one at `place` is on;
    /// none where it does not hold that panel, or goes in with it.
    pub fn until(&self, place: usize) -> &[usize] {
        let after = self.sharing.iter().position(|panel| *panel == place);
        after.map_or(&[], |at| &self.sharing[at + 1..])
    }
}

/// What is to be held back, in the order of the file, for panels that come off in this order.
///
/// A fastener through several panels can only go in once all of them are on; it comes out with
/// the first that comes off.
pub fn held_back(panels: &[KitPanel], order: &[usize]) -> Vec<HoldBack> {
    let mut held = vec![];
    for (place, panel) in panels.iter().enumerate() {
        for (number, fastener) in panel.fasteners.iter().enumerate() {
            let holds = |other: &usize| {
                let name = &panels[*other].name.value;
                let mut shared = fastener.shared_with.iter();
                *other == place || shared.any(|with| with.value == *name)
            };
            // What comes off last goes on first.
            let sharing: Vec<usize> = order.iter().rev().copied().filter(holds).collect();
            if sharing.len() > 1 {
                held.push(HoldBack {
                    panel: place,
                    fastener: number,
                    sharing,
                });
            }
        }
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::{KitSpec, Source};
    use crate::jobs::kit::removal_order;

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
        assert_eq!(held[0].sharing, [0, 1, 2]);
        assert_eq!(held[0].until(0), [1, 2]);
        assert_eq!(held[0].until(1), [2]);
        assert!(held[0].until(2).is_empty() && held[0].goes_with(2));
    }
}
