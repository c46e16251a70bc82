//! The files of a definition, as the command line writes them.

use super::answer::{Refusal, file};
use super::fields::Named;
use super::seen::{Seen, first, seen};
use super::setting::Setting;
use super::shop::Shop;
use super::work::LONGEST;
use crate::ask;
use crate::jobs::produce::{Formats, Product, produce_for};
use crate::layout::Stock;
use crate::output::pdf as pdf_of;
use crate::store::Name;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;
use toml_edit::DocumentMut;

const PDF: &str = "application/pdf";
const SVG: &str = "image/svg+xml";
const TOML: &str = "application/toml";

/// The sheets, to print.
pub(super) async fn pdf(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
) -> Result<Response, Refusal> {
    let formats = Formats {
        pdf: true,
        svg: false,
        view: false,
        closed: false,
    };
    let product = produced(&shop, &name, setting, formats).await?;
    let bytes = product.pdf.unwrap_or_default();
    Ok(file(PDF, &format!("{}.pdf", product.stem), true, bytes))
}

/// The whole pattern as one drawing.
pub(super) async fn svg(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
) -> Result<Response, Refusal> {
    let formats = Formats {
        pdf: false,
        svg: true,
        view: false,
        closed: false,
    };
    let product = produced(&shop, &name, setting, formats).await?;
    let text = product.svg.unwrap_or_default();
    Ok(file(
        SVG,
        &format!("{}.svg", product.stem),
        false,
        text.into_bytes(),
    ))
}

/// The definition itself.
pub(super) async fn toml(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
) -> Result<Response, Refusal> {
    let state = shop.store.read(&name)?;
    Ok(file(
        TOML,
        &format!("{name}.toml"),
        false,
        state.text.into_bytes(),
    ))
}

/// The measuring sheet, nothing on it known yet.
pub(super) async fn blank_sheet(setting: Setting) -> Result<Response, Refusal> {
    sheet(&DocumentMut::new(), &setting)
}

/// The measuring sheet of a definition: what it says already of how somebody stands is ticked.
pub(super) async fn measuring_sheet(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
) -> Result<Response, Refusal> {
    let state = shop.store.read(&name)?;
    // One that can't be read says nothing.
    sheet(&state.text.parse().unwrap_or_default(), &setting)
}

fn sheet(definition: &DocumentMut, setting: &Setting) -> Result<Response, Refusal> {
    let wrong = |words: String| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words);
    let Stock::Sheet(page) = setting.setup.paper.stock() else {
        return Err(wrong(
            "a measuring sheet is one sheet: choose no roll".into(),
        ));
    };
    let units = ask::units(definition);
    let set = ask::measuring_sheet(ask::Standing::of(definition), units, page)
        .map_err(|words| wrong(words.into()))?;
    let bytes = pdf_of(&set).map_err(|error| wrong(error.to_string()))?;
    Ok(file(PDF, "measuring-sheet.pdf", true, bytes))
}

/// The picture for a page without script; a definition that can't be drawn has none.
pub(super) async fn picture(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
) -> Result<Response, Refusal> {
    let state = shop.store.read(&name)?;
    match seen(&shop, &name, &state.text, None, &Arc::default()).await {
        Seen::Drawn(drawn) => Ok(([(CONTENT_TYPE, SVG)], drawn.look.svg).into_response()),
        Seen::Wrong(wrong) => {
            let words = wrong.first().map_or("", |wrong| wrong.message.as_str());
            Err(Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words))
        }
    }
}

async fn produced(
    shop: &Arc<Shop>,
    name: &Name,
    setting: Setting,
    formats: Formats,
) -> Result<Product, Refusal> {
    let state = shop.store.read(name)?;
    let (own, name) = (shop.clone(), name.clone());
    let work = move || {
        let wrong = |words: String| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words);
        let spec = own
            .understood(&name, &state.text)
            .map_err(|report| wrong(first(&report)))?;
        let printer = setting.printer.as_ref();
        produce_for(&spec, &own.shapes, &setting.setup, formats, printer)
            .map_err(|error| wrong(error.to_string()))
    };
    shop.pool.run(LONGEST, work).await?
}
