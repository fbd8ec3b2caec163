"""Columns inside and outside shapes, against the browser's floats: the letters of each line, its x, and its top to the tenth.

Use: shapes.py PROGRAM FONT...

The browser is asked at ten times the size, so that its px are tenths of a point: both sides move a line down by such steps
where its first word does not go in. To know that a shape that is a little off is found, columns are set with an inset and a
clearance that are off by OFF; each must differ.
"""
import itertools
import os
import sys

import compare
import engines
import shaping
from lines import paragraphs
from ours import ours
from outlines import HEAD, ellipse, rounded, straight, traced

ZOOM = 10
SIZES = (9.5, 11.0, 12.5, 14.0, 17.0)
PLACE_TOLERANCE = 0.01
# How far the program's straight edges may be off an ellipse that has an inset or a clearance: copy keeps away by as much more.
DRAWN_OFF = 0.01
OFF = 0.1
# Where the place begins on its panel, and how much wider and higher than it the panel is.
ACROSS, DOWN, ROUND_ABOUT = 40.0, 30.0, 70.0
# A panel on which copy runs outside a shape, and how far down that is.
WIDTH, DEPTH, SHAPE_DOWN = 360.0, 420.0, 30.0

TAIL = [(20, 0), (280, 0), (300, 30), (280, 180), (170, 180), (145, 250), (120, 180), (20, 180), (0, 120)]
HOURGLASS = [(0, 0), (240, 0), (140, 130), (240, 260), (0, 260), (100, 130)]
CLOUD = [(60, 20), (150, 0), (240, 25), (300, 90), (260, 170), (280, 230), (150, 300), (40, 240), (55, 150), (0, 100)]

INSETS = (0.0, 4.0, 6.0, 12.0)
INSIDE = {
    "circle": ellipse(300.0, 300.0),
    "ellipse": ellipse(360.0, 220.0),
    "rounded box": rounded(300.0, 200.0, 60.0),
    "bubble with a tail": straight(300.0, 250.0, TAIL, split=145.0),
    "concave cloud": straight(300.0, 300.0, CLOUD),
    "hourglass": straight(240.0, 260.0, HOURGLASS),
    "traced cloud": traced(320.0, 280.0, 400, 8, 0.22),
}
CLEARANCES = (0.0, 6.0, 12.0)
OUTSIDE = {
    "ellipse": ellipse(140.0, 110.0),
    "circle": ellipse(120.0, 120.0),
    "rounded box": rounded(140.0, 110.0, 40.0),
    "triangle": straight(140.0, 110.0, [(70, 0), (140, 110), (0, 110)]),
    "traced cloud": traced(150.0, 120.0, 400, 8, 0.2),
}


def column(font, size, texts, **more):
    return {"font": font, "size": size, "leading": round(size * 1.3, 1), "paragraphs": texts, "zoom": ZOOM, **more}


def inside(font, size, texts, outline, inset):
    place = "  places: [{ name: it, holds: blurb, shape: %s, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt }, " \
        "inset: %r pt }]\n"
    it = column(font, size, texts, width=outline.width, foot=outline.height, corner=(ACROSS, DOWN), head=HEAD)
    it["panel"] = dict(it, width=outline.width + ROUND_ABOUT, depth=outline.height + ROUND_ABOUT,
                       panel=place % (outline.shape, outline.width, outline.height, DOWN, ACROSS, inset))

    def at(distance):
        floats = outline.floats_inside(outline.height + it["leading"], distance, ZOOM)
        return dict(it, floats="".join(floats))
    return at(inset), at(inset + DRAWN_OFF) if outline.is_drawn and inset else None


def outside(font, size, texts, outline, side, clearance):
    keep_out = "  keep_out: [{ name: it, shape: %s, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt }, clearance: %r pt }]\n"
    left = 0.0 if side == "left" else WIDTH - outline.width
    it = column(font, size, texts, width=WIDTH, foot=DEPTH, corner=(0.0, 0.0), head=0.0)
    it["panel"] = dict(it, depth=DEPTH, panel=keep_out % (
        outline.shape, outline.width, outline.height, SHAPE_DOWN, left, clearance))

    def at(distance):
        return dict(it, floats="".join(outline.float_outside(side, SHAPE_DOWN, distance, ZOOM)))
    return at(clearance), at(clearance + DRAWN_OFF) if outline.is_drawn and clearance else None


def cases(fonts, texts):
    """Each case: its kind, its column and, where the program draws its shape, the column of a shape that is as far off as it may
    be. Fonts and paragraphs take turns."""
    turn = 0
    for name, outline in INSIDE.items():
        for inset, size, _ in itertools.product(INSETS, SIZES, range(2)):
            turn += 1
            kind = "inside: %s%s" % (name, ", inset" if inset else "")
            yield kind, *inside(fonts[turn % len(fonts)], size, pair(texts, turn), outline, inset)
    for name, outline in OUTSIDE.items():
        for clearance, size, side in itertools.product(CLEARANCES, SIZES, ("left", "right")):
            turn += 1
            kind = "outside: %s%s" % (name, ", clearance" if clearance else "")
            yield kind, *outside(fonts[turn % len(fonts)], size, pair(texts, turn), outline, side, clearance)


def cases_off(fonts, texts):
    """Columns whose shape is as the program has it, beside what the browser makes of it with another distance."""
    for outline in INSIDE.values():
        yield inside(fonts[0], SIZES[0], texts[:2], outline, 6.0)[0], inside(fonts[0], SIZES[0], texts[:2], outline, 6.0 + OFF)[0]
    for outline in OUTSIDE.values():
        it = (fonts[0], SIZES[0], texts[:2], outline, "left")
        yield outside(*it, 6.0)[0], outside(*it, 6.0 + OFF)[0]


def pair(texts, turn):
    return [texts[turn % len(texts)], texts[(turn + 5) % len(texts)]]


def lines_of_ours(program, case):
    """The program's lines that stand in the column, from its corner: text, x, and the top of the line box."""
    down = shaping.baseline(case["font"], case["size"], case["leading"])
    across, head = case["corner"]
    return [{"text": line["text"], "x": line["x_pt"] - across, "top": line["y_pt"] - down - head}
            for line in ours(program, case["panel"]) if not line["over"]]


def lines_of_theirs(case, lines, off):
    """The browser's lines that stand in the column. Tops are read off by less than half a px, alike for every line of a type."""
    lines = [dict(line, top=line["top"] - case["head"] - off[case["font"], case["size"]]) for line in lines]
    return [line for line in lines if line["top"] + case["leading"] <= case["foot"] + 0.05]


def tenths(line):
    return round(line["top"] * 10)


def difference(mine, theirs):
    """The first thing that is not the same, in words; nothing where all is."""
    if compare.texts(mine) != compare.texts(theirs):
        return "text"
    for line, other in zip(mine, theirs):
        if abs(line["x"] - other["x"]) > PLACE_TOLERANCE:
            return "x %.4f, theirs %.4f: %s" % (line["x"], other["x"], line["text"])
        if tenths(line) != tenths(other) or abs(line["top"] - tenths(line) / 10) > 0.001:
            return "top %.4f, theirs %.4f: %s" % (line["top"], other["top"], line["text"])
    return ""


def is_between(mine, exact, careful):
    """Whether every line is as in one of two columns, and its x, where it is as in both, between theirs."""
    for at, line in enumerate(mine):
        alike = [lines[at]["x"] for lines in (exact, careful) if at < len(lines) and tenths(lines[at]) == tenths(line)
                 and compare.texts([lines[at]]) == compare.texts([line])]
        if not alike or len(alike) == 2 and not min(alike) - PLACE_TOLERANCE < line["x"] < max(alike) + PLACE_TOLERANCE:
            return False
    return len(mine) in (len(exact), len(careful))


class Count:
    """What was found of one kind of column."""

    def __init__(self):
        self.columns = self.same = self.drawn = self.lines = self.moved = 0
        self.farthest = 0.0

    def add(self, case, mine, theirs):
        self.columns += 1
        self.lines += len(mine)
        feet = [0.0] + [line["top"] + case["leading"] for line in mine]
        self.moved += sum(line["top"] > foot + 0.05 for foot, line in zip(feet, mine))
        wrong = difference(mine, theirs)
        if not wrong:
            self.same += 1
            self.farthest = max([self.farthest] + [abs(a["x"] - b["x"]) for a, b in zip(mine, theirs)])
        return wrong

    def note(self):
        drawn = "; drawn ellipse %d" % self.drawn if self.drawn else ""
        return "%d lines, %d moved down, x within %.4f pt%s" % (self.lines, self.moved, self.farthest, drawn)


def check(program, found, answers, off, table):
    counts = {}
    for kind, case, careful in found:
        mine, theirs = lines_of_ours(program, case), lines_of_theirs(case, next(answers), off)
        count = counts.setdefault(kind, Count())
        wrong = count.add(case, mine, theirs)
        if careful:
            between = is_between(mine, theirs, lines_of_theirs(careful, next(answers), off))
            count.drawn += bool(wrong) and between
            wrong = "" if between else wrong
        if wrong:
            what = "%s, %s at %s: %s" % (kind, os.path.basename(case["font"]), case["size"], wrong)
            compare.show(what, compare.texts(mine), compare.texts(theirs))
    for kind, count in counts.items():
        table.add(kind, count.columns, count.same, count.drawn, count.columns - count.same - count.drawn, count.note())


def main():
    program, *fonts = sys.argv[1:]
    table = compare.Table()
    texts = [compare.neutral(text) for text in paragraphs()]
    found, others = list(cases(fonts, texts)), list(cases_off(fonts, texts))
    plain = [column(font, size, ["Oona"], width=300.0) for font in fonts for size in SIZES]
    columns = [case for _, *both in found for case in both if case] + [other for _, other in others]
    answers = iter([one["lines"] for one in engines.browser(plain + columns)])
    off = {(case["font"], case["size"]): next(answers)[0]["top"] for case in plain}
    check(program, found, answers, off, table)
    same = sum(not difference(lines_of_ours(program, case), lines_of_theirs(other, next(answers), off)) for case, other in others)
    table.add("off by %g pt, to be found" % OFF, len(others), len(others) - same, 0, same)
    table.show()
    sys.exit(table.failures > 0)


if __name__ == "__main__":
    main()
