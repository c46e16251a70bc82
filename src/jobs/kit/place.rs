//! An issue's place on the disk: made whole beside it, and then put there in one step.
//!
//! Whoever looks sees an old issue or a new one, whole, and nothing else. Everything on the way has
//! a name of its own that starts with a dot; a run that was killed leaves it, and the next run of
//! the same kit, which alone holds the kit's lock, clears it away.

use super::difference::Differences;
use super::make::{Issue, Watch, make};
use super::manifest::Manifest;
use super::plan::Plan;
use super::previous::Previous;
use super::sink::{Sink, sync_all, sync_names, while_written};
use super::standing::{self, Standing};
use super::{KitError, Outcome, State};
use crate::base::paper::number_and_revision;
use crate::jobs::papers::Papers;
use crate::output::{Lock, WriteError, failed, make_folder};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// What the names of everything that is on its way begin with.
const HIDDEN: &str = ".trimloft-kit-";

/// Issues a kit into its own folder below `out`.
///
/// The same content as is there already is left alone, or drawn anew where paper or program are
/// others. With the reason of a `replace`, other content takes the place of what was issued under the
/// revision, and the reason is kept in `out`. Patterns unchanged since the issue in `from` are
/// taken over from there.
///
/// # Errors
/// [`KitError`]; whatever was issued before is then still there, whole.
pub fn issue(
    plan: &Plan,
    out: &Path,
    replace: Option<&str>,
    from: Option<&Path>,
    watch: &dyn Watch,
) -> Result<Outcome, KitError> {
    // Looked at before anything is made: it may be the very folder that is replaced.
    let previous = from.map(Previous::open).transpose()?;
    make_folder(out).map_err(KitError::Write)?;
    let ground = Ground::new(&plan.stem(), out);
    clear_others(out, &ground)?;
    let _lock = Lock::take(&ground.lock, || watch.waiting())?;
    ground.clear()?;
    let there = ground.there()?;
    if let Some(there) = &there
        && there.manifest().content == plan.content
        && standing::is_whole(&ground.target, there.manifest()).unwrap_or(false)
    {
        return Ok(Outcome::unchanged(&ground.target, plan));
    }
    let papers = Papers::of(out, Some(&ground.target));
    let sink = Sink::folder(&ground.staging).inspect_err(|_| ground.drop_staging())?;
    let made = while_written(&ground.staging, || {
        make(plan, &sink, previous.as_ref(), &papers, watch)
    });
    let issue = made.inspect_err(|_| ground.drop_staging())?;
    let state = ground.decide(there.as_ref(), &issue, replace.is_some());
    let state = state.inspect_err(|_| ground.drop_staging())?;
    if state == State::Unchanged {
        ground.drop_staging();
        return Ok(Outcome::unchanged(&ground.target, plan));
    }
    ground
        .put_in_place(there.is_some())
        .inspect_err(|_| ground.drop_staging())?;
    // Kept only now: a line of what was not done would be a lie.
    if let Some(because) = replace {
        let there = there.as_ref().filter(|_| state == State::Replaced);
        keep_replaced(there.map(Previous::manifest), &issue, because, &papers)?;
    }
    Ok(Outcome::issued(&ground.target, plan, issue, state))
}

/// Keeps why papers were replaced, and the issue that was there.
fn keep_replaced(
    there: Option<&Manifest>,
    issue: &Issue,
    because: &str,
    papers: &Papers,
) -> Result<(), WriteError> {
    for clash in &issue.clashes {
        papers.keep(&clash.name, [&clash.old, &clash.new], because)?;
    }
    let Some(there) = there else { return Ok(()) };
    let kit = &issue.manifest.kit;
    let name = number_and_revision(&kit.number, &kit.revision);
    papers.keep(&name, [&there.code, &issue.manifest.code], because)
}

/// How the folder of an issue differs from what the kit file would issue today; not at all where
/// [`issue`] would leave its content alone.
///
/// Everything is drawn anew and nothing is written.
///
/// # Errors
/// [`KitError`]: definitions that fall short, a folder that is not there, patterns that stand for
/// other papers elsewhere in `out`.
pub fn check(plan: &Plan, out: &Path, watch: &dyn Watch) -> Result<Differences, KitError> {
    let folder = plan.folder(out);
    if !folder.is_dir() {
        return Err(KitError::NoIssue(folder));
    }
    let papers = Papers::of(out, Some(&folder));
    let issue = make(plan, &Sink::Nowhere, None, &papers, watch)?;
    if !issue.clashes.is_empty() {
        return Err(KitError::Clashes(issue.clashes));
    }
    let there = Previous::open(&folder).ok();
    let standing = Standing::of(&folder, there.as_ref().map(Previous::manifest), &issue);
    Ok(standing
        .map_err(failed(&folder, "looked through"))?
        .into_differences())
}

/// Endings of the lock, of an issue in the making, and of an old one that waits.
const ENDINGS: [&str; 3] = [".lock", ".part", ".old"];

/// Clears what killed runs of other kits and revisions left, where none of them is at work now.
fn clear_others(out: &Path, own: &Ground) -> Result<(), WriteError> {
    let entries = fs::read_dir(out).map_err(failed(out, "looked through"))?;
    for entry in entries.flatten() {
        let name = entry.file_name();
        let stem = name
            .to_str()
            .and_then(|name| name.strip_prefix(HIDDEN))
            .and_then(|rest| ENDINGS.iter().find_map(|ending| rest.strip_suffix(ending)));
        let Some(stem) = stem else { continue };
        let other = Ground::new(stem, out);
        if other.target != own.target
            && let Some(_lock) = Lock::take_if_free(&other.lock)
        {
            other.clear()?;
        }
    }
    Ok(())
}

/// The names that one kit uses in the folder for all issues.
struct Ground {
    out: PathBuf,
    target: PathBuf,
    lock: PathBuf,
    staging: PathBuf,
    /// Where an old issue waits where two folders can't change places in one step.
    aside: PathBuf,
}

impl Ground {
    fn new(stem: &str, out: &Path) -> Self {
        // Names of issues never start with a dot.
        let hidden = |ending: &str| out.join(format!("{HIDDEN}{stem}{ending}"));
        let [lock, staging, aside] = ENDINGS.map(hidden);
        Self {
            out: out.into(),
            target: out.join(stem),
            lock,
            staging,
            aside,
        }
    }

    /// Clears what a run that was killed left behind.
    fn clear(&self) -> Result<(), WriteError> {
        if !self.target.exists() && self.aside.exists() {
            fs::rename(&self.aside, &self.target)
                .map_err(failed(&self.target, "put back in its place"))?;
        }
        for left in [&self.staging, &self.aside] {
            remove(left).map_err(failed(left, "cleared away"))?;
        }
        Ok(())
    }

    /// The issue that is there already.
    fn there(&self) -> Result<Option<Previous>, KitError> {
        match fs::symlink_metadata(&self.target) {
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(failed(&self.target, "looked at")(error).into()),
            Ok(_) => match Previous::open(&self.target) {
                Ok(previous) => Ok(Some(previous)),
                Err(_) => Err(KitError::Foreign(self.target.clone())),
            },
        }
    }

    /// What becomes of an issue that was made, beside the one that is there.
    fn decide(
        &self,
        there: Option<&Previous>,
        issue: &Issue,
        replace: bool,
    ) -> Result<State, KitError> {
        if !replace && !issue.clashes.is_empty() {
            return Err(KitError::Clashes(issue.clashes.clone()));
        }
        let manifest = there.map(Previous::manifest);
        Ok(match manifest {
            None => State::Issued,
            Some(there) => {
                let standing = Standing::of(&self.target, Some(there), issue)
                    .map_err(failed(&self.target, "looked through"))?;
                match standing {
                    Standing::Same => return Ok(State::Unchanged),
                    Standing::DrawnOtherwise => State::DrawnAgain,
                    Standing::Other(differences) if !replace => {
                        return Err(KitError::Issued {
                            folder: self.target.clone(),
                            facts: standing::facts_that_differ(
                                [&self.target, &self.staging],
                                there,
                                &issue.manifest,
                            ),
                            differences,
                        });
                    }
                    Standing::Other(_) => State::Replaced,
                }
            }
        })
    }

    fn put_in_place(&self, replace: bool) -> Result<(), WriteError> {
        sync_all(&self.staging).map_err(failed(&self.staging, "written"))?;
        if replace {
            self.change_places()
        } else {
            fs::rename(&self.staging, &self.target)
        }
        .map_err(failed(&self.target, "put in its place"))?;
        // The issue stands; what is left of the old one is cleared next time if not now.
        let _ = sync_names(&self.out);
        let _ = remove(&self.staging);
        let _ = remove(&self.aside);
        Ok(())
    }

    /// New and old issue change places in one step, where the system can do that.
    fn change_places(&self) -> io::Result<()> {
        #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
        {
            use rustix::fs::{CWD, RenameFlags, renameat_with};
            let exchange = RenameFlags::EXCHANGE;
            if renameat_with(CWD, &self.staging, CWD, &self.target, exchange).is_ok() {
                return Ok(());
            }
        }
        fs::rename(&self.target, &self.aside)?;
        fs::rename(&self.staging, &self.target).inspect_err(|_| {
            // The old issue goes back where it was.
            let _ = fs::rename(&self.aside, &self.target);
        })
    }

    fn drop_staging(&self) {
        // What can't be removed now is cleared by the next run.
        let _ = remove(&self.staging);
    }
}

/// Removes a folder with all that is in it; one that is not there is as good.
fn remove(folder: &Path) -> io::Result<()> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        done => done,
    }
}
