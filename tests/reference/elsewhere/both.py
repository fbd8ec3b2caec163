#!/usr/bin/env python3
"""Runs what an author types with the program here and with its Windows build under Wine, each in a folder of its own, and tells
what differs: what is printed, what is complained of, the answer, and every file of the folder.

Use: both.py PROGRAM WINDOWS_PROGRAM

The commands of a book follow each other in one folder, so that what one wrote is there for the next. A shell expands patterns of names
here, and the program itself on Windows. There a path that is given has backslashes. What may differ is the way in which a path is written, the moment at which a copy was kept, and what ALONE names.
"""

import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

WINE = "/usr/lib/wine/wine64"
RECORDS = b"""{"id": 1, "draft": "# The lamp\\n\\nOona climbs the stairs.", "brief": {"panel": {"trim": "8 x 8 in"}}}
{"id": 2, "draft": 3}
{"id": 3, "draft": "Caf\xc3\xa9 gulls \xe2\x80\x93 and a bell."}
"""
# A path of more than 260 letters, which Windows takes with a mark alone; LONG stands for it in commands.
LONG = "/".join(["A folder whose name has forty letters or so"] * 7)
# A book of the samples and what is typed in its folder. A draft with the line endings of Windows and a byte-order mark is added:
# crlf.md, which is in a folder with a blank too.
BOOKS = {
    "drafts": [
        "measure first.md", "measure first.md --format json --counted", "measure --list", "measure first.md early.md -o list.csv",
        "measure first.md early.md -o list.xlsx", "measure first.md early.md -o list.html", "measure early.md --size 12pt",
        "fit early.md", "tighten early.md", "tighten early.md --apply plan --to shorter.md", "level first.md --counted --format json",
        "terms first.md", "panel first.md", "words early.md lantern", "compare first.md second.md --format json",
        "compare first.md second.md -o compared.html", "compare first.md second.md -o compared.pdf",
        "keep first.md --name sample", "keep first.md --list", "compare first.md --kept", "proof first.md -o proof.pdf",
        "proof first.md -o proof.svg", "proof first.md -o proof.png", "proof first.md --paper a4 -o tiled.pdf",
        "handover first.md -o copy.txt", "handover first.md -o copy.docx", "handover first.md -o copy.html",
        "handover first.md -o copy.xml", "measure copy.docx", "measure --records",
        "start new-book --title 'The Gull' --readers 4-8", "measure new-book/first.md", "measure ./night-sea/first.md",
        "measure *.md --list", "measure */first.md --format jsonl", "compare f?rst.md sec*.md",
        "measure 'LONG/first.md'", "measure 'LONG/early.md' --list", "keep 'LONG/first.md' --name sample", "keep 'LONG/first.md' --list",
        "proof first.md -o 'LONG/proof.pdf'", "proof first.md -o 'LONG/proof.pdf'",
        "tighten 'LONG/early.md' --apply plan --to 'LONG/shorter.md'", "handover 'LONG/first.md' -o 'LONG/copy.docx'",
        "start 'LONG/new-book' --title 'The Gull' --readers 4-8", "measure 'LONG/nowhere.md'", "handover 'LONG/first.md' -o 'LONG/copy.docx'",
        "measure crlf.md", "tighten crlf.md --apply marks --to straightened.md", "measure 'The Lamp/crlf.md'",
        "schema report", "licences",
        # Refused, each with its reason.
        "start con", "proof first.md -o nul.pdf", "handover first.md -o 'who?.txt'", "handover first.md -o copy.txt",
        "measure nowhere/first.md", "tighten early.md --apply plan --to First.md", "measure --brief nowhere.yaml", "mesure", "measure --size 12",
    ],
    "drafts/night-sea": ["measure first.md", "proof first.md -o proof.pdf", "proof first.md -o proof.png"],
    "drafts/snail-post": ["measure first.md", "proof first.md -o proof.svg"],
}
# What Windows alone does: the command, its answer, and words that it says.
ALONE = [
    ("measure FIRST.MD", 0, b"The Lamp at Gull Point: first.md"),
    ("measure nowhere*.md", 2, b"cannot read the draft nowhere*.md"),
    ("proof first.md -o a:b.pdf", 2, b"cannot write a:b.pdf"),
]
MOMENT = re.compile(rb"\d{4}-\d\d-\d\d[- ]\d\d:?\d\d(:?\d\d)?[a-z]?")


def plain(text, folder):
    """What is told, with every path written in one way."""
    drive = "Z:" + str(folder).replace("/", "\\")
    for name in (drive.replace("\\", "\\\\"), drive, str(folder)):
        text = text.replace(name.encode(), b"FOLDER")
    text = text.replace(b"\\\\", b"/").replace(b"\\", b"/").replace(b"blurbwright.exe", b"blurbwright")
    return MOMENT.sub(b"MOMENT", text)


def files_of(folder):
    paths = [path for path in folder.rglob("*") if path.is_file()]
    return {MOMENT.sub(b"MOMENT", bytes(path.relative_to(folder))): MOMENT.sub(b"MOMENT", path.read_bytes()) for path in paths}


def run(command, folder):
    given = RECORDS if "--records" in " ".join(command) else b""
    done = subprocess.run(command, cwd=folder, input=given, capture_output=True, timeout=300)
    return {
        "answer": done.returncode,
        "output": plain(done.stdout, folder),
        "complaint": plain(done.stderr, folder),
    }, files_of(folder)


def set_up(book, folder):
    shutil.copytree(book, folder, dirs_exist_ok=True)
    draft = (folder / "first.md").read_bytes().replace(b"\n", b"\r\n")
    for name in (".", "The Lamp"):
        place = folder / name
        place.mkdir(exist_ok=True)
        (place / "crlf.md").write_bytes(b"\xef\xbb\xbf" + draft)
    (folder / LONG).mkdir(parents=True)
    for file in [file for file in folder.iterdir() if file.is_file()]:
        shutil.copy(file, folder / LONG)


def told(what, here, there):
    """The place at which two texts part."""
    at = next((at for at, (one, other) in enumerate(zip(here, there)) if one != other), min(len(here), len(there)))
    begin = max(at - 60, 0)
    return f"  {what}: here  {here[begin:at + 100]!r}\n  {what}: there {there[begin:at + 100]!r}"


def changed(before, after):
    """The files that a command wrote or took away; none stands for one that is not there."""
    names = before.keys() | after.keys()
    return {name: after.get(name) for name in names if before.get(name) != after.get(name)}


def differences(here, there, changed_here, changed_there):
    """What differs, in words."""
    if here["answer"] != there["answer"]:
        yield f"  answered: here {here['answer']}, there {there['answer']}"
    for part in ("output", "complaint"):
        if here[part] != there[part]:
            yield told(part, here[part], there[part])
    for name in sorted(changed_here.keys() | changed_there.keys()):
        mine, other = changed_here.get(name), changed_there.get(name)
        if mine == other:
            continue
        if mine is None or other is None:
            yield f"  {name.decode()} was written {'there' if mine is None else 'here'} alone"
        else:
            yield told(name.decode(), mine, other)


def compared(program, windows, book, commands):
    """Runs the commands of a book on both; the number of those that differ."""
    wrong = 0
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as two:
        here, there = Path(one), Path(two)
        set_up(book, here)
        set_up(book, there)
        before_here, before_there = files_of(here), files_of(there)
        for command in commands:
            command = command.replace("LONG", LONG)
            mine, files_here = run(["sh", "-c", f'exec "$0" {command}', program], here)
            words = [word.replace("/", "\\") for word in shlex.split(command)]
            other, files_there = run([WINE, windows, *words], there)
            written = changed(before_here, files_here), changed(before_there, files_there)
            before_here, before_there = files_here, files_there
            found = list(differences(mine, other, *written))
            if found:
                wrong += 1
                print(f"DIFFERS in {book}: blurbwright {command}", *found, sep="\n", flush=True)
    return wrong


def alone(windows, command, answer, words):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        set_up("drafts", folder)
        before = files_of(folder)
        did, after = run([WINE, windows, *shlex.split(command)], folder)
        is_so = did["answer"] == answer and words in did["output"] + did["complaint"] and before == after
        if not is_so:
            print(f"OTHERWISE than Windows does: blurbwright {command}: {did}")
        return not is_so


def main():
    program, windows = sys.argv[1:]
    wrong = sum(compared(program, windows, book, commands) for book, commands in BOOKS.items())
    wrong += sum(alone(windows, *case) for case in ALONE)
    count = sum(map(len, BOOKS.values()))
    print(f"{count} commands on both systems and {len(ALONE)} on Windows alone: {wrong or 'none'} otherwise than it should be")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
