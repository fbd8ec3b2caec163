"""Copy and briefs of every shape that makes a program slow, as long as is asked."""

import itertools
import re
from pathlib import Path

BRIEF = """book: {{ title: The Tide Clock, names: [{names}] }}
panel: {{ trim: 8.5 x 8.5 in, keep_out: [{{ barcode: EAN-13, corner: foot-spine }}] }}
terms: [{terms}]
limits: {{ words: 40..100, longest_sentence: ..20, level: ..3 }}
type: {{ {type} }}
"""


def word(at):
    """A word that is another for another number."""
    letters = "bcdfghklmnprst"
    found = ""
    while True:
        found += letters[at % len(letters)] + "aeiou"[at % 5]
        at //= len(letters)
        if at == 0:
            return found


def filled(unit, at):
    """What the copy goes on with for the time of this number."""
    if "{" not in unit:
        return unit
    signs = {"word": word(at), "Word": word(at).title(), "sign": chr(0x20000 + at % 0x8000), "deeper": "  " * at,
             "ticks": "`" * (at + 1)}
    for name, sign in signs.items():
        unit = unit.replace("{" + name + "}", sign)
    return unit


def repeated(first, unit):
    """Copy of a shape, as a function of its size in bytes."""
    def copy(size):
        parts, length = [first], len(first.encode())
        for at in itertools.count():
            part = filled(unit, at)
            length += len(part.encode())
            if length > size:
                return "".join(parts)
            parts.append(part)
    return copy


def read(path):
    """The shapes of a file, by their names."""
    shapes = {}
    for row in path.read_text().splitlines():
        if not row.startswith("#"):
            name, first, unit = row.split("\t")
            plain = lambda text: re.sub(
                r"\\(u[0-9a-f]{4}|.)",
                lambda found: "\n" if found[1] == "n" else chr(int(found[1][1:], 16)) if len(found[1]) > 1 else found[1],
                text,
            )
            shapes[name] = repeated(plain(first), plain(unit))
    return shapes


DRAFTS = read(Path(__file__).parents[2] / "cases" / "growth.txt")


def listed(count, entry):
    return ", ".join(entry(at) for at in range(count))


def brief(terms="tide clock, tide, Merrow Quay", names="Imme", set_in="size: 12 pt"):
    return BRIEF.format(terms=terms, names=names, type=set_in)


# Each with a draft of prose of the same size.
BRIEFS = {
    "ten thousand terms": lambda size: brief(terms=listed(10_000, lambda at: "tide " + word(at))),
    "ten thousand wordings of a term": lambda size: brief(
        terms="{ term: tide, also: [" + listed(10_000, lambda at: "tide " + word(at)) + "] }"
    ),
    "ten thousand names": lambda size: brief(names=listed(10_000, lambda at: word(at).title())),
    "a term of very many words": lambda size: brief(terms="tide " * (size // 5)),
    "a term of very many stars": lambda size: brief(terms='"' + "*" * size + '"'),
    "terms of stars": lambda size: brief(terms=listed(1_000, lambda at: f'"*tide* **{word(at)}**"')),
    "a very long name": lambda size: brief(names="Na" * (size // 2)),
    "lines chosen together": lambda size: brief(set_in="breaks: total-fit, align: justified"),
}
