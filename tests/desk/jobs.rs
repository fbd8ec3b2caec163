//! The desk as a job of a shell: stopped by its own key or from outside, and called again.
//!
//! Source: POSIX.1-2017, Base Definitions 11.1.4 (terminal access control), and `set -m`, `fg` and `kill -l` of its
//! shell.

use tempfile::TempDir;

use super::pty::{Desk, book, first};

/// A shell with job control that starts the desk, tells what has stopped it and whether the terminal's settings are
/// those of before, and after a line of input calls it again.
const JOB: &str = r#"
set -m
before=$(stty -g)
"$0" desk
while status=$? && [ $status -gt 128 ]; do
    echo "stopped by $(kill -l $status)"
    [ "$(stty -g)" = "$before" ] && echo "settings as before"
    read line
    fg >/dev/null
done
echo "ended with $status"
"#;

fn shell(book: &TempDir, script: &str) -> Desk {
    let args = ["-c", script, env!("CARGO_BIN_EXE_blurbwright")];
    let mut desk = Desk::start("/bin/sh", book, &args, &[("PATH", "/usr/bin:/bin")], 80, 24);
    desk.shows("Ctrl-Q leave");
    desk.settle();
    desk
}

/// The process that a shell has started.
#[cfg(target_os = "linux")]
fn child_of(shell: u32) -> u32 {
    let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children")).expect("Linux tells");
    children.trim().parse().expect("there is one")
}

fn is_stopped_and_wakes(desk: &mut Desk, typed: &str) {
    desk.shows("stopped by TSTP");
    desk.shows("settings as before");
    desk.is_clean();
    desk.settle();
    desk.keys(b"\n");
    desk.until("the desk again", |screen| screen.alternate_screen() && screen.bracketed_paste());
    desk.shows(&format!("{typed}# The light"));
    desk.settle();
}

#[test]
fn its_key_stops_it_as_a_shell_expects() {
    let book = book();
    let mut desk = shell(&book, JOB);
    desk.keys(b"x");
    desk.shows("x# The light");
    desk.keys(b"\x1bz");
    is_stopped_and_wakes(&mut desk, "x");
    desk.keys(b"y");
    desk.shows("xy# The light");
    // Stopped and woken a second time, all is as the first.
    desk.keys(b"\x1bz");
    desk.until("the shell", |screen| !screen.alternate_screen());
    is_stopped_and_wakes(&mut desk, "xy");
    desk.keys(b"\x13");
    desk.shows("Saved first.md.");
    desk.keys(b"\x11");
    desk.shows("ended with 0");
    desk.is_clean();
    assert!(first(&book).starts_with("xy# The light"));
}

#[cfg(target_os = "linux")]
#[test]
fn a_stop_from_outside_gives_the_terminal_back_first() {
    let book = book();
    let mut desk = shell(&book, JOB);
    desk.keys(b"x");
    desk.shows("x# The light");
    super::pty::signal(child_of(desk.id()), "TSTP");
    is_stopped_and_wakes(&mut desk, "x");
    desk.keys(b"y");
    desk.shows("xy# The light");
}

/// A stop that cannot be caught leaves the terminal as it is, and a shell sets it anew: the desk takes it all again.
#[cfg(target_os = "linux")]
#[test]
fn after_a_stop_that_cannot_be_caught_it_takes_the_terminal_anew() {
    let book = book();
    let undone = "do\n stty sane; printf '\\033[?1049l\\033[?2004l'";
    let mut desk = shell(&book, &JOB.replace("do\n", &format!("{undone}\n")));
    desk.keys(b"x");
    desk.shows("x# The light");
    super::pty::signal(child_of(desk.id()), "STOP");
    desk.shows("stopped by STOP");
    desk.settle();
    desk.keys(b"\n");
    desk.until("the desk again", |screen| screen.alternate_screen() && screen.bracketed_paste());
    desk.keys(b"y");
    desk.shows("xy# The light");
}

/// The script that has started the desk is stopped with it, else the shell above would wait for ever.
#[test]
fn the_whole_job_stops() {
    let book = book();
    let mut desk = shell(&book, &JOB.replace("\"$0\" desk", "/bin/sh -c '\"$0\" desk; true' \"$0\""));
    desk.keys(b"x");
    desk.shows("x# The light");
    desk.keys(b"\x1bz");
    is_stopped_and_wakes(&mut desk, "x");
    desk.keys(b"y");
    desk.shows("xy# The light");
}

/// As the only program of a window the desk cannot be called again, so it goes on.
#[test]
fn without_a_shell_it_does_not_stop() {
    let book = book();
    let mut desk = Desk::open(&book, 80, 24);
    desk.keys(b"x\x1bz");
    desk.until("the desk", |screen| screen.alternate_screen() && screen.contents().contains("x# The light"));
    desk.keys(b"y");
    desk.shows("xy# The light");
}
