//! What was found of a print's scale, as it is told.

use super::{Failure, report};
use serde::Serialize;
use trimloft::base::fixed;
use trimloft::base::length::Units;
use trimloft::base::paper::PageName;
use trimloft::check::scale::{
    Cut, Estimate, Fault, Measured, Printer, Reason, Scales, Verdict, Way,
};
use trimloft::check::scan::{RulerKind, SheetScale};
use trimloft::model::clearance::{MM_DECIMALS, accepted_readings, accepted_readings_in_words};

/// Everything that is said of a sheet.
pub(super) struct Said {
    /// From readings; none of a direction that was not read.
    pub(super) estimates: Vec<Estimate>,
    /// From a scan.
    pub(super) scan: Option<SheetScale>,
    /// What the scanned sheet says it is; may be none.
    pub(super) sheets: Vec<PageName>,
    pub(super) scales: Scales,
    pub(super) cut: Cut,
    /// Whether that cut was named; else what every sheet asks for unless it says otherwise.
    pub(super) named: bool,
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
    let mut lines = String::new();
    for name in &said.sheets {
        lines += &format!("this is {}\n", name.words());
    }
    for way in [Way::Across, Way::Down] {
        let Some(scale) = said.scales.along(way) else {
            lines += &format!("{}: not read\n", way.word());
            continue;
        };
        lines += &format!("{}: {}\n", way.word(), scale_words(scale, said.units));
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
    lines += &asked(said);
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

/// What is asked for, and what the cut is off by.
fn asked(said: &Said) -> String {
    let (nominal, unit) = ruler(said.units);
    let must = accepted_readings_in_words(nominal, said.cut.scale_error, unit);
    if !said.named {
        return format!(
            "no pattern was named: held to {} %, as sheets are whose clearances say nothing else: \
             {nominal} {unit} must read {must}; hint: name the pattern with `--pattern`\n",
            fixed(said.cut.scale_error * 100.0, 2)
        );
    }
    format!(
        "farthest cut: {} across, {} down from where the sheets are laid by; its clearance leaves {} \
         for the print: {nominal} {unit} must read {must}\noff there by {}, known to {}; how finely it was read \
         moves no limit\n",
        said.units.length(said.cut.across),
        said.units.length(said.cut.down),
        said.units.doubt(said.cut.allowed(), 2),
        said.units.doubt(said.verdict.error.value, 2),
        said.units.doubt(said.verdict.error.uncertainty, 2)
    )
}

/// The answer, and why.
fn verdict(said: &Said) -> String {
    let mut lines = format!("{}\n", said.verdict.words());
    for reason in &said.verdict.reasons {
        // The faults have been told one by one.
        if !matches!(reason, Reason::KnownFault(_)) {
            lines += &format!("  {reason}\n");
        }
    }
    lines
}

/// The ruler that people read who work in `units`: how long it is, and in what.
fn ruler(units: Units) -> (f64, &'static str) {
    match units {
        Units::Mm => (100.0, "mm"),
        Units::In => (4.0, "in"),
    }
}

fn scale_words(scale: Measured, units: Units) -> String {
    let (nominal, unit) = ruler(units);
    format!(
        "{nominal} {unit} reads {} {unit}, scale {} known to {}",
        fixed(nominal * scale.value, 3),
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
    /// What the scanned sheet says it is.
    sheets: Vec<String>,
    across: Option<MeasuredJson>,
    down: Option<MeasuredJson>,
    skew_degrees: Option<MeasuredJson>,
    judgement: &'static str,
    /// What 100 mm may read, least and greatest.
    accepted: [f64; 2],
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
        Self {
            sheets: said.sheets.iter().map(ToString::to_string).collect(),
            across: said.scales.across.map(Into::into),
            down: said.scales.down.map(Into::into),
            skew_degrees: said.scales.skew.map(Into::into),
            judgement: said.verdict.words(),
            accepted: accepted_readings(100.0, said.cut.scale_error, MM_DECIMALS).into(),
            error_at_farthest_cut: said.named.then(|| said.verdict.error.into()),
            reasons: said
                .verdict
                .reasons
                .iter()
                .map(|reason| reason.to_string())
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
