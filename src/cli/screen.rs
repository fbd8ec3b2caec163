//! The loop of the desk: takes events in their order, and draws.
//!
//! Threads wait for keys, for calls of the system and for the disk. The loop sleeps until one of them sends a message,
//! takes all messages that have queued up, and draws once. There is no timer while nothing happens.

use std::collections::BTreeSet;
use std::io::{self, BufWriter, Stdout};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError};
use std::time::{Duration, Instant};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{Event as Input, KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use crossterm::style::Print;
use crossterm::terminal::{BeginSynchronizedUpdate, Clear, ClearType, EndSynchronizedUpdate};
use crossterm::{execute, queue, style};
use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;

use super::aside::{self, ArtReader, Autosave, Autosaver, Ears, ListWish, Lister, Message, Pricer};
use super::door::{self, Door};
use super::graphics::Graphics;
use super::{Answer, fault};
use crate::desk::unpriced::Unpriced;
use crate::desk::{Effect, Event, Outcome, State, settle, update};
use crate::files::Error;
use crate::panes;
use crate::system::{self, Call, HUNG_UP};
use crate::terminal::answers::{self, TerminalAnswer};
use crate::terminal::{self, Modes, Wanted};

/// Typed words go to the recovery file after this long. The time that the disk takes is added, and the whole should
/// stay within a second.
const AUTOSAVED_WITHIN: Duration = Duration::from_millis(700);
/// Two clicks within this time are a double click.
const DOUBLE: Duration = Duration::from_millis(400);
/// While messages keep queuing up, the screen is drawn at least this often.
const FRAME: Duration = Duration::from_millis(32);

const TOO_SLOW: &str = "This terminal is slow to take pictures in, so the panel is drawn in signs again.";
const UNPRICED: &str = "The cuts of this text could not be priced, by a fault of the program; all else goes on.";

type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;

/// Runs the desk until it is left.
pub(super) fn run(
    state: State,
    door: &mut Door,
    first: Vec<Outcome>,
    modes: Modes,
    ears: &Ears,
) -> Result<Answer, Error> {
    run_by(update, state, door, first, (modes, ears))
}

/// The function that applies one event to the state and returns the effects that it asks for.
type Update = fn(&mut State, Event) -> Vec<Effect>;

fn run_by(
    update: Update,
    state: State,
    door: &mut Door,
    first: Vec<Outcome>,
    (modes, ears): (Modes, &Ears),
) -> Result<Answer, Error> {
    // When told to avoid colours, crossterm 0.29 writes a reset for each colour, which also removes bold and underline.
    // The theme has no colours in that case, so every style that is written is meant.
    style::force_color_output(true);
    let desk = Desk::enter(update, state, door, (modes, ears));
    let ended = desk.map(|mut desk| {
        let ended = fault::caught(|| desk.stay(first));
        let is_left = matches!(ended, Ok(Ok(End::Left)));
        let told = if is_left { String::new() } else { desk.cut_off() };
        desk.autosaver.end();
        ears.rest(desk.messages);
        // Unsaved words are in the recovery file by now, whatever the search for a faulty font may do.
        let ended = ended.map_err(|fault| fault::of_a_font(&desk.state).unwrap_or_else(|| of_its_own(&fault)));
        (ended, told)
    });
    terminal::give_back();
    door.let_go();
    let (ended, told) = ended.map_err(|error| Error::new(format!("cannot open the desk: {error}")))?;
    let stopped = |why: String| Err(Error::new(format!("{why}; {told}")));
    match ended {
        Ok(Ok(End::Left)) => Ok(Answer::Within),
        Ok(Ok(End::Called(status))) => std::process::exit(status),
        // A closed window may be noticed first by a failing write to the screen.
        Ok(Err(_)) if !terminal::is_there() => std::process::exit(HUNG_UP),
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
    /// The system has ended it; with the exit status.
    Called(i32),
}

struct Desk<'a> {
    update: Update,
    state: State,
    door: &'a mut Door,
    modes: Modes,
    screen: Screen,
    messages: Receiver<Message>,
    /// Watches the folders of the book; dropping the value stops the watching.
    watcher: Option<RecommendedWatcher>,
    watched: BTreeSet<PathBuf>,
    /// When unsaved words are due to go to the recovery file.
    autosave_at: Option<Instant>,
    press: Option<(Instant, u16, u16, u8)>,
    /// Writes unsaved words to recovery files, so that a crash cannot lose them.
    autosaver: Autosaver,
    /// Prices the cuts of the draft in front.
    pricer: Pricer,
    /// Reads the art that the brief names.
    art: ArtReader,
    /// Looks at the drafts of the list.
    lister: Lister,
    /// The request for prices that was sent last.
    asked: Option<Unpriced>,
    /// The faces that the terminal shows as pictures.
    graphics: Graphics,
}

impl<'a> Desk<'a> {
    fn enter(update: Update, state: State, door: &'a mut Door, (modes, ears): (Modes, &Ears)) -> io::Result<Self> {
        terminal::take(modes)?;
        let (sender, messages) = ears.turn_here();
        let is_asked = modes.pictures != Wanted::Nothing;
        if is_asked {
            // A terminal that does not know a question may print it.
            let questions = answers::questions(modes.pictures == Wanted::Asked);
            execute!(io::stdout(), Print(questions), Clear(ClearType::All))?;
        }
        let graphics = Graphics::new(modes, sender.clone());
        let (pricer, autosaver) = (Pricer::start(sender.clone()), Autosaver::start(sender.clone()));
        let (art, lister) = (ArtReader::start(sender.clone()), Lister::start(sender.clone()));
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
            watched: BTreeSet::new(),
            autosave_at: None,
            press: None,
            autosaver,
            pricer,
            art,
            lister,
            asked: None,
            graphics,
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
        // While the desk is being stopped, the terminal belongs to the shell already.
        if !terminal::is_taken() {
            return Ok(());
        }
        // After several resizes in a row a message may carry a size that is out of date, so the size is asked for
        // again.
        self.state.size = terminal::size();
        settle(&mut self.state);
        queue!(self.screen.backend_mut(), BeginSynchronizedUpdate)?;
        let state = &self.state;
        self.graphics.prepare(state, self.screen.backend_mut())?;
        self.screen.draw(|frame| {
            panes::draw(state, frame);
            self.graphics.cover(frame.buffer_mut());
        })?;
        execute!(self.screen.backend_mut(), EndSynchronizedUpdate)
    }

    /// Asks for the prices of the cuts when the text in front differs from the last request; pricing of the earlier
    /// text is abandoned.
    fn ask_for_prices(&mut self) {
        let unpriced = self.state.unpriced();
        if self.asked != unpriced {
            self.asked.clone_from(&unpriced);
            self.pricer.price(unpriced);
        }
    }

    /// Sleeps until something happens that changes the screen, and takes all messages that have queued up.
    fn wait(&mut self) -> io::Result<Option<End>> {
        let (began, mut changed) = (Instant::now(), false);
        let mut typed = String::new();
        loop {
            let next = if changed { self.messages.try_recv().ok() } else { self.sleep()? };
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

    /// Waits for a message; none once unsaved words are due. While no message waits, pictures go to the terminal.
    fn sleep(&mut self) -> io::Result<Option<Message>> {
        while self.graphics.has_to_send() {
            match self.messages.try_recv() {
                Ok(message) => return Ok(Some(message)),
                Err(TryRecvError::Disconnected) => return Ok(Some(Message::Gone)),
                Err(TryRecvError::Empty) => self.graphics.send(self.screen.backend_mut())?,
            }
        }
        let due = [self.autosave_at, self.graphics.due()].into_iter().flatten().min();
        let Some(at) = due else { return Ok(Some(self.messages.recv().unwrap_or(Message::Gone))) };
        Ok(match self.messages.recv_timeout(at.saturating_duration_since(Instant::now())) {
            Ok(message) => Some(message),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Message::Gone),
        })
    }

    /// Hands the words to the autosaver once they are due.
    fn autosave_in_time(&mut self) {
        if self.state.is_at_risk() {
            self.autosave_at.get_or_insert_with(|| Instant::now() + AUTOSAVED_WITHIN);
        }
        if self.autosave_at.is_some_and(|at| at <= Instant::now()) {
            self.autosave_at = None;
            for autosave in self.late() {
                let (outcome, write) = match autosave {
                    Effect::Autosave { draft, text, revision } => {
                        (Outcome::Autosaved { draft, revision }, self.door.queue_autosave(draft, &text))
                    }
                    Effect::AutosaveBrief { changes, revision } => {
                        let (write, has_some) = self.door.queue_brief(&changes);
                        (Outcome::BriefAutosaved { revision, has_some }, write)
                    }
                    Effect::AutosaveMended { text } => {
                        let write = self.door.queue_mended(text.clone());
                        (Outcome::MendedAutosaved { text }, write)
                    }
                    _ => continue,
                };
                match write {
                    Some(write) => self.autosaver.queue(Autosave { outcome, write }),
                    None => drop(update(&mut self.state, Event::Done(outcome))),
                }
            }
        }
    }

    /// The effects of a pause: the words that have to go to the recovery files.
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

    /// Takes one message. Returns the end of the desk if it ends, and whether the screen may have changed.
    fn hear(&mut self, message: Message) -> io::Result<(Option<End>, bool)> {
        // Most messages become one event; the others return early.
        let event = match message {
            Message::Input(Input::Key(key)) => Event::Key(key),
            Message::Input(Input::Paste(words)) => Event::Paste(words),
            Message::Input(Input::Resize(columns, rows)) => {
                // The size may be back to what it was, but the terminal may have lost its content meanwhile.
                self.repaint()?;
                Event::Resize(columns, rows)
            }
            Message::Input(Input::Mouse(mouse)) if mouse.kind != MouseEventKind::Moved => {
                let presses = self.presses(mouse);
                // Events taken in the same batch have not been drawn yet, and the mouse is located on the current
                // layout.
                self.state.assess();
                let Some(event) = panes::event(&self.state, mouse, presses) else { return Ok((None, true)) };
                event
            }
            Message::Input(_) => return Ok((None, false)),
            Message::Call(Call::Stop) => {
                self.suspend()?;
                return Ok((None, true));
            }
            // Another size is told as a resize.
            Message::Call(Call::Continued | Call::Resized) => {
                self.come_back()?;
                return Ok((None, true));
            }
            Message::Answer(answer) => {
                if self.graphics.hear(answer, self.state.size) {
                    self.happen(Event::Done(Outcome::Said(TOO_SLOW.to_owned())))?;
                }
                // Whether pictures are shown is known with the last answer.
                return Ok((None, !matches!(answer, TerminalAnswer::Ready) || !self.graphics.shows_pictures()));
            }
            Message::Painted(painted) => {
                self.graphics.take(painted);
                return Ok((None, false));
            }
            Message::Disk => {
                // A folder that was missing may be there now, and what is in it is looked at after that.
                self.watch();
                let outcomes = self.door.outside();
                let says = !outcomes.is_empty();
                for outcome in outcomes {
                    self.happen(Event::Done(outcome))?;
                }
                return Ok((None, says));
            }
            // Of books that were still being measured when the desk was opened.
            Message::BookMeasured(..) => return Ok((None, false)),
            Message::Priced(unpriced, tighten) => {
                // The draft, its text or its type may have changed since the request; prices that no longer match it
                // are dropped.
                if self.asked.as_ref() != Some(&*unpriced) {
                    return Ok((None, false));
                }
                Event::Done(tighten.map_or_else(
                    || Outcome::Failed(UNPRICED.to_owned()),
                    |tighten| Outcome::Priced { draft: unpriced.draft, revision: unpriced.revision, tighten },
                ))
            }
            Message::Listed(draft, facts) => Event::Done(Outcome::Listed { draft, facts }),
            Message::ArtRead(file, read) => Event::Done(door::art_read(file, read)),
            Message::Autosaved { outcome, written } => {
                let said = door::autosaved(&written);
                self.happen(Event::Done(*outcome))?;
                let Some(said) = said else { return Ok((None, false)) };
                Event::Done(said)
            }
            Message::Call(Call::End(status)) => return Ok((Some(End::Called(status)), true)),
            Message::Gone => return Ok((Some(End::Called(HUNG_UP)), true)),
        };
        Ok((self.happen(event)?, true))
    }

    /// Writes unsaved words to the recovery files because the author can no longer be asked. Returns a sentence on the
    /// result.
    fn cut_off(&mut self) -> String {
        self.autosave_now()
            .unwrap_or_else(|| "what you typed is kept, and is offered when you open the draft again".to_owned())
    }

    /// Writes all unsaved words to the recovery files and waits for the disk; the result is the last failure, if any.
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

    /// Applies an event, performs the effects that it asks for, and goes on until none is left.
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
                    Effect::ReadArt { brief } => {
                        if let Some(wish) = self.door.art_wish(brief) {
                            self.art.ask(wish);
                        }
                    }
                    Effect::ListDrafts { drafts, by } if self.door.has_files() => {
                        self.lister.ask(ListWish { drafts, by });
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
                        // If a save fails, the effects that were to follow it (such as leaving) are dropped.
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

    /// Makes the next drawing a full one. `Terminal::clear` would ask the terminal for the cursor's position, and the
    /// thread that reads keys would receive the answer.
    fn repaint(&mut self) -> io::Result<()> {
        self.graphics.start_anew(self.screen.backend_mut())?;
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

    /// Watches the folders that are not watched yet. What is in a folder that cannot be watched is looked at when a
    /// draft is saved.
    fn watch(&mut self) {
        let Some(watcher) = &mut self.watcher else { return };
        for folder in self.door.folders().difference(&self.watched.clone()) {
            if watcher.watch(&system::of_any_length(folder), RecursiveMode::NonRecursive).is_ok() {
                self.watched.insert(folder.clone());
            }
        }
    }
}

/// The letter of a key press that only types; none for a key that has another meaning.
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

    use super::{Door, Ears, Effect, Event, KeyCode, KeyEvent, Modes, State, Wanted, run_by, update};
    use crate::desk::theme::{Colours, Letters, Theme};

    /// Set in the environment of a child process of this test: tells it to run the desk instead of starting another
    /// child.
    const AT_FAULT: &str = "BLURBWRIGHT_TEST_AT_FAULT";
    const NAME: &str = "cli::screen::tests::a_fault_gives_the_terminal_back_and_keeps_the_words";

    /// An `update` that panics once an exclamation mark was typed.
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
        let ears = Ears::open(false).expect("the threads start");
        let ended = run_by(
            falls_over,
            state,
            &mut door,
            first,
            (Modes { mouse: true, pictures: Wanted::Nothing, is_afar: false }, &ears),
        );
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
