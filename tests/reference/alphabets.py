"""How well the length of a font's alphabet tells the length of copy set in it.

Use: alphabets.py write TABLE FONT...
     alphabets.py spread TABLE

Writes, for each font, the length of its lower-case alphabet and of each paragraph of paragraphs.txt, by HarfBuzz and in font
units. The spread is what comes of taking the built-in serif with all its widths in the proportion of the two alphabets: by how
many hundredths of its true length each paragraph comes out too short (below nothing) or too long.
"""
import os
import sys

import shaping
from lines import paragraphs

FONTS = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "src", "fonts")
ALPHABET = "abcdefghijklmnopqrstuvwxyz"

HEAD = """# Lengths in font units by HarfBuzz {version}, kerned and set as one line; made by tests/reference/alphabets.py.
# The fonts are free ones at hand when it was made: those of src/fonts, and Debian's fonts-dejavu, fonts-liberation,
# fonts-ebgaramond and the like. Only lengths are kept here, nothing of the fonts themselves.
# Columns: font, units per em, length of a to z, length of each paragraph of tests/reference/paragraphs.txt in their order.
"""


def name(path):
    return shaping.font(path).face.get_name(4) or path.rsplit("/", 1)[-1]


def row(path):
    lengths = [shaping.width(path, text) for text in [ALPHABET] + paragraphs()]
    return "\t".join([name(path), str(shaping.units_per_em(path))] + [str(length) for length in lengths]) + "\n"


def spread(table):
    """Too short and too long, at the most, for each font of the table."""
    serif = os.path.join(FONTS, "CrimsonPro-Regular.ttf")
    alphabet, *own = [shaping.width(serif, text) for text in [ALPHABET] + paragraphs()]
    with open(table, encoding="utf-8") as rows:
        for line in (line for line in rows if not line.startswith("#")):
            font, _, of_font, *lengths = line.rstrip("\n").split("\t")
            off = [100 * (ours * int(of_font) / alphabet / int(theirs) - 1) for ours, theirs in zip(own, lengths)]
            print("%-32s %+6.2f %+6.2f" % (font, min(off), max(off)))


def main():
    if sys.argv[1] == "spread":
        spread(sys.argv[2])
        return
    _, _, table, *fonts = sys.argv
    with open(table, "w", encoding="utf-8") as out:
        out.write(HEAD.format(version=shaping.VERSION))
        out.writelines(sorted(row(font) for font in fonts))


if __name__ == "__main__":
    main()
