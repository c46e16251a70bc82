//! A kit file read with all its patterns: what would be issued, before anything is drawn.

use super::card;
use super::content::{self, Parts};
use super::cover::title_block;
use super::removal_order;
use crate::base::paper::file_stem;
use crate::base::words::{did_you_mean, shown};
use crate::draw::ink::{Block, lettering};
use crate::input::families::Library;
use crate::input::{KitPattern, KitSpec, PatternSpec, Problem, Report, ShopSpec, Source};
use crate::layout::{PageOrientation, Setup, Stock};
use rayon::prelude::*;
use std::collections::HashMap;
use std::path::{Path, PathBuf};

/// Most patterns of one PDF: a file that a viewer opens at once, and memory that does not grow
/// with the kit.
pub(super) const VOLUME: usize = 250;

/// What a kit file asks for.
#[derive(Debug)]
pub struct Plan {
    pub(super) kit: KitSpec,
    /// The order in which its panels come off.
    pub(super) order: Vec<usize>,
    pub(super) shapes: Library,
    /// The shop whose tools take the place of the patterns' own.
    pub(super) shop: Option<ShopSpec>,
    pub(super) setup: Setup,
    pub(super) share: bool,
    pub(super) items: Vec<Item>,
    /// Hash of all that the issue is made from.
    pub(super) content: String,
}

/// One pattern of it.
#[derive(Debug)]
pub(super) struct Item {
    pub(super) source: Source,
    /// As the kit file names it.
    pub(super) definition: String,
    pub(super) quantity: u32,
    pub(super) stem: String,
    /// Name of its panel.
    pub(super) panel: String,
    /// Hash of all that the pattern is made from.
    pub(super) content: String,
}

impl Plan {
    /// Reads a kit file and every pattern file that it names.
    ///
    /// All sheets are oriented as `setup` says, portrait where it leaves it open: the pages of one PDF have
    /// one size. With `share`, small patterns share sheets; tools of a
    /// shop take the place of those that patterns name.
    ///
    /// # Errors
    /// Everything that is wrong with the kit file, or else with its patterns: each file's report.
    pub fn read(
        file: &Path,
        shapes: Library,
        shop: Option<ShopSpec>,
        setup: Setup,
        share: bool,
    ) -> Result<Self, Vec<Report>> {
        let source = Source::open(file, file).map_err(|report| vec![report])?;
        let kit = KitSpec::read(&source).map_err(|report| vec![report])?;
        let setup = match setup.orientation {
            PageOrientation::Either => Setup {
                orientation: PageOrientation::Portrait,
                ..setup
            },
            _ => setup,
        };
        let unsound = |problem: Problem| vec![Report::new(&source, vec![problem])];
        if let Stock::Roll { .. } = setup.paper.stock() {
            let message = "a kit is printed on sheets of one size, not on a roll";
            let problem = Problem::new(message).hint("choose a cut sheet, such as `--paper a3`");
            return Err(unsound(problem));
        }
        let setup = Setup {
            kit: kit.identity.number.value.clone(),
            ..setup
        };
        let order = removal_order(&kit.panels).map_err(unsound)?;
        check_letters(
            &kit,
            &card::blocks(&kit, &order, &card::CalledFor::default()),
        )
        .map_err(unsound)?;
        let folder = file.parent().unwrap_or(Path::new(""));
        let reader = Reader {
            folder,
            shapes: &shapes,
            shop: shop.as_ref(),
            setup: &setup,
            share,
        };
        let read: Vec<_> = kit
            .patterns
            .par_iter()
            .map(|pattern| reader.item(pattern))
            .collect();
        let (mut items, mut reports, mut problems) = (vec![], vec![], vec![]);
        for one in read {
            match one {
                Ok(item) => items.push(item),
                Err(Trouble::Pattern(report)) => reports.push(report),
                Err(Trouble::Kit(problem)) => problems.push(problem),
            }
        }
        if reports.is_empty() && problems.is_empty() {
            problems.extend(twins(&kit, &items));
            problems.extend(strangers(&kit, &items));
        }
        if !problems.is_empty() {
            reports.insert(0, Report::new(&source, problems));
        }
        if !reports.is_empty() {
            return Err(reports);
        }
        let mut all = Parts::default();
        all.add(source.text.as_bytes());
        all.add(content::sheets_in_words(&setup, share).as_bytes());
        all.add(shop.as_ref().map_or("", |shop| &shop.name).as_bytes());
        for item in &items {
            all.add(item.content.as_bytes());
        }
        Ok(Self {
            kit,
            order,
            shapes,
            shop,
            setup,
            share,
            items,
            content: all.hash(),
        })
    }

    /// How many patterns there are.
    pub fn patterns(&self) -> usize {
        self.items.len()
    }

    /// Name of the folder: number and revision.
    pub fn stem(&self) -> String {
        let identity = &self.kit.identity;
        file_stem(&identity.number.value, &identity.revision.value)
    }

    /// Where the kit is issued, in the folder for all issues.
    pub fn folder(&self, out: &Path) -> PathBuf {
        out.join(self.stem())
    }

    /// The file of a volume, counted from 0.
    pub(super) fn volume_file(&self, index: usize) -> String {
        let stem = self.stem();
        if self.items.len() <= VOLUME {
            format!("{stem}.pdf")
        } else {
            format!("{stem}-volume-{}.pdf", index + 1)
        }
    }

    /// The file of that volume's records.
    pub(super) fn record_file(&self, index: usize) -> String {
        let volume = self.volume_file(index);
        format!("{}-record.pdf", volume.trim_end_matches(".pdf"))
    }
}

enum Trouble {
    /// In a pattern file.
    Pattern(Report),
    /// In what the kit file says of it.
    Kit(Problem),
}

struct Reader<'a> {
    folder: &'a Path,
    shapes: &'a Library,
    shop: Option<&'a ShopSpec>,
    setup: &'a Setup,
    share: bool,
}

impl Reader<'_> {
    fn item(&self, pattern: &KitPattern) -> Result<Item, Trouble> {
        let path = self.folder.join(&pattern.file.value);
        let source = Source::open(&path, &path).map_err(|report| {
            // A file that can't be had is the kit file's matter; one that is no text is its own.
            match report.problems.first() {
                Some(first) if first.span.is_none() => {
                    let mut problem = pattern.file.problem(first.message.clone());
                    problem.hint = first.hint.clone();
                    Trouble::Kit(problem)
                }
                _ => Trouble::Pattern(report),
            }
        })?;
        let spec = PatternSpec::read_for(&source, self.shop).map_err(Trouble::Pattern)?;
        let content =
            content::of_pattern(&source.text, self.shapes, self.shop, self.setup, self.share);
        Ok(Item {
            definition: pattern.file.value.clone(),
            quantity: pattern.quantity,
            stem: file_stem(&spec.identity.number.value, &spec.identity.revision),
            panel: spec.panel.name,
            content,
            source,
        })
    }
}

/// Patterns that would be written to one file.
fn twins(kit: &KitSpec, items: &[Item]) -> Vec<Problem> {
    let mut seen: HashMap<String, &Item> = HashMap::new();
    let all = kit.patterns.iter().zip(items);
    let twins = all.filter_map(|(pattern, item)| {
        let other = seen.insert(item.stem.to_lowercase(), item)?;
        let message = format!(
            "this pattern and `{}` would both be issued as `{}`",
            other.definition, item.stem
        );
        let hint = "give them different numbers or revisions";
        Some(pattern.file.problem(message).hint(hint))
    });
    twins.collect()
}

/// Panels of the card that no pattern of the kit is for.
fn strangers(kit: &KitSpec, items: &[Item]) -> Vec<Problem> {
    let named = items.iter().map(|item| item.panel.as_str());
    let mut known: Vec<&str> = named.filter(|name| !name.is_empty()).collect();
    known.sort_unstable();
    known.dedup();
    let names = kit.panels.iter().map(|panel| &panel.name);
    let strange = names.filter(|name| known.binary_search(&name.value.as_str()).is_err());
    let told = strange.map(|name| {
        let name_shown = shown(&name.value);
        let message = format!("no pattern of this kit is for a panel called `{name_shown}`");
        name.problem(message).hint(match known.as_slice() {
            [] => "none of its patterns names its panel: give them `name` in `[panel]`".into(),
            known => did_you_mean(&name.value, known),
        })
    });
    told.collect()
}

/// Letters that the typeface lacks would be blanks on the card.
fn check_letters(kit: &KitSpec, card: &[Block]) -> Result<(), Problem> {
    let title = title_block(kit, "", "");
    let mut words = title.words().chain(card.iter().flat_map(Block::words));
    words.try_for_each(|words| {
        lettering::check(words)
            .map_err(|missing| Problem::new(missing.to_string()).hint(missing.hint()))
    })
}
