//! A folder of definitions as a page in the browser: asked for, looked at, printed, proved.
//!
//! Every route is a thin layer over the library: [`store`](crate::store) keeps the files,
//! [`jobs`](crate::jobs) draws them, [`check`](crate::check) judges the print. Nothing is held
//! between two requests but the folder itself, so that several programs may serve one folder.
//!
//! `gate` looks at each request before anything else does, and `work` bounds what runs at once.
//! Templates stand in `html`, one file a page. All forms work without script; `page.js` adds the
//! picture that follows.

mod answer;
mod asked;
mod asking;
mod assets;
mod bound;
mod edit;
mod error;
mod fields;
mod files;
mod gate;
mod history;
mod html;
mod judged;
mod key;
mod link;
mod list;
mod moved;
mod picture;
mod print;
mod printers;
mod scan;
mod seen;
mod setting;
mod shop;
mod work;

pub use bound::Server;
pub use error::ServeError;

use crate::input::ShopSpec;
use crate::input::families::Library;
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use axum::routing::{get, post};
use shop::Shop;
use std::net::IpAddr;
use std::path::PathBuf;
use std::sync::Arc;

/// Longest body of a form, bytes: a definition, twice, with every letter escaped.
const LONGEST_FORM: usize = 8 << 20;

/// What to serve, and to whom.
#[derive(Debug)]
pub struct Config {
    /// The folder of definitions.
    pub folder: PathBuf,
    /// The address to listen on.
    pub listen: IpAddr,
    /// The port; 0 takes any free one.
    pub port: u16,
    /// Names that the server is called by besides its addresses, such as those of a proxy.
    pub hosts: Vec<String>,
    /// Shape families.
    pub shapes: Library,
    /// Tools of the shop, in the place of those that a definition names.
    pub tools: Option<ShopSpec>,
}

/// Every address that is answered.
fn routes(shop: Arc<Shop>) -> Router {
    Router::new()
        .route("/", get(list::show))
        .route("/new", post(list::create))
        .route("/measuring-sheet", get(files::blank_sheet))
        .route("/p/{name}/measuring-sheet", get(files::measuring_sheet))
        .route("/p/{name}", get(edit::show).post(edit::save))
        .route("/p/{name}/picture", post(picture::follow))
        .route("/p/{name}/picture.svg", get(files::picture))
        .route("/p/{name}/pdf", get(files::pdf))
        .route("/p/{name}/svg", get(files::svg))
        .route("/p/{name}/toml", get(files::toml))
        .route("/p/{name}/copy", post(list::duplicate))
        .route("/p/{name}/rename", post(list::rename))
        .route(
            "/p/{name}/history",
            get(history::show).post(history::bring_back),
        )
        .route("/p/{name}/history/{hash}", get(history::state))
        .route("/p/{name}/print", get(print::show).post(print::judge))
        .route("/p/{name}/print/keep", post(print::keep))
        .route(
            "/p/{name}/print/scan",
            post(scan::judge).layer(DefaultBodyLimit::max(scan::LONGEST_SCAN)),
        )
        .route("/page.css", get(assets::style))
        .route("/page.js", get(assets::script))
        .route("/icon.svg", get(assets::icon))
        .fallback(answer::nothing_here)
        .method_not_allowed_fallback(answer::not_so)
        .layer(DefaultBodyLimit::max(LONGEST_FORM))
        .layer(middleware::from_fn_with_state(shop.clone(), gate::gate))
        .with_state(shop)
}
