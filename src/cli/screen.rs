//! The loop of the desk: what happens is taken in its order, and drawn.
//!
//! Threads wait for keys, for signals and for the disk; the loop sleeps until one of them says something, takes all
//! that has queued up, and draws once. Nothing ticks while nothing happens.

use std::io::{self, BufWriter, Stdout};
use std::path::Path;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{Event as Input, KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use crossterm::{execute, queue, style};
use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGTSTP};

use super::aside::{self, Autosave, Autosaver, Message, Pricer};
use super::door::{self, Door};
use super::terminal::{self, Modes};
use super::{Answer, fault};
use crate::desk::unpriced::Unpriced;
use crate::desk::{Effect, Event, Outcome, State, settle, update};
use crate::files::Error;
use crate::panes;

/// Typed words go to the recovery file after this long; what the disk takes for it comes on top, and all of it should
/// be within a second.
const AUTOSAVED_WITHIN: Duration = Duration::from_millis(700);
/// Two presses within this time are a double one.
const DOUBLE: Duration = Duration::from_millis(400);
/// What is queued up is drawn at the latest after this long.
const FRAME: Duration = Duration::from_millis(32);

const UNPRICED: &str = "The cuts of this text could not be priced, by a fault of the program; all else goes on.";

type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;

/// Runs the desk until it is left.
pub(super) fn run(state: State, door: &mut Door, first: Vec<Outcome>, modes: Modes) -> Result<Answer, Error> {
    run_by(update, state, door, first, modes)
}

/// What makes the next state of an event.
type Update = fn(&mut State, Event) -> Vec<Effect>;

fn run_by(update: Update, state: State, door: &mut Door, first: Vec<Outcome>, modes: Modes) -> Result<Answer, Error> {
    // Without colours crossterm 0.29 writes a reset in place of each, which takes bold and underline with it. The theme
    // has none then, so all that is written is meant.
    style::force_color_output(true);
    let desk = Desk::enter(update, state, door, modes);
    let ended = desk.map(|mut desk| {
        let ended = fault::caught(|| desk.stay(first));
        let is_left = matches!(ended, Ok(Ok(End::Left)));
        let told = if is_left { String::new() } else { desk.cut_off() };
        desk.autosaver.end();
        // The words are in the recovery file by now, whatever comes of looking for the font.
        let ended = ended.map_err(|fault| fault::of_a_font(&desk.state).unwrap_or_else(|| of_its_own(&fault)));
        (ended, told)
    });
    terminal::give_back();
    door.let_go();
    let (ended, told) = ended.map_err(|error| Error::new(format!("cannot open the desk: {error}")))?;
    let stopped = |why: String| Err(Error::new(format!("{why}; {told}")));
    match ended {
        Ok(Ok(End::Left)) => Ok(Answer::Within),
        // As a shell tells a program that a signal ended.
        Ok(Ok(End::Signal(signal))) => std::process::exit(128 + signal),
        // The first to notice a closed window may be the one who draws.
        Ok(Err(_)) if !terminal::is_there() => std::process::exit(128 + SIGHUP),
        Ok(Err(error)) => stopped(format!("cannot go on at the desk: {error}")),
        Err(why) => stopped(why),
    }
}

fn of_its_own(fault: &str) -> String {
    format!("the desk had to stop at a fault of its own ({fault})")
}

/// How the desk ended.
enum End {
    Left,
    Signal(i32),
}

struct Desk<'a> {
    update: Update,
    state: State,
    door: &'a mut Door,
    modes: Modes,
    screen: Screen,
    messages: Receiver<Message>,
    /// Watches the folders of the drafts for as long as it lives.
    watcher: Option<RecommendedWatcher>,
    watched: usize,
    /// When unsaved words have to go to the recovery file.
    autosave_at: Option<Instant>,
    press: Option<(Instant, u16, u16, u8)>,
    /// Writes unsaved words to where a crash cannot take them.
    autosaver: Autosaver,
    /// Prices the cuts of the draft in front.
    pricer: Pricer,
    /// The draft whose cuts were asked for last.
    asked: Option<Unpriced>,
}

impl<'a> Desk<'a> {
    fn enter(update: Update, state: State, door: &'a mut Door, modes: Modes) -> io::Result<Self> {
        terminal::take(modes)?;
        let (sender, messages) = channel();
        aside::listen(&sender)?;
        let (pricer, autosaver) = (Pricer::start(sender.clone()), Autosaver::start(sender.clone()));
        let watcher = aside::watcher(sender);
        let screen = Terminal::new(CrosstermBackend::new(BufWriter::with_capacity(1 << 16, io::stdout())))?;
        Ok(Self {
            update,
            state,
            door,
            modes,
            screen,
            messages,
            watcher,
            watched: 0,
            autosave_at: None,
            press: None,
            autosaver,
            pricer,
            asked: None,
        })
    }

    fn stay(&mut self, first: Vec<Outcome>) -> io::Result<End> {
        for outcome in first {
            self.happen(Event::Done(outcome))?;
        }
        loop {
            self.watch();
            self.draw()?;
            self.ask_for_prices();
            self.autosave_in_time();
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
        self.screen.draw(|frame| panes::draw(state, frame))?;
        execute!(self.screen.backend_mut(), EndSynchronizedUpdate)
    }

    /// Has the cuts priced of a text that is another than the last time; what is being priced of another is given up.
    fn ask_for_prices(&mut self) {
        let unpriced = self.state.unpriced();
        if self.asked != unpriced {
            self.asked.clone_from(&unpriced);
            self.pricer.price(unpriced);
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
                self.autosave_in_time();
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
        let Some(at) = self.autosave_at else { return Some(self.messages.recv().unwrap_or(Message::Gone)) };
        match self.messages.recv_timeout(at.saturating_duration_since(Instant::now())) {
            Ok(message) => Some(message),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Message::Gone),
        }
    }

    /// Hands over what has to go to the recovery files, once it has waited long enough.
    fn autosave_in_time(&mut self) {
        if self.state.is_at_risk() {
            self.autosave_at.get_or_insert_with(|| Instant::now() + AUTOSAVED_WITHIN);
        }
        if self.autosave_at.is_some_and(|at| at <= Instant::now()) {
            self.autosave_at = None;
            for autosave in self.late() {
                if let Effect::Autosave { draft, text, revision } = autosave
                    && let Some(write) = self.door.queue_autosave(draft, &text)
                {
                    self.autosaver.queue(Autosave { draft, revision, write });
                }
            }
        }
    }

    /// What the desk asks for at a pause: the words that have to go to the recovery files.
    fn late(&mut self) -> Vec<Effect> {
        update(&mut self.state, Event::Pause)
    }

    fn type_all(&mut self, typed: &mut String) -> io::Result<Option<End>> {
        let words = std::mem::take(typed);
        let mut letters = words.chars();
        match (letters.next(), letters.next()) {
            (None, _) => Ok(None),
            (Some(letter), None) => self.happen(Event::Key(KeyEvent::from(KeyCode::Char(letter)))),
            _ => self.happen(Event::Typed(words)),
        }
    }

    /// Takes one message, and tells whether it may have changed what is shown.
    fn hear(&mut self, message: Message) -> io::Result<(Option<End>, bool)> {
        // Most messages are one event; those that are several, or none, or the end, return by themselves.
        let event = match message {
            Message::Input(Input::Key(key)) => Event::Key(key),
            Message::Input(Input::Paste(words)) => Event::Paste(words),
            Message::Input(Input::Resize(columns, rows)) => {
                // The window may be as before by now, and the terminal may have lost what it showed meanwhile.
                self.repaint()?;
                Event::Resize(columns, rows)
            }
            Message::Input(Input::Mouse(mouse)) if mouse.kind != MouseEventKind::Moved => {
                let presses = self.presses(mouse);
                // Of what came before it in one go nothing was drawn, and the mouse is read off the desk as it is.
                self.state.assess();
                let Some(event) = panes::event(&self.state, mouse, presses) else { return Ok((None, true)) };
                event
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
                let outcomes = self.door.outside();
                let says = !outcomes.is_empty();
                for outcome in outcomes {
                    self.happen(Event::Done(outcome))?;
                }
                return Ok((None, says));
            }
            Message::Priced(unpriced, tighten) => {
                // The draft, its text or its type may be another by now, and then these prices are nobody's.
                if self.asked.as_ref() != Some(&*unpriced) {
                    return Ok((None, false));
                }
                Event::Done(tighten.map_or_else(
                    || Outcome::Failed(UNPRICED.to_owned()),
                    |tighten| Outcome::Priced { draft: unpriced.draft, revision: unpriced.revision, tighten },
                ))
            }
            Message::Autosaved { draft, revision, written } => {
                let said = door::autosaved(&written);
                self.happen(Event::Done(Outcome::Autosaved { draft, revision }))?;
                let Some(said) = said else { return Ok((None, false)) };
                Event::Done(said)
            }
            Message::Signal(signal) => return Ok((Some(End::Signal(signal)), true)),
            Message::Gone => return Ok((Some(End::Signal(SIGHUP)), true)),
        };
        Ok((self.happen(event)?, true))
    }

    /// Writes what is unsaved to the recovery files, since there is nobody left to ask, and tells what came of it.
    fn cut_off(&mut self) -> String {
        self.autosave_now()
            .unwrap_or_else(|| "what you typed is kept, and is offered when you open the draft again".to_owned())
    }

    /// Waits for the disk until all is in the recovery files; what is to say of it, if anything went wrong.
    fn autosave_now(&mut self) -> Option<String> {
        let mut failed = None;
        for autosave in self.late() {
            for outcome in self.door.perform(autosave) {
                if let Outcome::Failed(why) = &outcome {
                    failed = Some(why.clone());
                }
                update(&mut self.state, Event::Done(outcome));
            }
        }
        failed
    }

    /// Updates the desk and does what it asks for, until it asks for nothing more.
    fn happen(&mut self, event: Event) -> io::Result<Option<End>> {
        let mut effects = (self.update)(&mut self.state, event);
        while !effects.is_empty() {
            let mut next = Vec::new();
            for effect in effects {
                match effect {
                    Effect::Leave => {
                        self.door.close();
                        return Ok(Some(End::Left));
                    }
                    Effect::Suspend => terminal::ask_to_stop()?,
                    Effect::Copy { words } => execute!(io::stdout(), CopyToClipboard::to_clipboard_from(words))?,
                    effect => {
                        let outcomes = self.door.perform(effect);
                        let stops =
                            |outcome: &Outcome| matches!(outcome, Outcome::Failed(_) | Outcome::ChangedOutside { .. });
                        let held = outcomes.iter().any(stops);
                        for outcome in outcomes {
                            next.extend((self.update)(&mut self.state, Event::Done(outcome)));
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
        self.autosave_now();
        terminal::stop()?;
        self.come_back()
    }

    fn come_back(&mut self) -> io::Result<()> {
        terminal::take(self.modes)?;
        self.repaint()
    }

    /// Forgets what the terminal shows. `Terminal::clear` would ask it for the cursor's place, and the answer would go
    /// to the thread that reads keys.
    fn repaint(&mut self) -> io::Result<()> {
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

#[cfg(all(test, unix))]
mod tests {
    use std::io::Read;
    use std::num::NonZeroU16;
    use std::time::{Duration, Instant};
    use std::{env, fs, thread};

    use portable_pty::{CommandBuilder, PtySize, native_pty_system};
    use vt100::{MouseProtocolMode, Parser};

    use super::{Door, Effect, Event, KeyCode, KeyEvent, Modes, State, run_by, update};
    use crate::desk::theme::{Colours, Letters, Theme};

    /// Tells this test's own program, in the process that has the desk, to be the desk.
    const AT_FAULT: &str = "BLURBWRIGHT_TEST_AT_FAULT";
    const NAME: &str = "cli::screen::tests::a_fault_gives_the_terminal_back_and_keeps_the_words";

    /// The update with a fault in it, behind an exclamation mark.
    fn falls_over(state: &mut State, event: Event) -> Vec<Effect> {
        let is_last = match &event {
            Event::Key(KeyEvent { code, .. }) => *code == KeyCode::Char('!'),
            Event::Typed(words) => words.contains('!'),
            _ => false,
        };
        let effects = update(state, event);
        assert!(!is_last, "the lamp fell over");
        effects
    }

    #[expect(clippy::expect_used, clippy::print_stdout, reason = "a process of its own, which tells how it ended")]
    fn be_the_desk() {
        let theme = Theme::new(Colours::Sixteen, Letters::Unicode);
        let (mut door, state, first) = Door::set_up(&[], None, theme).expect("the book opens");
        let ended = run_by(falls_over, state, &mut door, first, Modes { mouse: true });
        println!("{}", ended.expect_err("a fault"));
    }

    #[test]
    fn a_fault_gives_the_terminal_back_and_keeps_the_words() {
        if env::var_os(AT_FAULT).is_some() {
            return be_the_desk();
        }
        let folder = tempfile::tempdir().unwrap();
        for name in ["brief.yaml", "first.md"] {
            fs::copy(format!("drafts/{name}"), folder.path().join(name)).unwrap();
        }
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let settings = || pair.master.get_termios().map(|settings| format!("{settings:?}"));
        let before = settings();
        let mut command = CommandBuilder::new(env::current_exe().unwrap());
        command.args(["--exact", NAME, "--nocapture"]);
        command.cwd(folder.path());
        command.env(AT_FAULT, "1");
        command.env("TERM", "xterm-256color");
        let mut child = pair.slave.spawn_command(command).unwrap();
        let (mut reader, mut writer) = (pair.master.try_clone_reader().unwrap(), pair.master.take_writer().unwrap());
        let (cells, mut buffer) = (|count| NonZeroU16::new(count).unwrap(), [0; 4096]);
        let mut parser = Parser::new(cells(24), cells(80), 0);
        let mut until = |words: &str| {
            let end = Instant::now() + Duration::from_secs(60);
            while !parser.screen().contents().contains(words) {
                assert!(Instant::now() < end, "waited for {words}:\n{}", parser.screen().contents());
                let length = reader.read(&mut buffer).unwrap();
                parser.process(&buffer[..length]);
            }
            let screen = parser.screen();
            (screen.alternate_screen(), screen.bracketed_paste(), screen.hide_cursor(), screen.mouse_protocol_mode())
        };
        assert_eq!(until("Ctrl-Q leave"), (true, true, false, MouseProtocolMode::AnyMotion));
        assert_ne!(settings(), before, "the desk's own settings");
        for letter in b"Gone but kept!" {
            writer.write_all(&[*letter]).unwrap();
            thread::sleep(Duration::from_millis(3));
        }
        assert_eq!(until("test result: ok"), (false, false, false, MouseProtocolMode::None));
        assert!(child.wait().unwrap().success());
        assert_eq!(settings(), before);
        let kept = fs::read_to_string(folder.path().join(".first.md.recovery")).unwrap();
        assert!(kept.contains("\nGone but kept!# The light"), "{kept}");
        let screen = parser.screen().contents();
        assert!(screen.contains("fault of its own (the lamp fell over"), "{screen}");
        assert!(screen.replace('\n', "").contains("is offered when you open the draft again"), "{screen}");
    }
}
