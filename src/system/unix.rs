//! Linux and macOS: signals, bytes from the terminal, locks, rights and owners.
//!
//! Stopping raises SIGTSTP with the system's default handling, as a shell with job control expects. While the desk is
//! up, every thread blocks that signal and one thread waits for it; the loop unblocks it once the terminal is given
//! back. No handler replaces the default one, so the system does not stop a desk that no shell could wake again.

use std::fs::{self, DirBuilder, File, FileType, Metadata, OpenOptions, Permissions, TryLockError};
use std::io::{self, stdin};
use std::os::fd::AsFd;
use std::os::unix::fs::{DirBuilderExt, FileTypeExt, MetadataExt, OpenOptionsExt, PermissionsExt, fchown};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

use nix::errno::Errno;
use nix::poll::{PollFd, PollFlags, PollTimeout, poll};
use nix::sys::signal::{SigSet, Signal, kill, raise};
use nix::unistd::{Pid, gethostname, read};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGWINCH};
use signal_hook::iterator::Signals;

use super::{Call, Sent};

/// Whether a shell can have the terminal back for a while and continue the program later.
pub const HAS_JOB_CONTROL: bool = true;

/// Whether the terminal's bytes reach the program, so that its answers and pastes can be told from keys.
pub const KNOWS_BYTES: bool = true;

/// Whether a terminal shows more than ASCII where no variable of the locale tells it. Source: POSIX, Environment
/// Variables, section 8.2, by which the locale is then one of ASCII.
pub const CONSOLE_IS_UNICODE: bool = false;

/// Whether a terminal shows every colour where no variable tells it.
pub const SHOWS_ALL_COLOURS: bool = false;

/// What a shell adds to the number of a signal for the exit status of the program that it ended.
const BY_SIGNAL: i32 = 128;

/// The exit status of a program whose terminal is gone.
pub const HUNG_UP: i32 = BY_SIGNAL + SIGHUP;

/// How long a thread that may not read the terminal sleeps before it looks again.
const LOOK_AGAIN: Duration = Duration::from_millis(30);

fn stops() -> SigSet {
    SigSet::from(Signal::SIGTSTP)
}

/// Has every call of the system told, from threads of its own, until `tell` returns false. To be called before other
/// threads are started: they do not take the stops then.
pub fn hear_calls(tell: impl Fn(Call) -> bool + Clone + Send + 'static) -> io::Result<()> {
    stops().thread_block()?;
    let own = tell.clone();
    thread::spawn(move || while stops().wait().is_ok() && own(Call::Stop) {});
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGCONT, SIGWINCH])?;
    thread::spawn(move || signals.forever().all(|signal| tell(call_of(signal))));
    Ok(())
}

fn call_of(signal: i32) -> Call {
    match signal {
        SIGCONT => Call::Continued,
        SIGWINCH => Call::Resized,
        signal => Call::End(BY_SIGNAL + signal),
    }
}

/// Sends SIGTSTP to the whole process group, not to the program alone: otherwise a script that started it would wait
/// for ever.
pub fn ask_to_stop() -> io::Result<()> {
    Ok(kill(Pid::from_raw(0), Signal::SIGTSTP)?)
}

/// Stops the process until a shell continues it. Where no shell could do so, the system ignores the stop.
pub fn stop() -> io::Result<()> {
    raise(Signal::SIGTSTP)?;
    // The blocked SIGTSTP is delivered here.
    stops().thread_unblock()?;
    Ok(stops().thread_block()?)
}

/// Reads the terminal until it is gone or `hear` returns false; while `may_read` is false, its keys are the shell's.
pub fn read_terminal(may_read: fn() -> bool, is_there: fn() -> bool, mut hear: impl FnMut(Sent) -> bool) {
    let (terminal, mut buffer) = (stdin(), [0; 4096]);
    loop {
        // Polling comes first: a thread blocked in `read` would take keys meant for the shell once the terminal was
        // given back.
        let waited = poll(&mut [PollFd::new(terminal.as_fd(), PollFlags::POLLIN)], PollTimeout::NONE);
        if waited.is_ok() && !may_read() {
            thread::sleep(LOOK_AGAIN);
            continue;
        }
        match waited.and_then(|_| read(terminal.as_fd(), &mut buffer)) {
            // A terminal whose settings were changed by another program may return zero bytes without being closed.
            Ok(0) if is_there() => thread::sleep(LOOK_AGAIN),
            Ok(0) => return,
            Ok(length) => {
                if !hear(Sent::Bytes(buffer[..length].to_vec())) {
                    return;
                }
            }
            Err(Errno::EINTR) => {}
            Err(_) => return,
        }
    }
}

/// Claims a file for this process alone, and makes it where it is missing; none where another process has claimed it.
/// The claim ends when the file is closed, however the process ends.
pub fn claim(path: &Path) -> io::Result<Option<File>> {
    loop {
        let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path)?;
        match file.try_lock() {
            Ok(()) if is_at(&file, path) => return Ok(Some(file)),
            // Another process may have removed the file between opening and locking. The lock is then on a deleted
            // file, so the claim is tried again.
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
}

/// Whether an open file is still the one at its path.
fn is_at(file: &File, path: &Path) -> bool {
    let (Ok(ours), Ok(there)) = (file.metadata(), fs::metadata(path)) else { return false };
    (ours.dev(), ours.ino()) == (there.dev(), there.ino())
}

/// Claims a folder as [`claim`] does a file. The mark, which is the folder's own, is needed elsewhere.
pub fn claim_folder(folder: &Path, _mark: &str) -> io::Result<Option<File>> {
    let folder = File::open(folder)?;
    match folder.try_lock() {
        Ok(()) => Ok(Some(folder)),
        Err(TryLockError::WouldBlock) => Ok(None),
        Err(TryLockError::Error(error)) => Err(error),
    }
}

/// Whether an error means that another program holds the file: here none can.
pub fn is_held(_error: &io::Error) -> bool {
    false
}

/// Whether an error of printing means that whoever read the output has closed it.
pub fn reader_is_gone(error: &io::Error) -> bool {
    error.kind() == io::ErrorKind::BrokenPipe
}

/// The error of a move over a file that may be written.
pub fn of_move(error: io::Error) -> io::Error {
    error
}

/// Has a folder made that is open to the user alone.
pub fn keep_private(builder: &mut DirBuilder) {
    builder.mode(0o700);
}

/// Has a file opened without waiting, should it be a pipe.
pub fn without_waiting(options: &mut OpenOptions) {
    options.custom_flags(nix::libc::O_NONBLOCK);
}

/// Gives a file the owner and the group of another, as far as that is allowed.
pub fn give_owner(file: &File, like: &Metadata) {
    if fchown(file, Some(like.uid()), Some(like.gid())).is_err() {
        // Without the right to change the owner, the group alone is set, and that may fail too.
        drop(fchown(file, None, Some(like.gid())));
    }
}

/// The permissions, with the right to write added for the owner.
pub fn with_right_to_write(mut permissions: Permissions) -> Permissions {
    permissions.set_mode(permissions.mode() | 0o200);
    permissions
}

/// What a file is that is neither a plain file nor a folder.
pub fn kind_of(file: FileType) -> &'static str {
    if file.is_fifo() {
        "a named pipe"
    } else if file.is_socket() {
        "a socket"
    } else {
        "a device"
    }
}

/// Where a file or a folder really is, links followed.
pub fn real_path(path: &Path) -> io::Result<PathBuf> {
    fs::canonicalize(path)
}

/// A path in the form in which it may have any length: here each has it.
pub fn of_any_length(path: &Path) -> PathBuf {
    path.to_path_buf()
}

/// The files and folders that a word of the command line names, whose patterns the shell has expanded.
pub fn named_by(word: &Path) -> Vec<PathBuf> {
    vec![word.to_path_buf()]
}

/// The folder in which programs keep what lasts. Source: XDG Base Directory Specification.
pub fn state_folder() -> Option<PathBuf> {
    let named = |variable: &str| std::env::var_os(variable).map(PathBuf::from).filter(|path| path.is_absolute());
    named("XDG_STATE_HOME").or_else(|| Some(named("HOME")?.join(".local/state")))
}

/// The name of this computer.
pub fn host() -> Option<String> {
    gethostname().ok()?.into_string().ok()
}
