//! The usual cautions, and whom they defer to.

use crate::input::Guarded;
use crate::model::material::OTHER;
use crate::solve::Pattern;

/// The usual cautions, and whom they defer to.
///
/// Sources: eye protection 29 CFR 1910.133(a)(1) (read second-hand); heat shields NHTSA recall
/// campaigns 92V144 and 83V108000; sensors: vehicle makers' guidance; the rest common practice, no
/// source.
pub(crate) fn general_cautions() -> Vec<String> {
    [
        "Local rules, the vehicle maker's and the accessory maker's instructions come before this \
         sheet. Leave to licensed people what is theirs.",
        "Wear eye protection to drill, saw or grind, gloves for sheet metal, and a dust mask for \
         glass fibre and old fibre shields. Never work under a vehicle held only by a jack.",
        "Exhaust and heat shield are hot after driving: let them cool. Support an exhaust that is \
         lowered.",
        "Look behind the panel before you drill: wiring, high-voltage cables, fuel and brake pipes, \
         hoses, radar and parking sensors. High-voltage and air-bag parts: only by the vehicle \
         maker's repair manual.",
        "Never cut the crash beam or its absorber. Paint bare edges of the chassis.",
        "Cut no more than the part needs. A heat shield with too large a hole, or left off, is a \
         fire hazard.",
        "Number plate, type plate and lamps stay in sight. Tow limits: the lowest of vehicle, \
         bracket, ball mount, ball and trailer holds.",
        "Do not copy this sheet: a copy is not full size. Print it again.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// The usual ones, and those of this panel.
pub(super) fn cautions(pattern: &Pattern) -> Vec<String> {
    let mut cautions = general_cautions();
    let thickness = pattern
        .panel
        .thickness
        .map(|thickness| format!("{} thick", pattern.units.close(thickness)));
    let material = match pattern.panel.material {
        Some(material) if material.name == OTHER => "material as its maker states".to_owned(),
        Some(material) => material.name.to_owned(),
        None => "material NOT TOLD, its growth with warmth is in no gap".to_owned(),
    };
    let about: Vec<String> = [Some(material), thickness].into_iter().flatten().collect();
    cautions.push(format!("Panel: {}. Cut edges are sharp.", about.join(", ")));
    if pattern.panel.may_be_metal() {
        let which = match pattern.panel.material {
            Some(material) if material.name != OTHER => "Sheet metal",
            _ => "Take it for sheet metal until you know better",
        };
        cautions.push(format!(
            "{which}: let no edge touch a wire or a hose, and leave no chip behind."
        ));
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
