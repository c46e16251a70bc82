//! `trimloft draw`: from definitions to files.

use super::Failure;
use super::args::{DrawArgs, DrawnArgs, Format};
use super::definition::{Given, Named, named, understood, why_each};
use super::overlapped::overlapped;
use super::report::{self, FindingJson, ProblemJson};
use super::{meaning, needed};
use kurbo::Size;
use rayon::prelude::*;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use trimloft::base::fixed;
use trimloft::check::scale::Printer;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Problem, Report, ShopSpec, Source};
use trimloft::jobs::papers::{Clash, Papers};
use trimloft::jobs::produce::{Formats, Product, file_stem, produce_for};
use trimloft::layout::{PageKind, Setup, Stock};
use trimloft::output::{WriteError, clear_leftovers, write_together};
use trimloft::solve::Severity;

pub(super) fn run(args: &DrawArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.drawn.families)?;
    needed::check(&args.outright, &shapes)?;
    let Some(spec) = meaning::outright(&args.outright)? else {
        return files(&args.patterns, &args.drawn);
    };
    let shape = spec.identity.number.value.clone();
    let is_closed = shapes.find(&shape).is_ok_and(|family| !family.is_open());
    if args.outright.from_datum.is_none() && is_closed {
        return Err(Failure::usage(format!(
            "`--shape {shape}` is closed and needs its place: `--from-datum`, from the datum edge to \
             its middle"
        )));
    }
    with_job(&[], &args.drawn, |job, tally| {
        let mut spec = spec;
        spec.tools = job.shop.map(|shop| shop.tools.clone());
        let outcome = job.draw(Source::new(format!("--shape {shape}"), ""), &spec);
        job.tell(&[outcome], args.drawn.json, tally)
    })
}

/// Draws these files.
pub(super) fn files(patterns: &[PathBuf], args: &DrawnArgs) -> Result<(), Failure> {
    with_job(patterns, args, |job, tally| {
        job.draw_all(&named(patterns)?, args.json, tally)
    })
}

/// Makes ready what all definitions of a call share, has them drawn, and sums up what came of them.
fn with_job(
    patterns: &[PathBuf],
    args: &DrawnArgs,
    draw: impl FnOnce(&Job<'_>, &mut Tally) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let printer = meaning::printer(args.sheets.printer.as_deref())?;
    let setup = Setup {
        record: args.record,
        ..meaning::setup(&args.sheets, printer.as_ref())?
    };
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let job = Job {
        shapes: &shapes,
        shop: shop.as_ref(),
        setup: &setup,
        formats: Formats {
            pdf: args.only != Some(Format::Svg),
            svg: args.only != Some(Format::Pdf),
            view: args.view,
        },
        out: &args.out,
        paper: meaning::paper_name(&args.sheets, printer.as_ref()),
        printer: printer.as_ref(),
        papers: Papers::of(&args.out, None),
        because: args.replace.because.as_deref(),
        given: given(patterns, args),
    };
    clear_leftovers(&args.out);
    let mut tally = Tally::default();
    draw(&job, &mut tally)?;
    if args.json {
        report::print_json(&tally.json)?;
    }
    match (tally.failed, tally.all) {
        (0, _) => Ok(()),
        (1, 1) => Err(Failure::falls_short("nothing is drawn")),
        (failed, all) => Err(Failure::falls_short(format!(
            "{failed} of {all} patterns are not drawn{}",
            tally.why
        ))),
    }
}

/// Definitions drawn before they are told and forgotten, so that memory does not grow with their
/// number; enough of them that all processors are kept busy.
const BATCH: usize = 256;

/// What became of the definitions so far.
#[derive(Default)]
struct Tally {
    all: usize,
    failed: usize,
    /// What failed and why, one a line.
    why: String,
    /// One for each definition, where the result is asked for as JSON.
    json: Vec<serde_json::Value>,
}

/// What one definition came to: files, or what is wrong.
type Outcome = Result<Drawn, Report>;

/// Files written for one definition.
struct Drawn {
    source: PathBuf,
    files: Vec<PathBuf>,
    pages: Vec<PageKind>,
    page_size: Option<Size>,
    findings: Vec<trimloft::solve::Finding>,
}

/// How definitions are drawn in this call.
struct Job<'a> {
    shapes: &'a Library,
    shop: Option<&'a ShopSpec>,
    setup: &'a Setup,
    formats: Formats,
    out: &'a Path,
    /// As it was typed.
    paper: &'a str,
    /// What the sheets are corrected for.
    printer: Option<&'a Printer>,
    /// What the folder holds already.
    papers: Papers,
    /// Why another paper of the same number and revision is replaced.
    because: Option<&'a str>,
    /// Files that are read, which nothing is written over, by their whole paths.
    given: BTreeSet<PathBuf>,
}

/// The files that a call names.
fn given(patterns: &[PathBuf], args: &DrawnArgs) -> BTreeSet<PathBuf> {
    let tools = [&args.tools.shop, &args.sheets.printer];
    let all = patterns.iter().chain(tools.into_iter().flatten());
    all.filter_map(|file| fs::canonicalize(file).ok()).collect()
}

impl Job<'_> {
    /// Draws each file, several at once; a file's bytes are dropped as soon as they are written.
    fn draw_all(&self, named: &Named, json: bool, tally: &mut Tally) -> Result<(), Failure> {
        let files = &named.files;
        let stems: Vec<_> = files.par_iter().map(stem).collect();
        let twins = twins(files, &stems);
        // Files named one by one are meant one by one; of a folder, the rest is drawn all the same.
        if let Some((_, message)) = twins.iter().next()
            && !named.by_folder
        {
            let unsound = files.iter().zip(&stems).filter(|(_, stem)| stem.is_none());
            for report in unsound.filter_map(|(given, _)| self.read(given).err()) {
                report::tell(report);
            }
            return Err(Failure::falls_short(message));
        }
        drop(stems);
        for (number, batch) in files.chunks(BATCH).enumerate() {
            let make = |at: usize, given: &Given| match twins.get(&(number * BATCH + at)) {
                Some(message) => {
                    let problem = Problem::new(message.clone());
                    Err(Err(Report::new(
                        &Source::new(&given.file, ""),
                        vec![problem],
                    )))
                }
                None => self
                    .read(given)
                    .and_then(|(source, spec)| self.make(source, &spec))
                    .map_err(Err),
            };
            let outcomes = overlapped(batch, make, |made| self.finish(made));
            self.tell(&outcomes, json, tally)?;
        }
        Ok(())
    }

    fn read(&self, given: &Given) -> Result<(Source, PatternSpec), Report> {
        let source = given.text.clone()?;
        let spec = understood(&source, self.shop)?;
        Ok((source, spec))
    }

    fn draw(&self, source: Source, spec: &PatternSpec) -> Outcome {
        self.make(source, spec).and_then(|made| self.finish(made))
    }

    /// The bytes of a definition's files.
    fn make(&self, source: Source, spec: &PatternSpec) -> Result<(Source, Product), Report> {
        match produce_for(spec, self.shapes, self.setup, self.formats, self.printer) {
            Ok(product) => Ok((source, product)),
            Err(error) => Err(Report::new(&source, error.into_problems())),
        }
    }

    /// Writes them.
    fn finish(&self, (source, product): (Source, Product)) -> Outcome {
        let unwritten = |error: WriteError| {
            let problem = Problem::new(error.to_string()).hint(error.hint());
            Report::new(&source, vec![problem])
        };
        if let Some(clash) = self.papers.clash(&product.paper) {
            self.replace(&product, &clash)
                .map_err(|problem| Report::new(&source, vec![problem]))?;
            if let Some(because) = self.because {
                self.papers
                    .keep(&clash.name, [&clash.old, &clash.new], because)
                    .map_err(unwritten)?;
            }
        }
        let files = self.write(&product).map_err(unwritten)?;
        Ok(Drawn {
            source: source.name,
            files,
            pages: product.pages,
            page_size: product.page_size,
            findings: product.findings,
        })
    }

    /// Whether another paper that has its number and revision may be replaced: where a reason is given,
    /// and all of it is.
    fn replace(&self, product: &Product, clash: &Clash) -> Result<(), Problem> {
        if self.because.is_none() {
            return Err(Problem::new(clash.to_string()).hint(Clash::HINT));
        }
        let kept = [
            (".pdf", product.pdf.is_some()),
            (".svg", product.svg.is_some()),
        ];
        let kept = kept.into_iter().filter(|(_, is_written)| !is_written);
        let mut kept = kept.map(|(ending, _)| self.out.join(format!("{}{ending}", product.stem)));
        match kept.find(|file| product.paper.holds_otherwise(file)) {
            None => Ok(()),
            Some(file) => {
                let message = format!("`{}` would stay as the other paper", file.display());
                Err(Problem::new(message).hint("draw both files, without `--only`"))
            }
        }
    }

    /// All files of a pattern, or none.
    fn write(&self, product: &Product) -> Result<Vec<PathBuf>, WriteError> {
        let pdf = product.pdf.as_deref().map(|bytes| (".pdf", bytes));
        let svg = product.svg.as_deref().map(|text| (".svg", text.as_bytes()));
        let view = product.view.as_deref();
        let view = view.map(|text| ("-view.svg", text.as_bytes()));
        let files: Vec<(PathBuf, &[u8])> = pdf
            .into_iter()
            .chain(svg)
            .chain(view)
            .map(|(ending, bytes)| {
                let name = format!("{}{ending}", product.stem);
                (self.out.join(name), bytes)
            })
            .collect();
        for (path, _) in &files {
            if fs::canonicalize(path).is_ok_and(|path| self.given.contains(&path)) {
                return Err(WriteError::Given(path.clone()));
            }
        }
        write_together(&files)?;
        Ok(files.into_iter().map(|(path, _)| path).collect())
    }

    /// Files go to stdout, one a line; all that is told about them to stderr.
    fn tell(&self, outcomes: &[Outcome], json: bool, tally: &mut Tally) -> Result<(), Failure> {
        tally.all += outcomes.len();
        tally.failed += outcomes.iter().filter(|outcome| outcome.is_err()).count();
        tally.why += &why_each(outcomes.iter().filter_map(|outcome| outcome.as_ref().err()));
        let mut files = String::new();
        for outcome in outcomes {
            match outcome {
                Err(report) => report::tell(report),
                Ok(drawn) => {
                    let found = report::findings(&drawn.source, &drawn.findings, Severity::Warning);
                    report::tell(found);
                    if let Some(size) = drawn.page_size {
                        let name = drawn.source.display();
                        report::tell(format_args!("{name}: {}\n", self.pages(drawn, size)));
                    }
                    for file in &drawn.files {
                        files += &format!("{}\n", file.display());
                    }
                }
            }
        }
        if !json {
            return report::print(&files);
        }
        for outcome in outcomes {
            let told = serde_json::to_value(DrawnJson::of(outcome, self.setup));
            tally.json.push(told.map_err(Failure::falls_short)?);
        }
        Ok(())
    }

    /// What has to be in the printer, which page is what, and what prints them at full size.
    fn pages(&self, drawn: &Drawn, size: Size) -> String {
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

/// Name of the files that a definition would be written to, less their ending; none for one that
/// can't be read.
fn stem(given: &Given) -> Option<String> {
    let spec = understood(given.text.as_ref().ok()?, None).ok()?;
    Some(file_stem(
        &spec.identity.number.value,
        &spec.identity.revision,
    ))
}

/// Definitions that would be written to one file, by their place, with what to tell of each.
fn twins(files: &[Given], stems: &[Option<String>]) -> BTreeMap<usize, String> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut twins = BTreeMap::new();
    for (place, (file, stem)) in files.iter().zip(stems).enumerate() {
        let Some(stem) = stem else { continue };
        let Some(other) = seen.insert(stem.to_lowercase(), place) else {
            continue;
        };
        let (one, file) = (&files[other].file, &file.file);
        let message = if one == file {
            format!("`{}` is named twice; hint: name it once", file.display())
        } else {
            format!(
                "`{}` and `{}` would both be written as `{stem}`; hint: give them different \
                 numbers or revisions",
                one.display(),
                file.display()
            )
        };
        twins.entry(other).or_insert_with(|| message.clone());
        twins.insert(place, message);
    }
    twins
}

fn kind_word(kind: PageKind) -> &'static str {
    match kind {
        PageKind::Front => "front",
        PageKind::Work => "work",
        PageKind::Record => "record",
    }
}

/// What became of one definition; files it was not written to are no files.
#[derive(Serialize)]
struct DrawnJson<'a> {
    pattern: String,
    files: Vec<String>,
    pages: usize,
    /// What each page is for: `front`, `work` or `record`.
    page_kinds: Vec<&'static str>,
    paper: &'a str,
    /// Width and height, mm.
    page_size: Option<[f64; 2]>,
    findings: Vec<FindingJson<'a>>,
    problems: Vec<ProblemJson<'a>>,
}

impl<'a> DrawnJson<'a> {
    fn of(outcome: &'a Outcome, setup: &'a Setup) -> Self {
        let paper = setup.paper.name();
        match outcome {
            Ok(drawn) => Self {
                pattern: drawn.source.display().to_string(),
                files: drawn
                    .files
                    .iter()
                    .map(|file| file.display().to_string())
                    .collect(),
                pages: drawn.pages.len(),
                page_kinds: drawn.pages.iter().map(|kind| kind_word(*kind)).collect(),
                paper,
                page_size: drawn.page_size.map(|size| [size.width, size.height]),
                findings: drawn.findings.iter().map(FindingJson::from).collect(),
                problems: vec![],
            },
            Err(report) => Self {
                pattern: report.source.name.display().to_string(),
                files: vec![],
                pages: 0,
                page_kinds: vec![],
                paper,
                page_size: None,
                findings: vec![],
                problems: report::problems(report),
            },
        }
    }
}
