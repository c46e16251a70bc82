//! What stands on a front page, section after section, in the order that it is read.

use super::error::SheetError;
use super::flow::Piece;
use super::frame::PageFrame;
use super::setting;
use super::setup::Setup;
use super::sheet_map::{CARD, MapSource, bank_card, bank_card_height, map_height, sheet_map};
use super::table;
use super::words::pitch;
use crate::draw::ink::{Block, Cell, Column, Drawing, TitleBlock};
use kurbo::{Point, Rect, Size};

const TAPE_CHECK: &str = "From the panel's own holes and edges to the printed letters.";

/// All of it.
pub(super) struct Content<'a> {
    pub(super) title: &'a TitleBlock,
    pub(super) map: &'a MapSource<'a>,
    pub(super) sections: Vec<Section<'a>>,
}

/// What stands under one heading.
pub(super) struct Section<'a> {
    /// Empty where what is under it says itself what it is.
    pub(super) heading: String,
    /// What one of its entries is called where the record has to tell it; empty where the page must.
    pub(super) kind: &'static str,
    /// Whether it is worked by at the panel.
    pub(super) is_worked_by: bool,
    /// Whether it had best begin a column.
    pub(super) begins_a_column: bool,
    pub(super) entries: Vec<Entry<'a>>,
}

/// Heights of lettering, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Heights {
    /// Of what is worked by at the panel.
    pub(super) worked_by: f64,
    /// Of what is read before.
    pub(super) read_before: f64,
}

impl Heights {
    pub(super) const fn of(worked_by: f64, read_before: f64) -> Self {
        Self {
            worked_by,
            read_before,
        }
    }
}

/// What is never broken.
pub(super) enum Entry<'a> {
    /// A block of its own.
    Block(Block),
    /// One numbered step.
    Step(usize, String),
    /// One row of the tape checks.
    Check {
        checks: &'a [[String; 3]],
        row: usize,
    },
    /// The bank card, and what the rulers must read.
    Card { scale_error: f64, frame: Size },
    /// How the sheets lie.
    Map(&'a MapSource<'a>),
}

impl<'a> Content<'a> {
    pub(super) fn of(
        drawing: &'a Drawing,
        setup: &Setup,
        frame: &PageFrame,
        map: &'a MapSource<'a>,
    ) -> Self {
        let front = &drawing.front;
        let section = |heading: &str, kind, entries| Section {
            heading: heading.into(),
            kind,
            is_worked_by: !matches!(heading, "Cautions" | "Findings" | "Notes"),
            begins_a_column: heading == "Steps",
            entries,
        };
        let points = |words: &[String]| -> Vec<Entry<'a>> {
            let point = |words: &String| Entry::Block(Block::Points(vec![words.clone()]));
            words.iter().map(point).collect()
        };
        let card = Entry::Card {
            scale_error: drawing.scale_error,
            frame: frame.window.size(),
        };
        let before = before_the_work(setup, map);
        let steps = before.into_iter().chain(front.steps.iter().cloned());
        let steps = steps.enumerate();
        let explained = Entry::Block(Block::Paragraph(TAPE_CHECK.into()));
        let checks = front.checks.as_slice();
        let rows = (0..checks.len()).map(|row| Entry::Check { checks, row });
        let checks: Vec<Entry<'a>> = [explained].into_iter().chain(rows).collect();
        let mut sections = vec![
            section("", "", vec![card]),
            section(
                "Where the middle is",
                "",
                front.middle.iter().cloned().map(Entry::Block).collect(),
            ),
            section("How the pattern lies", "", points(&front.lay)),
            section("Cautions", "", points(&front.cautions)),
            section(
                "Steps",
                "",
                steps
                    .map(|(index, words)| Entry::Step(index + 1, words))
                    .collect(),
            ),
            section("", "", vec![Entry::Map(map)]),
            section("Tape check, before cutting", "tape check", checks),
            section("Findings", "finding", points(&front.findings)),
            section("By number", "label", points(&front.numbered)),
            section("Notes", "note", points(&front.notes)),
        ];
        let is_told = |section: &Section<'_>| {
            section.kind.is_empty()
                || section.entries.len() > usize::from(section.kind == "tape check")
        };
        sections.retain(|section| is_told(section) && !section.entries.is_empty());
        Self {
            title: &drawing.title,
            map,
            sections,
        }
    }
}

impl Section<'_> {
    /// Height of its lettering, mm.
    pub(super) fn height(&self, heights: Heights) -> f64 {
        if self.is_worked_by {
            heights.worked_by
        } else {
            heights.read_before
        }
    }
}

/// The steps from the file to one whole pattern.
fn before_the_work(setup: &Setup, map: &MapSource<'_>) -> Vec<String> {
    let print = format!(
        "Print on {} at actual size (100 %), never \"fit\". Check the scale of every sheet.",
        setup.paper.common_name()
    );
    let joined = map.plan.grids.iter().any(|grid| grid.kept.len() > 1);
    let join = joined.then(|| {
        "Join by number: cut at the scissors, lay on the dashed lines, arms of crosses in line. Tape. \
         Check from cross to cross."
            .to_owned()
    });
    [print].into_iter().chain(join).collect()
}

impl Entry<'_> {
    /// Width that the bank card asks for, mm.
    pub(super) const CARD_WIDTH: f64 = CARD.width;

    /// Its pieces in a column of this width; a map is at most `map` mm high.
    pub(super) fn pieces(&self, width: f64, text: f64, map: f64) -> Result<Vec<Piece>, SheetError> {
        Ok(match self {
            Self::Block(block) => setting::pieces(std::slice::from_ref(block), width, text)?,
            Self::Step(number, words) => setting::step(*number, words, width, text),
            Self::Check { checks, row } => {
                let column = |right: bool| Column {
                    head: String::new(),
                    right,
                };
                let columns = [false, false, true, false].map(column);
                let cells = |words: &[String; 3]| -> Vec<Cell> {
                    let words = words.iter().cloned().map(Cell::Words);
                    words.chain([Cell::TickBox]).collect()
                };
                let rows: Vec<Vec<Cell>> = checks.iter().map(cells).collect();
                let mut pieces = table::pieces(&columns, &rows, width, text);
                let mut own = pieces.split_off(row + 1);
                own.truncate(1);
                if *row == 0 {
                    own.splice(0..0, pieces);
                }
                own
            }
            Self::Card { scale_error, frame } => {
                let marks = bank_card(text, *scale_error, *frame);
                vec![Piece::new("bank card", bank_card_height(), 0.0, marks)]
            }
            Self::Map(source) => {
                let height = map_height(source, width).min(map);
                let room = Rect::from_points(Point::new(0.0, -height), Point::new(width, 0.0));
                vec![Piece::new(
                    "sheet map",
                    height,
                    0.0,
                    sheet_map(source, room),
                )]
            }
        })
    }

    /// Space over it, mm; less under a heading, and where all stands tight.
    pub(super) fn space(&self, text: f64, after_heading: bool, tight: bool) -> f64 {
        match self {
            Self::Check { row, .. } if *row > 0 => 0.0,
            Self::Map(_) if !tight => 5.0,
            _ if tight => pitch(text) - text,
            _ if after_heading => 0.7 * text,
            Self::Block(Block::Notice(_)) => 0.9 * text,
            _ => 0.85 * text,
        }
    }
}
