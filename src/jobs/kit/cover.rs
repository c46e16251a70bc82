//! The cover of a volume, with its contents.

use super::block::{heading, table, words};
use crate::draw::ink::{Block, Cell, TitleBlock};
use crate::input::{KitIdentity, KitSpec};

/// One line of a volume's contents.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// What stands there: number and revision of a pattern, or a card.
    pub(super) what: String,
    /// Its title.
    pub(super) title: String,
    /// How many are put in the box; none for what is no pattern.
    pub(super) quantity: Option<u32>,
    /// First and last page, from 1.
    pub(super) pages: (usize, usize),
    /// The page that its work shares with others, where it does.
    pub(super) shared_page: Option<usize>,
}

/// A volume among the others.
#[derive(Debug, Clone)]
pub(super) struct VolumeLine {
    /// Its file.
    pub(super) file: String,
    /// Its first and last pattern, by number and revision.
    pub(super) patterns: [String; 2],
}

/// The title block of a kit's own pages; the code may be empty, where it is not known yet.
pub(super) fn title_block(kit: &KitSpec, document_type: &str, code: &str) -> TitleBlock {
    let KitIdentity {
        number,
        revision,
        title,
        issued,
        owner,
        drawn_by,
        approved_by,
        vehicle,
        accessory,
        ..
    } = &kit.identity;
    let supplement: Vec<&str> = [vehicle.as_str(), accessory.as_str()]
        .into_iter()
        .filter(|words| !words.is_empty())
        .collect();
    TitleBlock {
        owner: owner.clone(),
        number: number.value.clone(),
        revision: revision.value.clone(),
        issued: issued.clone(),
        title: title.clone(),
        supplement: supplement.join(" · "),
        drawn_by: drawn_by.clone(),
        approved_by: approved_by.clone(),
        document_type: document_type.into(),
        sizes_in: kit.units.word().into(),
        code: code.into(),
    }
}

/// The blocks of a cover: volume `number`, from 1, of these.
pub(super) fn blocks(number: usize, volumes: &[VolumeLine], contents: &[Line]) -> Vec<Block> {
    let mut blocks = vec![Block::Notice(
        "Print at actual size (100 %), on one side. Prove the scale on every sheet before any \
         panel is cut: each says what its rulers must read, across and down."
            .into(),
    )];
    if volumes.len() > 1 {
        blocks.push(heading(&format!("Volume {number} of {}", volumes.len())));
        let rows = volumes.iter().enumerate().map(|(at, volume)| {
            vec![
                words((at + 1).to_string()),
                words(&volume.file),
                words(format!("{} to {}", volume.patterns[0], volume.patterns[1])),
            ]
        });
        blocks.push(table(&["Volume", "File", "Patterns"], rows.collect()));
    }
    blocks.push(heading("Contents"));
    let rows = contents.iter().map(|line| {
        let quantity = line.quantity.map(|quantity| quantity.to_string());
        vec![
            words(&line.what),
            words(&line.title),
            words(quantity.unwrap_or_default()),
            Cell::Page(pages(line), line.pages.0 - 1),
        ]
    });
    blocks.push(table(
        &["Number", "Title", "In the box", "Pages"],
        rows.collect(),
    ));
    blocks
}

fn pages(line: &Line) -> String {
    let (from, to) = line.pages;
    let own = if from == to {
        from.to_string()
    } else {
        format!("{from} to {to}")
    };
    match line.shared_page {
        Some(page) => format!("{own}, {page}"),
        None => own,
    }
}
