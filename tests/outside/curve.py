"""Arcs and strips as outlines, in nanometres: far more finely than the program lays them out."""

import math

# Stretches of an arc. A half circle of 10 cm then is within 1 µm of its circle.
FINE = 400


def way(a, b):
    """Unit vectors along the way from a to b, and to its left for who turns the sheet so that it starts at the top."""
    x, y = b[0] - a[0], b[1] - a[1]
    whole = math.hypot(x, y)
    # Down the sheet, the left is towards smaller x.
    return (x / whole, y / whole), (-y / whole, x / whole)


def arc(a, b, bow):
    """The points of an arc whose middle rises by `bow` to the left of the way; just the two ends for a bow of nothing.

    The centre lies on the middle perpendicular, where its distances to the ends and to the arc's middle are alike:
    (c/2)² + d² = (d + h)², so d = (c²/4 - h²) / 2h.
    """
    if bow == 0:
        return [a, b]
    (ux, uy), (lx, ly) = way(a, b)
    half, rise = math.dist(a, b) / 2, abs(bow)
    sign = 1 if bow > 0 else -1
    below = (half**2 - rise**2) / (2 * rise)
    radius = below + rise
    # From the centre, the ends are seen so far to either side of the middle.
    spread = math.atan2(half, below)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    points = [a]
    for i in range(1, FINE):
        angle = spread * (2 * i / FINE - 1)
        along, up = radius * math.sin(angle), sign * (radius * math.cos(angle) - below)
        points.append((middle[0] + along * ux + up * lx, middle[1] + along * uy + up * ly))
    return [*points, b]


def strip(a, b, width, side, past):
    """The outline of a strip along the way from a to b; beside the line it runs on so far past either end."""
    (ux, uy), (lx, ly) = way(a, b)
    left = {"left": width, "right": 0, "centred": width // 2}[side]

    def moved(point, by, on):
        on = on if by else 0
        return point[0] + by * lx + on * ux, point[1] + by * ly + on * uy

    before, after = past
    right = left - width
    return [moved(a, left, -before), moved(b, left, after), moved(b, right, after), moved(a, right, -before)]
