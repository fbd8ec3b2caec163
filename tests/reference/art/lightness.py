"""Holds luminance, lightness and its spread against scikit-image's rgb2lab and rgb2xyz, on the pictures that it carries.

Use: lightness.py PROGRAM FOLDER. PROGRAM is the workshop.
"""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
from skimage import color, data

PICTURES = ["astronaut", "chelsea", "coffee", "colorwheel", "hubble_deep_field", "immunohistochemistry", "rocket"]
MOST = 0.01
# The mean and the spread of L* of a whole picture, so that another release of the library cannot shift both sides.
KNOWN = {"coffee": (44.416, 23.203)}


def main():
    program, folder = sys.argv[1], Path(sys.argv[2])
    pictures = {}
    for name in PICTURES:
        image = np.ascontiguousarray(getattr(data, name)()[..., :3])
        path = folder / f"{name}.ppm"
        path.write_bytes(b"P6\n%d %d\n255\n" % (image.shape[1], image.shape[0]) + image.tobytes())
        pictures[str(path)] = image
    told = subprocess.run([program, "art_trials", "windows", *pictures], capture_output=True, text=True, check=True).stdout
    worst = {"luminance": 0.0, "lightness": 0.0, "spread": 0.0}
    rows = [json.loads(row) for row in told.splitlines()]
    for row in rows:
        x, y, width, height = row["window"]
        part = pictures[row["picture"]][y:y + height, x:x + width]
        lightness = color.rgb2lab(part)[..., 0]
        # White is 1, and so is the sum of a row of the library's matrix to four figures.
        own = {"luminance": color.rgb2xyz(part)[..., 1].mean(), "lightness": lightness.mean(), "spread": lightness.std()}
        for key in worst:
            worst[key] = max(worst[key], abs(row[key] - own[key]))
    for name, (mean, spread) in KNOWN.items():
        row = next(row for row in rows if Path(row["picture"]).stem == name and row["window"][:2] == [0, 0])
        worst[name] = max(abs(row["lightness"] - mean), abs(row["spread"] - spread))
    figures = ", ".join(f"{key} off by at most {off:.5f}" for key, off in worst.items())
    print(f"{len(rows)} windows of {len(pictures)} pictures: {figures}")
    if max(worst.values()) > MOST:
        raise SystemExit(f"more than {MOST}")


main()
