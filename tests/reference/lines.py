"""Line breaks and widths of every paragraph, measure and font, against the browser and Pango.

Use: lines.py PROGRAM PANGO_LINES FONT...
"""
import os
import sys
from collections import Counter

import compare
import engines
import shaping
from ours import measure

MEASURES = (96, 171, 216, 270, 333, 402)
SIZE, LEADING = 11.5, 15
SOFT_HYPHEN = "\u00ad"

HERE = os.path.dirname(os.path.abspath(__file__))


def paragraphs():
    with open(os.path.join(HERE, "paragraphs.txt"), encoding="utf-8") as source:
        return source.read().strip().split("\n\n")


def all_columns(fonts, texts):
    return [{"font": font, "size": SIZE, "leading": LEADING, "width": width, "paragraphs": texts}
            for font in fonts for width in MEASURES]


def one_by_one(lines, count):
    """The lines of each paragraph."""
    return [[line for line in lines if line["paragraph"] == index] for index in range(count)]


class Tally:
    """Counts of one comparison."""

    def __init__(self, engine):
        self.engine, self.cases, self.same, self.lines, self.widest = engine, 0, 0, 0, 0.0
        self.explained, self.explained_widths, self.failures = Counter(), 0, 0

    def add(self, what, font, ours, theirs):
        a, b = compare.texts(ours), compare.texts(theirs)
        self.cases += 1
        if a == b:
            self.same += 1
        elif rule := compare.rule_of(self.engine, a, b):
            self.explained[rule] += 1
        else:
            self.failures += 1
            compare.show(what, a, b)
        for mine, other, text, other_text in zip(ours, theirs, a, b):
            if text == other_text:
                self.check_width(what, text, mine["width_pt"] - other["width"] + self.kern(font, other["text"]))

    def kern(self, font, line):
        """Pango kerns a soft hyphen's hyphen with the letter before it; the browser and we set it by itself."""
        line = line.rstrip(" ")
        if self.engine != "pango" or not line.endswith(SOFT_HYPHEN):
            return 0.0
        self.explained_widths += 1
        return shaping.hyphen_kern(font, line[-2]) * SIZE / shaping.units_per_em(font)

    def check_width(self, what, text, difference):
        self.lines += 1
        self.widest = max(self.widest, abs(difference))
        if abs(difference) > compare.WIDTH_TOLERANCE:
            self.failures += 1
            print("UNEXPLAINED %s: %r is wider by %.4f pt" % (what, text, difference))

    def note(self):
        parts = ["%d lines, widths within %.4f pt" % (self.lines, self.widest)]
        parts += ["%s %d" % rule for rule in sorted(self.explained.items())]
        if self.explained_widths:
            parts.append("kerned hyphen %d lines" % self.explained_widths)
        return "; ".join(parts)


def run(program, pango_lines, fonts, texts, table, kind):
    columns = all_columns(fonts, texts)
    found = {"browser": [one["lines"] for one in engines.browser(columns)], "pango": engines.pango(pango_lines, columns)}
    tallies = {engine: Tally(engine) for engine in found}
    for index, column in enumerate(columns):
        mine = measure(program, column, texts)
        for engine, tally in tallies.items():
            for number, theirs in enumerate(one_by_one(found[engine][index], len(texts))):
                what = "%s, %s, %s pt, paragraph %d" % (engine, os.path.basename(column["font"]), column["width"], number + 1)
                tally.add(what, column["font"], mine[number], theirs)
    for engine, tally in tallies.items():
        table.add("paragraphs %s, %s" % (kind, engine), tally.cases, tally.same, sum(tally.explained.values()),
                  tally.failures, tally.note())


def main():
    program, pango_lines, *fonts = sys.argv[1:]
    table = compare.Table()
    run(program, pango_lines, fonts, paragraphs(), table, "as written")
    run(program, pango_lines, fonts, [compare.neutral(text) for text in paragraphs()], table, "without the rules")
    # A rule explains a difference only where nothing is left to explain once its effect is taken out.
    table.failures += sum(row[3] for row in table.rows if "without the rules" in row[0])
    table.show()
    sys.exit(table.failures > 0)


if __name__ == "__main__":
    main()
