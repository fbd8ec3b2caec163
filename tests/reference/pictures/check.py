"""Holds what a terminal shows in the place of the panel against the panel's own pixels.

Use: check.py SCREEN.xwd PIXELS CELL_WIDTH CELL_HEIGHT. The screen is a dump of the terminal's window; sixels have a
hundred steps for each channel, so a step of 255 may be off by two.
"""

import struct
import sys


def screen(path):
    """The rows of a window dump as triples of red, green and blue. Source: XWDFile.h."""
    data = open(path, "rb").read()
    header = struct.unpack(">25I", data[:100])
    start, width, height, order = header[0] + header[19] * 12, header[4], header[5], header[7]
    stride = header[12]
    channels = (2, 1, 0) if order == 0 else (1, 2, 3)
    for y in range(height):
        row = data[start + y * stride : start + y * stride + width * 4]
        yield list(zip(*(row[channel::4] for channel in channels)))


def main():
    window, pixels, wide, high = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    rows = list(screen(window))
    lines = open(pixels).read().split("\n")
    left, top, width, height = (int(number) for number in lines[0].split())
    left, top = left * wide, top * high
    wrong, worst = 0, 0
    for y in range(height):
        line = lines[1 + y]
        for x in range(width):
            own = bytes.fromhex(line[x * 6 : x * 6 + 6])
            shown = rows[top + y][left + x]
            off = max(abs(one - other) for one, other in zip(own, shown))
            worst = max(worst, off)
            wrong += off > 2
    print(f"{width} x {height} pixels: {wrong} differ, the worst by {worst} of 255")
    sys.exit(wrong > 0)


if __name__ == "__main__":
    main()
