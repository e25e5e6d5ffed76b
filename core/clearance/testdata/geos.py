"""Finds with GEOS, through shapely, what the package finds by itself.

Reads lots or pairs of shapes as JSON from standard input and writes the answers
as JSON. How it goes about it shares nothing with the package but the
definition:

* an area is not cut into convex pieces; what a footprint must keep away from is
  the area moved by one corner of the footprint, and for each of its sides the
  convex hull of the side's ends less the footprint's corners;
* outlines are joined by GEOS's unary_union and taken from the lot by its
  difference;
* a place is judged by GEOS's distances between the footprint standing there and
  the shapes, without any arc.

Modes: "regions" with arcs as polygons that touch them from outside, as many
sides to a circle as the package takes; "plain" with GEOS's own buffers, whose
arcs are inscribed, quad_segs given; "distances" between pairs of shapes.
"""

import json
import math
import sys
import time

from shapely.affinity import translate
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.ops import unary_union


def chords(radius, tolerance):
    """Sides of a circle that its circumscribed polygon misses by the tolerance at most."""
    if radius <= 0:
        return 4
    return max(4, 4 * min(1024, math.ceil(math.pi / math.acos(radius / (radius + tolerance)) / 4)))


def rounded(hull, radius, n):
    """The corners of a convex hull grown by a radius, arcs touched by the n
    directions of a circle and by the hull's own sides."""
    if isinstance(hull, Point):
        corners = [hull.coords[0]]
    elif isinstance(hull, LineString):
        corners = list(hull.coords)
    else:
        corners = list(hull.exterior.coords)[:-1]
        if not hull.exterior.is_ccw:
            corners.reverse()
    step = 2 * math.pi / n
    out = []
    for i, (x, y) in enumerate(corners):
        if len(corners) == 1:
            first, turn = 0.0, 2 * math.pi
        else:
            before, after = corners[i - 1], corners[(i + 1) % len(corners)]
            first = math.atan2(before[0] - x, y - before[1])
            turn = (math.atan2(x - after[0], after[1] - y) - first) % (2 * math.pi)
        angles = [first]
        k = math.floor(first / step) + 1
        while k * step < first + turn - 1e-9:
            if k * step > first + 1e-9:
                angles.append(k * step)
            k += 1
        angles.append(first + turn)
        for a, b in zip(angles, angles[1:]):
            to = radius / math.cos((b - a) / 2)
            out.append((x + to * math.cos((a + b) / 2), y + to * math.sin((a + b) / 2)))
    return out


def cores(shape):
    """A shape as plain geometries, each with the radius that it is grown by."""
    p, half = shape["points"], shape["half"]
    if len(p) == 1:
        return [(Point(p[0]), shape["radius"])]
    if shape["closed"]:
        return [(Polygon(p), 0)]
    if half == 0:
        return [(LineString(p), 0)]
    legs = [(LineString(leg).buffer(half, cap_style=2), 0) for leg in zip(p, p[1:])]
    return legs + [(Point(bend), half) for bend in p[1:-1]]


def sides(geometry):
    """The sides of a geometry, a point being one of its own."""
    if isinstance(geometry, Point):
        return [list(geometry.coords)]
    line = list(geometry.exterior.coords if isinstance(geometry, Polygon) else geometry.coords)
    return list(zip(line, line[1:]))


def turned(foot, turn):
    s, c = math.sin(turn), math.cos(turn)
    return [(e * c + n * s, n * c - e * s) for e, n in foot]


def hulls(geometry, foot):
    for side in sides(geometry):
        sums = [(x - e, y - n) for x, y in side for e, n in foot]
        yield (LineString(sums).convex_hull if len(sums) > 1 else Point(sums[0]))


def kept_off(lot):
    """What the footprint's centre must keep off, before any rounding: convex hulls
    with the distances they grow by, and solids that need none."""
    foot = turned(lot["foot"], lot["turn"])
    first = (-foot[0][0], -foot[0][1])
    to_grow, solid = [], []
    for o in lot["obstacles"]:
        for core, radius in cores(o):
            to_grow += [(hull, radius + o["setback"]) for hull in hulls(core, foot)]
            if isinstance(core, Polygon):
                solid.append(translate(core, *first))
    outline = Polygon(lot["lot"])
    to_grow += [(hull, lot["setback"]) for hull in hulls(outline, foot)]
    return to_grow, solid, translate(outline, *first)


def region(to_grow, solid, outline, grow):
    return outline.difference(unary_union([grow(*h) for h in to_grow] + solid))


def circumscribed(tolerance):
    def grow(hull, radius):
        if radius == 0:
            return hull
        return Polygon(rounded(hull, radius, chords(radius, tolerance)))

    return grow


def margin(lot, outline, made, place):
    """How much the footprint standing at a place has to spare; negative where it
    breaks a setback or overlaps."""
    foot = [(place[0] + e, place[1] + n) for e, n in turned(lot["foot"], lot["turn"])]
    stands = Point(foot[0]) if len(foot) == 1 else Polygon(foot)
    if not outline.contains(stands):
        return -1.0
    least = outline.exterior.distance(stands) - lot["setback"]
    for geometry, radius, setback, closed in made:
        gap = geometry.distance(stands)
        if gap == 0 and radius == 0 and setback == 0 and closed and not geometry.touches(stands):
            return -1.0
        least = min(least, gap - radius - setback)
    return least


def answer(lot):
    found = region(*kept_off(lot), circumscribed(lot["tolerance"]))
    outline = Polygon(lot["lot"])
    made = [(g, r, o["setback"], isinstance(g, Polygon)) for o in lot["obstacles"] for g, r in cores(o)]
    out = {"area": found.area, "margins": [], "inside": [], "from_edge": []}
    for place in lot["places"]:
        p = Point(place)
        out["margins"].append(margin(lot, outline, made, place))
        out["inside"].append(found.contains(p))
        out["from_edge"].append(found.boundary.distance(p) if not found.is_empty else 1e9)
    return out


def plain(lot, quad_segs, times):
    """The region by GEOS's own buffers, and the seconds that its buffers, union and
    difference take at least; the convex hulls are made beforehand."""

    def grow(hull, radius):
        return hull if radius == 0 else hull.buffer(radius, resolution=quad_segs)

    parts = kept_off(lot)
    found = region(*parts, grow)
    least = math.inf
    for _ in range(times):
        before = time.perf_counter()
        region(*parts, grow)
        least = min(least, time.perf_counter() - before)
    return {"area": found.area, "seconds": least}


def distance(a, b):
    return max(0.0, min(g.distance(h) - r - s for g, r in cores(a) for h, s in cores(b)))


def main():
    asked = json.load(sys.stdin)
    if asked["mode"] == "regions":
        out = [answer(lot) for lot in asked["lots"]]
    elif asked["mode"] == "plain":
        out = [plain(lot, asked["quad_segs"], asked["times"]) for lot in asked["lots"]]
    else:
        out = [distance(a, b) for a, b in asked["pairs"]]
    json.dump(out, sys.stdout)


main()
