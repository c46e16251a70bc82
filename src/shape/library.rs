//! The families there are: those shipped, and those of a user's own folder.

use super::family::Family;
use super::lexer::nearest;
use crate::spec::{Placed, Problem, ShapeSpec, Source};
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The shipped families, built in.
const SHIPPED: [(&str, &str); 8] = [
    ("shapes/notch.toml", include_str!("../../shapes/notch.toml")),
    ("shapes/flared-notch.toml", include_str!("../../shapes/flared-notch.toml")),
    ("shapes/tapered-notch.toml", include_str!("../../shapes/tapered-notch.toml")),
    ("shapes/stepped-notch.toml", include_str!("../../shapes/stepped-notch.toml")),
    ("shapes/t-opening.toml", include_str!("../../shapes/t-opening.toml")),
    ("shapes/window.toml", include_str!("../../shapes/window.toml")),
    ("shapes/slot.toml", include_str!("../../shapes/slot.toml")),
    ("shapes/round-hole.toml", include_str!("../../shapes/round-hole.toml")),
];

/// Shape families by name.
#[derive(Debug, Clone)]
pub struct Library {
    families: Vec<Family>,
}

impl Library {
    /// The shipped families.
    ///
    /// # Errors
    /// None that a sound build meets: the shipped files are proved by the tests.
    pub fn shipped() -> Result<Self, Vec<LibraryError>> {
        let mut library = Self {
            families: Vec::with_capacity(SHIPPED.len()),
        };
        let mut errors = Vec::new();
        for (name, text) in SHIPPED {
            let source = Source {
                name: name.into(),
                text: text.into(),
            };
            errors.extend(library.add(source).err());
        }
        library.or(errors)
    }

    /// These families and those of the `.toml` files in a folder, in the order of their names.
    ///
    /// # Errors
    /// All at once: a folder or a file that can not be read, what is wrong in a file, and a
    /// family whose name is taken.
    pub fn with_folder(mut self, folder: &Path) -> Result<Self, Vec<LibraryError>> {
        let files = shape_files(folder).map_err(|cause| {
            vec![LibraryError::Unreadable {
                path: folder.into(),
                cause,
            }]
        })?;
        let mut errors = Vec::new();
        for path in files {
            let added = match fs::read_to_string(&path) {
                Ok(text) => self.add(Source { name: path, text }),
                Err(cause) => Err(LibraryError::Unreadable { path, cause }),
            };
            errors.extend(added.err());
        }
        self.or(errors)
    }

    /// The families, shipped ones first.
    pub fn families(&self) -> &[Family] {
        &self.families
    }

    /// The family of that name.
    ///
    /// # Errors
    /// There is none; the error knows the name most like it.
    pub fn find(&self, name: &str) -> Result<&Family, UnknownShape> {
        let names = || self.families.iter().map(Family::name);
        self.families
            .iter()
            .find(|family| family.name() == name)
            .ok_or_else(|| UnknownShape {
                name: name.into(),
                nearest: nearest(name, names()).map(Into::into),
                known: names().map(Into::into).collect(),
            })
    }

    fn add(&mut self, source: Source) -> Result<(), LibraryError> {
        let spec = match ShapeSpec::read(&source) {
            Ok(spec) => spec,
            Err(problems) => return Err(LibraryError::Unsound { source, problems }),
        };
        let taken = self.find(&spec.name.value).is_ok();
        match Family::from_spec(&spec) {
            Ok(_) if taken => Err(LibraryError::Unsound {
                problems: vec![name_taken(&spec.name)],
                source,
            }),
            Ok(family) => {
                self.families.push(family);
                Ok(())
            }
            Err(problems) => Err(LibraryError::Unsound { source, problems }),
        }
    }

    fn or(self, errors: Vec<LibraryError>) -> Result<Self, Vec<LibraryError>> {
        if errors.is_empty() {
            Ok(self)
        } else {
            Err(errors)
        }
    }
}

fn name_taken(name: &Placed<String>) -> Problem {
    Problem {
        message: format!("there is a shape called `{}` already", name.value),
        hint: Some("choose another name".into()),
        span: name.span.clone(),
    }
}

/// The `.toml` files of a folder, sorted, so that what they hold does not hang on the disk.
fn shape_files(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "toml") && !path.is_dir() {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// Why families could not be had.
#[derive(Debug)]
pub enum LibraryError {
    /// A file or a folder can not be read.
    Unreadable {
        /// Which.
        path: PathBuf,
        /// Why.
        cause: io::Error,
    },
    /// A file holds no sound family, or one whose name is taken.
    Unsound {
        /// The file.
        source: Source,
        /// All that is wrong in it.
        problems: Vec<Problem>,
    },
}

impl fmt::Display for LibraryError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { path, cause } => {
                write!(out, "`{}` can not be read: {cause}", path.display())
            }
            Self::Unsound { source, problems } => {
                let messages: Vec<_> = problems.iter().map(|one| one.message.as_str()).collect();
                write!(out, "`{}`: {}", source.name.display(), messages.join("; "))
            }
        }
    }
}

impl std::error::Error for LibraryError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unreadable { cause, .. } => Some(cause),
            Self::Unsound { .. } => None,
        }
    }
}

/// No family has that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownShape {
    /// The name asked for.
    pub name: String,
    /// The known one most like it.
    pub nearest: Option<String>,
    /// All there are.
    pub known: Vec<String>,
}

impl UnknownShape {
    /// What to do about it.
    pub fn hint(&self) -> String {
        match &self.nearest {
            Some(name) => format!("did you mean `{name}`?"),
            None => format!("the shapes are `{}`", self.known.join("`, `")),
        }
    }
}

impl fmt::Display for UnknownShape {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "there is no shape called `{}`", self.name)
    }
}

impl std::error::Error for UnknownShape {}
