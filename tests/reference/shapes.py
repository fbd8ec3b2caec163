"""Columns inside and outside shapes, against the browser's floats: the letters of each line, its x, and its top to the tenth.

Use: shapes.py PROGRAM FONT...

The browser is asked at ten times the size, so that its px are tenths of a point: both sides move a line down by such steps
where its first word does not go in.
"""
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
# Where the place begins on its panel, and how much wider and higher than it the panel is.
ACROSS, DOWN, ROUND_ABOUT = 40.0, 30.0, 70.0
# A panel on which copy runs outside a shape, and how far down that is.
WIDTH, DEPTH, SHAPE_DOWN = 360.0, 420.0, 30.0

TAIL = [(20, 0), (280, 0), (300, 30), (280, 180), (170, 180), (145, 250), (120, 180), (20, 180), (0, 120)]
CLOUD = [(60, 20), (150, 0), (240, 25), (300, 90), (260, 170), (280, 230), (150, 300), (40, 240), (55, 150), (0, 100)]

INSETS = (0.0, 4.0, 6.0, 12.0)
INSIDE = {
    "circle": ellipse(300.0, 300.0),
    "ellipse": ellipse(360.0, 220.0),
    "rounded box": rounded(300.0, 200.0, 60.0),
    "bubble with a tail": straight(300.0, 250.0, TAIL, split=145.0),
    "concave cloud": straight(300.0, 300.0, CLOUD),
    "traced cloud": traced(320.0, 280.0, 400, 8, 0.2),
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
        "inset: %r pt }]\n" % (outline.shape, outline.width, outline.height, DOWN, ACROSS, inset)
    it = column(font, size, texts, width=outline.width, foot=outline.height)
    panel = dict(it, width=outline.width + ROUND_ABOUT, depth=outline.height + ROUND_ABOUT, panel=place)
    floats = outline.floats_inside(outline.height + it["leading"], inset, ZOOM)
    return dict(it, panel=panel, corner=(ACROSS, DOWN), head=HEAD, floats="".join(floats))


def outside(font, size, texts, outline, side, clearance):
    left = 0.0 if side == "left" else WIDTH - outline.width
    keep_out = "  keep_out: [{ name: it, shape: %s, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt }, " \
        "clearance: %r pt }]\n" % (outline.shape, outline.width, outline.height, SHAPE_DOWN, left, clearance)
    it = column(font, size, texts, width=WIDTH, foot=DEPTH)
    panel = dict(it, depth=DEPTH, panel=keep_out)
    floats = outline.float_outside(side, SHAPE_DOWN, clearance, ZOOM)
    return dict(it, panel=panel, corner=(0.0, 0.0), head=0.0, floats="".join(floats))


def cases(fonts, texts):
    """Each case with its kind. Fonts and paragraphs take turns from case to case."""
    turn = 0
    for name, outline in INSIDE.items():
        for inset in INSETS:
            for size in SIZES:
                for font in fonts[turn % len(fonts):][:1] + fonts[(turn + 1) % len(fonts):][:1]:
                    turn += 1
                    pair = [texts[turn % len(texts)], texts[(turn + 5) % len(texts)]]
                    kind = "inside: %s%s" % (name, ", inset" if inset else "")
                    yield kind, inside(font, size, pair, outline, inset)
    for name, outline in OUTSIDE.items():
        for clearance in CLEARANCES:
            for size in SIZES:
                for side in ("left", "right"):
                    turn += 1
                    pair = [texts[turn % len(texts)], texts[(turn + 5) % len(texts)]]
                    kind = "outside: %s%s" % (name, ", clearance" if clearance else "")
                    yield kind, outside(fonts[turn % len(fonts)], size, pair, outline, side, clearance)


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


def difference(mine, theirs):
    """The first thing that is not the same, in words; nothing where all is."""
    if compare.texts(mine) != compare.texts(theirs):
        return "text"
    for ours_line, their_line in zip(mine, theirs):
        if abs(ours_line["x"] - their_line["x"]) > PLACE_TOLERANCE:
            return "x %.4f, theirs %.4f: %s" % (ours_line["x"], their_line["x"], their_line["text"])
        if round(ours_line["top"] * 10) != round(their_line["top"] * 10) or abs(round(ours_line["top"], 1) - ours_line["top"]) > 0.002:
            return "top %.4f, theirs %.4f: %s" % (ours_line["top"], their_line["top"], their_line["text"])
    return ""


def main():
    program, *fonts = sys.argv[1:]
    table = compare.Table()
    texts = [compare.neutral(text) for text in paragraphs()]
    found = list(cases(fonts, texts))
    plain = [column(font, size, ["Oona"], width=300.0) for font in fonts for size in SIZES]
    answers = [one["lines"] for one in engines.browser([case for _, case in found] + plain)]
    off = {(case["font"], case["size"]): lines[0]["top"] for case, lines in zip(plain, answers[len(found):])}
    counts = {}
    for (kind, case), lines in zip(found, answers):
        mine, theirs = lines_of_ours(program, case), lines_of_theirs(case, lines, off)
        wrong = difference(mine, theirs)
        count = counts.setdefault(kind, [0, 0, 0, 0, 0.0])
        count[0] += 1
        count[1] += not wrong
        count[2] += len(mine)
        if wrong:
            what = "%s, %s at %s: %s" % (kind, os.path.basename(case["font"]), case["size"], wrong)
            compare.show(what, compare.texts(mine), compare.texts(theirs))
        else:
            feet = [0.0] + [line["top"] + case["leading"] for line in mine]
            count[3] += sum(line["top"] > foot + 0.05 for foot, line in zip(feet, mine))
            count[4] = max(count[4], max(abs(a["x"] - b["x"]) for a, b in zip(mine, theirs)))
    for kind, (columns, same, lines, moved, farthest) in counts.items():
        table.add(kind, columns, same, 0, columns - same, "%d lines, %d moved down, x within %.4f pt" % (lines, moved, farthest))
    table.show()
    sys.exit(table.failures > 0)


if __name__ == "__main__":
    main()
