"""Ragged paragraphs by total fit, in columns and in shapes, against the best of all ways to break them, searched anew.

Use: ragged.py WORKSHOP. What a ragged line costs is the program's own, so no other engine has it; here it is
told once more in words and reckoned in whole numbers: the fewest lines, and of these the least sum of the squares of what each line
leaves of its measure, in thousandths; the last line of several is free unless it is under a fifth of its measure; that, and a
hyphen, cost as much as a line that is 150 thousandths short, a hyphen below a hyphen four times as much.
"""
import functools
import sys

import compare
from lines import paragraphs
from total_fit import FONTS, MEASURES, brief, in_shapes, ours

RAGGED = "align: left, breaks: total-fit"
SLIP = 150 * 150
NO_WAY = (float("inf"), 0)


def cost(room, width, is_last, is_first, hyphen, below_hyphen):
    left = (room - width) * 1000 // room
    if is_last:
        return SLIP if left > 800 and not is_first else 0
    return left * left + (SLIP * (4 if below_hyphen else 1) if hyphen else 0)


def lines_from(paragraph, start, line):
    """Every line that may begin with a piece: its last piece and its width."""
    pieces, room = paragraph["pieces"], paragraph["rooms"][line]
    before, letters = pieces[start]["at_start"], 0
    for end in range(start, len(pieces)):
        piece = pieces[end]
        width = before + piece["ink"] + piece["within"] + piece["at_end"]
        if width <= room:
            yield end, width
        before += piece["ink"] + piece["within"] + piece["after"]
        # A hyphen or a kern may make one end too wide and not the next; letters alone only grow.
        letters += piece["ink"]
        if letters > 1.05 * room:
            return


def best(paragraph):
    """The fewest lines and their least cost."""
    pieces, rooms = paragraph["pieces"], paragraph["rooms"]

    @functools.lru_cache(maxsize=None)
    def onward(start, line, below_hyphen):
        if start == len(pieces):
            return 0, 0
        if line == len(rooms):
            return NO_WAY
        ways = []
        for end, width in lines_from(paragraph, start, line):
            hyphen, is_last = pieces[end]["hyphen"], end + 1 == len(pieces)
            lines, rest = onward(end + 1, line + 1, hyphen)
            ways.append((lines + 1, rest + cost(rooms[line], width, is_last, line == 0, hyphen, below_hyphen)))
        return min(ways, default=NO_WAY)
    return onward(0, 0, False)


def of_ends(paragraph):
    """The lines of a way that ends its lines at these pieces, and their cost."""
    pieces, start, total, below_hyphen = paragraph["pieces"], 0, 0, False
    for line, end in enumerate(paragraph["ends"]):
        width = dict(lines_from(paragraph, start, line)).get(end)
        if width is None:
            return NO_WAY
        hyphen = pieces[end]["hyphen"]
        total += cost(paragraph["rooms"][line], width, end + 1 == len(pieces), line == 0, hyphen, below_hyphen)
        start, below_hyphen = end + 1, hyphen
    return len(paragraph["ends"]), total


def main():
    program, = sys.argv[1:]
    sys.setrecursionlimit(10000)
    table = compare.Table()
    for hyphenate in (False, True):
        kinds = {"in a column": [(font, width, "") for font in FONTS for width in MEASURES[1::2]]}
        for name, width, panel in in_shapes():
            kinds.setdefault("in a shape: " + name, []).extend((font, width, panel) for font in FONTS)
        for name, what in kinds.items():
            same = failures = lines = 0
            for font, width, panel in what:
                for number, mine in enumerate(ours(program, brief(font, width, hyphenate, panel, RAGGED), paragraphs())):
                    found, least = of_ends(mine), best(mine)
                    lines += len(mine["ends"])
                    same += found == least and mine["fits"]
                    if found != least or not mine["fits"]:
                        failures += 1
                        print("UNEXPLAINED ragged, %s, %s, %d pt, paragraph %d: %s, least %s" % (
                            name, font, width, number + 1, found, least))
            table.add("total fit, ragged%s, %s" % (", hyphens" if hyphenate else "", name), same + failures, same, 0, failures,
                      "%d lines" % lines)
    table.show()
    sys.exit(table.failures > 0)


if __name__ == "__main__":
    main()
