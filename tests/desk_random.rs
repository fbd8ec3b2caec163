//! The desk under keys, pastes, sizes of the screen and a mouse that are drawn by lot: no event is a fault, none hangs,
//! and nothing is written but what a key or a click asked for, beside the drafts.
//!
//! `BLURBWRIGHT_SEEDS` asks for other seeds than the first ones: `2000` for so many, `5..6` for some.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it cannot go on, and tells which seed that was and how many there were"
)]

use std::collections::{BTreeMap, HashMap};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, Instant};

use blurbwright::brief::Brief;
use blurbwright::briefing::rewrite::rewritten;
use blurbwright::desk::event::CopyUse;
use blurbwright::desk::papers::{ListedCopy, PaperFacts};
use blurbwright::desk::theme::Letters;
use blurbwright::desk::{DraftId, Effect, Event, Outcome, State, settle, update};
use blurbwright::editor::mending::MendedText;
use blurbwright::panes;
use blurbwright::setting::Faces;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

use super::desk_harness::{BRIEF, DRAFT, desk_with, drawn};
use super::random::Random;
use super::tried::tried;

/// Seeds that are tried in all, of which a share is usual.
const SEEDS: u32 = 24;
/// Events of a seed.
const EVENTS: u64 = 120;
/// How long one event may take: far longer than any does in a build for finding faults on a busy machine.
const LONGEST: Duration = Duration::from_secs(60);

/// Words as they are typed and pasted: copy, marks of the form, letters of two cells or none, what no terminal shows.
const WORDS: [&str; 14] = [
    "The light is out. ",
    "# Headline\n\n",
    "> \"A quote.\"\n> — Ida Voss, The Harbour Post\n",
    "## Note on the author\n\n",
    "<!-- who: Oona -->",
    "One line,\\\nanother line,\\\nthe third.\n",
    "日本 👩\u{200d}👧 e\u{301} ",
    "\r\n\t\u{1b}[31m\u{0}\u{202e}",
    "**bold *and* slanted** ",
    "magical journey",
    "limits: { words: 40..60 }",
    "11.5 pt",
    "  \n\n\n",
    "Unglückseligkeitenverwaltungsgebäude ",
];
const SIZES: [(u16, u16); 9] =
    [(0, 0), (1, 1), (39, 11), (40, 12), (80, 24), (100, 30), (120, 40), (200, 60), (300, 20)];
const CODES: [KeyCode; 15] = [
    KeyCode::Enter,
    KeyCode::Enter,
    KeyCode::Esc,
    KeyCode::Tab,
    KeyCode::BackTab,
    KeyCode::Up,
    KeyCode::Down,
    KeyCode::Left,
    KeyCode::Right,
    KeyCode::Home,
    KeyCode::End,
    KeyCode::PageUp,
    KeyCode::PageDown,
    KeyCode::Backspace,
    KeyCode::Delete,
];

fn seeds() -> Range<u64> {
    let asked = std::env::var("BLURBWRIGHT_SEEDS").ok().and_then(|asked| match asked.split_once("..") {
        Some((from, to)) => Some(from.parse().ok()?..to.parse().ok()?),
        None => Some(1..asked.parse::<u64>().ok()? + 1),
    });
    asked.unwrap_or(1..u64::from(tried(SEEDS)) + 1)
}

/// Names the seed of a fault, which another test than this one would take for its own.
struct Seed(u64);

impl Drop for Seed {
    fn drop(&mut self) {
        if thread::panicking() {
            eprintln!("BLURBWRIGHT_SEEDS={}..{} finds it again", self.0, self.0 + 1);
        }
    }
}

/// A disk in memory, with the drafts and the brief of a book.
struct Disk {
    drafts: BTreeMap<PathBuf, String>,
    open: HashMap<DraftId, PathBuf>,
    brief: String,
    /// The brief with changes that an earlier desk has not written.
    left: String,
}

impl Disk {
    /// Whether an effect changes what an author would call a file; what is kept against a crash is none.
    fn writes(effect: &Effect) -> Option<PathBuf> {
        match effect {
            Effect::Create { path, .. } | Effect::Double { path, .. } | Effect::SaveAs { path, .. } => {
                Some(path.clone())
            }
            Effect::WriteProof { path, .. } | Effect::KeepCopy { path, .. } => Some(path.clone()),
            Effect::Rename { to, .. } => Some(to.clone()),
            Effect::Save { .. } | Effect::SaveAnyway { .. } => Some(PathBuf::new()),
            Effect::WriteBrief { .. } | Effect::MendBrief { .. } => Some(PathBuf::new()),
            _ => None,
        }
    }

    fn opened(&mut self, draft: DraftId, path: &Path) -> Outcome {
        let text = self.drafts.entry(path.to_path_buf()).or_default().clone();
        self.open.insert(draft, path.to_path_buf());
        Outcome::Opened { draft, path: path.to_path_buf(), text, said: Vec::new() }
    }

    fn read_brief(&self) -> Option<Box<Brief>> {
        Brief::read(&self.brief, Path::new("")).ok().map(Box::new)
    }

    /// What becomes of an effect.
    fn perform(&mut self, effect: Effect, random: &mut Random) -> Vec<Outcome> {
        match effect {
            Effect::Save { draft, .. } if random.below(8) == 0 => vec![Outcome::ChangedOutside { draft }],
            Effect::Save { draft, content } | Effect::SaveAnyway { draft, content } => {
                if let Some(path) = self.open.get(&draft) {
                    self.drafts.insert(path.clone(), content.text.clone());
                }
                vec![Outcome::Saved { draft, text: content.text }]
            }
            Effect::SaveAs { draft, content, new, path } => {
                self.drafts.insert(path.clone(), content.text);
                vec![self.opened(new, &path), Outcome::PutAway { draft }]
            }
            Effect::Autosave { draft, revision, .. } => vec![Outcome::Autosaved { draft, revision }],
            Effect::AutosaveBrief { changes, revision } => {
                vec![Outcome::BriefAutosaved { revision, has_some: !changes.is_empty() }]
            }
            Effect::AutosaveMended { text } => vec![Outcome::MendedAutosaved { text }],
            Effect::AcceptBrief => {
                let brief = Brief::read(&self.left, Path::new("")).expect("a brief");
                vec![Outcome::NamedRead { brief: Box::new(brief), faces: Faces::built_in() }]
            }
            Effect::MendBrief { text, .. } => {
                self.brief = text;
                vec![match self.read_brief() {
                    Some(brief) => Outcome::BriefMended { brief, faces: Faces::built_in() },
                    None => self.brief_again(),
                }]
            }
            Effect::KeepCopy { path, .. } => vec![Outcome::Kept { of: path, copy: copy() }],
            Effect::Open { draft, path } | Effect::Create { draft, path } => vec![self.opened(draft, &path)],
            Effect::Reread { draft } => {
                let text = self.open.get(&draft).and_then(|path| self.drafts.get(path)).cloned().unwrap_or_default();
                vec![Outcome::Reread { draft, text }]
            }
            Effect::LookAt { draft, path } => {
                let text = self.drafts.get(&path).cloned().unwrap_or_default();
                vec![Outcome::LookedAt { draft, text }]
            }
            Effect::ListDrafts { drafts, by } => {
                let facts = |path: &PathBuf| PaperFacts {
                    figures: self.drafts.get(path).map(|text| by.figures(text)),
                    copies: vec![copy()],
                    ..PaperFacts::default()
                };
                let listed = |(draft, path): &(_, _)| Outcome::Listed { draft: *draft, facts: Box::new(facts(path)) };
                drafts.iter().map(listed).collect()
            }
            Effect::ReadCopy { of, copy, what_for } => {
                vec![Outcome::CopyRead { of, copy, text: "As it was.\n".to_owned(), what_for }]
            }
            Effect::OpenByPath { .. } => vec![Outcome::NotOpened { why: "There is no such file.".to_owned() }],
            Effect::Double { text, new, path, .. } => {
                self.drafts.insert(path.clone(), text.unwrap_or_default());
                vec![self.opened(new, &path)]
            }
            Effect::Rename { draft, from, to } => {
                let text = self.drafts.remove(&from).unwrap_or_default();
                self.drafts.insert(to.clone(), text);
                self.open.insert(draft, to.clone());
                vec![Outcome::Renamed { draft, path: to }]
            }
            Effect::WriteProof { path, .. } => vec![Outcome::Said(format!("The proof is in {}.", path.display()))],
            Effect::WriteBrief { changes, .. } => match rewritten(&self.brief, &changes) {
                Ok(text) if Brief::read(&text, Path::new("")).is_ok() => {
                    self.brief = text;
                    let brief = self.read_brief().expect("read a moment ago");
                    vec![Outcome::BriefWritten { brief, faces: Faces::built_in() }]
                }
                _ => vec![Outcome::Failed("Another program has changed it.".to_owned())],
            },
            Effect::ReadNamed { .. } => vec![Outcome::Failed("There is no such file.".to_owned())],
            Effect::ReadStory { typed, .. } if typed.is_empty() => {
                vec![Outcome::StoryRead { words: vec![("lamp".to_owned(), 9), ("gull".to_owned(), 4)] }]
            }
            Effect::ReadStory { .. } => vec![Outcome::NoStory { why: "There is no such file.".to_owned() }],
            Effect::OfferRecovered { draft } => vec![Outcome::Recovered { draft, text: "Kept.\n".to_owned() }],
            Effect::AcceptRecovered { .. } | Effect::DropRecovered { .. } | Effect::DropBrief => Vec::new(),
            Effect::Copy { .. } | Effect::ReadArt { .. } | Effect::Suspend | Effect::Leave => Vec::new(),
        }
    }

    /// The brief as the desk learns of it when its file is another.
    fn brief_again(&self) -> Outcome {
        match self.read_brief() {
            Some(brief) => Outcome::BriefChanged { brief, faces: Faces::built_in() },
            None => Outcome::BriefUnread(Box::new(MendedText::new(self.brief.clone(), Some(3), "Mend it.".to_owned()))),
        }
    }
}

fn copy() -> ListedCopy {
    ListedCopy { path: PathBuf::from("kept/first/2026-11-25-1410.md"), record: Default::default() }
}

/// An event that is drawn by lot, and whether the author asks for something by it: a key or a click.
fn event(state: &State, disk: &mut Disk, random: &mut Random) -> (Option<Event>, bool) {
    let words = |random: &mut Random| WORDS[random.place(WORDS.len())].to_owned();
    let draft = state.front;
    match random.below(40) {
        0..=11 => {
            let letters: Vec<char> = "abcdefhklmnopqrstuwx .,;+-<>/09é日".chars().collect();
            (Some(Event::Key(KeyCode::Char(letters[random.place(letters.len())]).into())), true)
        }
        12..=20 => {
            let (code, shift) = (CODES[random.place(CODES.len())], random.below(6) == 0);
            let modifiers = if shift { KeyModifiers::SHIFT } else { KeyModifiers::NONE };
            (Some(Event::Key(KeyEvent::new(code, modifiers))), true)
        }
        21..=24 => (Some(Event::Key(KeyCode::F(random.below(12) as u8 + 1).into())), true),
        25..=28 => {
            let letter = char::from(b'a' + random.below(26) as u8);
            let modifiers = if random.below(4) == 0 { KeyModifiers::ALT } else { KeyModifiers::CONTROL };
            (Some(Event::Key(KeyEvent::new(KeyCode::Char(letter), modifiers))), true)
        }
        // Letters that come in a batch are keys too.
        29 => (Some(Event::Typed(words(random).replace(['\n', '\r', '\t', '\u{1b}', '\u{0}'], ""))), true),
        30 => (Some(Event::Paste(words(random).repeat(random.below(20) as usize))), false),
        31 => {
            let (columns, rows) = match random.below(3) {
                0 => SIZES[random.place(SIZES.len())],
                _ => (random.below(230) as u16, random.below(70) as u16),
            };
            (Some(Event::Resize(columns, rows)), false)
        }
        32..=36 => {
            let kinds = [
                MouseEventKind::Down(MouseButton::Left),
                MouseEventKind::Down(MouseButton::Left),
                MouseEventKind::Drag(MouseButton::Left),
                MouseEventKind::ScrollUp,
                MouseEventKind::ScrollDown,
            ];
            let kind = kinds[random.place(kinds.len())];
            let (column, row) = (random.below(230) as u16, random.below(70) as u16);
            let mouse = MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE };
            (panes::event(state, mouse, random.below(3) as u8 + 1), matches!(kind, MouseEventKind::Down(_)))
        }
        37 => (Some(Event::Pause), false),
        _ => {
            let outcome = match random.below(7) {
                0 => Outcome::Recovered { draft, text: words(random) },
                1 => Outcome::BriefRecovered { here: disk.brief.clone(), kept: disk.left.clone() },
                2 => {
                    let broken = [BRIEF, "book:\n\t- titel: [\n", "panel: { trim: 8 x 8 in }\n"];
                    disk.brief = broken[random.place(broken.len())].to_owned();
                    disk.brief_again()
                }
                3 => Outcome::WrittenOutside { draft },
                4 => Outcome::Said(words(random)),
                5 => Outcome::CopyRead { of: draft, copy: copy(), text: words(random), what_for: CopyUse::Back },
                _ => Outcome::HasRecovered { draft },
            };
            (Some(Event::Done(outcome)), false)
        }
    }
}

/// Plays a seed, with a draw after each event.
fn play(seed: u64) {
    let _named = Seed(seed);
    let mut random = Random(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
    let letters = if random.below(4) == 0 { Letters::Ascii } else { Letters::Unicode };
    let mut state = desk_with(DRAFT, SIZES[random.place(SIZES.len())], letters);
    let drafts = [("first.md", DRAFT), ("second.md", include_str!("../drafts/second.md")), ("third.md", "Oona.\n")];
    let mut disk = Disk {
        drafts: drafts.iter().map(|(name, text)| (PathBuf::from(name), (*text).to_owned())).collect(),
        open: HashMap::from([(state.front, PathBuf::from("first.md"))]),
        brief: BRIEF.to_owned(),
        left: BRIEF.replace("40..100", "40..90"),
    };
    for number in 0..EVENTS {
        let (event, is_asked) = event(&state, &mut disk, &mut random);
        let Some(event) = event else { continue };
        let (told, began) = (format!("{event:?}"), Instant::now());
        let mut effects = update(&mut state, event);
        while let Some(effect) = effects.pop() {
            if let Some(path) = Disk::writes(&effect) {
                assert!(is_asked, "event {number}, {told}, wrote by itself: {effect:?}");
                let is_beside = path.parent().is_none_or(|folder| folder.as_os_str().is_empty());
                assert!(is_beside || matches!(effect, Effect::WriteProof { .. }), "{number}: {effect:?}");
            }
            for outcome in disk.perform(effect, &mut random) {
                effects.extend(update(&mut state, Event::Done(outcome)));
            }
        }
        settle(&mut state);
        if let Some(sheet) = state.sheet() {
            let (text, cursor) = (sheet.editor.text(), sheet.editor.cursor());
            assert!(text.is_char_boundary(cursor), "event {number}, {told}: the cursor is in a letter");
        }
        drawn(&mut state);
        assert!(began.elapsed() < LONGEST, "event {number}, {told}, took {:?}", began.elapsed());
    }
}

#[test]
fn random_events_are_no_fault_and_write_nothing_that_was_not_asked_for() {
    let seeds = seeds();
    let began = Instant::now();
    for seed in seeds.clone() {
        play(seed);
    }
    println!("{} seeds of {EVENTS} events in {:.0} s", seeds.end - seeds.start, began.elapsed().as_secs_f64());
}
