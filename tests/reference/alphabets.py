"""How well the length of a font's alphabet tells the length of copy set in it.

Use: alphabets.py write TABLE FONT...

Writes, for each font, the length of its lower-case alphabet and of each paragraph of paragraphs.txt, by HarfBuzz and in font
units. tests/stand_ins.rs sets the same paragraphs in the stand-in for each font and holds the spread against the one that
the program prints. Fonts that are not at hand when the table is made again are left out of it.
"""
import sys

import shaping
from lines import paragraphs

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


def main():
    _, _, table, *fonts = sys.argv
    with open(table, "w", encoding="utf-8") as out:
        out.write(HEAD.format(version=shaping.VERSION))
        out.writelines(sorted(row(font) for font in fonts))


if __name__ == "__main__":
    main()
