"""Holds the proofs against one another: the PNG and the PDF have their ink in the same places, and the PDF its true size.

The PDF is drawn by cairo (pdftocairo, of Poppler), the PNG by the program. Each pixel's darkness is compared: of all pixels at
most one in two hundred may differ by more than half, and the ink of the one, moved by a pixel to any side, may not lie nearer to
that of the other than where it is.

usage: pictures.py PROGRAM WORK DRAFT...
"""

import re
import subprocess
import sys
from pathlib import Path

from PIL import Image, ImageChops

DPI = 150
MOST_APART = 1 / 200
HALF = 128


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def apart(one, other):
    """The share of pixels that differ by more than half."""
    difference = ImageChops.difference(one, other).point(lambda level: 255 if level > HALF else 0)
    histogram = difference.histogram()
    return sum(histogram[1:]) / (one.width * one.height)


def moved(picture, across, down):
    other = Image.new("L", picture.size, 255)
    other.paste(picture, (across, down))
    return other


def check(program, work, draft):
    name = Path(draft).stem
    pdf, png = f"{work}/{name}.pdf", f"{work}/{name}.png"
    subprocess.run([program, "proof", draft, "-o", pdf], check=False, capture_output=True)
    subprocess.run([program, "proof", draft, "-o", png, "--resolution", str(DPI)], check=False, capture_output=True)
    run("pdftocairo", "-png", "-gray", "-r", str(DPI), "-singlefile", pdf, f"{work}/{name}-cairo")
    ours, cairos = Image.open(png).convert("L"), Image.open(f"{work}/{name}-cairo.png").convert("L")
    if abs(ours.width - cairos.width) > 1 or abs(ours.height - cairos.height) > 1:
        sys.exit(f"{draft}: the PNG has {ours.size} pixels, the PDF {cairos.size}")
    size = (min(ours.width, cairos.width), min(ours.height, cairos.height))
    ours, cairos = ours.crop((0, 0, *size)), cairos.crop((0, 0, *size))
    share = apart(ours, cairos)
    others = {(x, y): apart(moved(ours, x, y), cairos) for x in (-1, 0, 1) for y in (-1, 0, 1) if (x, y) != (0, 0)}
    nearest = min(others, key=others.get)
    # A page of blank paper would agree with itself.
    ink = sum(ours.histogram()[:HALF]) / (size[0] * size[1])
    print(f"{draft}: {share:.4%} of the pixels differ by more than half; moved by a pixel, {others[nearest]:.4%} at best; {ink:.2%} is ink")
    if share > MOST_APART or others[nearest] <= share or ink < 0.005:
        sys.exit(f"{draft}: PNG and PDF do not agree")
    # The page is as large in points as the picture is in pixels at its resolution.
    width, height = map(float, re.search(r"Page size:\s+([\d.]+) x ([\d.]+) pts", run("pdfinfo", pdf)).groups())
    svg = f"{work}/{name}.svg"
    subprocess.run([program, "proof", draft, "-o", svg], check=False, capture_output=True)
    points = [float(value) for value in re.findall(r'(?:width|height)="([\d.]+)pt"', Path(svg).read_text())[:2]]
    print(f"{draft}: the page has {width} x {height} pt, the SVG {points[0]:.2f} x {points[1]:.2f} pt")
    if abs(width - points[0]) > 0.1 or abs(height - points[1]) > 0.1:
        sys.exit(f"{draft}: the PDF has not its true size")


def main():
    program, work, *drafts = sys.argv[1:]
    for draft in drafts:
        check(program, work, draft)


if __name__ == "__main__":
    main()
