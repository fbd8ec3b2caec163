"""Advances by HarfBuzz, in font units."""
import functools

import uharfbuzz as hb

VERSION = hb.version_string()


@functools.lru_cache(maxsize=None)
def font(path):
    return hb.Font(hb.Face(hb.Blob.from_file_path(path)))


def units_per_em(path):
    return font(path).face.upem


def glyphs(path, text):
    """Glyph numbers and advances of a text shaped as one run of Latin script from left to right."""
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.direction, buffer.script = "ltr", "Latn"
    hb.shape(font(path), buffer, {})
    return [(info.codepoint, place.x_advance) for info, place in zip(buffer.glyph_infos, buffer.glyph_positions)]


def width(path, text):
    return sum(advance for _, advance in glyphs(path, text))


def hyphen_kern(path, before):
    """What the letter before a hyphen and the hyphen gain or lose by standing together."""
    return width(path, before + "-") - width(path, before) - width(path, "-")


def baseline(path, size, leading):
    """The baseline's depth in its line box by half-leading (CSS 2.1, section 10.8.1) from the font's own extents."""
    extents = font(path).get_font_extents("ltr")
    em = units_per_em(path)
    return (leading + (extents.ascender + extents.descender) * size / em) / 2
