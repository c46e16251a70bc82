//! What was found of a print's scale, as it is told.

use super::{Failure, report};
use serde::Serialize;
use trimloft::base::fixed;
use trimloft::base::length::{Told, Units};
use trimloft::check::scale::{
    Cut, Estimate, Fault, Measured, Printer, Reason, Scales, Verdict, Way,
};
use trimloft::check::scan::{RulerKind, SheetScale};
use trimloft::model::clearance::accepted_readings_in_words;

/// Everything that is said of a sheet.
pub(super) struct Said {
    /// From readings; none of a direction that was not read.
    pub(super) estimates: Vec<Estimate>,
    /// From a scan.
    pub(super) scan: Option<SheetScale>,
    pub(super) scales: Scales,
    pub(super) cut: Option<Cut>,
    /// That the cut is told in; rulers and paper keep their own.
    pub(super) units: Units,
    pub(super) verdict: Verdict,
    /// What a print dialog may have done, the plainest first; none where full size fits.
    pub(super) faults: Vec<Fault>,
    /// The printer that was kept.
    pub(super) saved: Option<Printer>,
}

pub(super) fn print(said: &Said, json: bool) -> Result<(), Failure> {
    if json {
        report::print_json(&SaidJson::of(said))
    } else {
        report::print(&told(said))
    }
}

fn told(said: &Said) -> String {
    let units = said.units;
    let mut lines = String::new();
    for way in [Way::Across, Way::Down] {
        let Some(scale) = said.scales.along(way) else {
            lines += &format!("{}: not read\n", way.word());
            continue;
        };
        lines += &format!("{}: {}\n", way.word(), scale_words(scale));
    }
    for estimate in &said.estimates {
        lines += &residuals(estimate);
    }
    if let Some(skew) = said.scales.skew {
        lines += &format!(
            "square: {} degrees off, known to {}\n",
            fixed(skew.value, 3),
            fixed(skew.uncertainty, 3)
        );
    }
    if let Some(scan) = &said.scan {
        lines += &scan_words(scan);
    }
    if let Some(cut) = &said.cut {
        lines += &format!(
            "farthest cut: {} across, {} down; its clearance leaves {} for the print: 100 mm must \
             read {}\n",
            units.length(cut.across),
            units.length(cut.down),
            units.doubt(cut.allowed(), 2),
            accepted_readings_in_words(100.0, cut.scale_error, "mm")
        );
        lines += &format!(
            "off there by {}, known to {}\n",
            units.doubt(said.verdict.error.value, 2),
            units.doubt(said.verdict.error.uncertainty, 2)
        );
    }
    for (index, fault) in said.faults.iter().enumerate() {
        let which = if index == 0 { "perhaps" } else { "or" };
        lines += &format!("{which}: {fault}\n  hint: {}\n", fault.remedy());
    }
    if let Some(printer) = &said.saved {
        lines += &format!(
            "kept for printer \"{}\": sheets are drawn at {} % across and {} % down, and are right \
             only there\n",
            printer.name,
            fixed(100.0 / printer.across, 3),
            fixed(100.0 / printer.down, 3)
        );
    }
    lines + &verdict(said)
}

/// The answer, and why.
fn verdict(said: &Said) -> String {
    let grave = |reason: &&Reason| {
        matches!(
            reason,
            Reason::NotThePrinter { .. } | Reason::KnownFault(_) | Reason::Sheared { .. }
        )
    };
    let mut lines = String::new();
    if said.cut.is_some() || said.verdict.reasons.iter().any(|reason| grave(&reason)) {
        lines += &format!("{}\n", said.verdict.words());
    } else {
        lines += "no cut was judged; hint: name the pattern with `--pattern`\n";
    }
    for reason in &said.verdict.reasons {
        // The faults have been told one by one.
        let told = matches!(reason, Reason::KnownFault(_));
        if !told && (said.cut.is_some() || grave(&reason)) {
            lines += &format!("  {}\n", reason.told(said.units));
        }
    }
    lines
}

fn scale_words(scale: Measured) -> String {
    format!(
        "100 mm reads {} mm, scale {} known to {}",
        fixed(100.0 * scale.value, 3),
        fixed(scale.value, 5),
        fixed(scale.uncertainty, 5)
    )
}

fn residuals(estimate: &Estimate) -> String {
    if estimate.readings.len() < 2 {
        return String::new();
    }
    estimate
        .readings
        .iter()
        .zip(&estimate.residuals)
        .map(|(reading, residual)| {
            format!(
                "  {} {}: {} mm for {} mm, off the mean by {} mm\n",
                "reading",
                estimate.way.word(),
                fixed(reading.read, 3),
                fixed(reading.nominal(), 2),
                fixed(*residual, 3)
            )
        })
        .collect()
}

fn scan_words(scan: &SheetScale) -> String {
    let mut lines = format!(
        "the sheet lies turned by {} degrees in the picture\n",
        fixed(scan.turn, 2)
    );
    for ruler in &scan.rulers {
        lines += &format!(
            "  {} ruler {}: {} mm, off the mean by {} mm; {} graduations, uneven by {} mm\n",
            kind(ruler.kind),
            ruler.way.word(),
            fixed(ruler.reads, 3),
            fixed(ruler.residual, 3),
            ruler.graduations,
            fixed(ruler.roughness, 3)
        );
    }
    for words in scan.cannot_tell() {
        lines += &format!("cannot tell: {words}\n");
    }
    lines
}

fn kind(kind: RulerKind) -> &'static str {
    match kind {
        RulerKind::Metric => "100 mm",
        RulerKind::Inches => "4 in",
    }
}

/// What was found, as a program reads it; mm and degrees.
#[derive(Serialize)]
struct SaidJson {
    across: Option<MeasuredJson>,
    down: Option<MeasuredJson>,
    skew_degrees: Option<MeasuredJson>,
    judgement: &'static str,
    error_at_farthest_cut: Option<MeasuredJson>,
    reasons: Vec<String>,
    faults: Vec<FaultJson>,
    rulers: Vec<RulerJson>,
    cannot_tell: Vec<String>,
}

#[derive(Serialize)]
struct MeasuredJson {
    value: f64,
    uncertainty: f64,
}

#[derive(Serialize)]
struct FaultJson {
    fault: String,
    scale: f64,
    choose: String,
}

#[derive(Serialize)]
struct RulerJson {
    ruler: &'static str,
    way: &'static str,
    reads: f64,
    residual: f64,
}

impl From<Measured> for MeasuredJson {
    fn from(measured: Measured) -> Self {
        Self {
            value: measured.value,
            uncertainty: measured.uncertainty,
        }
    }
}

impl From<&Fault> for FaultJson {
    fn from(fault: &Fault) -> Self {
        Self {
            fault: fault.to_string(),
            scale: fault.scale,
            choose: fault.remedy(),
        }
    }
}

impl SaidJson {
    fn of(said: &Said) -> Self {
        let rulers = said.scan.iter().flat_map(|scan| &scan.rulers);
        let judged = said.cut.is_some();
        Self {
            across: said.scales.across.map(Into::into),
            down: said.scales.down.map(Into::into),
            skew_degrees: said.scales.skew.map(Into::into),
            judgement: said.verdict.words(),
            error_at_farthest_cut: judged.then(|| said.verdict.error.into()),
            reasons: said
                .verdict
                .reasons
                .iter()
                .map(|reason| reason.told(said.units))
                .collect(),
            faults: said.faults.iter().map(FaultJson::from).collect(),
            rulers: rulers
                .map(|ruler| RulerJson {
                    ruler: kind(ruler.kind),
                    way: ruler.way.word(),
                    reads: ruler.reads,
                    residual: ruler.residual,
                })
                .collect(),
            cannot_tell: said
                .scan
                .as_ref()
                .map_or_else(Vec::new, SheetScale::cannot_tell),
        }
    }
}
