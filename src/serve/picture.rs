//! The picture that follows what is typed.

use super::answer::Refusal;
use super::asked::{self, Asked};
use super::asking::Asking;
use super::fields::{Fields, Named};
use super::html::{self, Beside};
use super::moved::{self, Handle};
use super::seen::{Seen, seen};
use super::setting::Setting;
use super::shop::Shop;
use crate::store::{Hash, Name};
use axum::Json;
use axum::extract::State;
use kurbo::Point;
use serde::Serialize;
use std::sync::Arc;

/// What the script of the page is told.
#[derive(Serialize)]
pub(super) struct Followed {
    /// The definition, with what was answered or moved in it.
    text: String,
    /// The questions with their answers, as a piece of the page.
    questions: String,
    /// What was found, as a piece of the page.
    status: String,
    /// The same in a few words.
    summary: String,
    /// The drawing; none where there is nothing to draw yet.
    svg: Option<String>,
    /// Width and height of the drawing, mm.
    size: [f64; 2],
    /// Whether its sheets are still to be laid out: others were waited for. Asked for by `whole`.
    rest: bool,
    /// Whether it can be printed.
    prints: bool,
    /// What can be dragged.
    handles: Vec<Handle>,
    /// Where findings lie on the drawing, by their number from 1.
    places: Vec<Option<[f64; 2]>>,
}

/// Answers with the picture of a text that is being worked on. The definition stays as it is; the text is
/// kept as its window's draft before anything is made of it.
pub(super) async fn follow(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
    fields: Fields,
) -> Result<Json<Followed>, Refusal> {
    let Asked { text, wrong } = asked::applied(&fields, &shop.shapes)?;
    keep(&shop, &name, &fields, &text)?;
    let asking = Arc::new(Asking::of(&text, &shop.shapes));
    // The picture comes first: where others wait, paper is left until nothing more is typed.
    let is_whole = fields.has("whole") || !shop.pool.is_busy();
    let seen = seen(&shop, &name, &text, is_whole.then_some(&setting), &asking).await;
    let answered = &asking.answered;
    let beside = Beside {
        wrong: &wrong,
        seen: &seen,
        inches: asking.inches(),
    };
    let questions = html::questions(answered, beside).into_string();
    let status = html::status(&seen, answered, &setting).into_string();
    let summary = html::summary(&seen, answered);
    Ok(Json(match &seen {
        Seen::Wrong(_) => Followed {
            text,
            questions,
            status,
            summary,
            svg: None,
            size: [0.0; 2],
            rest: false,
            prints: false,
            handles: vec![],
            places: vec![],
        },
        Seen::Drawn(drawn) => {
            let look = &drawn.look;
            let place = |at: Point| {
                let at = look.to_svg * at;
                [at.x, at.y]
            };
            let findings = look.pattern.findings.iter();
            Followed {
                text,
                questions,
                status,
                summary,
                svg: Some(look.svg.clone()),
                size: [look.size.width, look.size.height],
                rest: look.sheets.is_none(),
                prints: look.prints(),
                handles: moved::handles(drawn),
                places: findings.map(|finding| finding.at.map(place)).collect(),
            }
        }
    }))
}

/// Keeps what a window works on, as long as it is not what its work began from. Where the folder takes
/// nothing, the window has it all the same, and says so as it saves.
fn keep(shop: &Shop, name: &Name, fields: &Fields, text: &str) -> Result<(), Refusal> {
    let Some(window) = fields.window() else {
        return Ok(());
    };
    if fields.from()? == Some(Hash::of(text.as_bytes())) {
        shop.store.drop_draft(name, &window);
    } else {
        let _ = shop.store.keep_draft(name, &window, text);
    }
    Ok(())
}
