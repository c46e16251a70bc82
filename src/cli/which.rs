//! `trimloft which`: which paper a code or a file is, and whether it still holds.

use super::Failure;
use super::args::WhichArgs;
use super::report;
use serde::Serialize;
use std::path::Path;
use trimloft::base::paper::content_code;
use trimloft::jobs::papers::Held;
use trimloft::jobs::which::{Asked, Shelf, Standing, belong_together};
use trimloft::solve::Content;

pub(super) fn run(args: &WhichArgs) -> Result<(), Failure> {
    let all: Vec<Asked> = args
        .things
        .iter()
        .map(|thing| asked(thing))
        .collect::<Result<_, _>>()?;
    let shelf = Shelf::of(&args.folder);
    let told = all.iter().zip(&args.things);
    let told: Vec<Told> = told
        .map(|(asked, thing)| Told::of(thing, asked, shelf.standing(asked)))
        .collect();
    if args.json {
        report::print_json(&told)?;
    } else {
        let lines: String = told.iter().map(|one| one.line(&args.folder)).collect();
        report::print(&lines)?;
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

/// What a word of the command names: a code, or a drawn file.
fn asked(thing: &str) -> Result<Asked, Failure> {
    let path = Path::new(thing);
    if !path.is_file() {
        let code = content_code(thing).ok_or_else(|| {
            Failure::usage(format!(
                "`{thing}` is neither a file nor a code; hint: a code is ten letters and digits, such \
                 as 7K3MQ-9XDT2"
            ))
        })?;
        return Ok(Asked { code, name: None });
    }
    let unread = |why: String| Failure::falls_short(format!("`{thing}`: {why}"));
    let bytes = std::fs::read(path).map_err(|error| unread(error.to_string()))?;
    let content = Content::in_file(&bytes);
    content.as_ref().map(Asked::from).ok_or_else(|| {
        unread(
            "it carries no pattern's content; hint: of a kit's PDF ask for a pattern's drawing, or type \
             the code that its sheets print"
                .into(),
        )
    })
}

/// How a paper stands, as a program reads it.
#[derive(Serialize)]
struct Told {
    asked: String,
    code: String,
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
