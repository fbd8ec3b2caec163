"""Tells word by word why two libraries differ from the program: reasons.py PROGRAM PARTS ROOT FOLDER.

ROOT is the project, FOLDER a place to write in. The texts are the project's blurbs, the English texts of the worked examples,
the passages beside this file, and eight blurbs at a time as one text, for measures that ask for length. It fails where a value
is not reached, where a cause named here moves nothing any more, and where one moves something and `explained.md` lacks it.
"""
import pathlib
import re
import sys

import abroad
import general
import ours
import stemming
from chain import Table

TOGETHER = 8


def texts_in(root, folder):
    """The files of all texts, with the brief beside those that are written here."""
    here = pathlib.Path(__file__).parent
    blurbs = sorted((root / "tests/blurbs").glob("*.md"))
    written = {"brief.yaml": "book: { title: Words, language: en }\npanel: { trim: 8 x 8 in }\n"}
    for row in (root / "tests/data/worked_examples.txt").read_text(encoding="utf-8").splitlines():
        cells = row.split(" | ")
        if not row.startswith("#") and len(cells) > 7 and not cells[1].startswith("wiener"):
            written[f"{cells[0]}.md"] = cells[7]
    for at in range(0, len(blurbs), TOGETHER):
        together = [blurb.read_text(encoding="utf-8") for blurb in blurbs[at : at + TOGETHER]]
        written[f"together_{at}.md"] = "\n\n".join(together)
    for name, text in written.items():
        (folder / name).write_text(text, encoding="utf-8")
    return [str(path) for path in [*blurbs, *sorted((here / "passages").glob("*.md")), *sorted(folder.glob("*.md"))]]


def explained():
    """The causes that explained.md tells of, by library."""
    told = {}
    for line in (pathlib.Path(__file__).parent / "explained.md").read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            library = told.setdefault(line[3:], [])
        elif found := re.match(r"- \*\*(.+?)\*\*", line):
            library.append(found.group(1))
    return told


def main():
    program, parts, root, folder = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3]), pathlib.Path(sys.argv[4])
    texts = ours.read(program, parts, str(folder / "brief.yaml"), "en", texts_in(root, folder))
    list_of_words = (root / "wordlists/dale-chall.txt").read_text(encoding="utf-8").splitlines()
    familiar = {line.strip().rstrip(".").lower() for line in list_of_words if line and not line.startswith("#")}
    table = Table()
    general.compare(table, texts, familiar)
    stemming.compare(table, texts)
    for tag in ("de", "es", "it"):
        brief = folder / f"{tag}.yaml"
        brief.write_text(f"book: {{ title: Words, language: {tag} }}\npanel: {{ trim: 8 x 8 in }}\n", encoding="utf-8")
        passages = sorted(map(str, (pathlib.Path(__file__).parent / "passages" / tag).glob("*.md")))
        abroad.compare(table, tag, ours.read(program, parts, str(brief), tag, passages))
    table.print()
    for library, causes in explained().items():
        table.must_all_be_seen(library, causes)
    print(f"{len(texts)} texts; {len(table.faults)} differences without an explanation, or explanations without a difference")
    sys.exit("\n".join(table.faults) or 0)


if __name__ == "__main__":
    main()
