"""Lines as other engines set them: a browser's through its document ranges, Pango's through the program beside this file.

A column is a dict: font (path), size, leading, width (points), paragraphs (texts) and, for the browser, obstacles:
dicts of side (left or right), top, width, height, or floats, which are obstacles in HTML already; stand asks for the first
baseline, and zoom fixes the enlargement. A line is a dict: paragraph, text, width, x, top (points).

All layout is done enlarged, so that the engines' own rounding stays below 0.002 pt. The browser holds lengths in 1/64 px
and rounds the size of type to 1/64 px as well: the enlargement makes the size whole in that unit.
"""
import base64
import html
import json
import os
import re
import subprocess
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
ENLARGEMENTS = (20, 16, 25, 100, 64, 160)

STYLE = """
* { margin: 0; padding: 0 }
p { text-wrap: wrap; hyphens: manual; text-align: left; overflow-wrap: normal; word-break: normal; white-space: normal;
    font-kerning: normal; font-variant-ligatures: normal; text-rendering: geometricPrecision; font-optical-sizing: none;
    font-synthesis: none }
.column { display: flow-root }
.stand { display: inline-block; width: 0; height: 0 }
"""

# A line is a run of characters whose boxes stand at one height. Its box is the leading round the middle of the letters'
# box, because half-leading is the same above and below (CSS 2.1, section 10.8.1).
SCRIPT = r"""
function linesOf(column) {
  const zoom = +column.dataset.zoom, origin = column.getBoundingClientRect(), lines = [];
  column.querySelectorAll('p').forEach((paragraph, index) => {
    const node = paragraph.firstChild, text = node.data, range = document.createRange();
    const leading = parseFloat(getComputedStyle(paragraph).lineHeight);
    let line = null;
    for (let at = 0; at < text.length; at++) {
      const unit = text.charCodeAt(at);
      if (unit >= 0xDC00 && unit < 0xE000) continue;
      const end = unit >= 0xD800 && unit < 0xDC00 ? at + 2 : at + 1;
      range.setStart(node, at); range.setEnd(node, end);
      const boxes = range.getClientRects();
      if (!boxes.length || text[at] === ' ') continue;
      const box = boxes[boxes.length - 1];
      if (!line || Math.abs(box.top - line.top) > 1) {
        line = { index, start: at, top: box.top, height: box.height };
        lines.push(line);
      }
      line.end = end; line.node = node; line.leading = leading;
    }
  });
  return lines.map(line => {
    const range = document.createRange();
    range.setStart(line.node, line.start); range.setEnd(line.node, line.end);
    let left = 1e9, right = -1e9;
    for (const box of range.getClientRects()) {
      if (Math.abs(box.top - line.top) < 1) { left = Math.min(left, box.left); right = Math.max(right, box.right); }
    }
    return { paragraph: line.index, text: line.node.data.slice(line.start, line.end), width: (right - left) / zoom,
             x: (left - origin.left) / zoom, top: (line.top + (line.height - line.leading) / 2 - origin.top) / zoom };
  });
}
function baselineOf(column) {
  const stand = column.querySelector('.stand');
  if (!stand) return null;
  return (stand.getBoundingClientRect().bottom - column.getBoundingClientRect().top) / +column.dataset.zoom;
}
document.fonts.ready.then(() => Promise.all([...document.fonts].map(font => font.load()))).then(() => {
  const result = [...document.querySelectorAll('.column')].map(c => ({ lines: linesOf(c), baseline: baselineOf(c) }));
  const out = document.createElement('pre');
  out.id = 'result'; out.textContent = JSON.stringify(result);
  document.body.replaceChildren(out);
});
"""


def enlargement(size):
    for factor in ENLARGEMENTS:
        if abs(size * factor * 64 - round(size * factor * 64)) < 1e-6:
            return factor
    return ENLARGEMENTS[-1]


def floats_of(column, zoom):
    """Obstacles as floats, each pushed down to its place by a float without width.

    A float may not stand higher than one before it (CSS 2.1, section 9.5.1, rule 5), so they go in by their tops.
    """
    floats, above = [], {"left": 0.0, "right": 0.0}
    for obstacle in sorted(column.get("obstacles", []), key=lambda obstacle: obstacle["top"]):
        side, top = obstacle["side"], obstacle["top"]
        if top > above[side]:
            floats.append((above[side], side, 0.0, top - above[side]))
        floats.append((top, side, obstacle["width"], obstacle["height"]))
        above[side] = top + obstacle["height"]
    form = '<div style="float:%s;clear:%s;width:%.6fpx;height:%.6fpx"></div>'
    floats.sort(key=lambda one: one[0])
    return "".join(form % (side, side, width * zoom, height * zoom) for _, side, width, height in floats)


def column_html(column, family):
    zoom = column.get("zoom") or enlargement(column["size"])
    stand = '<span class="stand"></span>' if column.get("stand") else ""
    paragraphs = "".join("<p>%s%s</p>" % (html.escape(text, quote=False), stand) for text in column["paragraphs"])
    return '<div class="column" data-zoom="%g" style="width:%.6fpx;font:%.6fpx/%.6fpx %s">%s%s</div>' % (
        zoom, column["width"] * zoom, column["size"] * zoom, column["leading"] * zoom, family,
        column.get("floats") or floats_of(column, zoom), paragraphs)


def font_face(path, family):
    with open(path, "rb") as font:
        data = base64.b64encode(font.read()).decode()
    return "@font-face { font-family: %s; src: url(data:font/sfnt;base64,%s) }\n" % (family, data)


def browser_name():
    version = subprocess.run(["chromium", "--version"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True)
    return " ".join(version.stdout.decode().split()[:2])


def browser(columns):
    """What the browser makes of the columns: for each a dict of lines and, where it was asked for, the baseline."""
    families = {}
    for column in columns:
        families.setdefault(column["font"], "f%d" % len(families))
    faces = "".join(font_face(path, family) for path, family in families.items())
    body = "".join(column_html(column, families[column["font"]]) for column in columns)
    page = '<!doctype html><html lang="en"><meta charset="utf-8"><style>%s%s</style><body>%s<script>%s</script></body></html>' % (
        faces, STYLE, body, SCRIPT)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "page.html")
        with open(path, "w", encoding="utf-8") as out:
            out.write(page)
        command = [
            "chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--font-render-hinting=none",
            "--enable-font-subpixel-positioning", "--disable-background-networking", "--disable-component-update",
            "--no-first-run", "--user-data-dir=" + folder + "/profile", "--virtual-time-budget=60000", "--dump-dom",
            "file://" + path]
        dom = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, timeout=500).stdout.decode()
    found = re.search(r'<pre id="result">(.*?)</pre>', dom, re.S)
    if not found:
        raise SystemExit("the browser gave no result: " + dom[-500:])
    return json.loads(html.unescape(found.group(1)))


def pango(program, columns):
    """What Pango makes of the columns: for each a list of lines."""
    return [pango_column(program, column) for column in columns]


def pango_column(program, column):
    command = [program, column["font"], repr(column["size"]), repr(column["width"]), str(enlargement(column["size"]))]
    text = "\n".join(column["paragraphs"]).encode()
    out = subprocess.run(command, input=text, stdout=subprocess.PIPE, check=True).stdout.decode()
    lines = []
    for row in out.split("\n")[:-1]:
        paragraph, width, line = row.split("\t", 2)
        lines.append({"paragraph": int(paragraph), "text": line, "width": float(width), "x": 0.0,
                      "top": len(lines) * column["leading"]})
    return lines
