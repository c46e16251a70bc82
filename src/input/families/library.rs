//! The families there are: those shipped, and those of a user's own folder.

use super::family::Family;
use crate::base::words::{did_you_mean, shown};
use crate::input::{Report, ShapeSpec, Source};
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// The shipped families by name, built in.
const SHIPPED: [(&str, &str); 8] = [
    ("notch", include_str!("../../../shapes/notch.toml")),
    (
        "flared-notch",
        include_str!("../../../shapes/flared-notch.toml"),
    ),
    (
        "tapered-notch",
        include_str!("../../../shapes/tapered-notch.toml"),
    ),
    (
        "stepped-notch",
        include_str!("../../../shapes/stepped-notch.toml"),
    ),
    ("t-opening", include_str!("../../../shapes/t-opening.toml")),
    ("window", include_str!("../../../shapes/window.toml")),
    ("slot", include_str!("../../../shapes/slot.toml")),
    (
        "round-hole",
        include_str!("../../../shapes/round-hole.toml"),
    ),
];

/// Most shape files of a folder: far over what a shop draws.
const MOST_FILES: usize = 200;

/// Shape families by name.
///
/// A shipped family is read when it is first asked for: most patterns need one or two.
#[derive(Debug, Clone)]
pub struct Library {
    shipped: [OnceLock<Option<Family>>; SHIPPED.len()],
    own: Vec<Family>,
    /// Of each own family, the text it was read from.
    own_texts: Vec<String>,
}

impl Library {
    /// The shipped families.
    pub fn shipped() -> Self {
        Self {
            shipped: Default::default(),
            own: Vec::new(),
            own_texts: Vec::new(),
        }
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
        if files.len() > MOST_FILES {
            return Err(vec![LibraryError::TooMany {
                path: folder.into(),
                count: files.len(),
            }]);
        }
        let mut errors = Vec::new();
        for path in files {
            let added = Source::open(&path, &path)
                .map_err(LibraryError::Unsound)
                .and_then(|source| self.add(&source));
            errors.extend(added.err());
        }
        if errors.is_empty() {
            Ok(self)
        } else {
            Err(errors)
        }
    }

    /// The families, shipped ones first.
    pub fn families(&self) -> impl Iterator<Item = &Family> {
        (0..SHIPPED.len())
            .filter_map(|index| self.shipped_at(index))
            .chain(&self.own)
    }

    /// The names of the user's own families, each with the text that it was read from.
    pub(crate) fn own_texts(&self) -> impl Iterator<Item = (&str, &str)> {
        let texts = self.own_texts.iter().map(String::as_str);
        self.own.iter().map(Family::name).zip(texts)
    }

    /// The family of that name.
    ///
    /// # Errors
    /// There is none; the error's hint names the one most like it.
    pub fn find(&self, name: &str) -> Result<&Family, UnknownShape> {
        let shipped = SHIPPED.iter().position(|(shipped, _)| *shipped == name);
        let family = match shipped {
            Some(index) => self.shipped_at(index),
            None => self.own.iter().find(|family| family.name() == name),
        };
        family.ok_or_else(|| {
            let shipped = SHIPPED.iter().map(|(shipped, _)| *shipped);
            let known = shipped.chain(self.own.iter().map(Family::name));
            UnknownShape {
                name: name.into(),
                known: known.map(Into::into).collect(),
            }
        })
    }

    /// A shipped family. That each is sound, and bears the name it is listed by, is tested.
    fn shipped_at(&self, index: usize) -> Option<&Family> {
        let (name, text) = SHIPPED[index];
        self.shipped[index]
            .get_or_init(|| {
                let spec = ShapeSpec::read(&Source::new(name, text)).ok()?;
                Family::from_spec(&spec).ok()
            })
            .as_ref()
    }

    fn add(&mut self, source: &Source) -> Result<(), LibraryError> {
        let spec = ShapeSpec::read(source).map_err(LibraryError::Unsound)?;
        let unsound = |problems| LibraryError::Unsound(Report::new(source, problems));
        let family = Family::from_spec(&spec).map_err(unsound)?;
        if self.find(family.name()).is_ok() {
            let message = format!("there is a shape called `{}` already", shown(family.name()));
            let problem = spec.name.problem(message).hint("choose another name");
            return Err(unsound(vec![problem]));
        }
        self.own.push(family);
        self.own_texts.push(source.text.clone());
        Ok(())
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
    /// A folder holds more shape files than are read.
    TooMany {
        /// Which.
        path: PathBuf,
        /// How many it holds.
        count: usize,
    },
    /// A file holds no sound family, or one whose name is taken.
    Unsound(Report),
}

impl fmt::Display for LibraryError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { path, cause } => {
                write!(out, "`{}` can not be read: {cause}", path.display())
            }
            Self::TooMany { path, count } => write!(
                out,
                "`{}` holds {count} shape files: at most {MOST_FILES} are allowed; hint: name a \
                 folder of those that the patterns use",
                path.display()
            ),
            Self::Unsound(report) => report.fmt(out),
        }
    }
}

impl std::error::Error for LibraryError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unreadable { cause, .. } => Some(cause),
            Self::TooMany { .. } | Self::Unsound(_) => None,
        }
    }
}

/// No family has that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownShape {
    /// The name asked for.
    pub name: String,
    /// All there are.
    pub known: Vec<String>,
}

impl UnknownShape {
    /// What to do about it.
    pub fn hint(&self) -> String {
        did_you_mean(&self.name, &self.known)
    }
}

impl fmt::Display for UnknownShape {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "there is no shape called `{}`", shown(&self.name))
    }
}

impl std::error::Error for UnknownShape {}

#[cfg(test)]
mod tests {
    use super::*;

    const OWN: &str = "format = 1\nname = \"NAME\"\ntitle = \"Own\"\n\
        [[corner]]\nx = \"0\"\ny = \"0\"\n[[corner]]\nx = \"9\"\ny = \"0\"\n\
        [[corner]]\nx = \"0\"\ny = \"9\"\n";

    fn with_files(files: &[(&str, &[u8])]) -> Result<Library, Vec<LibraryError>> {
        let folder = tempfile::tempdir().unwrap();
        for (name, bytes) in files {
            fs::write(folder.path().join(name), bytes).unwrap();
        }
        Library::shipped().with_folder(folder.path())
    }

    #[test]
    fn the_shipped_ones_are_there_and_say_what_they_are() {
        let library = Library::shipped();
        let names: Vec<_> = library.families().map(Family::name).collect();
        assert_eq!(names, SHIPPED.map(|(name, _)| name));
        for family in library.families() {
            assert!(!family.title().is_empty() && !family.about().is_empty());
            assert!(family.parameters().iter().all(|one| !one.about.is_empty()));
            assert!(family.parameters().iter().all(|one| one.at_least.is_some()));
        }
        let open = |name: &str| library.find(name).unwrap().is_open();
        assert!(open("notch") && open("t-opening") && !open("window") && !open("slot"));
        let unknown = library.find("windwo").unwrap_err();
        assert_eq!(unknown.to_string(), "there is no shape called `windwo`");
        assert_eq!(unknown.hint(), "did you mean `window`?");
    }

    #[test]
    fn a_folder_adds_its_families_in_the_order_of_its_files() {
        let library = with_files(&[
            ("b.toml", OWN.replace("NAME", "first-of-b").as_bytes()),
            ("a.toml", OWN.replace("NAME", "second-by-name").as_bytes()),
            ("notes.txt", b"not a shape"),
        ])
        .unwrap();
        let names: Vec<_> = library.families().skip(8).map(Family::name).collect();
        assert_eq!(names, ["second-by-name", "first-of-b"]);
    }

    #[test]
    fn a_folder_of_too_many_shapes_is_refused() {
        let text = OWN.replace("NAME", "one");
        let names: Vec<String> = (0..=MOST_FILES).map(|n| format!("{n}.toml")).collect();
        let files: Vec<(&str, &[u8])> = names
            .iter()
            .map(|name| (name.as_str(), text.as_bytes()))
            .collect();
        let told = with_files(&files).unwrap_err()[0].to_string();
        assert!(
            told.contains("holds 201 shape files: at most 200"),
            "{told}"
        );
    }

    #[test]
    fn all_that_is_wrong_in_a_folder_is_told_at_once() {
        let errors = with_files(&[
            ("a.toml", OWN.replace("NAME", "notch").as_bytes()),
            ("b.toml", b"format = 1\nname = \"\xff\""),
            (
                "c.toml",
                OWN.replace("NAME", "c")
                    .replace("\"9\"", "\"9 / 0\"")
                    .as_bytes(),
            ),
            ("d.toml", b"format ="),
        ])
        .unwrap_err();
        let told: Vec<_> = errors.iter().map(ToString::to_string).collect();
        assert_eq!(told.len(), 4, "{told:?}");
        assert!(
            told[0].contains("there is a shape called `notch` already"),
            "{}",
            told[0]
        );
        assert!(told[0].contains("a.toml:2"), "{}", told[0]);
        assert!(told[1].contains("not UTF-8"), "{}", told[1]);
        assert!(told[2].contains("divides by zero"), "{}", told[2]);
        let nowhere = Library::shipped().with_folder(Path::new("no/such/folder"));
        let told = nowhere.unwrap_err()[0].to_string();
        assert!(told.contains("`no/such/folder` can not be read"), "{told}");
    }
}
