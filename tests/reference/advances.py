"""Advances against HarfBuzz, in font units and to the unit.

Use: advances.py write TABLE SIGNS         makes the two tables that tests/advances.rs reads
     advances.py check TABLE SIGNS PROGRAM FONT...

The check makes the tables again and compares, and then sets every paragraph at a size at which a font unit is a hundredth
of a point, so that the width of each line, which the program prints to the ten-thousandth, is a whole number of
units: it has to be what HarfBuzz gives for that line alone, whatever stood beside its ends before it was broken.
"""
import os
import sys

import compare
import shaping
from lines import MEASURES, SOFT_HYPHEN, paragraphs
from ours import measure

HERE = os.path.dirname(os.path.abspath(__file__))
FONTS = os.path.join(HERE, "..", "..", "src", "fonts")
STYLES = ("Regular", "Bold", "Italic", "BoldItalic")

# Pairs that are kerned, ligatures, figures, marks and accents, one after another.
PAIRS = ("AVATAR To Ty We Yo. LT’s P, F. “Ta” ‘Wo’ r. y, fi fl ff ffi ffl fj Th 1917 3-6 A-1 T-shirt, V-neck — wait… "
         "1½ £5.99 €7 50% No. 14 naïve Åsa Łódź Œuvre ĳ ǆ ﬁ Ǻ e\u0301 n\u0303 A\u030a \u2011x \u2014V\u2013W")

HEAD = """# Glyphs and advances in font units, shaped by HarfBuzz {version} as one run of Latin script from left to right.
# Made by tests/reference/advances.py from the fonts in src/fonts; their licences stand beside them.
# Columns: font file, units per em, text, glyph:advance for each glyph.
"""

# Signs that a font may lack and that are set from it all the same: hyphens, blanks, what is never seen, and letters with
# their marks, as one character and as two.
SIGNS = ([0x2010, 0x2011, 0xA0, *range(0x2000, 0x200B), 0x202F, 0x205F, 0x3000]
         + [0xAD, 0x34F, 0x61C, *range(0x200B, 0x2010), *range(0x202A, 0x202F), *range(0x2060, 0x2065), *range(0x2066, 0x2070),
            0xFE0E, 0xFE0F, 0xFEFF, 0xE0020, 0xE007F, 0xE0100]
         + ["\u00e9", "e\u0301", "\u1e3f", "m\u0301", "\u212a", "\u212b"])

SIGNS_HEAD = """# Glyphs and advances in font units of signs between two letters, shaped by HarfBuzz {version} as one run of Latin script.
# What HarfBuzz does for a blank that a font lacks: hb_ot_shape_fallback_spaces, by the widths of the Unicode Standard,
# table 6-2, and of the chart of U+2000. A hyphen (U+2010, U+2011) that a font has in neither form is shaped as U+002D.
# Made by tests/reference/advances.py from the fonts in src/fonts and tests/data/fonts, a variable one at its default.
# Columns: font file, units per em, code points of the sign, glyph:advance for each glyph.
"""


def signs():
    paths = [os.path.join(FONTS, "%s-%s.ttf" % (family, style)) for family in ("CrimsonPro", "Nunito") for style in STYLES]
    rows = [SIGNS_HEAD.format(version=shaping.VERSION)]
    for path in paths + [os.path.join(HERE, "..", "data", "fonts", "Bitter-Variable.ttf")]:
        for sign in SIGNS:
            sign = sign if isinstance(sign, str) else chr(sign)
            shaped = sign
            if sign in "\u2010\u2011" and not shaping.font(path).get_nominal_glyph(0x2010):
                shaped = "-"
            glyphs = " ".join("%d:%d" % glyph for glyph in shaping.glyphs(path, "n" + shaped + "n"))
            points = " ".join("%04X" % ord(character) for character in sign)
            rows.append("%s\t%d\t%s\t%s\n" % (os.path.basename(path), shaping.units_per_em(path), points, glyphs))
    return "".join(rows)


def table():
    texts = [PAIRS, paragraphs()[3], paragraphs()[6]]
    rows = [HEAD.format(version=shaping.VERSION)]
    for family in ("CrimsonPro", "Nunito"):
        for style in STYLES:
            path = os.path.join(FONTS, "%s-%s.ttf" % (family, style))
            for text in texts:
                glyphs = " ".join("%d:%d" % glyph for glyph in shaping.glyphs(path, text))
                rows.append("%s\t%d\t%s\t%s\n" % (os.path.basename(path), shaping.units_per_em(path), text, glyphs))
    return "".join(rows)


def units_of_line(font, line):
    """A line's width by HarfBuzz, shaped alone; a hyphen that shows at a soft hyphen is set by itself."""
    text = line["text"]
    if line["hyphen"]:
        return shaping.width(font, text[:-1]) + shaping.width(font, "-")
    return shaping.width(font, text)


def with_hyphens(lines, text):
    """Marks the lines that end in a soft hyphen, by walking the text along with them."""
    at = 0
    for line in lines:
        printed = line["text"]
        while text[at] == " ":
            at += 1
        seen = ""
        while len(seen) < len(printed.rstrip("-")):
            seen, at = seen + text[at].replace(SOFT_HYPHEN, ""), at + 1
        line["hyphen"] = text[at:at + 1] == SOFT_HYPHEN and printed.endswith("-")
        at += len(printed) - len(seen) if not line["hyphen"] else 1
        yield line


def check_lines(program, fonts, result):
    texts = paragraphs()
    for font in fonts:
        cases = failures = 0
        size = shaping.units_per_em(font) / 100
        for width in MEASURES:
            column = {"font": font, "size": size, "leading": size * 1.25, "width": width}
            for text, lines in zip(texts, measure(program, column, texts)):
                for line in with_hyphens(lines, text):
                    units = line["width_pt"] * 100
                    cases += 1
                    if abs(units - units_of_line(font, line)) > 0.011:
                        failures += 1
                        print("UNEXPLAINED %s: %r is %.2f units, by HarfBuzz %d" % (
                            os.path.basename(font), line["text"], units, units_of_line(font, line)))
        result.add("line widths in units, " + os.path.basename(font), cases, cases - failures, 0, failures,
                   "HarfBuzz " + shaping.VERSION)


def check_table(path, made, result):
    with open(path, encoding="utf-8") as kept:
        rows, fresh = kept.read().splitlines(), made.splitlines()
    # The head names the version, which may be newer; the advances may not differ for it.
    pairs = [(a, b) for a, b in zip(rows, fresh) if not a.startswith("#")]
    same = sum(a == b for a, b in pairs)
    failures = len(pairs) - same + abs(len(rows) - len(fresh))
    result.add("tests/data/%s made again" % os.path.basename(path), len(pairs), same, 0, failures)


def main():
    if sys.argv[1] == "write":
        for path, made in zip(sys.argv[2:], (table(), signs())):
            with open(path, "w", encoding="utf-8") as out:
                out.write(made)
        return
    _, _, path, path_of_signs, program, *fonts = sys.argv
    result = compare.Table()
    check_table(path, table(), result)
    check_table(path_of_signs, signs(), result)
    check_lines(program, fonts, result)
    result.show()
    sys.exit(result.failures > 0)


if __name__ == "__main__":
    main()
