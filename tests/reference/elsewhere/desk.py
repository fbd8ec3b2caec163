#!/usr/bin/env python3
"""The desk's Windows build under Wine, in a pseudo-terminal: what is typed, killed, offered, saved and left, by the files alone.

Use: desk.py [--kills N] PROGRAM OTHER

An author writes numbers, one after another, so that any text tells how far they had come. A kill may take what was typed in the last
second, and a second more where the machine is busy; what an earlier desk had kept may never go. Each life goes on from what the desk
offers. The screen is not read, for Wine's console draws it in its own way; that it was drawn shows that a key was taken.
"""

import argparse
import fcntl
import os
import pty
import random
import re
import signal
import subprocess
import sys
import tempfile
import termios
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

WINE = "/usr/lib/wine/wine64"
PROGRAM, OTHER = sys.argv[-2:]
AUTHORS = 3
LIVES = 8
LONGEST = 2.2
PACE = 0.04
LAST = 1.0
BUSY = 1.0
PATIENCE = 60
# Shorter than typed words wait to be kept.
TAKEN = 0.3
# A path through seven of these is longer than Windows takes without a mark.
LONG = ["A folder whose name has forty letters or so"] * 7
# What the console calls out to a program that is to end, by its number. Source: Microsoft Learn, HandlerRoutine.
CALLS = {1: "Ctrl-Break", 2: "a closed window", 5: "a log-off", 6: "a shutdown"}
DRAFT = b"\xef\xbb\xbf# The lamp\r\n\r\nOona climbs.\r\n"
SETTLED = 1.0
HEADING = re.compile(r"\A<!-- unsaved words, begun from a file of \d+ bytes, [0-9a-f]{16} -->\n")


def in_terminal():
    """Makes the pseudo-terminal the desk's own. Its end is no signal on Windows, and Wine itself would be ended by one."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    signal.signal(signal.SIGHUP, signal.SIG_IGN)


class Desk:
    """A desk in a pseudo-terminal, whose output is read so that it never waits for it. Nobody works in a folder with a long path, so
    there the draft is named."""

    def __init__(self, folder, *before):
        is_long = len(str(folder)) > 250
        named = ["Z:" + str(folder / "first.md").replace("/", "\\")] if is_long else []
        self.master, slave = pty.openpty()
        self.process = subprocess.Popen(
            [WINE, *before, PROGRAM, "desk", *named], cwd="/" if is_long else folder, stdin=slave, stdout=slave, stderr=slave,
            start_new_session=True, preexec_fn=in_terminal,
        )
        os.close(slave)
        self.output = b""
        threading.Thread(target=self.read, daemon=True).start()

    def read(self):
        while True:
            try:
                part = os.read(self.master, 65536)
            except OSError:
                return
            if not part:
                return
            self.output += part

    def keys(self, keys):
        os.write(self.master, keys.encode())

    def take(self, keys):
        """Sends keys and waits until the desk has read them: what they make is drawn, and nothing more is."""
        drawn = len(self.output)
        self.keys(keys)
        waits_for("the desk to draw what is typed", lambda: len(self.output) > drawn)
        while len(self.output) > drawn:
            drawn = len(self.output)
            time.sleep(TAKEN)

    def kill(self):
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def close(self):
        os.close(self.master)


def waits_for(what, is_so, patience=PATIENCE):
    end = time.monotonic() + patience
    while not is_so():
        if time.monotonic() > end:
            sys.exit(f"waited in vain for {what}")
        time.sleep(0.02)


def is_signed(folder, since):
    """Whether a desk has signed that it has the draft open. Where words wait, it takes another place than the first."""
    return any(sign.stat().st_mtime_ns > since for sign in folder.glob(".first.md*.desk"))


def kept(folder):
    """The words that the next desk offers, or else the draft's, and whether they are offered: not where the draft has them."""
    draft = (folder / "first.md").read_bytes().decode()
    recoveries = sorted(folder.glob(".first.md*.recovery"), key=lambda path: path.stat().st_mtime_ns)
    words = HEADING.sub("", recoveries[-1].read_bytes().decode()) if recoveries else draft
    return words, words != draft


def new_book(folder, words):
    (folder / "brief.yaml").write_bytes(Path("tests/data/one_column.yaml").read_bytes())
    (folder / "first.md").write_bytes(words)


def one_life(folder, before, life, tally):
    """Opens the desk, takes what it offers, types until the kill, and counts what is left."""
    began = time.time_ns()
    desk = Desk(folder)
    waits_for("the desk's sign", lambda: is_signed(folder, began))
    numbers, begun, is_offered = before
    time.sleep(SETTLED)
    if is_offered:
        desk.keys("t")
        time.sleep(SETTLED)
    # To the end of the draft.
    desk.keys("\x1b[1;5F")
    time.sleep(PACE)
    typed, end = [], time.monotonic() + life
    while time.monotonic() < end:
        desk.keys(f"{numbers + len(typed)} "[0 if typed else begun:])
        typed.append(time.monotonic())
        # Now and then an author saves.
        if len(typed) % 40 == 39:
            desk.keys("\x13")
        time.sleep(PACE)
    desk.kill()
    at = time.monotonic()
    desk.close()
    text, is_offered = kept(folder)
    words = text.split(" ")
    whole, rest = words[:-1], words[-1]
    tally["kills"] += 1
    tally["typed"] += len(typed)
    tally["offered"] += is_offered
    if whole != [str(number) for number in range(len(whole))] or not str(len(whole)).startswith(rest):
        sys.exit(f"the words are damaged: {text!r}")
    if (len(whole), len(rest)) < (numbers, begun):
        sys.exit(f"a kill took what was kept: {len(whole)} numbers are left of {numbers}")
    lost = typed[len(whole) - numbers:]
    tally["lost"] += len(lost)
    if lost:
        tally["ages"].append(at - lost[0])
    return len(whole), len(rest), is_offered


def author(number, kills):
    """The lives of one author, a few to a book: after that its text is longer than any blurb."""
    chance, tally = random.Random(number), {"kills": 0, "typed": 0, "offered": 0, "lost": 0, "ages": []}
    while tally["kills"] < kills:
        with tempfile.TemporaryDirectory() as name:
            folder, left = Path(name), (0, 0, False)
            new_book(folder, b"")
            for _ in range(min(LIVES, kills - tally["kills"])):
                left = one_life(folder, left, chance.uniform(0, LONGEST), tally)
    return tally


def killed(kills):
    with ThreadPoolExecutor(AUTHORS) as authors:
        shares = [kills // AUTHORS + (number < kills % AUTHORS) for number in range(AUTHORS)]
        tallies = list(authors.map(author, range(AUTHORS), shares))
    total = {key: sum((tally[key] for tally in tallies), type(tallies[0][key])()) for key in tallies[0]}
    oldest = max(total["ages"], default=0.0)
    print(
        f"{total['kills']} kills at the desk under Wine: {total['typed']} numbers typed, {total['lost']} lost, the oldest typed "
        f"{oldest:.2f} s before its kill; words offered after {total['offered']}; none damaged, nothing kept was lost"
    )
    if oldest > LAST + BUSY:
        sys.exit("a kill took more than the last second of typing")
    if total["lost"] >= total["typed"] or not total["offered"]:
        sys.exit("the authors had no time: nothing that they typed was kept")


def saved_and_left(where, *parts):
    """Words are typed and saved into a draft with the line endings of Windows, and the desk leaves nothing behind."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name).joinpath(*parts)
        folder.mkdir(parents=True, exist_ok=True)
        desk = opened(folder)
        desk.keys("And down\ragain.")
        waits_for("the unsaved words", lambda: "again." in kept(folder)[0])
        draft = folder / "first.md"
        if draft.read_bytes().endswith(b"again."):
            sys.exit("the draft was written though nobody saved it")
        desk.keys("\x13")
        wanted = DRAFT + b"And down\r\n\r\nagain."
        waits_for("the saved words", lambda: draft.read_bytes() == wanted)
        desk.keys("\x11")
        waits_for("the desk's end", lambda: desk.process.poll() is not None)
        desk.close()
        names = sorted(path.name for path in folder.iterdir())
        if desk.process.returncode != 0 or names != ["brief.yaml", "first.md"]:
            sys.exit(f"left with {desk.process.returncode}, and the folder has {names}")
        if b"?\\" in desk.output:
            sys.exit("the mark of long paths is shown")
    print(f"typed, kept, saved with the line endings of the file, and left{where}: nothing stays beside the draft")


def renamed():
    """A draft may take its own name in other letters of capital and small, which Windows takes for the same, and nothing is lost. Where
    the disk keeps the name as it is, as Wine 8 does, that is told."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        desk = opened(folder)
        desk.keys("Unsaved. ")
        waits_for("the unsaved words", lambda: "Unsaved." in kept(folder)[0])
        for keys in ["\x0f", "r", "First\r"]:
            desk.take(keys)
        is_renamed = "First.md" in os.listdir(folder)
        draft = folder / ("First.md" if is_renamed else "first.md")
        recovery = folder / f".{draft.name}.recovery"
        waits_for("the kept words", lambda: recovery.is_file() and b"Unsaved. " in recovery.read_bytes())
        if not is_renamed:
            desk.keys("\x1b\x1b")
            time.sleep(SETTLED)
        desk.keys("\x13")
        waits_for("the saved words", lambda: draft.read_bytes() == DRAFT + b"Unsaved. ")
        desk.keys("\x11")
        waits_for("the desk's end", lambda: desk.process.poll() is not None)
        desk.close()
        names = sorted(os.listdir(folder))
        if names != sorted(["brief.yaml", draft.name]):
            sys.exit(f"the folder has {names}")
    told = "done" if is_renamed else "told that this disk keeps the name"
    print(f"renamed by capital letters alone: {told}; the words are saved, and nothing else stays beside the draft")


def opened(folder, *before):
    """A desk on a new book, with its cursor at the end of a draft that has the line endings of Windows."""
    new_book(folder, DRAFT)
    began = time.time_ns()
    desk = Desk(folder, *before)
    waits_for("the desk", lambda: is_signed(folder, began))
    time.sleep(SETTLED)
    desk.keys("\x1b[1;5F")
    time.sleep(SETTLED)
    return desk


def held():
    """What another program holds is told, and is left as it is until that lets go of it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        desk = opened(folder)
        draft = folder / "first.md"

        def hold(file):
            holder = subprocess.Popen([WINE, OTHER, "hold", file], cwd=folder, stdout=subprocess.PIPE)
            if holder.stdout.readline().strip() != b"held":
                sys.exit(f"{file} could not be held")
            return holder

        holder = hold("first.md")
        desk.keys("Held. \x13")
        waits_for("the unsaved words", lambda: "Held." in kept(folder)[0])
        time.sleep(SETTLED)
        if draft.read_bytes() != DRAFT:
            sys.exit("a draft that another program holds was written over")
        holder.kill()
        holder.wait()
        desk.keys("\x13")
        waits_for("the saved words", lambda: draft.read_bytes() == DRAFT + b"Held. ")
        desk.keys("\x11")
        waits_for("the desk's end", lambda: desk.process.poll() is not None)
        desk.close()

        proof = [WINE, PROGRAM, "proof", "first.md", "-o", "held.pdf"]
        subprocess.run(proof, cwd=folder, capture_output=True)
        holder = hold("held.pdf")
        told = subprocess.run(proof, cwd=folder, capture_output=True, text=True)
        holder.kill()
        if told.returncode != 2 or "another program holds it open; close it there, then try again" not in told.stderr:
            sys.exit(f"a held file was told so: {told.stderr}")
    print("held by another program: told, left as it is, and saved once it is let go")


def is_kept(folder):
    return kept(folder)[0].endswith("At the last moment.") and (folder / "first.md").read_bytes() == DRAFT


def called():
    """What was typed just before the console's call that ends the desk is in the recovery file."""
    for number, call in CALLS.items():
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            desk = opened(folder, OTHER, "call", str(number), "now")
            desk.take("At the last moment.")
            (folder / "now").touch()
            waits_for(f"the desk's end by {call}", lambda: desk.process.poll() is not None)
            desk.close()
            if not is_kept(folder):
                sys.exit(f"{call} took words: {kept(folder)}")
    print(f"ended by {', '.join(CALLS.values())}: the words of the last moment are kept")


def left_alone():
    """Where the terminal vanishes without a call, as under Wine, the words are kept within the second."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        desk = opened(folder)
        desk.take("At the last moment.")
        desk.close()
        waits_for("the words of a terminal that is gone", lambda: is_kept(folder), LAST + BUSY)
        desk.kill()
    print("without its terminal: the words of the last moment are kept")


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--kills", type=int, default=100)
    parser.add_argument("programs", nargs=2)
    kills = parser.parse_args().kills
    saved_and_left("")
    saved_and_left(" in a folder with a long path", *LONG)
    renamed()
    held()
    called()
    left_alone()
    killed(kills)


if __name__ == "__main__":
    main()
