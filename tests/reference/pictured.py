"""Columns inside and outside pictures, against the browser's own reading of a PNG: shape-outside: url() with shape-image-threshold.

Use: pictured.py PROGRAM FONT...

A picture is a grid of squares with an alpha each, soft at its rim, so that every threshold leaves another shape. The program is
given the picture with a pixel for each square. The browser, which blends pixels where it enlarges them, is given it with as many
pixels as its float has. Text outside stands beside a float of the picture itself; text inside stands between two floats of what
the picture lacks of opacity, by what the threshold lacks of one. Each row is opaque in one stretch round an upright, since
the browser fills a row from its first pixel to its last.
"""
import base64
import itertools
import math
import os
import struct
import sys
import tempfile
import zlib

import compare
import engines
from lines import paragraphs
from outlines import box
from shapes import ACROSS, DOWN, ROUND_ABOUT, SHAPE_DOWN, SIZES, WIDTH, ZOOM, check, column, pair

# The side of a square in points, and how far floats reach above and below a picture that text goes into.
SQUARE = 8.0
ABOVE, BELOW = 24.0, 40.0
DEPTH = 420.0
# In percent; none is the alpha of a square.
OPACITIES = (0.0, 20.5, 50.5)


def soft(away):
    """The alpha of a square by how far within the rim it lies, in squares."""
    return max(0, min(255, round(away * 70)))


def ellipse(across, down):
    def away(x, y):
        turn = math.hypot((x + 0.5 - across / 2) / (across / 2), (y + 0.5 - down / 2) / (down / 2))
        return (1 - turn) * min(across, down) / 2 + 0.5
    return grid(across, down, away)


def hourglass(across, down):
    def away(x, y):
        half = across / 2 * (0.35 + 0.65 * abs(2 * (y + 0.5) / down - 1))
        return half - abs(x + 0.5 - across / 2) + 0.5
    return grid(across, down, away)


def cloud(across, down):
    def away(x, y):
        half = across / 2 * (0.72 + 0.28 * math.sin(5 * math.pi * (y + 0.5) / down) ** 2)
        return min(half - abs(x + 0.5 - across / 2), y + 1, down - y) + 0.5
    return grid(across, down, away)


def grid(across, down, away):
    """A picture that is transparent at both sides: beside a line where one of the floats has no pixel at all, the browser takes
    the whole box of that float."""
    return [[0] + [soft(away(x, y)) for x in range(across)] + [0] for y in range(down)]


INSIDE = {"ellipse": ellipse(36, 30), "hourglass": hourglass(30, 32), "cloud": cloud(34, 30)}
OUTSIDE = {"ellipse": ellipse(18, 14), "hourglass": hourglass(16, 14), "cloud": cloud(18, 15)}


def png(rows, times=1):
    """The picture, each square `times` pixels wide and high."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    lines = b"".join((b"\0" + b"".join(struct.pack("BB", 0, alpha) * times for alpha in row)) * times for row in rows)
    header = struct.pack(">IIBBBBB", len(rows[0]) * times, len(rows) * times, 8, 4, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(lines, 9)) + chunk(b"IEND", b"")


def url(rows):
    return "url(data:image/png;base64,%s)" % base64.b64encode(png(rows, round(SQUARE * ZOOM))).decode()


class Pictures:
    """The files that the program reads, and the data that the browser does, each made once."""

    def __init__(self, folder):
        self.folder, self.urls = folder, {}

    def file(self, name, rows):
        path = os.path.join(self.folder, name + ".png")
        with open(path, "wb") as out:
            out.write(png(rows))
        return path

    def url(self, name, rows):
        if name not in self.urls:
            self.urls[name] = url(rows)
        return self.urls[name]


def lacking(rows):
    """What a picture lacks of opacity, with as much above and below it as a column has."""
    above, below = [[255] * len(rows[0])] * round(ABOVE / SQUARE), [[255] * len(rows[0])] * round(BELOW / SQUARE)
    return above + [[255 - alpha for alpha in row] for row in rows] + below


def shape_of(pictures, name, rows, opacity):
    return "{ file: '%s', opacity: %r%% }" % (pictures.file(name, rows), opacity)


def inside(pictures, name, rows, opacity, font, size, texts):
    width, height, split = len(rows[0]) * SQUARE, len(rows) * SQUARE, len(rows[0]) // 2
    place = "  places: [{ name: it, holds: blurb, shape: %s, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt }, inset: 0 pt }]\n"
    it = column(font, size, texts, width=width, foot=height, corner=(ACROSS, DOWN), head=ABOVE)
    it["panel"] = dict(it, width=width + ROUND_ABOUT, depth=height + ROUND_ABOUT,
                       panel=place % (shape_of(pictures, name, rows, opacity), width, height, DOWN, ACROSS))
    # An alpha is a 255th, so what the threshold lacks of one is never an alpha, and at nought just below the last.
    threshold = min(1 - opacity / 100, 1 - 0.5 / 255)
    floats = ""
    for side, part in (("left", [row[:split] for row in lacking(rows)]), ("right", [row[split:] for row in lacking(rows)])):
        style = "shape-outside:%s;shape-image-threshold:%.5f" % (pictures.url(name + side, part), threshold)
        floats += box(side, len(part[0]) * SQUARE, len(part) * SQUARE, ZOOM, style)
    return dict(it, floats=floats)


def outside(pictures, name, rows, opacity, side, font, size, texts):
    width, height = len(rows[0]) * SQUARE, len(rows) * SQUARE
    keep_out = "  keep_out: [{ name: it, shape: %s, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt } }]\n"
    left = 0.0 if side == "left" else WIDTH - width
    it = column(font, size, texts, width=WIDTH, foot=DEPTH, corner=(0.0, 0.0), head=0.0)
    shape = shape_of(pictures, name, rows, opacity)
    it["panel"] = dict(it, depth=DEPTH, panel=keep_out % (shape, width, height, SHAPE_DOWN, left))
    style = "clear:%s;shape-outside:%s;shape-image-threshold:%.5f" % (side, pictures.url(name, rows), opacity / 100)
    return dict(it, floats=box(side, 0.0, SHAPE_DOWN, ZOOM) + box(side, width, height, ZOOM, style))


def cases(pictures, fonts, texts):
    """Each case: its kind and its column, with nothing that the program draws otherwise. Fonts and paragraphs take turns."""
    turn = 0
    for (name, rows), opacity, size in itertools.product(INSIDE.items(), OPACITIES, SIZES):
        turn += 1
        given = (fonts[turn % len(fonts)], size, pair(texts, turn))
        yield "inside a picture: %s" % name, inside(pictures, "in-" + name, rows, opacity, *given), None
    for (name, rows), opacity, size, side in itertools.product(OUTSIDE.items(), OPACITIES, SIZES, ("left", "right")):
        turn += 1
        given = (fonts[turn % len(fonts)], size, pair(texts, turn))
        yield "outside a picture: %s" % name, outside(pictures, "out-" + name, rows, opacity, side, *given), None


def main():
    program, *fonts = sys.argv[1:]
    table = compare.Table()
    texts = [compare.neutral(text) for text in paragraphs()]
    with tempfile.TemporaryDirectory() as folder:
        found = list(cases(Pictures(folder), fonts, texts))
        plain = [column(font, size, ["Oona"], width=300.0) for font in fonts for size in SIZES]
        answers = [one["lines"] for one in engines.browser(plain + [case for _, case, _ in found])]
        off = {(case["font"], case["size"]): lines[0]["top"] for case, lines in zip(plain, answers)}
        check(program, found, iter(answers[len(plain):]), off, table)
    table.show()
    sys.exit(table.failures > 0)


if __name__ == "__main__":
    main()
