//! `--watch`: the report again at each save, for those who write in another editor or listen to a screen reader.

use std::path::{Path, PathBuf};
use std::sync::mpsc::channel;
use std::time::Duration;

use notify::{RecursiveMode, Watcher};

use super::setup::drafts_of;
use super::{Answer, OutputReader, print};
use crate::files::{self, Error};

/// Editors write a file in several steps; a report follows once no change was seen for this long.
const QUIET: Duration = Duration::from_millis(100);

/// Makes a report now and after each change of a draft, a brief or a file of a shape or of art in the drafts' folders,
/// until the program is interrupted or its output is closed.
pub(super) fn again(named: &[PathBuf], mut report: impl FnMut() -> Result<Answer, Error>) -> Result<Answer, Error> {
    let drafts = drafts_of(named)?;
    if drafts.iter().any(|draft| draft.as_os_str() == "-") {
        return Err(Error::new("standard input cannot be watched").with_remedy("name the draft's file"));
    }
    let (sender, changes) = channel();
    let fail = |error: notify::Error| {
        let error = Error::new(error.to_string()).of_operation("watch the drafts");
        error.with_remedy("run `measure` after each save")
    };
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if event.is_ok_and(|event| !event.kind.is_access() && event.paths.iter().any(|path| is_of_a_book(path))) {
            // The receiver may be gone already; then nobody needs the message.
            let _ = sender.send(());
        }
    })
    .map_err(fail)?;
    let mut folders: Vec<&Path> = drafts.iter().filter_map(|draft| draft.parent()).collect();
    folders.sort_unstable();
    folders.dedup();
    for folder in folders {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        watcher.watch(folder, RecursiveMode::NonRecursive).map_err(fail)?;
    }
    let mut answer = report()?;
    while changes.recv().is_ok() {
        while changes.recv_timeout(QUIET).is_ok() {}
        if print("\n")? == OutputReader::IsGone {
            break;
        }
        answer = report()?;
    }
    Ok(answer)
}

fn is_of_a_book(path: &Path) -> bool {
    let endings = ["md", "svg", "png", "jpg", "jpeg", "tif", "tiff"];
    let is_copy_or_picture =
        path.extension().is_some_and(|found| endings.iter().any(|it| found.eq_ignore_ascii_case(it)));
    is_copy_or_picture || path.file_name().is_some_and(|name| name == files::BRIEF_NAME)
}
