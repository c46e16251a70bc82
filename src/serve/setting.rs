//! How sheets are to be made: paper and printer, as the address or the last choice says.

use super::answer::{Refusal, escaped};
use super::printers::Printers;
use super::shop::Shop;
use crate::check::scale::Printer;
use crate::layout::{Paper, Setup};
use crate::store::Name;
use axum::extract::{FromRequestParts, Query};
use axum::http::header::{COOKIE, HeaderValue};
use axum::http::request::Parts;
use std::collections::HashMap;
use std::sync::Arc;

/// Cookie that keeps the paper, and that which keeps the printer.
const PAPER: &str = "trimloft-paper";
const PRINTER: &str = "trimloft-printer";
/// Papers that a page offers, by their short names.
pub(super) const PAPERS: [&str; 5] = ["a4", "letter", "a3", "legal", "tabloid"];

/// How sheets are to be made: what the address says, else what was chosen last, else A4.
#[derive(Clone)]
pub(super) struct Setting {
    pub(super) setup: Setup,
    pub(super) printer: Option<Printer>,
    /// The printer's file.
    pub(super) printer_name: Option<Name>,
    /// The paper's short name, where it was chosen.
    pub(super) paper: String,
}

impl Setting {
    fn of(known: &Printers, chosen: &HashMap<String, String>) -> Result<Self, Refusal> {
        let given = |key: &str| chosen.get(key).map_or("", String::as_str);
        let (printer_name, printer) = match given("printer") {
            "" => (None, None),
            name => {
                let name = Name::parse(name)?;
                let printer = known.find(&name)?;
                (Some(name), Some(printer))
            }
        };
        let paper = match (&printer, given("paper")) {
            (Some(printer), _) => printer.paper.as_str(),
            (None, "") => PAPERS[0],
            (None, paper) => paper,
        };
        let mut setup =
            Setup::new(Paper::parse(paper).map_err(|error| Refusal::bad(error.to_string()))?);
        if let Some(printer) = &printer {
            setup.margin = printer.margin;
        }
        setup.record = chosen.contains_key("record");
        setup.one_page = chosen.contains_key("one_page");
        setup
            .check()
            .map_err(|error| Refusal::bad(error.to_string()))?;
        Ok(Self {
            setup,
            printer_name,
            paper: paper.to_owned(),
            printer,
        })
    }

    /// The same choice in an address.
    pub(super) fn query(&self) -> String {
        let printer = self.printer_name.as_ref().map_or("", Name::as_str);
        format!(
            "paper={}&printer={}",
            escaped(&self.paper),
            escaped(printer)
        )
    }

    /// Cookies that keep the choice for next time.
    pub(super) fn cookies(&self) -> Vec<HeaderValue> {
        let printer = self.printer_name.as_ref().map_or("", Name::as_str);
        [(PAPER, self.paper.as_str()), (PRINTER, printer)]
            .into_iter()
            .filter_map(|(cookie, value)| {
                let value = escaped(value);
                let text =
                    format!("{cookie}={value}; Path=/; HttpOnly; SameSite=Lax; Max-Age=31536000");
                HeaderValue::from_str(&text).ok()
            })
            .collect()
    }
}

impl FromRequestParts<Arc<Shop>> for Setting {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, shop: &Arc<Shop>) -> Result<Self, Refusal> {
        let query = Query::<HashMap<String, String>>::try_from_uri(&parts.uri)
            .map_err(|_| Refusal::bad("the address can't be read"))?;
        let Query(mut chosen) = query;
        let is_asked = chosen.contains_key("paper") || chosen.contains_key("printer");
        if is_asked {
            return Self::of(&shop.printers, &chosen);
        }
        for (cookie, key) in [(PAPER, "paper"), (PRINTER, "printer")] {
            if let Some(value) = kept(parts, cookie) {
                chosen.insert(key.into(), value);
            }
        }
        // A printer that is gone must not shut the page.
        Self::of(&shop.printers, &chosen).or_else(|_| {
            chosen.retain(|key, _| key != "paper" && key != "printer");
            Self::of(&shop.printers, &chosen)
        })
    }
}

/// The value of one of our cookies.
fn kept(parts: &Parts, cookie: &str) -> Option<String> {
    let all = parts.headers.get_all(COOKIE).iter();
    let mut pairs = all
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='));
    let (_, value) = pairs.find(|(name, _)| *name == cookie)?;
    unescaped(value)
}

/// What [`escaped`] made a piece of.
fn unescaped(words: &str) -> Option<String> {
    let mut bytes = vec![];
    let mut rest = words.bytes();
    while let Some(byte) = rest.next() {
        if byte != b'%' {
            bytes.push(byte);
            continue;
        }
        let digits = [rest.next()?, rest.next()?];
        let digits = std::str::from_utf8(&digits).ok()?;
        bytes.push(u8::from_str_radix(digits, 16).ok()?);
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_escaped_comes_back() {
        for words in ["front desk", "Träger 2.5", "100%", "a=b; c"] {
            assert_eq!(unescaped(&escaped(words)).as_deref(), Some(words));
        }
        assert_eq!(unescaped("%4"), None);
        assert_eq!(unescaped("%zz"), None);
    }

    #[test]
    fn every_paper_that_is_offered_is_known() {
        for paper in PAPERS {
            Paper::parse(paper).unwrap();
        }
    }
}
