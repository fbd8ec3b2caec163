//! A fault of the program while the desk is up: the terminal is given back, unsaved words stay, and the author is told.

use std::panic::{self, AssertUnwindSafe, PanicHookInfo, catch_unwind};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use std::path::Path;

use crate::brief::Brief;
use crate::brief::typography::Font;
use crate::desk::State;
use crate::draft::Draft;
use crate::files::{self, guard};
use crate::report;
use crate::terminal;

/// Runs something that has the terminal. The error is a description of the panic, for a person to read.
///
/// Nothing is printed over the screen. Panics of other threads are not recorded here; each thread reports its own.
pub(super) fn caught<T>(run: impl FnOnce() -> T) -> Result<T, String> {
    let (told, ours) = (Arc::new(Mutex::new(String::new())), thread::current().id());
    let tell = Arc::clone(&told);
    let before = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        if guard::is_caught() {
            return;
        }
        if thread::current().id() == ours {
            terminal::give_back();
            *tell.lock().unwrap_or_else(PoisonError::into_inner) = description(info);
        }
    }));
    let ended = catch_unwind(AssertUnwindSafe(run));
    panic::set_hook(before);
    ended.map_err(|_| std::mem::take(&mut *told.lock().unwrap_or_else(PoisonError::into_inner)))
}

/// The message about the font file on which a library panicked at the desk; none where the copy can be set.
pub(super) fn of_a_font(state: &State) -> Option<String> {
    let draft = Draft::read(state.sheet()?.editor.text());
    let sets = |brief: &Brief| guard::caught(|| report::assess(&draft, brief, &state.faces)).is_ok();
    fallen_over(state.brief(), sets).map(|path| files::damaged_font(path).to_string())
}

/// The first font file that is at fault: the copy cannot be set with it, but can be set with the serif in its place.
fn fallen_over(brief: &Brief, sets: impl Fn(&Brief) -> bool) -> Option<&Path> {
    if sets(brief) {
        return None;
    }
    let files = brief.fonts().filter_map(|font| match font {
        Font::File { path, .. } => Some((font, path)),
        _ => None,
    });
    let without = |font: &Font| {
        let mut brief = brief.clone();
        let all =
            std::iter::once(&mut brief.typography.blurb).chain(brief.typography.others.iter_mut().map(|(_, set)| set));
        let on_spine = brief.spine.iter_mut().map(|spine| &mut spine.font);
        let all = all.map(|set| &mut set.font).chain(on_spine);
        all.filter(|own| own.is_same(font)).for_each(|own| *own = Font::Serif);
        brief
    };
    files.into_iter().find(|(font, _)| sets(&without(font))).map(|(_, path)| path.as_path())
}

fn description(info: &PanicHookInfo<'_>) -> String {
    let words = info.payload_as_str().unwrap_or("no words");
    info.location().map_or_else(|| words.to_owned(), |place| format!("{words}, at {}:{}", place.file(), place.line()))
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::fallen_over;
    use crate::brief::Brief;
    use crate::brief::typography::Font;

    #[test]
    fn a_fault_over_a_font_is_told_by_the_font_and_no_other_is() {
        let own = Font::file(PathBuf::from("torn.ttf"));
        let mut brief = Brief::read("panel: { trim: 8 x 8 in }\n", Path::new("")).expect("a brief");
        brief.typography.blurb.font = Font::file(PathBuf::from("whole.ttf"));
        brief.typography.others[0].1.font = own.clone();
        let torn = |brief: &Brief| !brief.fonts().any(|font| font.is_same(&own));
        assert_eq!(fallen_over(&brief, torn), Some(Path::new("torn.ttf")));
        assert_eq!(fallen_over(&brief, |_| true), None);
        assert_eq!(fallen_over(&brief, |_| false), None, "a fault that no font makes");
    }
}
