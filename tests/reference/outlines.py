"""Outlines as both sides are told them: to the program as a shape of its brief, to the browser as shape-outside of floats.

Text outside a shape stands beside one float. Text inside it stands between a left and a right float that meet at an upright
through the shape: each is what the shape leaves of the column on its side. Points are in the box of the shape, in pt from its
head left corner.
"""
import math

# So many straight edges are nearer than 0.0002 pt to an ellipse of 400 pt.
ROUND_EDGES = 2880
# What stands above a shape that text goes into, so that an edge at its head keeps its distance from text below.
HEAD = 20.0


class Outline:
    """A shape that fills its box. `points` go round it once; `split` is an upright that stays inside it from head to foot.
    `is_drawn` tells that the program reckons the shape with a distance by straight edges."""

    def __init__(self, shape, width, height, points, css=None, split=None, is_drawn=False):
        self.shape, self.width, self.height, self.points, self.is_drawn = shape, width, height, points, is_drawn
        self.css, self.split = css, width / 2 if split is None else split

    def halves(self, depth):
        """What the shape leaves of a column on either side of the split, from HEAD above it down to a depth."""
        count, split = len(self.points), self.split
        head = min(range(count), key=lambda at: self.points[at][1])
        foot = max(range(count), key=lambda at: self.points[at][1])
        onward = [self.points[(head + step) % count] for step in range((foot - head) % count + 1)]
        back = [self.points[(head - step) % count] for step in range((head - foot) % count + 1)]
        sides = sorted((onward, back), key=lambda side: sum(x for x, _ in side) / len(side))
        for side, edge in zip(sides, (0.0, self.width)):
            (_, top), (_, bottom) = side[0], side[-1]
            yield [(edge, -HEAD), (split, -HEAD), (split, top)] + side + [(split, bottom), (split, depth), (edge, depth)]

    def floats_inside(self, depth, inset, zoom):
        """The two floats between which text stands inside the shape; from its foot down to a depth they leave no room."""
        left, right = [[(x, y + HEAD) for x, y in half] for half in self.halves(depth)]
        right, depth = [(x - self.split, y) for x, y in right], depth + HEAD
        for side, width, points in (("left", self.split, left), ("right", self.width - self.split, right)):
            yield box(side, width, depth, zoom, "shape-outside:%s;shape-margin:%.6fpx" % (polygon(points, zoom), inset * zoom))

    def float_outside(self, side, down, clearance, zoom):
        """The float beside which text stands outside the shape, at a depth. A shape is clipped to the margin box of its float,
        so a margin makes room for the clearance. Round the browser's own ellipse a margin is a larger ellipse, which is nearer
        than the distance; so a clearance is asked for round points."""
        shape = self.css if self.css and not clearance else polygon(self.points, zoom)
        inner = "right" if side == "left" else "left"
        edge = "%.6fpx" % (clearance * zoom)
        style = "clear:%s;shape-outside:%s content-box;shape-margin:%s;margin:%s 0;margin-%s:%s" % (
            side, shape, edge, edge, inner, edge)
        yield box(side, 0.0, down - clearance, zoom)
        yield box(side, self.width, self.height, zoom, style)


def box(side, width, height, zoom, style=""):
    return '<div style="float:%s;width:%.6fpx;height:%.6fpx;%s"></div>' % (side, width * zoom, height * zoom, style)


def polygon(points, zoom):
    return "polygon(%s)" % ",".join("%.4fpx %.4fpx" % (x * zoom, y * zoom) for x, y in points)


def ring(count, way=lambda turn: 1.0):
    """Points round the middle of a box of 1 by 1, the first at its right side; each stands `way` out of the middle."""
    turns = [2 * math.pi * at / count for at in range(count)]
    return [(0.5 + way(turn) * math.cos(turn) / 2, 0.5 + way(turn) * math.sin(turn) / 2) for turn in turns]


def ellipse(width, height):
    points = [(x * width, y * height) for x, y in ring(ROUND_EDGES)]
    return Outline("ellipse", width, height, points, "ellipse(50% 50%)", is_drawn=width != height)


def rounded(width, height, radius):
    corners = [(width - radius, height - radius, 0), (radius, height - radius, 90), (radius, radius, 180),
               (width - radius, radius, 270)]
    steps = [90 * at / (ROUND_EDGES // 4) for at in range(ROUND_EDGES // 4 + 1)]
    points = [(x + radius * math.cos(math.radians(start + step)), y + radius * math.sin(math.radians(start + step)))
              for x, y, start in corners for step in steps]
    return Outline("{ round: %r pt }" % radius, width, height, points)


def straight(width, height, points, split=None):
    """A shape of straight edges, drawn in pt."""
    shares = ", ".join("%.10f%% %.10f%%" % (100 * x / width, 100 * y / height) for x, y in points)
    return Outline("{ polygon: [%s] }" % shares, width, height, points, split=split)


def traced(width, height, count, lobes, depth):
    """A cloud of many points, as a drawing program traces it; its highest and lowest points are in the middle."""
    points = ring(count, lambda turn: 1 - depth * (1 - math.cos(lobes * turn)) / 2)
    return straight(width, height, [(x * width, y * height) for x, y in points])
