//! `trimloft draw`: from definitions to files.

mod json;
mod pages;
mod twins;

use super::Failure;
use super::args::{DrawArgs, DrawnArgs, Format};
use super::definition::{Given, Named, is_standard_input, named, why_each};
use super::overlapped::overlapped;
use super::report;
use super::{meaning, needed};
use json::DrawnJson;
use kurbo::Size;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use trimloft::check::scale::Printer;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Problem, Report, ShopSpec, Source};
use trimloft::jobs::papers::{Clash, Papers};
use trimloft::jobs::produce::{Formats, Product, produce_for};
use trimloft::layout::{PageKind, Setup};
use trimloft::output::{WriteError, clear_leftovers, write_together};
use trimloft::solve::Severity;
use twins::{stem, twins};

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
    let to_stdout = is_standard_input(&args.out);
    if to_stdout && (args.only.is_none() || args.view || args.json) {
        return Err(Failure::usage(
            "`--out -` writes one file to standard output: name which by `--only pdf` or `--only svg`, \
             without `--view` and `--json`",
        ));
    }
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
            closed: args.closed,
        },
        out: &args.out,
        to_stdout,
        paper: meaning::paper_name(&args.sheets, printer.as_ref()),
        printer: printer.as_ref(),
        papers: Papers::of(&args.out, None),
        because: args.replace.because.as_deref(),
        given: given(patterns, args),
    };
    if !to_stdout {
        clear_leftovers(&args.out);
    }
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
    /// The one file goes to standard output, and none into the folder.
    to_stdout: bool,
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
        if self.to_stdout && files.len() != 1 {
            return Err(Failure::usage(format!(
                "`--out -` takes one pattern, {} are named",
                files.len()
            )));
        }
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
        let spec = PatternSpec::read_for(&source, self.shop)?;
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
        let clash = self.papers.clash(&product.paper);
        let clash = clash.filter(|_| !self.to_stdout);
        if let Some(clash) = &clash {
            self.replace(&product, clash)
                .map_err(|problem| Report::new(&source, vec![problem]))?;
        }
        let files = match self.to_stdout {
            true => self.pass_on(&product).map_err(|error| {
                let problem = Problem::new(format!("standard output can't be written: {error}"));
                Report::new(&source, vec![problem])
            })?,
            false => self.write(&product).map_err(unwritten)?,
        };
        // Kept only now: a line of what was not done would be a lie.
        if let (Some(clash), Some(because)) = (&clash, self.because) {
            self.papers
                .keep(&clash.name, [&clash.old, &clash.new], because)
                .map_err(unwritten)?;
        }
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

    /// The one file of a pattern, to standard output.
    fn pass_on(&self, product: &Product) -> io::Result<Vec<PathBuf>> {
        let bytes = product.pdf.as_deref();
        let bytes = bytes.or(product.svg.as_deref().map(str::as_bytes));
        report::pass_on(bytes.unwrap_or_default())?;
        Ok(vec![])
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
}
