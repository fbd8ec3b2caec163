//! The loop of the desk: what happens is taken in its order, and drawn.
//!
//! Two threads wait for keys and for signals; the loop sleeps until one of them says something, takes all that has queued
//! up, and draws once. Nothing ticks while nothing happens, but for a look every ten seconds whether the terminal is there.

use std::io::{self, BufWriter, Stdout};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{
    Event as Input, KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind, read,
};
use crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use crossterm::{execute, queue, style};
use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
use signal_hook::iterator::Signals;

use super::Answer;
use super::desk::Door;
use super::terminal::{self, Modes};
use crate::desk::state::Unpriced;
use crate::desk::{Effect, Event, Outcome, State, settle, update, view};
use crate::files::Error;
use crate::report::tighten::Tighten;

/// Typed words are kept after this long at the latest.
const KEPT_WITHIN: Duration = Duration::from_millis(900);
/// Cuts are priced when nothing was typed for this long.
const CALM: Duration = Duration::from_millis(200);
/// How often the terminal is looked for: crossterm 0.29's reader never says that it is gone.
const LOOK: Duration = Duration::from_secs(10);
/// Two presses within this time are a double one.
const DOUBLE: Duration = Duration::from_millis(400);
/// What is queued up is drawn at the latest after this long.
const FRAME: Duration = Duration::from_millis(32);

type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;

/// What wakes the loop.
enum Message {
    Input(Input),
    Signal(i32),
    /// Something changed in a folder of drafts.
    Disk,
    /// Cuts have their prices.
    Priced(Box<Unpriced>, Box<Tighten>),
    /// The terminal is gone.
    Gone,
}

/// Runs the desk until it is left.
pub(super) fn run(state: State, door: &mut Door, first: Vec<Outcome>, modes: Modes) -> Result<Answer, Error> {
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        terminal::give_back();
        hook(info);
    }));
    // Without colours crossterm 0.29 writes a reset in place of each, which takes bold and underline with it. The theme
    // has none then, so all that is written is meant.
    style::force_color_output(true);
    let ended = Desk::enter(state, door, modes).and_then(|mut desk| desk.stay(first));
    terminal::give_back();
    door.let_go();
    match ended {
        Ok(End::Left) => Ok(Answer::Within),
        // As a shell tells a program that a signal ended.
        Ok(End::Signal(signal)) => std::process::exit(128 + signal),
        Err(error) => {
            Err(Error::new(format!("cannot go on at the desk: {error}; what was not saved is kept beside the draft")))
        }
    }
}

/// How the desk ended.
enum End {
    Left,
    Signal(i32),
}

struct Desk<'a> {
    state: State,
    door: &'a mut Door,
    modes: Modes,
    screen: Screen,
    messages: Receiver<Message>,
    /// Watches the folders of the drafts for as long as it lives.
    watcher: Option<RecommendedWatcher>,
    watched: usize,
    /// When unsaved words have to be kept.
    keep_at: Option<Instant>,
    press: Option<(Instant, u16, u16, u8)>,
    /// Takes drafts whose cuts have to be priced.
    pricing: Sender<Unpriced>,
    /// What it was given last: the path, and the revision of the text.
    asked: Option<(PathBuf, u64)>,
}

impl<'a> Desk<'a> {
    fn enter(state: State, door: &'a mut Door, modes: Modes) -> io::Result<Self> {
        terminal::take(modes)?;
        let (sender, messages) = channel();
        listen(&sender)?;
        let pricing = price_aside(sender.clone());
        let watcher = watcher(sender);
        let screen = Terminal::new(CrosstermBackend::new(BufWriter::with_capacity(1 << 16, io::stdout())))?;
        Ok(Self {
            state,
            door,
            modes,
            screen,
            messages,
            watcher,
            watched: 0,
            keep_at: None,
            press: None,
            pricing,
            asked: None,
        })
    }

    fn stay(&mut self, first: Vec<Outcome>) -> io::Result<End> {
        for outcome in first {
            self.take(Event::Done(outcome))?;
        }
        loop {
            self.watch();
            self.draw()?;
            self.ask_for_prices();
            if let Some(end) = self.wait()? {
                return Ok(end);
            }
        }
    }

    fn draw(&mut self) -> io::Result<()> {
        // On the way to a stop the terminal is the shell's already.
        if !terminal::is_taken() {
            return Ok(());
        }
        // Of several changes of the window one may be told that is over already.
        self.state.size = terminal::size();
        settle(&mut self.state);
        queue!(self.screen.backend_mut(), BeginSynchronizedUpdate)?;
        let state = &self.state;
        self.screen.draw(|frame| view::draw(state, frame))?;
        execute!(self.screen.backend_mut(), EndSynchronizedUpdate)
    }

    /// Has the cuts priced of a text that is another than the last time.
    fn ask_for_prices(&mut self) {
        let Some(unpriced) = self.state.unpriced() else { return };
        let asked = (unpriced.path.clone(), unpriced.key());
        if self.asked.as_ref() != Some(&asked) {
            self.asked = Some(asked);
            // Without the thread there are no prices, and all else goes on.
            drop(self.pricing.send(unpriced));
        }
    }

    /// Sleeps until something happens that changes the screen, and takes all that has queued up.
    fn wait(&mut self) -> io::Result<Option<End>> {
        let (began, mut changed) = (Instant::now(), false);
        let mut typed = String::new();
        loop {
            let next = if changed { self.messages.try_recv().ok() } else { self.sleep() };
            let Some(message) = next else {
                if changed {
                    return self.type_all(&mut typed);
                }
                self.pause()?;
                continue;
            };
            if let Some(letter) = plain_letter(&message) {
                typed.push(letter);
                changed = true;
                continue;
            }
            if let Some(end) = self.type_all(&mut typed)? {
                return Ok(Some(end));
            }
            let (end, draws) = self.hear(message)?;
            if end.is_some() {
                return Ok(end);
            }
            changed |= draws;
            if changed && began.elapsed() > FRAME {
                return Ok(None);
            }
        }
    }

    /// Waits for a message; none where it is time for something else.
    fn sleep(&mut self) -> Option<Message> {
        if self.state.is_at_risk() {
            self.keep_at.get_or_insert_with(|| Instant::now() + KEPT_WITHIN);
        }
        let until = self.keep_at.map_or(LOOK, |at| at.saturating_duration_since(Instant::now()));
        match self.messages.recv_timeout(until) {
            Ok(message) => Some(message),
            Err(RecvTimeoutError::Timeout) => (!terminal::is_there()).then_some(Message::Gone),
            Err(RecvTimeoutError::Disconnected) => Some(Message::Gone),
        }
    }

    /// Has unsaved words kept where it is time.
    fn pause(&mut self) -> io::Result<()> {
        if self.keep_at.is_some_and(|at| at <= Instant::now()) {
            self.keep_at = None;
            self.take(Event::Pause)?;
        }
        Ok(())
    }

    fn type_all(&mut self, typed: &mut String) -> io::Result<Option<End>> {
        let words = std::mem::take(typed);
        let mut letters = words.chars();
        match (letters.next(), letters.next()) {
            (None, _) => Ok(None),
            (Some(letter), None) => self.take(Event::Key(KeyEvent::from(KeyCode::Char(letter)))),
            _ => self.take(Event::Typed(words)),
        }
    }

    /// Takes one message, and tells whether it may have changed what is shown.
    fn hear(&mut self, message: Message) -> io::Result<(Option<End>, bool)> {
        let event = match message {
            Message::Input(Input::Key(key)) => Event::Key(key),
            Message::Input(Input::Paste(words)) => Event::Paste(words),
            Message::Input(Input::Resize(columns, rows)) => Event::Resize(columns, rows),
            Message::Input(Input::Mouse(mouse)) if mouse.kind != MouseEventKind::Moved => {
                let presses = self.presses(mouse);
                Event::Mouse(mouse, presses)
            }
            Message::Input(_) => return Ok((None, false)),
            Message::Signal(SIGTSTP) => {
                self.suspend()?;
                return Ok((None, true));
            }
            Message::Signal(SIGCONT) => {
                self.come_back()?;
                return Ok((None, true));
            }
            Message::Disk => {
                let outcomes = self.door.outside(&self.state);
                let says = !outcomes.is_empty();
                for outcome in outcomes {
                    self.take(Event::Done(outcome))?;
                }
                return Ok((None, says));
            }
            Message::Priced(unpriced, tighten) => {
                let is_latest = self.asked.as_ref() == Some(&(unpriced.path.clone(), unpriced.key()));
                if !is_latest {
                    return Ok((None, false));
                }
                Event::Done(Outcome::Priced(unpriced.path.clone(), unpriced.revision, tighten))
            }
            Message::Signal(signal) => return Ok((Some(self.cut_off(signal)?), true)),
            Message::Gone => return Ok((Some(self.cut_off(SIGHUP)?), true)),
        };
        Ok((self.take(event)?, true))
    }

    /// Keeps what is unsaved, since there is nobody left to ask.
    fn cut_off(&mut self, signal: i32) -> io::Result<End> {
        self.take(Event::Pause)?;
        Ok(End::Signal(signal))
    }

    /// Updates the desk and does what it asks for, until it asks for nothing more.
    fn take(&mut self, event: Event) -> io::Result<Option<End>> {
        let mut effects = update(&mut self.state, event);
        while !effects.is_empty() {
            let mut next = Vec::new();
            for effect in effects {
                match effect {
                    Effect::Leave => {
                        self.door.close();
                        return Ok(Some(End::Left));
                    }
                    Effect::Suspend => terminal::ask_to_stop()?,
                    Effect::Copy(words) => execute!(io::stdout(), CopyToClipboard::to_clipboard_from(words))?,
                    effect => {
                        let outcomes = self.door.perform(&effect, &self.state);
                        let held = matches!(outcomes.as_slice(), [Outcome::Failed(_) | Outcome::ChangedOutside(_), ..]);
                        for outcome in outcomes {
                            next.extend(update(&mut self.state, Event::Done(outcome)));
                        }
                        // What should follow a save does not follow one that failed.
                        if held {
                            break;
                        }
                    }
                }
            }
            effects = next;
        }
        Ok(None)
    }

    fn suspend(&mut self) -> io::Result<()> {
        self.take_pause()?;
        terminal::stop()?;
        self.come_back()
    }

    fn take_pause(&mut self) -> io::Result<()> {
        for effect in update(&mut self.state, Event::Pause) {
            for outcome in self.door.perform(&effect, &self.state) {
                update(&mut self.state, Event::Done(outcome));
            }
        }
        Ok(())
    }

    /// Takes the terminal again and forgets what it shows. `Terminal::clear` would ask it for the cursor's place, and the answer
    /// would go to the thread that reads keys.
    fn come_back(&mut self) -> io::Result<()> {
        terminal::take(self.modes)?;
        let (columns, rows) = terminal::size();
        self.screen.resize(Rect::new(0, 0, columns, rows))
    }

    fn presses(&mut self, mouse: MouseEvent) -> u8 {
        let MouseEvent { kind: MouseEventKind::Down(MouseButton::Left), column, row, .. } = mouse else { return 1 };
        let now = Instant::now();
        let again = self.press.filter(|(at, x, y, _)| now - *at < DOUBLE && (*x, *y) == (column, row));
        let presses = again.map_or(1, |(.., presses)| presses.saturating_add(1));
        self.press = Some((now, column, row, presses));
        presses
    }

    /// Watches the folders of drafts that were opened meanwhile. What cannot be watched is looked at when it is saved.
    fn watch(&mut self) {
        let folders = self.door.folders();
        if let Some(watcher) = self.watcher.as_mut().filter(|_| folders.len() > self.watched) {
            for folder in folders.iter().skip(self.watched) {
                drop(watcher.watch(Path::new(folder), RecursiveMode::NonRecursive));
            }
            self.watched = folders.len();
        }
    }
}

/// A letter that is typed and asks for nothing.
fn plain_letter(message: &Message) -> Option<char> {
    match message {
        Message::Input(Input::Key(KeyEvent { code: KeyCode::Char(letter), modifiers, kind, .. }))
            if *kind != crossterm::event::KeyEventKind::Release && (*modifiers - KeyModifiers::SHIFT).is_empty() =>
        {
            Some(*letter)
        }
        _ => None,
    }
}

/// Starts the threads that wait for keys and for signals.
fn listen(sender: &Sender<Message>) -> io::Result<()> {
    terminal::hold_stops()?;
    let to = sender.clone();
    thread::spawn(move || while terminal::wait_for_stop().is_ok() && to.send(Message::Signal(SIGTSTP)).is_ok() {});
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT])?;
    let to = sender.clone();
    thread::spawn(move || signals.forever().try_for_each(|signal| to.send(Message::Signal(signal))));
    let to = sender.clone();
    thread::spawn(move || {
        while let Ok(input) = read() {
            if to.send(Message::Input(input)).is_err() {
                return;
            }
        }
        // Where nobody listens any more, nobody needs to know.
        drop(to.send(Message::Gone));
    });
    Ok(())
}

/// Starts the thread that prices cuts: of those that come while it waits for a pause in the writing, only the last.
fn price_aside(sender: Sender<Message>) -> Sender<Unpriced> {
    let (pricing, asked) = channel::<Unpriced>();
    thread::spawn(move || {
        while let Ok(mut unpriced) = asked.recv() {
            while let Ok(newer) = asked.recv_timeout(CALM) {
                unpriced = newer;
            }
            let tighten = Box::new(unpriced.priced());
            if sender.send(Message::Priced(Box::new(unpriced), tighten)).is_err() {
                return;
            }
        }
    });
    pricing
}

fn watcher(sender: Sender<Message>) -> Option<RecommendedWatcher> {
    let is_change = |event: &notify::Event| {
        let is_ours =
            |path: &std::path::PathBuf| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("md"));
        !event.kind.is_access() && event.paths.iter().any(is_ours)
    };
    notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if event.is_ok_and(|event| is_change(&event)) {
            drop(sender.send(Message::Disk));
        }
    })
    .ok()
}
