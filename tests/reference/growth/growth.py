"""Runs every command on copy of every shape and tells what took too long or too much memory.

Usage: growth.py PROGRAM [--size BYTES] [--only WORD] [--command WORD] [--all]
"""

import argparse
import os
import resource
import sys
import tempfile
from pathlib import Path

import shapes

MOST_SECONDS = 10
MOST_BYTES = 500_000_000
# What the system may give before a program is refused more: room above what is held to be too much.
ROOM = 4_000_000_000

COMMANDS = {
    "measure": ["measure", "a.md"],
    "measure as JSON": ["measure", "--format", "json", "a.md"],
    "list": ["measure", "--list", "a.md"],
    "fit": ["fit", "a.md"],
    "tighten": ["tighten", "a.md"],
    "level": ["level", "a.md"],
    "terms": ["terms", "a.md"],
    "terms of a story": ["terms", "a.md", "--story", "b.md"],
    "compare": ["compare", "a.md", "b.md"],
    "proof": ["proof", "a.md", "-o", "proof.pdf"],
    "handover": ["handover", "a.md", "-o", "-", "--format", "docx"],
    "panel": ["panel", "brief.yaml", "--draft", "a.md"],
    "keep": ["keep", "a.md"],
}


def run(program, arguments, folder):
    """The answer, the seconds, and the most bytes that a run of the program held at once."""
    child = os.fork()
    if child == 0:
        os.chdir(folder)
        resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM))
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS + 2, MOST_SECONDS + 2))
        out = os.open("out", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(out, 1)
        os.dup2(out, 2)
        os.execv(program, [program, *arguments])
    _, status, usage = os.wait4(child, 0)
    seconds = usage.ru_utime + usage.ru_stime
    return os.waitstatus_to_exitcode(status), seconds, usage.ru_maxrss * 1024


def other(text):
    """Another draft of the same shape: a word more every so often, and its end gone."""
    lines = text[: len(text) * 9 // 10].split(" ")
    return " ".join(word + " more" if at % 50 == 7 else word for at, word in enumerate(lines))


def books(size):
    for name, draft in shapes.DRAFTS.items():
        yield name, draft(size), shapes.brief()
    for name, brief in shapes.BRIEFS.items():
        yield name, shapes.DRAFTS["prose in paragraphs"](size), brief(size)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", type=Path)
    parser.add_argument("--size", type=int, default=1_000_000)
    parser.add_argument("--only", default="")
    parser.add_argument("--command", default="")
    parser.add_argument("--all", action="store_true")
    options = parser.parse_args()
    program = str(options.program.resolve())
    failed = count = 0
    for name, draft, brief in books(options.size):
        if options.only not in name:
            continue
        for command, arguments in COMMANDS.items():
            if options.command not in command:
                continue
            with tempfile.TemporaryDirectory() as folder:
                Path(folder, "brief.yaml").write_text(brief)
                Path(folder, "a.md").write_text(draft)
                Path(folder, "b.md").write_text(other(draft))
                answer, seconds, held = run(program, arguments, folder)
                said = Path(folder, "out").read_text(errors="replace").strip()
            is_refused = answer == 2 and said.count("\n") < 8 and "panic" not in said
            is_slow = seconds > MOST_SECONDS or held > MOST_BYTES
            is_wrong = answer not in (0, 1) and not is_refused
            count += 1
            failed += is_slow or is_wrong
            if is_slow or is_wrong or is_refused or options.all:
                told = f"{name}: {command}: {seconds:.1f} s, {held / 1e6:.0f} MB, answer {answer}"
                print(told + (f": {said[:300]}" if answer not in (0, 1) else ""), flush=True)
    print(f"{count} runs, {failed} that took too long or too much")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
