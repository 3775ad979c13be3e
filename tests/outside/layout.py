"""The areas of a sheet, by shapely: panels, what is taken out, which panels hang together and by which lines."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LinearRing, LineString, Point, Polygon, box
from shapely.ops import polygonize, unary_union

import corner
import folio

# nm. Ends and crossings are whole nanometres, and lines bend to them by less than one; what is further apart is apart.
NEAR = 2

# nm. What panels share of a line has to be longer than this to join them, so that nothing hangs on a rounding.
JOINED = 1000


def faces(sheet, lines):
    """The areas that lines part a sheet into."""
    drawn = [LineString([line.a, line.b]) for line in lines if line.a != line.b]
    return list(polygonize(unary_union([box(0, 0, *sheet).exterior, *drawn])))


@dataclass(frozen=True)
class Source:
    """Where a stretch comes from: a line, the sheet's edge (`line` None, `does` edge) or a corner taken off."""

    shape: object
    does: str
    line: int | None = None
    is_curve: bool = False


@dataclass(frozen=True)
class Region:
    """What is taken out."""

    shape: Polygon
    kind: str
    line: int | None = None


@dataclass(frozen=True)
class Cell:
    """An area that no line crosses; a panel when `void` is None. `curved` is how much of its outline is curves, nm."""

    shape: Polygon
    void: Region | None
    curved: float


class Layout:
    """A design's sheet, parted by its lines and corners."""

    def __init__(self, document):
        self.sheet = folio.size(document)
        self.lines = folio.lines(document)
        self.corner_faults, self.corner_sentences = {}, 0
        sources, regions = self.plan()
        self.part(sources, regions)
        if document.get("corners"):
            taken, self.corner_faults, self.corner_sentences = corner.taken_off(document["corners"], self)
            sources += [Source(LineString(path), "cut", is_curve=len(path) > 4) for path, _ in taken]
            regions += [Region(Polygon([*path, tip]), "corner") for path, tip in taken]
            self.part(sources, regions)
            for number, said in enumerate(document["corners"]):
                if self.panel_at(folio.point(said["mark"])) is None and number not in self.corner_faults:
                    self.corner_faults[number] = {"its mark lies on what is taken off"}

    def plan(self):
        """What is drawn before the sheet is parted. Guides part nothing."""
        whole = box(0, 0, *self.sheet)
        (w, h) = self.sheet
        sides = {"top": [(0, 0), (w, 0)], "right": [(w, 0), (w, h)],
                 "bottom": [(w, h), (0, h)], "left": [(0, h), (0, 0)]}
        sources = [Source(LineString(ends), name) for name, ends in sides.items()]
        regions = []
        for line in self.lines.values():
            if outline := line.taken_out(self.sheet):
                region = shapely.intersection(Polygon(outline), whole, grid_size=1)
                if region.area > 0:
                    regions.append(Region(region, line.work, line.id))
                    sources.append(Source(LinearRing(region.exterior), "cut", line.id, line.work == "notch"))
            elif line.work in ("score", "cut"):
                sources.append(Source(LineString(line.path()), line.work, line.id, line.bow != 0))
        # Paper that is taken out twice counts as the slot's.
        regions.sort(key=lambda region: region.kind != "slot")
        return sources, regions

    def part(self, sources, regions):
        self.sources = sources
        noded = shapely.unary_union([source.shape for source in sources], grid_size=1)
        shapes = list(polygonize(noded))
        self.sides = defaultdict(list)
        for number, shape in enumerate(shapes):
            for ring in (shape.exterior, *shape.interiors):
                corners = [tuple(place) for place in ring.coords]
                for pair in zip(corners, corners[1:]):
                    self.sides[tuple(sorted(pair))].append(number)
        self.covers = self.covering(noded)
        curved = [0.0] * len(shapes)
        for pair, numbers in self.sides.items():
            if any(source.is_curve for source in self.covers[pair]):
                for number in numbers:
                    curved[number] += Point(pair[0]).distance(Point(pair[1]))
        inner = [shape.representative_point() for shape in shapes]
        void = [next((region for region in regions if region.shape.contains(point)), None) for point in inner]
        self.inner = inner
        self.cells = [Cell(*parts) for parts in zip(shapes, void, curved)]
        self.folds = self.joints()

    def covering(self, noded):
        """For each stretch, what it comes from, in the document's order."""
        pairs = {tuple(sorted(pair)) for stretch in shapely.get_parts(noded)
                 for pair in zip(stretch.coords, stretch.coords[1:])}
        covers = {pair: [] for pair in pairs}
        pairs = list(covers)
        ends = np.array(pairs, dtype=float)
        places = [shapely.points(place) for place in (ends[:, 0], ends[:, 1], ends.mean(axis=1))]
        for source in self.sources:
            shapely.prepare(source.shape)
            on = np.all([shapely.dwithin(place, source.shape, NEAR) for place in places], axis=0)
            for i in np.flatnonzero(on):
                covers[pairs[i]].append(source)
        return covers

    def fold_along(self, pair):
        """The score that panels are joined by at a stretch: the first one, where nothing is cut."""
        covers = self.covers[pair]
        if any(source.does != "score" for source in covers) or len(set(self.sides[pair])) != 2:
            return None
        return covers[0].line if covers else None

    def seen(self):
        """What is done along each stretch that lies on paper and within the sheet: cut, or how it folds.

        A cut outweighs a score, and an earlier score a later one.
        """
        for pair, covers in self.covers.items():
            if not covers or any(source.does not in ("score", "cut") for source in covers):
                continue
            middle = Point(*((a + b) / 2 for a, b in zip(*pair)))
            beside = self.sides.get(pair)
            if not beside:
                beside = [number for number, cell in enumerate(self.cells) if cell.shape.contains(middle)]
            if any(self.cells[number].void is None for number in beside):
                is_cut = any(source.does == "cut" for source in covers)
                yield "cut" if is_cut else self.lines[covers[0].line].fold, pair

    def joints(self):
        """(panel, panel, line) to how long they are joined there."""
        found = defaultdict(float)
        for pair, numbers in self.sides.items():
            line = self.fold_along(pair)
            if line is not None and all(self.cells[number].void is None for number in numbers):
                found[(*sorted(numbers), line)] += Point(pair[0]).distance(Point(pair[1]))
        return {key: length for key, length in found.items() if length > JOINED}

    def panel_at(self, place):
        """The panel strictly around a place."""
        return next((number for number, cell in enumerate(self.cells)
                     if cell.void is None and cell.shape.contains(Point(place))), None)

    def pieces(self):
        """What hangs together: for each panel, the first panel of its piece."""
        first = {number: number for number, cell in enumerate(self.cells) if cell.void is None}

        def root(number):
            while first[number] != number:
                number = first[number]
            return number

        for a, b, _ in self.folds:
            a, b = sorted((root(a), root(b)))
            first[b] = a
        return {number: root(number) for number in first}

    def islands(self):
        """The pieces with no way to the outside but through other pieces; voids are ways."""
        beside, outside = defaultdict(set), set()
        for numbers in self.sides.values():
            if len(numbers) == 1:
                outside.add(numbers[0])
            else:
                beside[numbers[0]].add(numbers[1])
                beside[numbers[1]].add(numbers[0])
        reached, waiting = set(), list(outside)
        while waiting:
            number = waiting.pop()
            if number not in reached:
                reached.add(number)
                if self.cells[number].void is not None:
                    waiting += beside[number]
        pieces = self.pieces()
        return set(pieces.values()) - {pieces[number] for number in reached if number in pieces}
