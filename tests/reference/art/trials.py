"""Holds the grades of lines over art against a reader of pictures (tesseract), and the mends that are offered.

Use: trials.py PROGRAM FOLDER. PROGRAM is the workshop. Copy is set by the program on the grounds of grounds.py, their lightness
pulled towards a middle and their swing made smaller by chance. Each line is drawn at 300 pixels an inch, blurred by a pixel
and given the noise of a scan, and read. A line is hard where more than one letter in ten is misread. Every mend that is
offered is put into the brief, and the page set, drawn and read again.
"""

import json
import random
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage
from skimage import color, filters

import grounds

HARD = 0.10
# The lightness of each grey: all pictures here are grey.
LIGHTNESS = color.rgb2lab(np.repeat(np.arange(256, dtype=np.uint8)[None, :, None], 3, axis=2))[0, :, 0]
WAYS = 2
# A last line of a word or two is read by luck.
FEWEST_LETTERS = 12
LEAST_AREA = 0.95
MOST_CALLED_LOST = 0.12
# Of the lines that had to be mended, as many may stay hard, or two where there are few lines.
MOST_STAY = 0.05
TEXTS = [
    "Nobody had rowed past the drowned bell since the year of the long ice, and nobody meant to, until Ines found the oar with her own name cut into it.",
    "Up in the loft above the net store, a hundred paper boats wait for a wind that only the smallest of the sisters can whistle for.",
    "When the tide forgets to turn, the harbour cats hold a meeting. They choose the one who cannot swim, and they give her a lantern.",
    "There are seven doors in the lamp keeper's cottage, and on Sundays there are eight. Behind it somebody is learning the violin.",
    "Mossy the goat has eaten the map, the compass and most of the sail. Now she alone knows the way home, and she is not telling.",
]
OTHER_TEXTS = [
    "The baker's clock has struck thirteen again, and this time the whole street heard it. Petra packs bread, string and a candle stub.",
    "On the island of kites every child is given one at birth. Tam's has never flown, but last night it pulled him out of bed.",
    "Grandfather keeps winter in a jar behind the flour. One July morning the lid is off, and the kitchen window is white with frost.",
    "Two foxes run the ferry between the living woods and the painted ones. They take no coins, only questions nobody has asked before.",
    "Wren can hear what stones are thinking. Mostly it is nothing much, until the old bridge begins to worry about Thursday.",
]


def as_picture(shades, middle, swing):
    """Shades as a picture of some middle lightness and some swing, in sRGB."""
    grey = np.interp(middle + (shades - 0.5) * swing, LIGHTNESS, np.arange(256)).round().astype(np.uint8)
    return np.repeat(grey[..., None], 3, axis=2)


def write_ppm(path, pixels):
    height, width = pixels.shape[:2]
    path.write_bytes(b"P6\n%d %d\n255\n" % (width, height) + pixels.tobytes())


def grey_of(lightness):
    return [int(channel) for channel in as_picture(np.array([[0.5]]), lightness, 0)[0, 0]]


def busy(chance):
    """A swing, a middle lightness and an ink that goes with it."""
    is_dark = chance.random() < 0.5
    swing = chance.choice([8, 15, 25, 40, 60, 90])
    middle = chance.uniform(40, 85) if is_dark else chance.uniform(15, 65)
    return swing, middle, chance.choice([0, 5, 12, 20]) if is_dark else chance.choice([100, 97, 92])


def faint(chance):
    """A small swing, and an ink that is near to the middle or on its wrong side."""
    middle = chance.uniform(20, 90)
    away = chance.choice([20, 30, 40, 50])
    return chance.choice([4, 10, 30]), middle, min(100, max(0, middle - away if chance.random() < 0.5 else middle + away))


def strong(chance):
    """A large swing, and the ink that is furthest from the middle."""
    is_dark = chance.random() < 0.5
    return 90, chance.uniform(70, 85) if is_dark else chance.uniform(15, 30), 0 if is_dark else 100


def trials(folder, made_of, turns, drawn_by, texts, seed):
    """Pages: every ground some times, with other swings, middles, inks and sizes."""
    rng, chance = np.random.default_rng(seed), random.Random(seed)
    folder.mkdir(parents=True, exist_ok=True)
    made = []
    for kind, shades in made_of:
        for turn in range(turns):
            swing, middle, ink = drawn_by(chance)
            name = f"{kind.replace(' ', '-').replace(',', '').replace('/', '-')}-{turn}"
            path = folder / f"{name}.ppm"
            write_ppm(path, as_picture(shades(rng), middle, swing))
            made.append({
                "name": name, "kind": kind, "ground": str(path), "ink": grey_of(ink), "size": chance.choice([11, 13, 16]),
                "font": chance.choice(["serif", "sans"]), "text": chance.choice(texts),
            })
    return made


def prepared(path, ink, rng):
    """A line as a scan has it: blurred and with noise, dark letters on light, and made black and white in two ways: by one
    bound for all, and by a bound for each neighbourhood."""
    lightness = LIGHTNESS[np.asarray(Image.open(path).convert("L"))]
    lightness = ndimage.gaussian_filter(lightness, 1) + rng.normal(0, 2, lightness.shape)
    if ink > np.median(lightness):
        lightness = 100 - lightness
    bounds = (filters.threshold_otsu(lightness), filters.threshold_sauvola(lightness, window_size=61, k=0.08, r=50))
    return [np.where(lightness > bound, 255, 0).astype(np.uint8) for bound in bounds]


def read(paths):
    """What the reader makes of some pictures, each of a line."""
    listed = paths[0].with_suffix(".list")
    listed.write_text("\n".join(str(path) for path in paths))
    command = ["tesseract", str(listed), "stdout", "--psm", "7", "-l", "eng", "-c", "page_separator=\f"]
    told = subprocess.run(command, capture_output=True, text=True, env={"OMP_THREAD_LIMIT": "1", "PATH": "/usr/bin:/bin"})
    texts = told.stdout.split("\f")
    if len(texts) < len(paths):
        raise SystemExit(f"tesseract read {len(texts)} of {len(paths)} lines: {told.stderr[-300:]}")
    return texts[:len(paths)]


def distance(one, other):
    """The least letters to add, to drop and to change (Levenshtein)."""
    row = list(range(len(other) + 1))
    for at, letter in enumerate(one, 1):
        before, row[0] = row[0], at
        for to, known in enumerate(other, 1):
            before, row[to] = row[to], min(row[to] + 1, row[to - 1] + 1, before + (letter != known))
    return row[-1]


def bare(text):
    return "".join(letter for letter in text.lower() if letter.isalnum())


def is_long(row):
    return len(bare(row["text"])) >= FEWEST_LETTERS


def errors(pictures, folder, rng):
    """The share of misread letters of each picture, the better of two ways to make it black and white."""
    paths, texts = [], []
    for number, (path, ink, text) in enumerate(pictures):
        for way, pixels in enumerate(prepared(path, ink, rng)):
            at = folder / f"{number}-{way}.png"
            Image.fromarray(np.pad(pixels, 20, constant_values=255)).save(at, dpi=(300, 300))
            paths.append(at)
            texts.append(text)
    batches = [paths[at:at + 120] for at in range(0, len(paths), 120)]
    with ThreadPoolExecutor(2) as pool:
        found = [text for batch in pool.map(read, batches) for text in batch]
    shares = [min(1.0, distance(bare(seen), bare(text)) / max(1, len(bare(text)))) for seen, text in zip(found, texts)]
    return [min(shares[at:at + WAYS]) for at in range(0, len(shares), WAYS)]


def area(values, is_hard):
    """The area under the curve: how often a hard line has a lower value than another line."""
    hard = [value for value, known in zip(values, is_hard) if known]
    easy = [value for value, known in zip(values, is_hard) if not known]
    wins = sum((low < high) + 0.5 * (low == high) for low in hard for high in easy)
    return wins / (len(hard) * len(easy))


def share(part, whole):
    return len(part) / len(whole) if whole else 0.0


def told_by(program, folder, made):
    """The rows that the program prints of some pages."""
    (folder / "trials.json").write_text(json.dumps(made))
    told = subprocess.run([program, "art_trials", "lines", str(folder / "trials.json"), str(folder)], capture_output=True, text=True)
    if told.returncode:
        raise SystemExit(told.stderr)
    return [json.loads(row) for row in told.stdout.splitlines()]


def held(name, pages, lines):
    """Tells how the grades of some lines go with what the reader made of them, and what is outside its bounds."""
    hard = [line for line in lines if line["is_hard"]]
    clear = [line for line in lines if not line["is_hard"]]
    print(f"{name}: {pages} pages, {len(lines)} lines, of which the reader finds {len(hard)} hard")
    print("area under the curve for hard lines")
    areas = {}
    for told, key in [("stand-out ratio, worst word", "stand_out"), ("contrast ratio, worst letter", "contrast"),
                      ("contrast ratio, mean of the line", "mean_contrast")]:
        areas[key] = area([line[key] for line in lines], [line["is_hard"] for line in lines])
        print(f"  {told:<34}{areas[key]:.3f}")
    print(f"{'grade':<8}{'lines':>6}{'hard':>6}")
    for grade in ("clear", "hard", "lost"):
        of_grade = [line["is_hard"] for line in lines if line["grade"] == grade]
        print(f"{grade:<8}{len(of_grade):>6}{sum(of_grade):>6}")
    by_ratio = [line for line in clear if line["stand_out"] < 3]
    lost = [line for line in clear if line["grade"] == "lost"]
    missed = [line for line in hard if line["grade"] == "clear"]
    print(f"of lines that are read, called lost: {share(lost, clear):.3f}; by the stand-out ratio alone {share(by_ratio, clear):.3f}")
    print(f"of hard lines, called clear: {share(missed, hard):.3f}")
    faults = []
    if areas["stand_out"] < LEAST_AREA:
        faults.append(f"{name}: the stand-out ratio ranks hard lines worse than {LEAST_AREA}")
    if share(lost, clear) > MOST_CALLED_LOST:
        faults.append(f"{name}: more than {MOST_CALLED_LOST} of the lines that are read are called lost")
    return faults


def mended(name, rows, vain, were):
    """Tells how many lines of a kind of mend stay hard, and what is outside its bounds."""
    wanted = [row for row in rows if not row["was_clear"]]
    stay = [row for row in wanted if row["is_hard"]]
    pages = {(row["set"], row["trial"]) for row in rows}
    broken = [row for row in rows if row["was_clear"] and row["is_hard"]]
    print(f"{name:<22}{len(pages):>6}{vain:>8}{len(wanted):>7}{were:>8}{len(stay):>7}{share(stay, wanted):>8.3f}{len(broken):>9}")
    faults = []
    if not wanted:
        faults.append(f"{name} is never offered")
    if len(stay) > max(2, MOST_STAY * len(wanted)):
        faults.append(f"{name}: {len(stay)} of {len(wanted)} lines stay hard")
    if any(row.get("grade", "clear") != "clear" for row in rows):
        faults.append(f"{name}: a line is not clear on its mend")
    return faults


def main():
    program, folder = sys.argv[1], Path(sys.argv[2])
    sets = [
        ("first", grounds.first(), 4, busy, TEXTS, 8),
        ("second", grounds.second(), 4, busy, OTHER_TEXTS, 23),
        ("calm", grounds.calm(), 6, faint, TEXTS + OTHER_TEXTS, 31),
        ("half busy", grounds.half_busy(), 24, strong, TEXTS + OTHER_TEXTS, 37),
    ]
    faults, everything, vain = [], [], []
    rng = np.random.default_rng(8)
    for name, made_of, turns, drawn_by, texts, seed in sets:
        at = folder / name
        made = trials(at, made_of, turns, drawn_by, texts, seed)
        rows = told_by(program, at, made)
        vain += [row["vain"] for row in rows if "vain" in row]
        rows = [dict(row, set=name) for row in rows if "text" in row and is_long(row)]
        # A tint behind a line alone is the least that is ever offered.
        rows += [dict(row, mend="tint, a line alone", picture=row["tinted"], was_clear=False, grade="clear")
                 for row in rows if "tint" in row]
        for row, error in zip(rows, errors([(row["picture"], row["ink"], row["text"]) for row in rows], at, rng)):
            row.update(error=error, is_hard=error > HARD)
        lines = [row for row in rows if "mend" not in row]
        if name in ("first", "second"):
            faults += held(name, len(made), lines)
        everything += rows
    before = {(row["set"], row["trial"], row["text"]): row["is_hard"] for row in everything if "mend" not in row}
    print(f"{'mend':<22}{'pages':>6}{'in vain':>8}{'lines':>7}{'before':>8}{'stay':>7}{'share':>8}{'spoiled':>9}")
    for kind in ("tint, a line alone", "tint", "ink", "place", "larger"):
        rows = [row for row in everything if row.get("mend") == kind]
        were = sum(before.get((row["set"], row["trial"], row["text"]), False) for row in rows if not row["was_clear"])
        faults += mended(kind, rows, vain.count(kind), were)
    opacities = sorted(row["tint"] for row in everything if "tint" in row and "mend" not in row)
    if opacities:
        print(f"opacity: median {opacities[len(opacities) // 2]} %, nine in ten up to {opacities[len(opacities) * 9 // 10]} %")
    (folder / "lines.json").write_text(json.dumps(everything))
    if faults:
        raise SystemExit("; ".join(faults))


main()
