"""Holds the grades of lines over art against a reader of pictures (tesseract), and the mends that are offered.

Use: trials.py PROGRAM FOLDER. PROGRAM is the workshop. Copy is set by the program on grounds of three sources: drawn here,
and the pictures that scikit-image carries, their lightness pulled towards a middle and their swing made smaller by chance.
Each line is drawn at 300 pixels an inch, blurred by a pixel and given the noise of a scan, and read.
A line is hard where more than one letter in ten is misread.
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
from skimage import color, data, filters

PAGE = (1350, 960)  # 4.5 by 3.2 in
SEED = 8
HARD = 0.10
# The lightness of each grey: all pictures here are grey.
LIGHTNESS = color.rgb2lab(np.repeat(np.arange(256, dtype=np.uint8)[None, :, None], 3, axis=2))[0, :, 0]
WAYS = 2
PICTURES = ["astronaut", "brick", "camera", "chelsea", "coffee", "coins", "colorwheel", "grass", "gravel", "hubble_deep_field",
            "immunohistochemistry", "moon", "page", "rocket"]
TEXTS = [
    "Nobody had rowed past the drowned bell since the year of the long ice, and nobody meant to, until Ines found the oar with her own name cut into it.",
    "Up in the loft above the net store, a hundred paper boats wait for a wind that only the smallest of the sisters can whistle for.",
    "When the tide forgets to turn, the harbour cats hold a meeting. They choose the one who cannot swim, and they give her a lantern.",
    "There are seven doors in the lamp keeper's cottage, and on Sundays there are eight. Behind it somebody is learning the violin.",
    "Mossy the goat has eaten the map, the compass and most of the sail. Now she alone knows the way home, and she is not telling.",
]


def noise(rng, shape, scale):
    """Smooth noise of one scale, from 0 to 1."""
    field = ndimage.gaussian_filter(rng.standard_normal(shape), scale, mode="wrap")
    return (field - field.min()) / (field.max() - field.min())


def drawn(kind, rng):
    """A ground of this file's own, from 0 (dark) to 1 (light)."""
    width, height = PAGE
    x, y = np.meshgrid(np.arange(width), np.arange(height))
    if kind == "flat":
        return np.full((height, width), 0.5)
    if kind == "gradient":
        return x / width
    if kind == "wash":
        return noise(rng, (height, width), 120)
    if kind == "wash, small":
        return noise(rng, (height, width), 40)
    if kind == "speckle":
        return (rng.random((height, width)) > 0.985).astype(float)
    if kind == "stars":
        field = np.zeros((height, width))
        for _ in range(160):
            field[rng.integers(height), rng.integers(width)] = rng.uniform(200, 900)
        return np.clip(ndimage.gaussian_filter(field, 3), 0, 1)
    if kind == "grain":
        return np.clip(0.5 + 0.2 * ndimage.gaussian_filter(rng.standard_normal((height, width)), 1.2) * 3, 0, 1)
    if kind == "leaves":
        return sum(noise(rng, (height, width), scale) / 4 for scale in (4, 8, 16, 32))
    if kind == "stripes":
        return 0.5 + 0.5 * np.sign(np.sin(2 * np.pi * (x + 0.3 * y) / rng.uniform(8, 60)))
    if kind == "line drawing":
        field = noise(rng, (height, width), 20)
        return 1 - np.clip(1 - np.abs(((field * 14) % 1) - 0.5) * 8, 0, 1)
    if kind == "spots":
        return (noise(rng, (height, width), 25) > 0.5).astype(float)
    if kind == "edge":
        return (y + 0.4 * x > rng.uniform(0.4, 0.9) * height).astype(float)
    raise ValueError(kind)


KINDS = ["flat", "gradient", "wash", "wash, small", "speckle", "stars", "grain", "leaves", "stripes", "line drawing", "spots", "edge"]


def of_library(name):
    """A picture of scikit-image as shades from 0 to 1, cut to the page's shape; none where it is not carried along."""
    try:
        image = getattr(data, name)()
    except Exception:  # Not among those that the package carries; nothing is fetched.
        return None
    image = np.asarray(image)
    grey = image if image.ndim == 2 else color.rgb2gray(image[..., :3])
    grey = grey.astype(float) / (255 if grey.max() > 1 else 1)
    height, width = grey.shape
    wanted = min(width, height * PAGE[0] // PAGE[1]), min(height, width * PAGE[1] // PAGE[0])
    left, head = (width - wanted[0]) // 2, (height - wanted[1]) // 2
    part = grey[head:head + wanted[1], left:left + wanted[0]]
    return np.asarray(Image.fromarray(part.astype(np.float32)).resize(PAGE, Image.BICUBIC)).clip(0, 1)


def as_picture(shades, middle, swing):
    """Shades as a picture of some middle lightness and some swing, in sRGB."""
    lightness = np.clip(middle + (shades - 0.5) * swing, 0, 100)
    lab = np.dstack([lightness, np.zeros_like(lightness), np.zeros_like(lightness)])
    return (color.lab2rgb(lab) * 255).round().astype(np.uint8)


def write_ppm(path, pixels):
    height, width = pixels.shape[:2]
    path.write_bytes(b"P6\n%d %d\n255\n" % (width, height) + pixels.tobytes())


def grey_of(lightness):
    return [int(channel) for channel in as_picture(np.array([[0.5]]), lightness, 0)[0, 0]]


def trials(folder, rng, chance):
    """About a hundred pages: every ground four times, with other swings, middles, inks and sizes."""
    grounds = [(kind, lambda kind=kind: drawn(kind, rng)) for kind in KINDS]
    grounds += [(name, lambda shades=shades: shades) for name in PICTURES if (shades := of_library(name)) is not None]
    made = []
    for kind, shades in grounds:
        for turn in range(4):
            dark_ink = chance.random() < 0.5
            swing = chance.choice([8, 15, 25, 40, 60, 90])
            middle = chance.uniform(40, 85) if dark_ink else chance.uniform(15, 65)
            ink = chance.choice([0, 5, 12, 20]) if dark_ink else chance.choice([100, 97, 92])
            name = f"{kind.replace(' ', '-').replace(',', '')}-{turn}"
            path = folder / f"{name}.ppm"
            write_ppm(path, as_picture(shades(), middle, swing))
            made.append({
                "name": name, "kind": kind, "ground": str(path), "ink": grey_of(ink), "size": chance.choice([11, 13, 16]),
                "font": chance.choice(["serif", "sans"]), "text": chance.choice(TEXTS),
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


def main():
    program, folder = sys.argv[1], Path(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    rng, chance = np.random.default_rng(SEED), random.Random(SEED)
    made = trials(folder, rng, chance)
    (folder / "trials.json").write_text(json.dumps(made))
    told = subprocess.run([program, "art_trials", "lines", str(folder / "trials.json"), str(folder)], capture_output=True, text=True, check=True)
    # A last line of a word or two is read by luck.
    lines = [line for line in map(json.loads, told.stdout.splitlines()) if len(bare(line["text"])) >= 12]
    found = errors([(line["picture"], line["ink"], line["text"]) for line in lines], folder, rng)
    is_hard = [error > HARD for error in found]
    hard = [line for line, known in zip(lines, is_hard) if known]
    clear = [line for line, known in zip(lines, is_hard) if not known]
    print(f"{len(made)} pages, {len(lines)} lines, of which the reader finds {len(hard)} hard")
    print("area under the curve for hard lines")
    areas = {}
    for name, key in [("stand-out ratio, worst word", "stand_out"), ("contrast ratio, worst letter", "contrast"),
                      ("contrast ratio, mean of the line", "mean_contrast")]:
        areas[key] = area([line[key] for line in lines], is_hard)
        print(f"  {name:<34}{areas[key]:.3f}")
    print(f"{'grade':<8}{'lines':>6}{'hard':>6}")
    for grade in ("clear", "hard", "lost"):
        of_grade = [known for line, known in zip(lines, is_hard) if line["grade"] == grade]
        print(f"{grade:<8}{len(of_grade):>6}{sum(of_grade):>6}")
    by_ratio = [line for line in clear if line["stand_out"] < 3]
    lost = [line for line in clear if line["grade"] == "lost"]
    missed = [line for line in hard if line["grade"] == "clear"]
    print(f"of lines that are read, called lost: {share(lost, clear):.3f}; by the stand-out ratio alone {share(by_ratio, clear):.3f}")
    print(f"of hard lines, called clear: {share(missed, hard):.3f}")
    mended = [line for line in lines if "tint" in line]
    again = errors([(line["tinted"], line["ink"], line["text"]) for line in mended], folder, rng)
    stay = [line for line, error in zip(mended, again) if error > HARD]
    were = [line for line in mended if line in hard]
    without = [line for line in lines if line["grade"] != "clear" and "tint" not in line]
    print(f"tints offered: {len(mended)}, of which the reader found {len(were)} hard before and {len(stay)} after "
          f"({share(stay, mended):.3f}); no tint helps: {len(without)}")
    opacities = sorted(line["tint"] for line in mended)
    if opacities:
        print(f"opacity: median {opacities[len(opacities) // 2]} %, nine in ten up to {opacities[len(opacities) * 9 // 10]} %")
    faults = []
    if areas["stand_out"] < 0.95:
        faults.append("the stand-out ratio ranks hard lines worse than .95")
    if share(lost, clear) > 0.12:
        faults.append("more than .12 of the lines that are read are called lost")
    if share(stay, mended) > 0.05:
        faults.append("more than 5 in 100 lines stay hard on their tint")
    (folder / "lines.json").write_text(json.dumps([dict(line, error=error) for line, error in zip(lines, found)]))
    if faults:
        raise SystemExit("; ".join(faults))


main()
