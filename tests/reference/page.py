"""Opens the page of a comparison in a browser, wide and narrow, on a light and on a dark ground, and on paper.

It fails where the page fetches anything, is wider than its window, has words of too little contrast (WCAG 2.2, 1.4.3),
a table without headings, or a panel that is not drawn. Pictures are left in the folder that is named, to be looked at.

page.py PROGRAM FOLDER DRAFT...
"""

import html
import json
import os
import re
import shutil
import subprocess
import sys

# What the page says of itself once it is laid out. It stands in a copy of the page without its rule against scripts.
SCRIPT = """
const seen = {width: document.documentElement.scrollWidth, window: window.innerWidth};
const lum = c => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3).map(v => v / 255)
  .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
const ground = lum(getComputedStyle(document.body).backgroundColor);
const contrast = e => { const ink = lum(getComputedStyle(e).color); return (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05); };
const worded = [...document.querySelectorAll('body *:not(svg):not(svg *):not(script)')].filter(e => e.textContent.trim());
seen.contrast = Math.min(...worded.map(contrast));
seen.ground = ground;
seen.loose = [...document.querySelectorAll('table')].filter(t => !t.caption || ![...t.tBodies[0].rows].every(r => r.cells[0].scope)).length;
seen.tables = document.querySelectorAll('table').length;
seen.panels = [...document.querySelectorAll('figure svg')].map(s => Math.round(s.getBoundingClientRect().width));
seen.fetched = performance.getEntriesByType('resource').length;
const out = document.createElement('pre'); out.id = 'seen'; out.textContent = JSON.stringify(seen); document.body.append(out);
"""


def browser(folder, *arguments):
    command = ["chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-background-networking",
               "--no-first-run", "--user-data-dir=" + os.path.join(folder, "profile"), *arguments]
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, timeout=300, check=True)
    return done.stdout.decode()


def seen(folder, path, width, ground):
    dom = browser(folder, "--window-size=%d,1200" % width, *ground, "--dump-dom", "file://" + path)
    return json.loads(html.unescape(re.search(r'<pre id="seen">(.*?)</pre>', dom, re.S).group(1)))


def main(program, drafts, folder):
    folder = os.path.abspath(folder)
    os.makedirs(folder, exist_ok=True)
    page = os.path.join(folder, "page.html")
    subprocess.run([program, "compare", *sorted(drafts), "--size", "14.6pt", "-o", page], check=False)
    with open(page, encoding="utf-8") as file:
        text = file.read()
    opened = os.path.join(folder, "opened.html")
    with open(opened, "w", encoding="utf-8") as file:
        without_rule = re.sub(r"<meta http-equiv=.*?>\n", "", text)
        file.write(without_rule.replace("</body>", "<script>%s</script></body>" % SCRIPT))
    faults = []
    for name, ground in (("light", []), ("dark", ["--blink-settings=preferredColorScheme=0"])):
        for width in (1100, 500):
            found = seen(folder, opened, width, ground)
            print(name, width, found)
            wrong = {
                "wider than its window": found["width"] > found["window"],
                "words of too little contrast": found["contrast"] < 4.5,
                "tables without headings": found["loose"] > 0 or found["tables"] == 0,
                "panels not drawn": len(found["panels"]) != len(drafts) or min(found["panels"]) < 100,
                "something fetched": found["fetched"] > 0,
                "the wrong ground": (found["ground"] < 0.2) != (name == "dark"),
            }
            faults += ["%s, %d px: %s" % (name, width, fault) for fault, there in wrong.items() if there]
            picture = os.path.join(folder, "%s-%d.png" % (name, width))
            browser(folder, "--window-size=%d,2600" % width, *ground, "--screenshot=" + picture, "file://" + page)
            faults += [] if os.path.getsize(picture) > 20000 else ["%s, %d px: the picture is empty" % (name, width)]
    browser(folder, "--no-pdf-header-footer", "--print-to-pdf=" + os.path.join(folder, "printed.pdf"), "file://" + page)
    shutil.rmtree(os.path.join(folder, "profile"), ignore_errors=True)
    if faults:
        raise SystemExit("\n".join(faults))
    print("the page stands by itself; its pictures are in", folder)


main(sys.argv[1], sys.argv[3:], sys.argv[2])
