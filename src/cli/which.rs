//! `trimloft which`: which paper a code or a file is, and whether it still holds.

use super::Failure;
use super::args::WhichArgs;
use super::report;
use serde::Serialize;
use std::path::Path;
use trimloft::base::paper::content_code;
use trimloft::check::scan::Raster;
use trimloft::jobs::papers::Held;
use trimloft::jobs::which::{Asked, Shelf, Standing, belong_together, missing};
use trimloft::solve::{Content, volume_in_file};

pub(super) fn run(args: &WhichArgs) -> Result<(), Failure> {
    let mut all: Vec<(&str, Asked)> = vec![];
    for thing in &args.things {
        let asked = asked(thing)?;
        all.extend(asked.into_iter().map(|asked| (thing.as_str(), asked)));
    }
    let shelf = Shelf::of(&args.folder);
    let told = all.iter();
    let told: Vec<Told> = told
        .map(|(thing, asked)| Told::of(thing, asked, shelf.standing(asked)))
        .collect();
    if args.json {
        report::print_json(&told)?;
    } else {
        let lines: String = told.iter().map(|one| one.line(&args.folder)).collect();
        report::print(&lines)?;
    }
    let all: Vec<Asked> = all.into_iter().map(|(_, asked)| asked).collect();
    for lacking in missing(&all) {
        report::tell(format_args!("{lacking}\n"));
    }
    belong_together(&all)
        .map_err(|why| Failure::falls_short(format!("they do not belong together: {why}")))?;
    match told.iter().filter(|one| !one.is_current).count() {
        0 => Ok(()),
        count => Err(Failure::falls_short(format!(
            "{count} of {} not current: do not cut by it",
            told.len()
        ))),
    }
}

/// What a word of the command names: a code, a drawn file, a kit's volume with all its patterns, or a
/// picture of a sheet.
fn asked(thing: &str) -> Result<Vec<Asked>, Failure> {
    let path = Path::new(thing);
    if !path.is_file() {
        let code = content_code(thing).ok_or_else(|| {
            Failure::usage(format!(
                "`{thing}` is neither a file nor a code; hint: a code is ten letters and digits, such \
                 as 7K3MQ-9XDT2"
            ))
        })?;
        return Ok(vec![Asked {
            code,
            name: None,
            page: None,
        }]);
    }
    let unread = |why: String| Failure::falls_short(format!("`{thing}`: {why}"));
    if Raster::is_picture(path) {
        let names = Raster::load(path).and_then(Raster::page_names);
        let names = names.map_err(|error| unread(error.to_string()))?;
        return Ok(names.into_iter().map(Asked::from).collect());
    }
    let bytes = std::fs::read(path).map_err(|error| unread(error.to_string()))?;
    if let Some(content) = Content::in_file(&bytes) {
        return Ok(vec![Asked::from(&content)]);
    }
    match volume_in_file(&bytes) {
        none if none.is_empty() => Err(unread(
            "it carries no pattern's content; hint: give what this program wrote, a picture of a sheet \
             (PNG, JPEG), or the code that sheets print"
                .into(),
        )),
        names => Ok(names.into_iter().map(Asked::from).collect()),
    }
}

/// How a paper stands, as a program reads it.
#[derive(Serialize)]
struct Told {
    asked: String,
    code: String,
    /// Which sheet or page of the record it is; none where that is not known.
    sheet: Option<String>,
    standing: &'static str,
    /// Number and revision; none where they are not known.
    paper: Option<String>,
    /// The drawing that is kept of it, or of what holds now.
    file: Option<String>,
    /// What holds now: number and revision, or a code.
    by: Option<String>,
    because: Option<String>,
    #[serde(skip)]
    is_current: bool,
}

impl Told {
    fn of(thing: &str, asked: &Asked, standing: Standing) -> Self {
        let file = |held: &Held| Some(held.file.display().to_string());
        let mut told = Self {
            asked: thing.into(),
            code: asked.code.clone(),
            sheet: asked.page.map(|page| page.to_string()),
            standing: standing.word(),
            paper: asked.number_and_revision(),
            file: None,
            by: None,
            because: None,
            is_current: standing.is_current(),
        };
        match standing {
            Standing::Current(held) => {
                told.paper = Some(held.number_and_revision());
                told.file = file(&held);
            }
            Standing::Superseded { paper, by } => {
                told.paper = Some(paper.number_and_revision());
                told.file = file(&by);
                told.by = Some(by.number_and_revision());
            }
            Standing::Withdrawn { paper, because } => {
                told.paper = Some(paper);
                told.because = Some(because);
            }
            Standing::Replaced { paper, by, because } => {
                told.paper = Some(paper);
                told.by = Some(by);
                told.because = Some(because);
            }
            Standing::Other(held) => {
                told.file = file(&held);
                told.by = Some(held.code);
            }
            Standing::Unknown => {}
        }
        told
    }

    fn line(&self, folder: &Path) -> String {
        let mut line = match self.standing {
            "unknown" => format!("{}: unknown in `{}`", self.code, folder.display()),
            standing => format!("{}: {standing}", self.code),
        };
        if let Some(paper) = &self.paper {
            line += &format!(", {paper}");
        }
        if let Some(sheet) = &self.sheet {
            line += &format!(", {sheet}");
        }
        if let Some(by) = &self.by {
            line += &format!(", now {by}");
        }
        if let Some(file) = &self.file {
            line += &format!(", in `{file}`");
        }
        if let Some(because) = &self.because {
            line += &format!(": {because}");
        }
        line + "\n"
    }
}
