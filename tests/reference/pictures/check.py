"""Holds what a terminal shows in the place of the panel against the panel's own pixels.

Use: check.py SCREEN.xwd PIXELS CELL_WIDTH CELL_HEIGHT [art]. The screen is a dump of the terminal's window; sixels have a
hundred steps for each channel, so a step of 255 may be off by two. Art has more colours than sixels: each of its pixels may be
off by what a dither of 256 colours takes, and the mean of each square of eight by eight pixels by little.
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


SQUARE = 8
PIXEL_OF_ART = 32
SQUARE_OF_ART = 6


def squares_off(offs, width, height):
    """The worst mean of a square's signed differences, over the channels."""
    worst = 0
    for top in range(0, height - SQUARE + 1, SQUARE):
        for left in range(0, width - SQUARE + 1, SQUARE):
            for channel in range(3):
                total = sum(offs[top + y][left + x][channel] for y in range(SQUARE) for x in range(SQUARE))
                worst = max(worst, abs(total) / SQUARE**2)
    return worst


def main():
    window, pixels, wide, high = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    is_art = sys.argv[5:] == ["art"]
    most = PIXEL_OF_ART if is_art else 2
    rows = list(screen(window))
    lines = open(pixels).read().split("\n")
    left, top, width, height = (int(number) for number in lines[0].split())
    left, top = left * wide, top * high
    offs = []
    for y in range(height):
        own = bytes.fromhex(lines[1 + y])
        shown = rows[top + y][left : left + width]
        offs.append([[shown[x][channel] - own[x * 3 + channel] for channel in range(3)] for x in range(width)])
    every = [max(map(abs, off)) for row in offs for off in row]
    wrong, worst = sum(off > most for off in every), max(every)
    told = f"{width} x {height} pixels: {wrong} differ by more than {most}, the worst by {worst} of 255"
    if is_art:
        by_square = squares_off(offs, width, height)
        colours = len({lines[1 + y][x : x + 6] for y in range(height) for x in range(0, width * 6, 6)})
        told += f"; squares by {by_square:.1f}, of {colours} colours"
        # With few colours it would not be art that stands there.
        wrong += by_square > SQUARE_OF_ART or colours < 500
    print(told)
    sys.exit(wrong > 0)


if __name__ == "__main__":
    main()
