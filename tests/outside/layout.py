"""The areas of a sheet, by shapely."""

from shapely import LineString, box
from shapely.ops import polygonize, unary_union


def faces(sheet, lines):
    """The areas that lines part a sheet into."""
    drawn = [LineString([line.a, line.b]) for line in lines if line.a != line.b]
    return list(polygonize(unary_union([box(0, 0, *sheet).exterior, *drawn])))
