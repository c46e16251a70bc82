//! After the definition: printing it, and whether the print came out full size.

use super::answer::{Refusal, escaped, see};
use super::fields::{Fields, Named};
use super::html::{self, Printing};
use super::judged::Judged;
use super::seen::{Drawn, Seen, seen};
use super::setting::Setting;
use super::shop::Shop;
use crate::base::length::{Units, parse_length};
use crate::check::scale::{
    Circumstances, Cut, Evidence, FileKind, Gauge, Printer, Reading, Rule, Scales, Way,
};
use crate::layout::Stock;
use crate::store::Name;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

/// What was read of a sheet.
#[derive(Default)]
pub(super) struct Print {
    pub(super) evidence: Evidence,
    /// What a scan can't tell.
    pub(super) cannot_tell: Vec<String>,
}

/// The page with the files to print, and the rulers to read.
pub(super) async fn show(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
) -> Result<Response, Refusal> {
    page(&shop, &name, setting, None, &Fields::default()).await
}

/// Says what the readings of a sheet's rulers make of its cut.
pub(super) async fn judge(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
    fields: Fields,
) -> Result<Response, Refusal> {
    page(&shop, &name, setting, Some(print_of(&fields)), &fields).await
}

/// Keeps the printer that gave these readings.
pub(super) async fn keep(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
    fields: Fields,
) -> Result<Response, Refusal> {
    let called = Name::parse(fields.get("printer_name"))?;
    let drawn = drawn(&shop, &name, &setting).await?;
    let judged = judged(&drawn, &setting, print_of(&fields).map_err(Refusal::bad)?);
    if !judged.keeps {
        return Err(Refusal::bad(
            "this is no error of the printer's own that can be corrected, so nothing is kept",
        ));
    }
    let portrait = match is_landscape(&drawn, &setting) {
        false => judged.scales,
        true => Scales {
            across: judged.scales.down,
            down: judged.scales.across,
            ..judged.scales
        },
    };
    let (paper, margin) = (setting.setup.paper.name(), setting.setup.margin);
    let printer = Printer::new(called.as_str(), "", &portrait, paper, margin)
        .map_err(|error| Refusal::bad(error.to_string()))?;
    shop.printers.keep(&called, &printer)?;
    let query = format!("printer={}", escaped(called.as_str()));
    Ok(see(&format!("/p/{}/print?{query}", escaped(name.as_str()))))
}

/// The page, with what was read of a sheet, or why it can't be read.
pub(super) async fn page(
    shop: &Arc<Shop>,
    name: &Name,
    setting: Setting,
    read: Option<Result<Print, String>>,
    fields: &Fields,
) -> Result<Response, Refusal> {
    let state = shop.store.read(name)?;
    let seen = seen(shop, name, &state.text, Some(&setting), &Arc::default()).await;
    let judged = match (&seen, read) {
        (Seen::Drawn(drawn), Some(read)) => Some(read.map(|print| judged(drawn, &setting, print))),
        _ => None,
    };
    let status = match &judged {
        Some(Err(_)) => StatusCode::UNPROCESSABLE_ENTITY,
        _ => StatusCode::OK,
    };
    let page = html::print(&Printing {
        name,
        seen: &seen,
        setting: &setting,
        printers: &shop.printers.names(),
        judged: judged.as_ref(),
        fields,
    });
    let mut response = (status, page).into_response();
    for cookie in setting.cookies() {
        response.headers_mut().append(SET_COOKIE, cookie);
    }
    Ok(response)
}

async fn drawn(shop: &Arc<Shop>, name: &Name, setting: &Setting) -> Result<Box<Drawn>, Refusal> {
    let state = shop.store.read(name)?;
    match seen(shop, name, &state.text, Some(setting), &Arc::default()).await {
        Seen::Drawn(drawn) => Ok(drawn),
        Seen::Wrong(_) => Err(Refusal::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "this pattern can't be drawn, so its print can't be judged",
        )),
    }
}

fn judged(drawn: &Drawn, setting: &Setting, print: Print) -> Judged {
    let page = match setting.setup.paper.stock() {
        Stock::Sheet(size) => Some(size),
        Stock::Roll { .. } => None,
    };
    let circumstances = Circumstances {
        page,
        tray: None,
        borders: None,
        file: Some(FileKind::Pdf),
    };
    let cut = Cut::of(&drawn.look.pattern);
    let (verdict, faults) = print.evidence.judged(&circumstances, &cut);
    let scales = print.evidence.scales;
    let both = [scales.across, scales.down];
    // What a rule can't tell from full size is not to be corrected.
    let is_off = both.iter().flatten().any(|scale| !scale.allows(1.0));
    // Sheets that were corrected already show nothing of the printer alone.
    let keeps = setting.printer.is_none()
        && print.cannot_tell.is_empty()
        && verdict.not_the_printers().is_none()
        && both.iter().all(Option::is_some)
        && is_off;
    Judged {
        verdict,
        faults,
        scales,
        keeps,
        cannot_tell: print.cannot_tell,
    }
}

fn is_landscape(drawn: &Drawn, setting: &Setting) -> bool {
    let is_sheet = matches!(setting.setup.paper.stock(), Stock::Sheet(_));
    let size = drawn.look.laid_out().map(|sheets| sheets.size);
    is_sheet && size.is_some_and(|size| size.width > size.height)
}

fn print_of(fields: &Fields) -> Result<Print, String> {
    let (evidence, _) = Evidence::of(&readings(fields)?).map_err(|error| error.to_string())?;
    Ok(Print {
        evidence,
        cannot_tell: vec![],
    })
}

/// What was read of the two rulers that were chosen; what was left out is not read.
fn readings(fields: &Fields) -> Result<Vec<Reading>, String> {
    let (gauge, units) = match fields.get("ruler") {
        "4in" => (Gauge::Inches, Units::In),
        _ => (Gauge::Metric, Units::Mm),
    };
    let length = |text: &str, units| {
        parse_length(text, units).map_err(|error| match error.hint() {
            Some(hint) => format!("{error}; hint: {hint}"),
            None => error.to_string(),
        })
    };
    let graduation = match fields.get("graduation") {
        "" => 0.5,
        text => length(text, Units::Mm)?,
    };
    let mut readings = vec![];
    for way in [Way::Across, Way::Down] {
        let text = fields.get(way.word()).trim();
        if text.is_empty() {
            continue;
        }
        let reading = Reading::new(way, gauge, length(text, units)?, Rule::new(graduation));
        readings.push(reading.map_err(|error| error.to_string())?);
    }
    if readings.is_empty() {
        return Err("nothing was read: lay a steel rule on the rulers of the sheet".into());
    }
    Ok(readings)
}
