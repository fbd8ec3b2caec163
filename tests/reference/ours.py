"""Lines as the program sets them, read from its report in JSON."""
import json
import os
import subprocess
import tempfile

BRIEF = """book: {{ title: Reference, author: Reference, kind: picture book, readers: 4-8, language: en }}
terms: []
panel:
  trim: {width} x {depth} pt
  bleed: 0 pt
  margins: 0 pt
{keep_outs}type: {{ font: {font}, size: {size} pt, leading: {leading} pt, align: left, space_above: 0 pt, indent: 0 pt }}
"""
BUILT_IN = {"CrimsonPro-Regular.ttf": "serif", "Nunito-Regular.ttf": "sans"}
DEPTH = 2000


def brief(column):
    boxes = ""
    for number, obstacle in enumerate(column.get("obstacles", [])):
        left = 0 if obstacle["side"] == "left" else column["width"] - obstacle["width"]
        left = obstacle.get("from_left", left)
        boxes += "    - { name: box %d, size: %r x %r pt, at: { head: %r pt, fore-edge: %r pt } }\n" % (
            number, obstacle["width"] - obstacle.get("from_left", 0), obstacle["height"], obstacle["top"], left)
    font = BUILT_IN.get(os.path.basename(column["font"]), column["font"])
    return BRIEF.format(width=column["width"], depth=column.get("depth", DEPTH), font=font, size=column["size"],
                        leading=column["leading"], keep_outs=column.get("panel") or ("  keep_out:\n" + boxes if boxes else ""))


def measure(program, column, drafts):
    """The printed lines of each draft, set by the column's brief."""
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for name, text in [("brief.yaml", brief(column))] + [("%04d.md" % n, text) for n, text in enumerate(drafts)]:
            paths.append(os.path.join(folder, name))
            with open(paths[-1], "w", encoding="utf-8") as out:
                out.write(text)
        done = subprocess.run([program, "measure", "--format", "jsonl"] + paths[1:], stdout=subprocess.PIPE)
        if done.returncode > 1:
            raise SystemExit("the program refused a brief:\n" + brief(column))
        return [json.loads(row)["fit"]["set_lines"] for row in done.stdout.decode().splitlines()]


def ours(program, column):
    """The column's paragraphs as one draft."""
    return measure(program, column, ["\n\n".join(column["paragraphs"])])[0]
