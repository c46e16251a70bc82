//! A sheet on a flatbed scanner, in the place of readings.

use super::answer::Refusal;
use super::fields::{Fields, Named};
use super::print::{self, Print};
use super::setting::Setting;
use super::shop::Shop;
use crate::check::scan::{Raster, Scanner, measure};
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::Response;
use std::sync::Arc;
use std::time::Duration;

/// Longest picture that is taken, bytes: A4 in colour at 600 dpi, well packed.
pub(super) const LONGEST_SCAN: usize = 64 << 20;
/// Longest time that a picture is measured.
const LONGEST: Duration = Duration::from_secs(60);

/// Says what a scanned sheet makes of its cut.
pub(super) async fn judge(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
    parts: Multipart,
) -> Result<Response, Refusal> {
    let (picture, scanner) = taken(parts).await?;
    let work = move || {
        let raster = Raster::decode(&picture).map_err(|error| error.to_string())?;
        let sheet = measure(&raster, &scanner).map_err(|error| error.to_string())?;
        Ok(Print {
            evidence: sheet.evidence(),
            cannot_tell: sheet.cannot_tell(),
        })
    };
    let read = shop.scans.run(LONGEST, work).await?;
    print::page(&shop, &name, setting, Some(read), &Fields::default()).await
}

/// The picture, and how it was scanned.
async fn taken(mut parts: Multipart) -> Result<(Vec<u8>, Scanner), Refusal> {
    let mut picture = vec![];
    let mut scanner = Scanner {
        dpi: 0.0,
        own_scale: None,
    };
    while let Some(part) = parts.next_field().await.map_err(unread)? {
        let name = part.name().unwrap_or_default().to_owned();
        let bytes = part.bytes().await.map_err(unread)?;
        let text = || std::str::from_utf8(&bytes).unwrap_or_default().trim();
        match name.as_str() {
            "scan" => picture = bytes.to_vec(),
            "dpi" => {
                let wrong = |_| Refusal::bad("the resolution is no number");
                scanner.dpi = text().parse().map_err(wrong)?;
            }
            "scanner" if !text().is_empty() => {
                let wrong = |_| Refusal::bad("what the scanner makes of a rule is no number");
                let measures: f64 = text().parse().map_err(wrong)?;
                scanner.own_scale = Some((measures / 100.0, measures / 100.0));
            }
            _ => {}
        }
    }
    Ok((picture, scanner))
}

fn unread(error: axum::extract::multipart::MultipartError) -> Refusal {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        let words = "the picture is larger than 64 MB; hint: scan the sheet in grey at 300 dpi";
        return Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, words);
    }
    Refusal::bad("the picture did not arrive whole; hint: send it again")
}
