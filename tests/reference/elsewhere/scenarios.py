#!/usr/bin/env python3
"""Compares what the tests' own commands said and wrote here with what their Windows build said and wrote under Wine.

Use: scenarios.py RECORDS WINDOWS_RECORDS WINDOWS_LOG

The records are those of tests/program.rs: a folder for each test, and in it one for each command. What may differ is told as plain()
of both.py tells it, the mark by which a page is known as it was written, and what the lists below name, each with its reason.
"""

import re
import sys
from pathlib import Path

from both import MOMENT, plain, told

# The mark of a written page is taken of its bytes, in which paths stand.
SEAL = re.compile(rb"made by blurbwright, [0-9a-f]{32} \d{10}")
# Wine's own words.
NOISE = re.compile(rb"(wine( client error)?:.*\n|sh: 0: getcwd\(\) failed: No such file or directory\n)")
SIGNS = "Windows has no file with such a name: a line's end, a sign of control, a quotation mark or bytes that are no text are in it"
PACKED = "paths stand in packed bytes, where the way they are written cannot be told"
WRITTEN = "the test has a path with the separator of this system in what it wants to read"
UNIX = "links, rights and pipes as this system has them"
# Tests, or the first words of their names, whose commands may differ.
MAY_DIFFER = {
    "scenarios.bad_files.new_files_with_names_that_windows_forbids": "a: is a drive on Windows (both.py has what is told there)",
    "scenarios.comparing.the_csv_has_a_line_for_each_draft": SIGNS,
    "scenarios.lists.": SIGNS,
    "scenarios.mistaken.every_message_is_one_line_whatever_is_in_it": SIGNS,
    "scenarios.unsafe_text.in_": SIGNS,
    "scenarios.standing.links_and_rights.": UNIX,
    "readme.every_command_works": PACKED,
}
# Tests that want of the program here what its Windows build does otherwise, so that they end before their last command.
MAY_FAIL = {
    "readme.the_output_that_is_shown_is_what_is_printed": WRITTEN,
    "scenarios.asking.a_new_book_is_told_how_it_is_measured_and_how_the_desk_is_opened": WRITTEN,
    "scenarios.bad_files.a_folder_named_like_a_draft_is_opened": WRITTEN,
    "scenarios.comparing.a_list_of_books_has_what_fails_first": WRITTEN,
    "scenarios.keeping.a_copy_has_its_date_its_name_and_its_measures": WRITTEN,
    "scenarios.measuring.drafts_and_folders_come_in_the_order_in_which_they_are_named": WRITTEN,
    "scenarios.measuring.the_nearest_brief_above_is_used_unless_one_is_named": WRITTEN,
    "scenarios.measuring.many_drafts_keep_their_order": WRITTEN,
    "scenarios.pipes.": UNIX,
    "scenarios.unread.": WRITTEN,
    **{test: why for test, why in MAY_DIFFER.items() if not test.startswith("readme")},
}


def reason(test, reasons):
    return next((why for name, why in reasons.items() if test.startswith(name)), None)


def record(place):
    """What a command said and wrote, by the names of its parts."""
    folder = Path((place / "folder").read_text())
    parts = [part for part in place.rglob("*") if part.is_file() and part.name not in ("command", "folder")]
    return {
        MOMENT.sub(b"MOMENT", bytes(part.relative_to(place))).decode():
            NOISE.sub(b"", SEAL.sub(b"SEAL", plain(part.read_bytes(), folder)))
        for part in parts
    }


def compared(here, there):
    """The commands of a test on both, those that only this system came to, and what differs, in words."""
    both, alone, found = 0, 0, []
    for place in sorted(here.iterdir()):
        if not (there / place.name).is_dir():
            alone += 1
            continue
        both += 1
        mine, other = record(place), record(there / place.name)
        found += [
            f"  {(place / 'command').read_text()}\n{told(part, mine.get(part, b'(none)'), other.get(part, b'(none)'))}"
            for part in sorted(mine.keys() | other.keys()) if mine.get(part) != other.get(part)
        ]
    return both, alone, found


def main():
    here, there, log = map(Path, sys.argv[1:])
    failed = {test.replace("::", ".") for test in re.findall(r"^test (\S+) \.\.\. FAILED$", log.read_text(), re.MULTILINE)}
    if not re.search(r"^test result: .* \d+ passed", log.read_text(), re.MULTILINE):
        sys.exit("the scenarios did not come to their end under Wine")
    wrong = [f"FAILS on Windows alone: {test}" for test in sorted(failed) if not reason(test, MAY_FAIL)]
    commands, unreached, named = 0, 0, 0
    for test in sorted(here.iterdir()):
        both, alone, found = compared(test, there / test.name)
        commands, unreached = commands + both, unreached + alone
        if reason(test.name, MAY_DIFFER):
            named += len(found)
        elif found:
            wrong.append("\n".join([f"DIFFERS in {test.name}:", *found]))
        if alone and test.name not in failed:
            wrong.append(f"{test.name} ran {alone} commands fewer on Windows")
    print(*wrong, sep="\n")
    print(
        f"{commands} commands of the scenarios on both systems, {unreached} behind a test's end there; {named} differences and "
        f"{len(failed)} ends of tests are named with their reasons; {len(wrong) or 'none'} otherwise than it should be"
    )
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
