//! `trimloft draw`: from definitions to files.

use super::Failure;
use super::args::{DrawArgs, Format};
use super::meaning;
use super::report::{self, FindingJson};
use rayon::prelude::*;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use trimloft::produce::{Formats, Product, file_stem, produce};
use trimloft::shape::Library;
use trimloft::sheet::Setup;
use trimloft::spec::{PatternSpec, Report, Source};
use trimloft::write::{WriteError, write_whole};

pub(super) fn run(args: &DrawArgs) -> Result<(), Failure> {
    let setup = meaning::setup(&args.sheets)?;
    let outright = meaning::outright(&args.outright)?;
    let shapes = meaning::library(&args.families)?;
    let formats = Formats {
        pdf: args.only != Some(Format::Svg),
        svg: args.only != Some(Format::Pdf),
    };
    let job = Job {
        shapes: &shapes,
        setup: &setup,
        formats,
        out: &args.out,
    };
    let outcomes: Vec<Outcome> = match outright {
        Some(spec) => vec![job.draw(&Source::new("--shape", ""), &spec)],
        None => job.draw_all(&args.patterns)?,
    };
    let failed = outcomes.iter().filter(|outcome| outcome.is_err()).count();
    tell(&outcomes, args.json);
    match failed {
        0 => Ok(()),
        _ => Err(Failure::falls_short(format!(
            "{failed} of {} patterns not drawn",
            outcomes.len()
        ))),
    }
}

/// What one definition came to: files, or what is wrong in words.
type Outcome = Result<Drawn, String>;

/// Files written for one definition.
struct Drawn {
    file: PathBuf,
    files: Vec<PathBuf>,
    pages: usize,
    findings: Vec<trimloft::pattern::Finding>,
}

/// How definitions are drawn in this call.
struct Job<'a> {
    shapes: &'a Library,
    setup: &'a Setup,
    formats: Formats,
    out: &'a Path,
}

impl Job<'_> {
    /// Draws each file, several at once; a file's bytes are dropped as soon as they are written.
    fn draw_all(&self, files: &[PathBuf]) -> Result<Vec<Outcome>, Failure> {
        let specs: Vec<_> = files.par_iter().map(|file| read(file)).collect();
        refuse_twins(files, &specs)?;
        Ok(specs
            .into_par_iter()
            .map(|read| read.and_then(|(source, spec)| self.draw(&source, &spec)))
            .collect())
    }

    fn draw(&self, source: &Source, spec: &PatternSpec) -> Outcome {
        let product = produce(spec, self.shapes, self.setup, self.formats)
            .map_err(|error| Report::new(source, error.into_problems()).to_string())?;
        let files = self
            .write(&product)
            .map_err(|error| format!("error: {error}"))?;
        Ok(Drawn {
            file: source.name.clone(),
            files,
            pages: product.pages,
            findings: product.findings,
        })
    }

    fn write(&self, product: &Product) -> Result<Vec<PathBuf>, WriteError> {
        let pdf = product.pdf.as_deref().map(|bytes| ("pdf", bytes));
        let svg = product.svg.as_deref().map(|text| ("svg", text.as_bytes()));
        pdf.into_iter()
            .chain(svg)
            .map(|(ending, bytes)| {
                let path = self.out.join(format!("{}.{ending}", product.stem));
                write_whole(&path, bytes).map(|()| path)
            })
            .collect()
    }
}

/// A definition with its source, or what is wrong in words.
pub(super) fn read(file: &Path) -> Result<(Source, PatternSpec), String> {
    let bytes =
        read_bounded(file).map_err(|error| format!("{}: error: {error}", file.display()))?;
    let source = Source::from_bytes(file, bytes).map_err(|report| report.to_string())?;
    let spec = PatternSpec::read(&source).map_err(|report| report.to_string())?;
    Ok((source, spec))
}

/// The longest definition that is read, bytes: far longer than any that people write.
const LONGEST_FILE: u64 = 4 * 1024 * 1024;

fn read_bounded(file: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = vec![];
    File::open(file)?
        .take(LONGEST_FILE + 1)
        .read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LONGEST_FILE {
        return Err(std::io::Error::other(
            "the file is longer than 4 MB; is it a definition?",
        ));
    }
    Ok(bytes)
}

/// Two definitions that would be written to one file.
fn refuse_twins(
    files: &[PathBuf],
    specs: &[Result<(Source, PatternSpec), String>],
) -> Result<(), Failure> {
    let mut seen: BTreeMap<String, &Path> = BTreeMap::new();
    for (file, spec) in files.iter().zip(specs) {
        let Ok((_, spec)) = spec else { continue };
        let stem = file_stem(&spec.identity.number.value, &spec.identity.revision);
        if let Some(other) = seen.insert(stem.to_lowercase(), file) {
            return Err(Failure::falls_short(format!(
                "`{}` and `{}` would both be written as `{stem}`; hint: give them different numbers \
                 or revisions",
                other.display(),
                file.display()
            )));
        }
    }
    Ok(())
}

#[derive(Serialize)]
struct DrawnJson<'a> {
    pattern: &'a Path,
    files: &'a [PathBuf],
    pages: usize,
    findings: Vec<FindingJson<'a>>,
}

fn tell(outcomes: &[Outcome], json: bool) {
    let mut results = vec![];
    for outcome in outcomes {
        match outcome {
            Err(message) => eprintln!("{}", message.trim_end()),
            Ok(drawn) => {
                eprint!("{}", report::findings(&drawn.file, &drawn.findings));
                if json {
                    results.push(DrawnJson {
                        pattern: &drawn.file,
                        files: &drawn.files,
                        pages: drawn.pages,
                        findings: drawn.findings.iter().map(FindingJson::from).collect(),
                    });
                } else {
                    for file in &drawn.files {
                        println!("{}", file.display());
                    }
                }
            }
        }
    }
    if json {
        report::print_json(&results);
    }
}
