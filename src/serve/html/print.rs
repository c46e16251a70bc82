//! Printing a definition, and whether the print came out full size.

use super::{Page, head, page, path, sentence, told};
use crate::base::fixed;
use crate::check::scale::{Judgement, Reason};
use crate::model::clearance::accepted_readings_in_words;
use crate::serve::fields::Fields;
use crate::serve::judged::Judged;
use crate::serve::seen::Seen;
use crate::serve::setting::{PAPERS, Setting};
use crate::store::Name;
use maud::{Markup, html};

/// What the page shows.
pub(in crate::serve) struct Printing<'a> {
    pub(in crate::serve) name: &'a Name,
    pub(in crate::serve) seen: &'a Seen,
    pub(in crate::serve) setting: &'a Setting,
    pub(in crate::serve) printers: &'a [Name],
    /// What a sheet's rulers say, or why they can't be read; none before they were read.
    pub(in crate::serve) judged: Option<&'a Result<Judged, String>>,
    /// What was read.
    pub(in crate::serve) fields: &'a Fields,
}

/// Smallest divisions of a rule that a page offers, as they are read.
const GRADUATIONS: [(&str, &str); 5] = [
    ("0.5 mm", "0.5 mm"),
    ("1 mm", "1 mm"),
    ("1/64 in", "1/64 in"),
    ("1/32 in", "1/32 in"),
    ("1/16 in", "1/16 in"),
];

/// The page.
pub(in crate::serve) fn print(printing: &Printing<'_>) -> Page {
    let title = format!("Print {}", printing.name);
    let back = html! { a href=(path(printing.name, "")) { "Back to the pattern" } };
    let body = html! {
        (head(&title, &back))
        main.plain {
            @if let Some(judged) = printing.judged { (verdict(printing, judged)) }
            @match printing.seen {
                Seen::Drawn(drawn) if drawn.look.prints() => {
                    (sheets(printing, drawn.look.laid_out().map_or(0, |sheets| sheets.pages.len())))
                    (rulers(printing, drawn.look.pattern.scale_error))
                    (scan(printing))
                }
                _ => {
                    section {
                        h2 { "Not to be printed yet" }
                        (super::status(printing.seen, &[], printing.setting))
                    }
                }
            }
        }
    };
    page(&title, &body)
}

/// An address of this page with the setting that it shows.
fn with_setting(printing: &Printing<'_>, more: &str) -> String {
    format!("{}?{}", path(printing.name, more), printing.setting.query())
}

fn sheets(printing: &Printing<'_>, pages: usize) -> Markup {
    let setting = printing.setting;
    html! {
        section.print {
            h2 { "1. Print" }
            p.open {
                a.button.primary href=(with_setting(printing, "/pdf")) target="_blank" rel="noopener" {
                    "Open the PDF: " (pages) @if pages == 1 { " page" } @else { " pages" }
                }
            }
            p { "In the print dialog choose " b { "actual size" } " or " b { "100 %" } ", never “fit to page”; one page on each sheet, on " (setting.setup.paper.common_name()) " paper, single-sided." }
            form.choose method="get" {
                div {
                    label for="paper" { "Paper" }
                    select #paper name="paper" disabled[setting.printer.is_some()] {
                        @for paper in offered(setting) {
                            option value=(paper) selected[paper == setting.paper] { (common(paper)) }
                        }
                    }
                }
                div {
                    label for="printer" { "Printer" }
                    select #printer name="printer" {
                        option value="" { "Any, not corrected" }
                        @for printer in printing.printers {
                            option value=(printer) selected[setting.printer_name.as_ref() == Some(printer)] { (printer) ", corrected" }
                        }
                    }
                }
                button { "Use these" }
            }
            p.files {
                a href={ (with_setting(printing, "/pdf")) "&record" } { "PDF with record" }
                a href=(path(printing.name, "/svg")) { "SVG" }
                a href=(path(printing.name, "/toml")) { "TOML" }
            }
        }
    }
}

/// The papers of the list, and the one that is chosen.
fn offered(setting: &Setting) -> Vec<&str> {
    let mut papers = PAPERS.to_vec();
    if !papers.contains(&setting.paper.as_str()) {
        papers.push(&setting.paper);
    }
    papers
}

fn common(paper: &str) -> String {
    crate::layout::Paper::parse(paper).map_or_else(|_| paper.into(), |paper| paper.common_name())
}

fn rulers(printing: &Printing<'_>, scale_error: f64) -> Markup {
    let (read, is_inches) = (printing.fields, printing.fields.get("ruler") == "4in");
    let must = accepted_readings_in_words(100.0, scale_error, "mm");
    html! {
        section.rulers {
            h2 { "2. What does your ruler read?" }
            p { "Lay a steel rule on the rulers at the edges of a sheet. The 100 mm rulers must read " (must) ". Write what it reads, in fractions too: " code { "99.8" } ", " code { "3 31/32 in" } "." }
            form method="post" action=(with_setting(printing, "/print")) {
                fieldset.row {
                    legend { "Which rulers" }
                    label.radio { input type="radio" name="ruler" value="100mm" checked[!is_inches]; "100 mm" }
                    label.radio { input type="radio" name="ruler" value="4in" checked[is_inches]; "4 in" }
                }
                div.row {
                    (reading("across", "Across the sheet", read))
                    (reading("down", "Down the sheet", read))
                    div {
                        label for="graduation" { "Finest division of the rule" }
                        select #graduation name="graduation" {
                            @for (value, words) in GRADUATIONS {
                                option value=(value) selected[read.get("graduation") == value] { (words) }
                            }
                        }
                    }
                }
                button.primary { "Is it full size?" }
            }
        }
    }
}

fn reading(name: &str, label: &str, read: &Fields) -> Markup {
    html! {
        div {
            label for=(name) { (label) }
            input.number id=(name) name=(name) value=(read.get(name)) inputmode="decimal" autocomplete="off" required;
        }
    }
}

fn scan(printing: &Printing<'_>) -> Markup {
    html! {
        details.scan {
            summary { "Or drop a flatbed scan of a sheet" }
            form #scan-form method="post" enctype="multipart/form-data" action=(with_setting(printing, "/print/scan")) {
                div.row {
                    div.drop {
                        label for="scan" { "Scan of one sheet, PNG or JPEG" }
                        input #scan name="scan" type="file" accept="image/png,image/jpeg,image/x-portable-graymap" required;
                    }
                    div {
                        label for="dpi" { "Resolution, pixels to the inch" }
                        input.number #dpi name="dpi" value="300" inputmode="numeric" required;
                    }
                    div {
                        label for="scanner" { "A 100 mm steel rule in a scan measures, mm" }
                        input.number #scanner name="scanner" inputmode="decimal" placeholder="not known";
                    }
                }
                button { "Measure the scan" }
            }
        }
    }
}

fn verdict(printing: &Printing<'_>, judged: &Result<Judged, String>) -> Markup {
    let judged = match judged {
        Ok(judged) => judged,
        Err(words) => {
            return html! { section.verdict.unproven role="alert" { h2 { "That can't be read" } (told(words)) } };
        }
    };
    let kind = match judged.verdict.judgement {
        Judgement::Good => "good",
        Judgement::Unproven => "unproven",
        Judgement::Bad => "bad",
    };
    let scale = |scale: Option<crate::check::scale::Measured>| {
        scale.map_or_else(
            || "not read".into(),
            |scale| format!("{} %", fixed(scale.value * 100.0, 2)),
        )
    };
    html! {
        section.verdict.(kind) role="alert" {
            h2 { (sentence(judged.verdict.words())) }
            p { "Across " (scale(judged.scales.across)) ", down " (scale(judged.scales.down)) " of full size." }
            ul {
                @for reason in &judged.verdict.reasons {
                    // The faults are told one by one.
                    @if !matches!(reason, Reason::KnownFault(_)) { li { (told(&reason.to_string())) } }
                }
                @for fault in &judged.faults {
                    li { p { "Perhaps: " (fault) "." } p.hint { (sentence(&fault.remedy())) } }
                }
                @for words in &judged.cannot_tell { li { p { b { "Cannot tell: " } } (told(words)) } }
            }
            @if judged.keeps { (keep(printing)) }
        }
    }
}

/// Offers to keep a printer that is off by little, every time.
fn keep(printing: &Printing<'_>) -> Markup {
    html! {
        form.keep method="post" action=(with_setting(printing, "/print/keep")) {
            @for key in ["ruler", "across", "down", "graduation"] {
                input type="hidden" name=(key) value=(printing.fields.get(key));
            }
            label for="printer_name" { "Is this printer off like this every time? Keep it by a name, and its sheets are corrected" }
            div.row {
                input #printer_name name="printer_name" required maxlength="60" placeholder="such as front desk" autocomplete="off";
                button { "Keep the printer" }
            }
        }
    }
}
