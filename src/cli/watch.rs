//! `--watch`: the report again at each save, for those who write in another editor or listen to a screen reader.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::channel;
use std::time::Duration;

use notify::{RecommendedWatcher, RecursiveMode, Watcher};

use super::setup::drafts_of;
use super::{Answer, OutputReader, print};
use crate::files::{self, Error};
use crate::system;

/// Editors write a file in several steps; a report follows once no change was seen for this long.
const QUIET: Duration = Duration::from_millis(100);

/// What is watched for a report: the drafts, and the briefs with every file that they name, wherever it stands.
struct Watched<'a> {
    drafts: &'a [PathBuf],
    /// The brief of all drafts, where one was named; else each folder of drafts has its own.
    brief: Option<&'a Path>,
    /// Every folder that the watcher looks at.
    folders: BTreeSet<PathBuf>,
    /// Every file that makes another report when it changes. Names that were known stay, also while a brief cannot be
    /// read, as in the middle of a change.
    files: BTreeSet<PathBuf>,
}

/// Makes a report now and after each change of a draft, of a brief, or of any file that a brief names, until the
/// program is interrupted or its output is closed. `brief` is that of all drafts, where one was named.
pub(super) fn again(
    named: &[PathBuf],
    brief: Option<&Path>,
    mut report: impl FnMut() -> Result<Answer, Error>,
) -> Result<Answer, Error> {
    let drafts = drafts_of(named)?;
    if drafts.iter().any(|draft| draft.as_os_str() == "-") {
        return Err(Error::new("standard input cannot be watched").with_remedy("name the draft's file"));
    }
    let (sender, changes) = channel();
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if let Ok(event) = event
            && !event.kind.is_access()
        {
            // The receiver may be gone already; then nobody needs the message.
            let _ = sender.send(event.paths);
        }
    })
    .map_err(fail)?;
    let mut watched = Watched { drafts: &drafts, brief, folders: BTreeSet::new(), files: BTreeSet::new() };
    watched.look_again(&mut watcher)?;
    let mut answer = report()?;
    while let Ok(paths) = changes.recv() {
        if !paths.iter().any(|path| watched.has(path)) {
            continue;
        }
        while changes.recv_timeout(QUIET).is_ok() {}
        if print("\n")? == OutputReader::IsGone {
            break;
        }
        answer = report()?;
        watched.look_again(&mut watcher)?;
    }
    Ok(answer)
}

fn fail(error: notify::Error) -> Error {
    Error::new(error.to_string()).of_operation("watch the drafts").with_remedy("run `measure` after each save")
}

impl Watched<'_> {
    /// Reads the briefs again, and watches the folders of what they name now. A folder is watched whole, since editors
    /// put a new file in the place of the old one.
    fn look_again(&mut self, watcher: &mut RecommendedWatcher) -> Result<(), Error> {
        let briefs: BTreeSet<PathBuf> = match self.brief {
            Some(brief) => [brief.to_path_buf()].into(),
            None => self.drafts.iter().filter_map(|draft| files::find_brief(folder_of(draft)).ok()).collect(),
        };
        self.files.extend(briefs.iter().flat_map(|brief| files::named_in_brief(brief)));
        self.files.extend(briefs);
        let drafts = self.drafts.iter().map(PathBuf::as_path);
        let folders: BTreeSet<PathBuf> =
            drafts.chain(self.files.iter().map(PathBuf::as_path)).map(|file| folder_of(file).to_path_buf()).collect();
        for folder in folders {
            // The folder of a file that is missing may be missing too, which the report tells.
            if !self.folders.contains(&folder) && folder.is_dir() {
                let watched = system::of_any_length(&folder);
                watcher.watch(&watched, RecursiveMode::NonRecursive).map_err(fail)?;
                self.folders.insert(folder);
            }
        }
        Ok(())
    }

    /// Whether a change of a file makes another report. What stands beside the drafts counts also where it was not
    /// there before: a new draft, a new brief.
    fn has(&self, path: &Path) -> bool {
        let is_beside = |known: &PathBuf| files::is_one_folder(folder_of(known), folder_of(path));
        let is_copy = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("md"));
        let is_brief = path.file_name().is_some_and(|name| name == files::BRIEF_NAME);
        let is_named = |known: &PathBuf| known.file_name() == path.file_name() && is_beside(known);
        // A draft may be a document, and is watched by its name.
        (is_copy || is_brief) && self.drafts.iter().any(is_beside) || self.files.iter().chain(self.drafts).any(is_named)
    }
}

/// The folder that a file stands in, as one that can be watched.
fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
