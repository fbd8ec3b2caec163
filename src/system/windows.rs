//! Windows: calls of the console, its events, claims by what a file is shared for, and paths of any length.
//!
//! Sources: Microsoft Learn, Console Handler Routines; Creating and Opening Files; System Error Codes.

use std::fs::{self, DirBuilder, File, FileType, Metadata, OpenOptions, Permissions};
use std::future::poll_fn;
use std::io;
use std::os::windows::fs::OpenOptionsExt;
use std::path::{self, Path, PathBuf};
use std::task::{Context, Poll};
use std::thread;

use tokio::runtime::Builder;
use tokio::signal::windows::{ctrl_break, ctrl_c, ctrl_close, ctrl_logoff, ctrl_shutdown};

use super::{Call, Sent, long_paths, patterns};

/// Whether a shell can have the terminal back for a while and continue the program later.
pub const HAS_JOB_CONTROL: bool = false;

/// Whether the terminal's bytes reach the program, so that its answers and pastes can be told from keys. The console
/// makes events of them before.
pub const KNOWS_BYTES: bool = false;

/// Whether a terminal shows more than ASCII where no variable of the locale tells it.
pub const CONSOLE_IS_UNICODE: bool = true;

/// Whether a terminal shows every colour where no variable tells it. Source: Microsoft Learn, Console Virtual Terminal
/// Sequences, extended colours.
pub const SHOWS_ALL_COLOURS: bool = true;

/// The exit status of a program that its console has ended: `STATUS_CONTROL_C_EXIT`, as a signed number.
pub const HUNG_UP: i32 = 0xC000_013A_u32.cast_signed();

const ACCESS_DENIED: i32 = 5;
const SHARING_VIOLATION: i32 = 32;
const LOCK_VIOLATION: i32 = 33;
const PIPE_NOT_CONNECTED: i32 = 233;

/// What a claimed file is shared for: it may be read and removed, but not written.
const READ_AND_DELETE: u32 = 0x1 | 0x4;

/// Has the first call of the system told, from a thread of its own: each of them ends the program. The console waits
/// some seconds before it ends the process itself.
pub fn hear_calls(tell: impl Fn(Call) -> bool + Clone + Send + 'static) -> io::Result<()> {
    let runtime = Builder::new_current_thread().build()?;
    let (mut key, mut broken, mut closed) = (ctrl_c()?, ctrl_break()?, ctrl_close()?);
    let (mut logged_off, mut shut_down) = (ctrl_logoff()?, ctrl_shutdown()?);
    let called = move |context: &mut Context<'_>| {
        let is_called = key.poll_recv(context).is_ready()
            || broken.poll_recv(context).is_ready()
            || closed.poll_recv(context).is_ready()
            || logged_off.poll_recv(context).is_ready()
            || shut_down.poll_recv(context).is_ready();
        if is_called { Poll::Ready(()) } else { Poll::Pending }
    };
    thread::spawn(move || {
        runtime.block_on(poll_fn(called));
        tell(Call::End(HUNG_UP))
    });
    Ok(())
}

/// Asks for a stop, of which there is none here: the key for it is not offered.
pub fn ask_to_stop() -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Stops the process, which nothing could continue here: the key for it is not offered.
pub fn stop() -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Reads the terminal until it is gone or `hear` returns false.
pub fn read_terminal(_may_read: fn() -> bool, _is_there: fn() -> bool, mut hear: impl FnMut(Sent) -> bool) {
    while let Ok(event) = crossterm::event::read() {
        if !hear(Sent::Event(event)) {
            return;
        }
    }
}

/// Claims a file for this process alone, and makes it where it is missing; none where another process has claimed it.
/// The claim ends when the file is closed, however the process ends.
pub fn claim(path: &Path) -> io::Result<Option<File>> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false).share_mode(READ_AND_DELETE);
    match options.open(path) {
        Ok(file) => Ok(Some(file)),
        Err(error) if is_held(&error) => Ok(None),
        Err(error) => Err(error),
    }
}

/// Claims a folder, which cannot be locked itself: a file of its mark is, in the folder for temporary files.
pub fn claim_folder(_folder: &Path, mark: &str) -> io::Result<Option<File>> {
    claim(&std::env::temp_dir().join(mark))
}

/// Whether an error means that another program holds the file.
pub fn is_held(error: &io::Error) -> bool {
    matches!(error.raw_os_error(), Some(SHARING_VIOLATION | LOCK_VIOLATION))
}

/// Whether an error of printing means that whoever read the output has closed it. The standard library knows two of
/// the three errors that a closed pipe gives.
pub fn reader_is_gone(error: &io::Error) -> bool {
    error.kind() == io::ErrorKind::BrokenPipe || error.raw_os_error() == Some(PIPE_NOT_CONNECTED)
}

/// The error of a move over a file that may be written: what refuses it is another program that holds the file.
pub fn of_move(error: io::Error) -> io::Error {
    let is_refused = error.raw_os_error() == Some(ACCESS_DENIED);
    if is_refused { io::Error::from_raw_os_error(SHARING_VIOLATION) } else { error }
}

/// Leaves a folder the rights of the one that it is in: the user's own.
pub fn keep_private(_builder: &mut DirBuilder) {}

/// Leaves a file to be opened as ever: no pipe has a path among files.
pub fn without_waiting(_options: &mut OpenOptions) {}

/// Leaves a file the owner that a new one has.
pub fn give_owner(_file: &File, _like: &Metadata) {}

/// The permissions, with the right to write.
pub fn with_right_to_write(mut permissions: Permissions) -> Permissions {
    permissions.set_readonly(false);
    permissions
}

/// What a file is that is neither a plain file nor a folder.
pub fn kind_of(_file: FileType) -> &'static str {
    "a device"
}

/// Where a file or a folder really is, links followed, as an author writes paths. The standard library adds the mark of
/// long ones where a path needs it.
pub fn real_path(path: &Path) -> io::Result<PathBuf> {
    // Some drives, such as those in memory, do not tell where a file really is.
    let real = fs::canonicalize(path).or_else(|_| fs::metadata(path).and_then(|_| path::absolute(path)))?;
    Ok(real.to_str().and_then(long_paths::unmarked).map_or(real, PathBuf::from))
}

/// A path in the form in which it may have any length, for those who hand it to the system as it is.
pub fn of_any_length(path: &Path) -> PathBuf {
    // A path that cannot be made whole is handed on as it is, and the system says why it takes none.
    let whole = path::absolute(path).ok();
    let marked = whole.as_deref().and_then(Path::to_str).and_then(long_paths::marked);
    marked.map_or_else(|| path.to_path_buf(), PathBuf::from)
}

/// The files and folders that a word of the command line names: no shell has expanded its patterns.
pub fn named_by(word: &Path) -> Vec<PathBuf> {
    patterns::expanded(word)
}

/// The folder in which programs keep what lasts. Source: Microsoft Learn, KNOWNFOLDERID, `FOLDERID_LocalAppData`.
pub fn state_folder() -> Option<PathBuf> {
    std::env::var_os("LOCALAPPDATA").map(PathBuf::from).filter(|path| path.is_absolute())
}

/// The name of this computer.
pub fn host() -> Option<String> {
    std::env::var("COMPUTERNAME").ok()
}
