//! From the definition as written to outlines on the panel.

use super::allowance::Allowances;
use super::around::Working;
use super::developed::developed;
use super::doubts::{about_centre, about_gaps, about_material, about_openings};
use super::doubts_of_surface::about_surface;
use super::edge::datum_edge;
use super::feature::{Behind, feature};
use super::finding::accept;
use super::foot::{self, foot, hold, kept, on_panel, pressed};
use super::guard::{keep_out, lines};
use super::hole::Takeable;
use super::judge::{Judged, judge};
use super::locator::{holes, locators};
use super::opening::cut_out;
use super::outright::outright;
use super::part::{part, within_bounds};
use super::place::{Placing, whereabouts};
use super::rough::rough_cuts;
use super::spacing::Measuring;
use super::trim::trim;
use super::{Centreline, Panel, PanelSurface, Pattern};
use crate::input::families::Library;
use crate::input::{OpeningGiven, PanelSpec, PatternSpec, Problem};
use crate::model::centre;
use crate::model::hardware::{
    Cutter, Tool, default_tools, for_thin_sheet, own_tools, takes_hole_saw,
};
use kurbo::Rect;

/// Solves a definition: places its parts and openings on the panel, works out those that follow
/// parts, unites openings, cuts them at the panel's edge, finds where to drill, measures what each
/// part keeps, and judges what stays of the panel.
///
/// # Errors
/// Every problem of the definition that only shows when it is worked out: unknown shapes, values
/// out of a shape's range, radii that do not fit, openings off the panel, a panel left in pieces, a
/// part that does not keep its gap. What stays of the panel is told as findings, some of which stop
/// a pattern from being drawn: see [`Finding::stops`](super::Finding::stops).
pub fn solve(spec: &PatternSpec, shapes: &Library) -> Result<Pattern, Vec<Problem>> {
    let orientation = spec.panel.orientation().map_err(|error| {
        vec![Problem {
            message: error.to_string(),
            hint: None,
            span: spec.panel.page_up.span.clone(),
        }]
    })?;
    let along_tape = datum_edge(&spec.panel, spec.units).map_err(|problem| vec![problem])?;
    let read = spec.centreline.as_ref();
    let centreline = Centreline::find(read, &spec.panel, &along_tape, orientation, spec.units)?;
    let edge = along_tape.moved(|reading| centreline.frame_x(reading));
    let size = panel_size(&spec.panel, &centreline);
    let locators = locators(spec, &centreline, &edge);
    let surface = PanelSurface::of(&spec.panel, orientation, spec.units)?;
    let holes = holes(spec, &centreline, &edge);
    let known = [locators.as_slice(), &holes].concat();
    let placing = Placing {
        shapes,
        orientation,
        centreline: &centreline,
        edge: &edge,
        surface: &surface,
        size,
        features: &known,
        measuring: read.map_or_else(centre::Measuring::default, |read| read.measuring),
        units: spec.units,
    };
    let parts = all(spec.parts.iter().map(|one| part(one, &placing)))?;
    within_bounds(&parts, &spec.parts)?;
    let keep_outs = all(spec.keep_outs.iter().map(|one| keep_out(one, &placing)))?;
    let takeable = Takeable {
        holes: &holes,
        locators: &locators,
        thickness: spec.panel.thickness,
        units: spec.units,
    };
    let allowances = Allowances {
        spec: &spec.clearance,
        material: spec.panel.material.as_ref(),
        cutter: Cutter::of(spec.panel.material.as_ref(), spec.panel.thickness),
        centreline: &centreline,
        locators: &locators,
        edge: &edge,
        units: spec.units,
    };
    let tools = tools(spec);
    let working = Working {
        parts: &parts,
        allowances: &allowances,
        edge: &edge,
        tools: &tools,
        orientation,
        thickness: surface.thickness(),
    };

    let mut clearances = vec![];
    let mut guesses = vec![];
    let placed = all(spec.openings.iter().map(|opening| {
        let name = &opening.name.value;
        match &opening.given {
            OpeningGiven::Outright(shape) => {
                let made = outright(&opening.name, shape, &placing)?;
                guesses.extend(made.flat.map(|flat| (name.clone(), flat)));
                takeable.taken_into(opening, made.placed)
            }
            OpeningGiven::Around(around) => {
                let made = working.opening(opening, around)?;
                clearances.push(made.clearance);
                guesses.extend(made.flat.map(|flat| (name.clone(), flat)));
                takeable.taken_into(opening, made.placed)
            }
        }
    }))?;
    let trims = all(spec.trims.iter().map(|own| trim(own, size, &placing)))?;
    let placed = [placed, trims].concat().concat();
    let developed = developed(&guesses, &placed, &surface)?;
    let (outline, mut openings) = cut_out(&placed, &edge, size, &tools)?;
    let measuring = Measuring {
        parts: &parts,
        openings: &openings,
        allowances: &allowances,
        orientation,
        thickness: surface.thickness(),
        units: spec.units,
    };
    let spacings = measuring.measure(&clearances)?;
    let asked = &spec.openings;
    let no_room = rough_cuts(
        &mut openings,
        asked,
        &outline,
        &allowances,
        &spacings,
        spec.units,
    );
    let panel = Panel {
        name: spec.panel.name.clone(),
        material: spec.panel.material,
        thickness: spec.panel.thickness,
        edge: edge.clone(),
        size,
        extent: spec.panel.extent,
        outline,
    };
    let lines = lines(&spec.lines, &centreline, &edge);
    let feet = all(spec.feet.iter().map(|one| foot(one, &placing)))?;
    // What is left is worked out for the feet alone: openings may be many.
    let kept = match feet.is_empty() {
        true => vec![],
        false => kept(&panel.outline, &openings),
    };
    let feet = pressed(&spec.feet, feet, &panel.outline, &kept);
    let mut features = all(spec.features.iter().map(|one| feature(one, &placing)))?;
    let footed = spec.feet.iter().zip(&feet);
    let footed = footed.map(|(spec, own)| on_panel(("foot", &spec.name), &own.outline, &panel));
    let stand = spec.features.iter().zip(&features);
    let stand = stand.map(|(spec, own)| on_panel(("feature", &spec.name), &own.outline, &panel));
    all(footed.chain(stand))?;
    let behind = Behind {
        parts: &parts,
        openings: &openings,
        allowances: &allowances,
        units: spec.units,
    };
    let (fouls, behind) = behind.fouls(&mut features);
    let hold = hold(&kept, &openings, &locators, &parts);
    let mut findings = about_centre(&centreline, &locators, spec.units);
    findings.extend(no_room);
    findings.extend(behind);
    findings.extend(foot::findings(&feet));
    findings.extend(parts.iter().filter_map(|part| {
        let tied = part.tied.as_ref()?;
        tied.finding(&part.name, part.origin, spec.units)
    }));
    findings.extend(about_gaps(&centreline, &spacings, spec.units));
    findings.extend(about_material(&panel, &clearances));
    findings.extend(about_surface(
        &surface, &parts, &developed, &openings, spec.units,
    ));
    findings.extend(about_openings(
        &placed,
        &openings,
        &panel,
        orientation,
        spec.units,
    ));
    findings.extend(judge(&Judged {
        panel: &panel,
        orientation,
        openings: &openings,
        locators: &locators,
        holes: &holes,
        keep_outs: &keep_outs,
        parts: &parts,
        spacings: &spacings,
        clearances: &clearances,
        units: spec.units,
    }));
    for finding in &mut findings {
        let told = |at| whereabouts(at, &centreline, &panel.edge, orientation, spec.units);
        finding.whereabouts = finding.at.map(told);
        finding.units = spec.units;
    }
    let scale_error = allowances.scale_error(&openings);
    accept(&mut findings, &spec.accepted)?;
    Ok(Pattern {
        identity: spec.identity.clone(),
        units: spec.units,
        orientation,
        panel,
        surface,
        centreline,
        parts,
        clearances,
        scale_error,
        openings,
        spacings,
        developed,
        locators,
        holes,
        keep_outs,
        feet,
        hold,
        features,
        fouls,
        lines,
        findings,
    })
}

impl Pattern {
    /// The same, with outlines that are cut along the panel's edge as well: for a cutter that takes
    /// closed outlines alone.
    #[must_use]
    pub fn closed(mut self) -> Self {
        for opening in &mut self.openings {
            opening.outline = opening.outline.clone().closed();
            for rough in opening.rough.iter_mut().flat_map(|own| &mut own.lines) {
                *rough = rough.clone().closed();
            }
        }
        self
    }
}

/// All that were worked out, or everything that was wrong with any of them.
fn all<T>(outcomes: impl Iterator<Item = Result<T, Vec<Problem>>>) -> Result<Vec<T>, Vec<Problem>> {
    let (mut good, mut problems) = (vec![], vec![]);
    for outcome in outcomes {
        match outcome {
            Ok(one) => good.push(one),
            Err(found) => problems.extend(found),
        }
    }
    if problems.is_empty() {
        Ok(good)
    } else {
        Err(problems)
    }
}

/// What the shop drills and saws this panel with.
fn tools(spec: &PatternSpec) -> Vec<Tool> {
    let tools = match &spec.tools {
        Some(own) => own_tools(own),
        None => default_tools(spec.units),
    };
    if takes_hole_saw(spec.panel.material.as_ref(), spec.panel.thickness) {
        tools
    } else {
        for_thin_sheet(&tools, spec.units)
    }
}

/// The panel's ends and far side, where they were told.
fn panel_size(panel: &PanelSpec, centreline: &Centreline) -> Option<Rect> {
    let (width, height) = (panel.width?, panel.height?);
    let ends = [centreline.frame_x(0.0), centreline.frame_x(width)];
    Some(Rect::new(
        ends[0].min(ends[1]),
        0.0,
        ends[0].max(ends[1]),
        height,
    ))
}
