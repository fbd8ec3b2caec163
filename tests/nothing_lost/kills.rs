//! A desk that is killed at random moments while an author types: what is in the draft and in the recovery
//! file afterwards.
//!
//! The author writes numbers, one after another, so that any text of theirs tells how far they had come: the words `0 1
//! 2` are all of it or a beginning, and anything else is damage. The typist is this test's own program in a process of
//! its own; it notes on its output how far it has typed and how far all is on the disk, and goes on after each kill
//! from what the next start offers.

use std::env;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use blurbwright::editor::motion::Motion;
use blurbwright::editor::{Action, Editor};
use blurbwright::files::desk::{OpenDraft, Saved, open};

use super::{Book, names_in};
use crate::random::Random;
use crate::tried::tried;

/// Names the draft to type in, for the process that is killed.
const TYPIST: &str = "NOTHING_LOST_DRAFT";
/// How often to kill; the reference check asks for more.
const KILLS: &str = "NOTHING_LOST_KILLS";
const USUAL_KILLS: u32 = 240;
/// How long words wait before they are kept: the desk's second, made short so that kills meet every step of keeping.
const WAIT: Duration = Duration::from_millis(2);
/// The longest that a typist is let live, in microseconds; some are killed before they have begun.
const LONGEST_LIFE: u64 = 80_000;

#[test]
fn a_kill_at_any_moment_loses_only_what_was_not_kept_yet() {
    if let Some(draft) = env::var_os(TYPIST) {
        type_until_killed(Path::new(&draft));
    }
    let kills = env::var(KILLS).ok().and_then(|count| count.parse().ok()).unwrap_or_else(|| tried(USUAL_KILLS));
    let book = Book::new("");
    let (mut random, mut tally) = (Random(0x5eed), Tally::default());
    for _ in 0..kills {
        let life = Duration::from_micros(random.below(LONGEST_LIFE));
        let noted = one_life(&book.draft(), life);
        tally.add(&noted, &book);
    }
    println!("{tally:?} of {kills} kills");
    assert_eq!((tally.damaged, tally.kept_words_lost), (0, 0), "{tally:?}");
    assert!(tally.words > 0 && tally.saves > 0, "the typist had no time: {tally:?}");

    let mut draft = book.open();
    while let Some(recovered) = draft.recovered() {
        draft.restore(&recovered).expect("restored");
    }
    draft.close();
    assert_eq!(names_in(book.folder.path()), ["lamp.md"], "nothing of all the desks is left over");
}

/// What a typist had noted when it was killed.
#[derive(Debug, Default)]
struct Noted {
    /// How many numbers it had typed.
    typed: usize,
    /// How many of them were kept or saved for certain.
    kept: usize,
    /// How often it saved.
    saves: usize,
}

/// What was lost by all kills.
#[derive(Debug, Default)]
struct Tally {
    /// Numbers typed in all.
    words: usize,
    /// Saves in all.
    saves: usize,
    /// Texts that are no beginning of what was typed.
    damaged: usize,
    /// Numbers that had been kept, and were not there afterwards.
    kept_words_lost: usize,
    /// Numbers typed after the last time that all was kept, and lost.
    latest_words_lost: usize,
    /// The most of them that one kill took.
    most_at_once: usize,
    /// Numbers that were there after the last kill: whatever the next life does, it must not lose them.
    left: usize,
    /// Kills after which words were offered.
    offered: usize,
}

impl Tally {
    fn add(&mut self, noted: &Noted, book: &Book) {
        let draft = book.open();
        let in_file = count(draft.text());
        let offered: Vec<_> = draft.recovered().into_iter().collect();
        let in_recovery = offered.iter().map(|recovered| count(&recovered.text));
        let texts: Vec<Option<usize>> = std::iter::once(in_file).chain(in_recovery).collect();
        self.damaged += texts.iter().filter(|count| count.is_none()).count();
        let left = texts.into_iter().flatten().max().unwrap_or(0);
        self.offered += offered.len();
        self.words = self.words.max(noted.typed);
        self.saves += noted.saves;
        self.kept_words_lost += noted.kept.max(self.left).saturating_sub(left);
        self.left = left;
        let lost = noted.typed.saturating_sub(left);
        self.latest_words_lost += lost;
        self.most_at_once = self.most_at_once.max(lost);
    }
}

/// How many numbers a text counts up; none where it is not a count.
fn count(text: &str) -> Option<usize> {
    let numbers: Vec<&str> = text.split_terminator(' ').collect();
    let is_whole = text.is_empty() || text.ends_with(' ');
    let is_count = numbers.iter().enumerate().all(|(number, word)| *word == number.to_string());
    (is_whole && is_count).then_some(numbers.len())
}

/// Starts a typist, kills it when its time is over, and reads what it noted.
fn one_life(draft: &Path, life: Duration) -> Noted {
    let mut child = start_typist(draft);
    let output = child.stdout.take().expect("its output is piped");
    let reader = thread::spawn(move || notes(BufReader::new(output)));
    thread::sleep(life);
    child.kill().expect("killed");
    child.wait().expect("ended");
    reader.join().expect("read")
}

fn start_typist(draft: &Path) -> Child {
    let mut command = Command::new(env::current_exe().expect("this program"));
    command.args([
        "--exact",
        "nothing_lost::kills::a_kill_at_any_moment_loses_only_what_was_not_kept_yet",
        "--nocapture",
    ]);
    command.env(TYPIST, draft).stdout(Stdio::piped()).spawn().expect("started")
}

fn notes(output: impl BufRead) -> Noted {
    let mut noted = Noted::default();
    for line in output.lines().map_while(Result::ok) {
        match line.split_once(' ') {
            Some(("typed", count)) => noted.typed = count.parse().unwrap_or(noted.typed),
            Some(("saved", _)) => noted.saves += 1,
            Some(("kept", count)) => noted.kept = count.parse().unwrap_or(noted.kept),
            _ => {}
        }
    }
    noted
}

/// Types as the desk does it: keeps the words when they have waited, saves now and then, never stops.
fn type_until_killed(path: &Path) -> ! {
    let mut draft = open(path).expect("the draft opens");
    let text = all_words(&mut draft);
    let mut typed = count(&text).expect("a count");
    let mut editor = Editor::new(text);
    editor.apply(Action::Move(Motion::TextEnd), &[]);
    note("kept", typed);
    let (mut last, mut steps) = (Instant::now(), 0_u32);
    loop {
        editor.apply(Action::Insert(format!("{typed} ")), &[]);
        typed += 1;
        note("typed", typed);
        thread::sleep(Duration::from_micros(300));
        if last.elapsed() > WAIT {
            steps += 1;
            if steps.is_multiple_of(2) {
                assert_eq!(draft.save(editor.text()).expect("saved"), Saved::Written);
                note("saved", typed);
            } else {
                draft.autosave(editor.text()).expect("kept");
            }
            note("kept", typed);
            last = Instant::now();
        }
    }
}

/// The furthest that the file or the words of any killed desk had come.
fn all_words(draft: &mut OpenDraft) -> String {
    let mut text = draft.text().to_owned();
    while let Some(recovered) = draft.recovered() {
        if recovered.text.len() > text.len() {
            draft.restore(&recovered).expect("restored");
            text = recovered.text;
        } else {
            draft.discard(&recovered);
        }
    }
    text
}

/// One write, so that a kill leaves a whole line or none.
fn note(what: &str, count: usize) {
    let line = format!("{what} {count}\n");
    std::io::stdout().write_all(line.as_bytes()).expect("noted");
}
