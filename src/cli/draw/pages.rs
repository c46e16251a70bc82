//! How what was drawn is printed, in words.

use super::{Drawn, Job};
use kurbo::Size;
use trimloft::base::fixed;
use trimloft::layout::{PageKind, Stock};

impl Job<'_> {
    /// What has to be in the printer, which page is what, and what prints them at full size.
    pub(super) fn pages(&self, drawn: &Drawn, size: Size) -> String {
        let count = drawn.pages.len();
        let pages = if count == 1 { "page" } else { "pages" };
        let orientation = if size.width > size.height {
            "landscape"
        } else {
            "portrait"
        };
        let name = self.paper;
        let mut told = match self.setup.paper.stock() {
            Stock::Sheet(_) => format!("{count} {pages}, {name} {orientation}"),
            Stock::Roll { .. } => format!(
                "{count} {pages}, {name} cut to {} x {} mm, {orientation}",
                fixed(size.width, 1),
                fixed(size.height, 1)
            ),
        };
        told += &format!(": {}", which_is_what(&drawn.pages));
        if !self.setup.record {
            told += "; record with `--record`";
        }
        let pdf = drawn
            .files
            .iter()
            .find(|file| file.extension() == Some("pdf".as_ref()));
        if let Some(pdf) = pdf {
            let media = self.setup.paper.media(size);
            let file = quoted(&pdf.display().to_string());
            told += &format!("\n  print it with: lp -o print-scaling=none -o media={media} {file}");
        }
        told
    }
}

/// `page 1 front page, pages 2 to 4 work`.
fn which_is_what(pages: &[PageKind]) -> String {
    let runs = pages.chunk_by(|one, next| one == next);
    let mut first = 1;
    let told = runs.map(|run| {
        let last = first + run.len() - 1;
        let (one, several) = match run.first() {
            Some(PageKind::Front) => ("front page", "front pages"),
            Some(PageKind::Record) => ("record", "record"),
            Some(PageKind::Work) | None => ("work sheet", "work sheets"),
        };
        let words = if first == last {
            format!("page {first} {one}")
        } else {
            format!("pages {first} to {last} {several}")
        };
        first = last + 1;
        words
    });
    told.collect::<Vec<_>>().join(", ")
}

/// A file's name as a shell takes it.
fn quoted(name: &str) -> String {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "/._-+,:@%".contains(letter);
    if !name.is_empty() && name.chars().all(plain) {
        name.into()
    } else {
        format!("'{}'", name.replace('\'', "'\\''"))
    }
}
