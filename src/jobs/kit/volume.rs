//! One PDF of an issue: cover, fitting card, the patterns' sheets, and the sheets that some share; and
//! one of the same patterns' records.

use super::KitError;
use super::card::{self, CalledFor};
use super::cover::{self, Line, VolumeLine, title_block};
use super::made::Made;
use super::manifest::{FileEntry, PagesEntry};
use super::plan::{Plan, VOLUME};
use super::sink::Sink;
use crate::layout::{Piece, SheetSet, packed, page_size, shared_pages, text_pages};
use crate::output::{About, Part, packed_pages, volume};
use crate::solve::volume_text;
use kurbo::{Rect, Size};

/// Times that a cover is set until its page numbers are those of the pages that it takes itself.
const SETTINGS: usize = 8;

/// Patterns of one volume, made.
pub(super) struct Volume {
    /// Its place among the volumes, from 0.
    pub(super) index: usize,
    pub(super) made: Vec<Made>,
}

impl Volume {
    /// Puts the volume together and writes it, the first with the card and with the code of the
    /// whole kit, which the others are written before; its pages are dropped, and its patterns know where
    /// they stand.
    pub(super) fn write(
        mut self,
        plan: &Plan,
        sink: &Sink,
        called: &CalledFor,
        code: &str,
    ) -> Result<([FileEntry; 2], Vec<Made>), KitError> {
        let record = self.record(plan, sink)?;
        let file = plan.volume_file(self.index);
        let shared = self.shared(plan, code)?;
        let card = match self.index {
            0 => {
                let title = title_block(&plan.kit, "Fitting card", code);
                let card = card::blocks(&plan.kit, &plan.order, called);
                Some(text_pages(&title, &card, &plan.setup, "Fitting card")?)
            }
            _ => None,
        };
        let cover = self.cover((plan, code), &file, card.as_ref(), shared.as_ref())?;
        let size = cover.size;
        let mut parts = vec![part("Contents", &cover)?];
        if let Some(card) = &card {
            parts.push(part("Fitting card", card)?);
        }
        for one in &mut self.made {
            parts.push(Part {
                bookmark: format!("{} {}", one.entry.number_and_revision(), one.entry.title),
                pages: std::mem::take(&mut one.pages),
            });
            one.piece = None;
        }
        if let Some(shared) = &shared {
            parts.push(part("Shared sheets", shared)?);
        }
        let bytes = volume(&self.about(plan, ""), size, parts)?;
        Ok(([sink.put(&file, &bytes)?, record], self.made))
    }

    /// Writes the records of its patterns, pattern after pattern; their pages are dropped.
    fn record(&mut self, plan: &Plan, sink: &Sink) -> Result<FileEntry, KitError> {
        let file = plan.record_file(self.index);
        let mut next = 1;
        let mut parts = vec![];
        for Made { entry, record, .. } in &mut self.made {
            entry.record = PagesEntry {
                file: file.clone(),
                first_page: next,
                pages: record.len(),
            };
            next += record.len();
            parts.push(Part {
                bookmark: format!("{} {}", entry.number_and_revision(), entry.title),
                pages: std::mem::take(record),
            });
        }
        let size = page_size(&plan.setup);
        let bytes = volume(&self.about(plan, ", record"), size, parts)?;
        Ok(sink.put(&file, &bytes)?)
    }

    fn about(&self, plan: &Plan, what: &str) -> About {
        let title = title_block(&plan.kit, "", "");
        let count = plan.items.len().div_ceil(VOLUME);
        let volume = match count {
            1 => String::new(),
            _ => format!(", volume {} of {count}", self.index + 1),
        };
        About {
            title: format!(
                "{} {}{volume}{what}",
                title.number_and_revision(),
                title.title
            ),
            author: title.owner,
            subject: title.supplement,
            issued: title.issued,
            content: volume_text(self.made.iter().map(|one| one.entry.page_name())),
        }
    }

    /// The sheets that small patterns share; the sheet that each had to itself is dropped.
    fn shared(&mut self, plan: &Plan, code: &str) -> Result<Option<SheetSet>, KitError> {
        let small: Vec<usize> = (0..self.made.len())
            .filter(|at| self.made[*at].piece.is_some())
            .collect();
        let pieces: Vec<&Piece> = small
            .iter()
            .filter_map(|at| self.made[*at].piece.as_ref())
            .collect();
        let sizes: Vec<Size> = pieces.iter().map(|piece| piece.size).collect();
        let sheets = packed(&sizes, &plan.setup)?;
        if sheets.is_empty() {
            return Ok(None);
        }
        let placed: Vec<Vec<(&Piece, Rect)>> = sheets
            .iter()
            .map(|sheet| {
                let pieces = sheet.iter().map(|(at, place)| (pieces[*at], *place));
                pieces.collect()
            })
            .collect();
        let title = title_block(&plan.kit, "Shared sheets", code);
        let pages = shared_pages(&title, &placed, &plan.setup)?;
        let mut set = text_pages(&title, &[], &plan.setup, "Shared sheets")?;
        set.pages = pages;
        for (sheet, pieces) in sheets.iter().enumerate() {
            for (at, _) in pieces {
                let made = &mut self.made[small[*at]];
                made.pages.pop();
                made.entry.pages = made.pages.len();
                // Counted from the first shared sheet until the cover is set.
                made.entry.shared_page = Some(sheet);
            }
        }
        Ok(Some(set))
    }

    /// The cover with its contents, and with it the pages of every pattern.
    fn cover(
        &mut self,
        (plan, code): (&Plan, &str),
        file: &str,
        card: Option<&SheetSet>,
        shared: Option<&SheetSet>,
    ) -> Result<SheetSet, KitError> {
        let title = title_block(&plan.kit, "Kit cover", code);
        let volumes = volume_lines(plan);
        let sheets: Vec<Option<usize>> =
            self.made.iter().map(|one| one.entry.shared_page).collect();
        let mut taken = 1;
        let mut set;
        let mut settings = 0;
        loop {
            let contents = self.contents(taken, &sheets, file, card, shared);
            let blocks = cover::blocks(self.index + 1, &volumes, &contents);
            set = text_pages(&title, &blocks, &plan.setup, "Contents")?;
            settings += 1;
            if set.pages.len() == taken || settings == SETTINGS {
                return Ok(set);
            }
            taken = set.pages.len();
        }
    }

    /// Where everything stands if the cover takes so many pages.
    fn contents(
        &mut self,
        cover: usize,
        sheets: &[Option<usize>],
        file: &str,
        card: Option<&SheetSet>,
        shared: Option<&SheetSet>,
    ) -> Vec<Line> {
        let mut next = cover + 1;
        let mut lines = vec![];
        let mut line = |what: String, title: String, quantity, pages: usize| {
            lines.push(Line {
                what,
                title,
                quantity,
                pages: (next, next + pages - 1),
                shared_page: None,
            });
            next += pages;
        };
        if let Some(card) = card {
            line("Fitting card".into(), String::new(), None, card.pages.len());
        }
        let before = usize::from(card.is_some());
        for one in &self.made {
            let entry = &one.entry;
            line(
                entry.number_and_revision(),
                entry.title.clone(),
                Some(entry.quantity),
                entry.pages,
            );
        }
        if let Some(shared) = shared {
            line(
                "Shared sheets".into(),
                String::new(),
                None,
                shared.pages.len(),
            );
        }
        let first_shared = lines.last().map_or(0, |last| last.pages.0);
        for (at, one) in self.made.iter_mut().enumerate() {
            let line = &mut lines[before + at];
            line.shared_page = sheets[at].map(|sheet| first_shared + sheet);
            one.entry.volume = file.into();
            one.entry.first_page = line.pages.0;
            one.entry.shared_page = line.shared_page;
        }
        lines
    }
}

fn part(bookmark: &str, set: &SheetSet) -> Result<Part, KitError> {
    Ok(Part {
        bookmark: bookmark.into(),
        pages: packed_pages(set)?,
    })
}

fn volume_lines(plan: &Plan) -> Vec<VolumeLine> {
    let chunks = plan.items.chunks(VOLUME).enumerate();
    let lines = chunks.map(|(index, items)| VolumeLine {
        file: plan.volume_file(index),
        patterns: [items.first(), items.last()]
            .map(|item| item.map(|item| item.stem.clone()).unwrap_or_default()),
    });
    lines.collect()
}
