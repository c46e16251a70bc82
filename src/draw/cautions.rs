//! The usual cautions, and whom they defer to.

use super::names::named;
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
        "Local rules and both makers' instructions come first. Leave licensed work to licensed people.",
        "Eye protection; gloves for sheet metal; a dust mask for glass fibre and old fibre shields.",
        "Never work under a vehicle on a jack alone.",
        "Let exhaust and shield cool. Support a lowered exhaust.",
        "Look behind first: wiring, high-voltage cables, fuel and brake pipes, hoses, sensors. High voltage \
         and air bags: only by the maker's manual.",
        "Never cut the crash beam or its absorber. Paint bare edges of the chassis.",
        "Cut no more than needed: a heat shield cut too large, or left off, is a fire hazard.",
        "Keep number plate, type plate and lamps in sight. Tow limits: the lowest of vehicle, bracket, ball \
         mount, ball and trailer holds.",
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
        None => "material NOT TOLD, so warmth is in no gap".to_owned(),
    };
    let about: Vec<String> = [Some(material), thickness].into_iter().flatten().collect();
    cautions.push(format!("Panel: {}. Cut edges are sharp.", about.join(", ")));
    if pattern.panel.may_be_metal() {
        let which = match pattern.panel.material {
            Some(material) if material.name != OTHER => "Sheet metal",
            _ => "Take it for sheet metal until you know better",
        };
        cautions.push(format!(
            "{which}: no edge on a wire or a hose, no chip behind."
        ));
    }
    let mut guarded = pattern.keep_outs.iter().map(|area| area.guards);
    if guarded.any(|guards| guards == Guarded::Sensor) {
        cautions.push(
            "A sensor looks through this panel: no cut, tape, filler or metal in its area. Have it \
             checked as its maker says."
                .to_owned(),
        );
    }
    let areas: Vec<&str> = pattern
        .keep_outs
        .iter()
        .map(|area| area.name.as_str())
        .collect();
    if !areas.is_empty() {
        cautions.push(format!(
            "Cut nothing in {}, nor as near as the pattern says.",
            named(&areas, "the dashed areas")
        ));
    }
    cautions
}
