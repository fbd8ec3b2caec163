//! A program in a pseudo-terminal: its keys pressed, its screen read.

use std::fs;
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use tempfile::TempDir;
use vt100::{MouseProtocolMode, Parser, Screen};

/// A machine that is busy with other tests is slow.
pub(crate) const PATIENCE: Duration = Duration::from_secs(30);

/// A folder with the drafts of the sample book, in one column.
pub(crate) fn book() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy("tests/data/one_column.yaml", folder.path().join("brief.yaml")).expect("a copy");
    for name in ["first.md", "second.md"] {
        fs::copy(PathBuf::from("drafts").join(name), folder.path().join(name)).expect("a copy");
    }
    folder
}

type Writer = Box<dyn Write + Send>;

/// A program in a pseudo-terminal.
pub(crate) struct Desk {
    parser: Arc<Mutex<Parser>>,
    raw: Arc<Mutex<Vec<u8>>>,
    writer: Writer,
    master: Option<Box<dyn MasterPty + Send>>,
    /// The terminal's settings before the program was started.
    settings: String,
    /// Reads what is written to the terminal until the second is true.
    reader: Option<JoinHandle<()>>,
    is_over: Arc<AtomicBool>,
    child: Box<dyn Child + Send + Sync>,
}

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count.max(1)).expect("a screen has cells")
}

fn pty(columns: u16, rows: u16) -> PtySize {
    PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 }
}

fn settings(master: &dyn MasterPty) -> String {
    format!("{:?}", master.get_termios())
}

impl Desk {
    pub(crate) fn open(book: &TempDir, columns: u16, rows: u16) -> Self {
        let mut desk = Self::open_with(book, &["desk"], columns, rows);
        // As terminals do that show no pictures; until then what may be an answer is waited for.
        desk.keys(b"\x1b[?1;2c");
        desk.settle();
        desk
    }

    /// On a terminal that is asked nothing, so that nothing is waited for.
    pub(crate) fn unasked(book: &TempDir, columns: u16, rows: u16) -> Self {
        Self::open_with(book, &["desk", "--pictures", "blocks"], columns, rows)
    }

    fn open_with(book: &TempDir, args: &[&str], columns: u16, rows: u16) -> Self {
        let mut desk = Self::run(book, args, &[], columns, rows);
        desk.until("the desk", |screen| screen.contents().contains("Ctrl-Q leave"));
        desk.settle();
        desk
    }

    pub(crate) fn run(book: &TempDir, args: &[&str], variables: &[(&str, &str)], columns: u16, rows: u16) -> Self {
        Self::start(env!("CARGO_BIN_EXE_blurbwright"), book, args, variables, columns, rows)
    }

    /// Any program, in the folder of the book.
    pub(crate) fn start(
        program: &str,
        book: &TempDir,
        args: &[&str],
        variables: &[(&str, &str)],
        columns: u16,
        rows: u16,
    ) -> Self {
        let pair = native_pty_system().openpty(pty(columns, rows)).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.cwd(book.path());
        command.env_clear();
        for (name, value) in [("TERM", "xterm-256color"), ("LANG", "C.UTF-8")].iter().chain(variables) {
            command.env(name, value);
        }
        let settings = settings(&*pair.master);
        let child = pair.slave.spawn_command(command).expect("the program");
        // Else the reader never sees the end.
        drop(pair.slave);
        let parser = Arc::new(Mutex::new(Parser::new(cells(rows), cells(columns), 0)));
        let raw = Arc::new(Mutex::new(Vec::new()));
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let (screen, bytes) = (Arc::clone(&parser), Arc::clone(&raw));
        let is_over = Arc::new(AtomicBool::new(false));
        let end = Arc::clone(&is_over);
        let reader = thread::spawn(move || {
            let mut buffer = [0; 8192];
            while let Ok(length @ 1..) = reader.read(&mut buffer)
                && !end.load(Ordering::SeqCst)
            {
                bytes.lock().expect("the bytes").extend_from_slice(&buffer[..length]);
                screen.lock().expect("the screen").process(&buffer[..length]);
            }
        });
        let writer = pair.master.take_writer().expect("its input");
        Self { parser, raw, writer, master: Some(pair.master), settings, reader: Some(reader), is_over, child }
    }

    pub(crate) fn keys(&mut self, bytes: &[u8]) {
        self.writer.write_all(bytes).and_then(|()| self.writer.flush()).expect("keys are taken");
    }

    /// More keys than the terminal holds at once: taken while the screen is read.
    pub(crate) fn keys_aside(&mut self, bytes: Vec<u8>) -> JoinHandle<Writer> {
        let mut writer = std::mem::replace(&mut self.writer, Box::new(std::io::sink()));
        thread::spawn(move || {
            writer.write_all(&bytes).and_then(|()| writer.flush()).expect("keys are taken");
            writer
        })
    }

    /// Goes on after keys that were taken meanwhile. (A writer that ends would press Ctrl-D.)
    pub(crate) fn after(&mut self, sent: JoinHandle<Writer>) {
        self.writer = sent.join().expect("all is taken");
    }

    /// All that was written to the terminal.
    pub(crate) fn output(&self) -> String {
        String::from_utf8_lossy(&self.raw.lock().expect("the bytes")).into_owned()
    }

    /// How many bytes that was.
    pub(crate) fn written(&self) -> usize {
        self.raw.lock().expect("the bytes").len()
    }

    pub(crate) fn resize(&self, columns: u16, rows: u16) {
        // The screen first: what is drawn for the new size must not be read at the old one.
        self.screen().screen_mut().set_size(cells(rows), cells(columns));
        self.master().resize(pty(columns, rows)).expect("another size");
    }

    fn master(&self) -> &dyn MasterPty {
        &**self.master.as_ref().expect("a terminal")
    }

    /// Closes the window; the next key is its last.
    pub(crate) fn hang_up(&mut self) {
        self.is_over.store(true, Ordering::SeqCst);
        self.keys(b"x");
        self.reader.take().expect("a reader").join().expect("read");
        self.writer = Box::new(std::io::sink());
        self.master = None;
    }

    pub(crate) fn screen(&self) -> MutexGuard<'_, Parser> {
        self.parser.lock().expect("the screen")
    }

    pub(crate) fn until(&self, what: &str, is_so: impl Fn(&Screen) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !is_so(self.screen().screen()) {
            assert!(Instant::now() < end, "waited for {what}:\n{}", self.screen().screen().contents());
            thread::sleep(Duration::from_millis(5));
        }
    }

    pub(crate) fn shows(&self, words: &str) {
        self.until(words, |screen| screen.contents().contains(words));
    }

    /// Waits until nothing has been drawn for a moment.
    pub(crate) fn settle(&mut self) {
        let mut before = self.written();
        loop {
            thread::sleep(Duration::from_millis(60));
            let now = self.written();
            if now == before {
                return;
            }
            before = now;
        }
    }

    pub(crate) fn id(&self) -> u32 {
        self.child.process_id().expect("a process")
    }

    pub(crate) fn signal(&self, name: &str) {
        signal(self.id(), name);
    }

    pub(crate) fn ends(&mut self) -> u32 {
        let end = Instant::now() + PATIENCE;
        loop {
            if let Some(status) = self.child.try_wait().expect("a process") {
                return status.exit_code();
            }
            assert!(Instant::now() < end, "it does not end:\n{}", self.screen().screen().contents());
            thread::sleep(Duration::from_millis(5));
        }
    }

    pub(crate) fn is_clean(&self) {
        self.until("a terminal as it was", |screen| {
            !screen.alternate_screen()
                && !screen.bracketed_paste()
                && !screen.hide_cursor()
                && screen.mouse_protocol_mode() == MouseProtocolMode::None
        });
        let end = Instant::now() + PATIENCE;
        while settings(self.master()) != self.settings {
            assert!(Instant::now() < end, "the terminal's settings are others than before");
            thread::sleep(Duration::from_millis(5));
        }
    }
}

/// Sends a signal to a process.
pub(crate) fn signal(process: u32, name: &str) {
    assert!(Command::new("kill").args(["-s", name, &process.to_string()]).status().expect("kill").success());
}

impl Drop for Desk {
    fn drop(&mut self) {
        // It may have ended by itself.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

pub(crate) fn first(book: &TempDir) -> String {
    fs::read_to_string(book.path().join("first.md")).expect("the draft")
}

pub(crate) fn names(book: &TempDir) -> Vec<String> {
    let entries = fs::read_dir(book.path()).expect("the folder").flatten();
    let mut names: Vec<String> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}
