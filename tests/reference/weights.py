"""Advances of a variable font at the weights that a setting uses, by HarfBuzz.

Use: weights.py FONT TABLE

Makes the table that tests/weights.rs reads: the subset of Bitter in tests/data/fonts, whose own default is its thinnest weight.
"""
import os
import sys

import uharfbuzz as hb

TEXTS = ("AVATAR To Ty We Yo. P, F. “Ta” ‘Wo’ fi ffi 1917 T-shirt wait… 50% café e\u0301",
         "Every night, Oona climbs the lighthouse stairs with her grandmother’s lamp.")
WEIGHTS = (400, 600, 700)

HEAD = """# Glyphs and advances in font units at a weight, shaped by HarfBuzz {version} as one run of Latin script.
# Made by tests/reference/weights.py. Columns: font file, units per em, weight, text, glyph:advance for each glyph.
"""


def row(path, weight, text):
    font = hb.Font(hb.Face(hb.Blob.from_file_path(path)))
    font.set_variations({"wght": weight})
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.direction, buffer.script = "ltr", "Latn"
    hb.shape(font, buffer, {})
    glyphs = " ".join("%d:%d" % (info.codepoint, place.x_advance)
                      for info, place in zip(buffer.glyph_infos, buffer.glyph_positions))
    return "%s\t%d\t%d\t%s\t%s\n" % (os.path.basename(path), font.face.upem, weight, text, glyphs)


def main():
    _, path, table = sys.argv
    with open(table, "w", encoding="utf-8") as out:
        out.write(HEAD.format(version=hb.version_string()))
        out.writelines(row(path, weight, text) for weight in WEIGHTS for text in TEXTS)


if __name__ == "__main__":
    main()
