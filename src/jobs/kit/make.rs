//! All files of an issue, made from its plan: patterns in parallel, volume after volume.

use super::KitError;
use super::card::CalledFor;
use super::facts::facts;
use super::index::{self, INDEX};
use super::made::Made;
use super::manifest::{FORMAT, FileEntry, KitEntry, Manifest, PagesEntry, PatternEntry};
use super::manifest::{findings_issued, kit_content, openings};
use super::picture::picture;
use super::plan::{Item, Plan, VOLUME};
use super::previous::{Previous, Volumes};
use super::sink::{PATTERNS, Sink};
use super::volume::Volume;
use crate::draw::{draw, tools};
use crate::input::{PatternSpec, Report};
use crate::jobs::papers::MANIFEST;
use crate::jobs::papers::{Clash, Paper, Papers};
use crate::jobs::produce::{ProduceError, solved};
use crate::layout::{plate, record, sheets_beside, small_piece};
use crate::output::{packed_pages, svg};
use crate::solve::Content;
use rayon::prelude::*;

/// Told of the work as it goes on.
pub trait Watch: Sync {
    /// Another run has the kit in hand: this one waits for it.
    fn waiting(&self);
    /// One more pattern is there.
    fn step(&self);
}

/// What was made.
#[derive(Debug)]
pub(super) struct Issue {
    /// Every file, the manifest among them.
    pub(super) files: Vec<FileEntry>,
    /// What it lists.
    pub(super) manifest: Manifest,
    /// Patterns taken over.
    pub(super) taken_over: usize,
    /// Patterns whose number and revision stand for another paper elsewhere.
    pub(super) clashes: Vec<Clash>,
    /// Patterns with findings.
    pub(super) with_findings: usize,
}

/// Makes every file of an issue; what else stands under the number and revision of a pattern is
/// looked for among `papers`.
pub(super) fn make(
    plan: &Plan,
    sink: &Sink,
    previous: Option<&Previous>,
    papers: &Papers,
    watch: &dyn Watch,
) -> Result<Issue, KitError> {
    let (mut taken_over, mut clashes) = (0, vec![]);
    let mut done = Done::default();
    let mut pending: Option<Volume> = None;
    let chunks: Vec<&[Item]> = plan.items.chunks(VOLUME).collect();
    let load = |index: usize, loaded: &Volumes| match (previous, chunks.get(index)) {
        (Some(previous), Some(items)) => previous.volumes_for(items, loaded),
        _ => Volumes::default(),
    };
    let mut volumes = load(0, &Volumes::default());
    for (index, items) in chunks.iter().enumerate() {
        // A volume is put together while the next one is drawn, and what the one after takes over
        // is read.
        let (finished, (next, made)) = rayon::join(
            || done.put(pending.take(), plan, sink),
            || {
                rayon::join(
                    || load(index + 1, &volumes),
                    || {
                        let taken = |item: &Item| {
                            let (previous, volumes) = (previous?, &volumes);
                            taken(item, sink, previous, volumes, papers)
                        };
                        let made = |item: &Item| {
                            let made = taken(item);
                            let made = made.unwrap_or_else(|| anew(plan, item, sink, papers));
                            watch.step();
                            made
                        };
                        drawn(items, made)
                    },
                )
            },
        );
        finished?;
        volumes = next;
        let mut made = made.map_err(|error| with_all_trouble(plan, index, papers, error))?;
        taken_over += made.iter().filter(|one| one.taken_over).count();
        clashes.extend(made.iter_mut().filter_map(|one| one.clash.take()));
        pending = Some(Volume { index, made });
    }
    done.put(pending, plan, sink)?;
    let (mut files, patterns) = done.finished(plan, sink)?;
    let with_findings = patterns
        .iter()
        .filter(|(entry, _)| !entry.findings.is_empty())
        .count();
    let (listed, manifest) = lists(plan, sink, patterns, &mut files.clone())?;
    files.extend(listed);
    Ok(Issue {
        files,
        manifest,
        taken_over,
        clashes,
        with_findings,
    })
}

/// A pattern as it is listed, with its picture.
type Listed = (PatternEntry, String);

/// Volumes that are there.
#[derive(Default)]
struct Done {
    files: Vec<FileEntry>,
    patterns: Vec<Listed>,
    /// The first holds the card, which tells the tools of all: it is put together last.
    first: Option<Volume>,
    called: CalledFor,
}

impl Done {
    fn put(&mut self, volume: Option<Volume>, plan: &Plan, sink: &Sink) -> Result<(), KitError> {
        let Some(volume) = volume else { return Ok(()) };
        for one in &volume.made {
            self.called.add(&one.entry);
        }
        if volume.index == 0 {
            self.first = Some(volume);
            return Ok(());
        }
        self.write(volume, plan, sink, "")
            .map(|made| self.patterns.extend(made))
    }

    /// All files, and all patterns in the kit's order.
    fn finished(
        mut self,
        plan: &Plan,
        sink: &Sink,
    ) -> Result<(Vec<FileEntry>, Vec<Listed>), KitError> {
        let first = self.first.take();
        let mut patterns = match first {
            Some(first) => {
                let own = first.made.iter().map(|one| &one.entry);
                let all = own.chain(self.patterns.iter().map(|(entry, _)| entry));
                let code = kit_content(&facts(&plan.kit, plan.shop.as_ref()), all).code();
                self.write(first, plan, sink, &code)?
            }
            None => vec![],
        };
        patterns.append(&mut self.patterns);
        Ok((self.files, patterns))
    }

    fn write(
        &mut self,
        volume: Volume,
        plan: &Plan,
        sink: &Sink,
        code: &str,
    ) -> Result<Vec<Listed>, KitError> {
        let (written, made) = volume.write(plan, sink, &self.called, code)?;
        self.files.extend(written);
        let kept = made.into_iter().map(|one| {
            self.files.push(one.file);
            (one.entry, one.picture)
        });
        Ok(kept.collect())
    }
}

/// The index and the manifest.
fn lists(
    plan: &Plan,
    sink: &Sink,
    patterns: Vec<Listed>,
    files: &mut Vec<FileEntry>,
) -> Result<([FileEntry; 2], Manifest), KitError> {
    let identity = &plan.kit.identity;
    let kit = KitEntry {
        number: identity.number.value.clone(),
        revision: identity.revision.value.clone(),
        title: identity.title.clone(),
        issued: identity.issued.clone(),
        vehicle: identity.vehicle.clone(),
        accessory: identity.accessory.clone(),
    };
    let volumes = plan.items.len().div_ceil(VOLUME);
    let named = |file: fn(&Plan, usize) -> String| -> Vec<String> {
        (0..volumes).map(|index| file(plan, index)).collect()
    };
    let (print, keep) = (named(Plan::volume_file), named(Plan::record_file));
    let page = index::page(&kit, [&print, &keep], &patterns);
    let index = sink.put(INDEX, page.as_bytes())?;
    drop(page);
    files.push(index.clone());
    files.sort();
    let mut manifest = Manifest {
        format: FORMAT,
        program: concat!("Trimloft ", env!("CARGO_PKG_VERSION")).into(),
        kit,
        code: String::new(),
        facts: facts(&plan.kit, plan.shop.as_ref()),
        content: plan.content.clone(),
        sheets: super::content::sheets_in_words(&plan.setup, plan.share),
        files: std::mem::take(files),
        patterns: patterns.into_iter().map(|(entry, _)| entry).collect(),
    };
    manifest.code = manifest.kit_content().code();
    let file = sink.put(MANIFEST, &manifest.to_bytes()?)?;
    Ok(([index, file], manifest))
}

fn drawn(
    items: &[Item],
    made: impl Fn(&Item) -> Result<Made, KitError> + Send + Sync,
) -> Result<Vec<Made>, KitError> {
    let made: Vec<Result<Made, KitError>> = items.par_iter().map(made).collect();
    let (mut all, mut reports) = (vec![], vec![]);
    for one in made {
        match one {
            Ok(one) => all.push(one),
            Err(KitError::Definitions(found)) => reports.extend(found),
            Err(other) => return Err(other),
        }
    }
    if reports.is_empty() {
        Ok(all)
    } else {
        Err(KitError::Definitions(reports))
    }
}

/// Where a pattern falls short, what else does among those that are still to come: all is told at
/// once.
fn with_all_trouble(plan: &Plan, volume: usize, papers: &Papers, error: KitError) -> KitError {
    let KitError::Definitions(mut reports) = error else {
        return error;
    };
    let rest = plan.items.get((volume + 1) * VOLUME..).unwrap_or(&[]);
    let more: Vec<Vec<Report>> = rest
        .par_iter()
        .map(|item| match anew(plan, item, &Sink::Nowhere, papers) {
            Err(KitError::Definitions(found)) => found,
            _ => vec![],
        })
        .collect();
    reports.extend(more.into_iter().flatten());
    KitError::Definitions(reports)
}

/// A pattern taken over from the issue before.
fn taken(
    item: &Item,
    sink: &Sink,
    previous: &Previous,
    volumes: &Volumes,
    papers: &Papers,
) -> Option<Result<Made, KitError>> {
    let taken = previous.take(item, volumes)?;
    let picture = std::str::from_utf8(&taken.svg).ok().and_then(picture)?;
    let entry = PatternEntry {
        definition: item.definition.clone(),
        quantity: item.quantity,
        svg: svg_name(item),
        ..taken.entry
    };
    let file = FileEntry {
        name: entry.svg.clone(),
        ..taken.file
    };
    let paper = Paper {
        number: entry.number.clone(),
        revision: entry.revision.clone(),
        content: Content::in_file(&taken.svg).filter(|content| content.code() == entry.code)?,
    };
    let put = sink.put_again(&file, &taken.path, &taken.svg);
    Some(put.map_err(KitError::from).map(|()| Made {
        entry,
        pages: taken.pages,
        record: taken.record,
        piece: None,
        picture,
        file,
        taken_over: true,
        clash: papers.clash(&paper),
    }))
}

fn svg_name(item: &Item) -> String {
    format!("{PATTERNS}/{}.svg", item.stem)
}

/// A pattern solved and drawn.
fn anew(plan: &Plan, item: &Item, sink: &Sink, papers: &Papers) -> Result<Made, KitError> {
    let report = |error: ProduceError| {
        KitError::Definitions(vec![Report::new(&item.source, error.into_problems())])
    };
    let spec = PatternSpec::read_for(&item.source, plan.shop.as_ref())
        .map_err(|report| KitError::Definitions(vec![report]))?;
    let pattern = solved(&spec, &plan.shapes).map_err(&report)?;
    let drawing = draw(&pattern).map_err(|error| report(ProduceError::Letter(error)))?;
    let set =
        sheets_beside(&pattern, &drawing, &plan.setup).map_err(|error| report(error.into()))?;
    let pages = packed_pages(&set).map_err(|error| report(ProduceError::Write(error)))?;
    let kept =
        record(&drawing, &plan.setup).map_err(|error| report(ProduceError::Sheets(error)))?;
    let kept = packed_pages(&kept).map_err(|error| report(ProduceError::Write(error)))?;
    let of_work = set
        .pages
        .iter()
        .filter(|page| !page.work.is_empty())
        .count();
    let piece = if plan.share && of_work == 1 {
        let sheet = format!("SHEET {0} OF {0}", set.pages.len());
        small_piece(&drawing, &plan.setup, &sheet)
            .map_err(|error| report(ProduceError::Sheets(error)))?
    } else {
        None
    };
    let whole = plate(&drawing).map_err(|error| report(ProduceError::Sheets(error)))?;
    let svg = svg(&whole).map_err(|error| report(ProduceError::Write(error)))?;
    let name = svg_name(item);
    let file = sink.put(&name, svg.as_bytes())?;
    let identity = &pattern.identity;
    let paper = Paper::of(&pattern);
    Ok(Made {
        entry: PatternEntry {
            number: identity.number.value.clone(),
            revision: identity.revision.clone(),
            title: identity.title.clone(),
            panel: pattern.panel.name.clone(),
            definition: item.definition.clone(),
            quantity: item.quantity,
            code: paper.content.code(),
            content: item.content.clone(),
            svg: name,
            // Told by the volume, which knows where its pages stand.
            volume: String::new(),
            first_page: 0,
            pages: pages.len(),
            shared_page: None,
            record: PagesEntry {
                pages: kept.len(),
                ..PagesEntry::default()
            },
            small: piece.is_some(),
            openings: openings(&pattern),
            tools: tools(&pattern),
            left_out: pattern.hold.left_out.clone(),
            units: pattern.units,
            findings: findings_issued(&pattern),
        },
        pages,
        record: kept,
        piece,
        picture: picture(&svg).unwrap_or_default(),
        file,
        taken_over: false,
        clash: papers.clash(&paper),
    })
}
