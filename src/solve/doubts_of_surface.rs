//! What is worth a look where the panel leans or curves.

use super::{Developed, Finding, FindingId, Opening, PanelSurface, Part, Severity};
use crate::base::length::{Told, Units};
use crate::geometry::development::{Passage, SurfaceWarning, warnings};
use crate::geometry::outline::Outline;

pub(super) fn about_surface(
    surface: &PanelSurface,
    parts: &[Part],
    developed: &[Developed],
    openings: &[Opening],
    units: Units,
) -> Vec<Finding> {
    let mut findings: Vec<Finding> = vec![];
    let mut add = |found: &SurfaceWarning, of: &str| {
        let finding = finding(found, of, units);
        if !findings.iter().any(|known| known.id == finding.id) {
            findings.push(finding);
        }
    };
    for smoothing in &surface.smoothings {
        if let Some(rough) = smoothing.rough {
            add(&SurfaceWarning::RoughReading(rough), "");
        }
    }
    for part in parts {
        if let Some(way) = &part.through {
            for found in warnings(&way.surface, None, &way.passage, &[]) {
                add(&found, &part.name);
            }
        }
    }
    for one in developed {
        let own = openings
            .iter()
            .filter(|opening| opening.includes(&one.opening));
        let outlines: Vec<Outline> = own.map(|opening| opening.outline.clone()).collect();
        let square_on = Passage::square_on();
        for found in warnings(&surface.surface, None, &square_on, &outlines) {
            if !past_the_edge(&found) {
                add(&found, &one.opening);
            }
        }
        if let Some(misfit) = one.misfit {
            add(&SurfaceWarning::BothWays(misfit), &one.opening);
        }
    }
    findings
}

/// Beyond the datum edge there is no panel to read.
fn past_the_edge(found: &SurfaceWarning) -> bool {
    matches!(found, SurfaceWarning::BeyondProfile { at, .. } if at.y <= 0.0)
}

fn finding(found: &SurfaceWarning, of: &str, units: Units) -> Finding {
    let id = FindingId::of("surface");
    let (id, hint) = match found {
        SurfaceWarning::RoughReading(rough) => (
            id.beside("reading", &(rough.reading + 1).to_string()),
            "lay the gauge on again at that place",
        ),
        SurfaceWarning::SteepRake { .. } => (
            id.about("steep rake"),
            "measure the rake again, at both ends of the panel",
        ),
        SurfaceWarning::SteepPassage { .. } => (
            id.about("steep way").about(of),
            "look whether the part really comes through like that",
        ),
        SurfaceWarning::BeyondProfile { .. } => (
            id.about("beyond the readings").about(of),
            "read the profile farther out than the opening reaches",
        ),
        SurfaceWarning::BothWays(_) => (
            id.about("curved both ways").about(of),
            "slit the paper there, press it on, and tape the slit",
        ),
    };
    let warning = Finding::new(Severity::Warning, id, found.told(units), hint);
    match found {
        SurfaceWarning::BeyondProfile { at, .. } => warning.at(*at),
        SurfaceWarning::BothWays(misfit) => warning.at(misfit.slit.to),
        _ => warning,
    }
}
