//! The usual cautions, and whom they defer to.

use crate::drawing::fixed;
use crate::pattern::Pattern;
use crate::spec::Guarded;

/// The usual cautions, and whom they defer to.
///
/// Sources: eye protection 29 CFR 1910.133(a)(1) (read second-hand); heat shields NHTSA recall
/// campaigns 92V144 and 83V108000; sensors: vehicle makers' guidance; the rest common practice.
pub(crate) fn general_cautions() -> Vec<String> {
    vec![
        "Local rules, the vehicle maker's and the accessory maker's instructions come before this \
         sheet. Leave to licensed people what is theirs."
            .to_owned(),
        "Wear eye protection to drill, saw or grind. Never work under a vehicle held only by a jack."
            .to_owned(),
        "Exhaust and heat shield are hot after driving: let them cool.".to_owned(),
        "Look behind the panel before you drill: wiring, hoses, radar and parking sensors. Air-bag \
         parts: only by the vehicle maker's repair manual."
            .to_owned(),
        "Cut no more than the part needs. A heat shield with too large a hole, or left off, is a \
         fire hazard."
            .to_owned(),
        "Number plate and lamps stay in sight. Tow limits are those of the vehicle's own manual, \
         never the bracket's class."
            .to_owned(),
        "Do not copy this sheet: a copy is not full size. Print it again.".to_owned(),
    ]
}

/// The usual ones, and those of this panel.
pub(super) fn cautions(pattern: &Pattern) -> Vec<String> {
    let mut cautions = general_cautions();
    let thickness = pattern
        .panel
        .thickness
        .map(|thickness| format!("{} mm thick", fixed(thickness, 2)));
    let about: Vec<String> = [Some(pattern.panel.material.clone()), thickness]
        .into_iter()
        .flatten()
        .filter(|words| !words.is_empty())
        .collect();
    if !about.is_empty() {
        cautions.push(format!("Panel: {}. Cut edges are sharp.", about.join(", ")));
    }
    if pattern.panel.is_metal() {
        cautions.push(
            "Sheet metal: wear gloves, let no edge touch a wire or a hose, leave no chip behind."
                .to_owned(),
        );
    }
    let mut guarded = pattern.keep_outs.iter().map(|area| area.guards);
    if guarded.any(|guards| guards == Guarded::Sensor) {
        cautions.push(
            "A sensor looks through or past this panel: no cut, tape, filler or metal in its area; \
             have it checked as its maker says."
                .to_owned(),
        );
    }
    cautions
}
