"""Pictures: lines of the SVG at true size, the folded folio's silhouette, the PNG against the SVG drawn by others."""

import numpy as np
from PIL import Image
from shapely import MultiLineString, Polygon, affinity
from shapely.ops import unary_union
from svgelements import SVG, Close, Line, Move, Path

import anything
import folio
import made_up
from checks import OUT, STARTER, Checks, seeds
from folded import Folding, world
from ink import KINDS, TRUE, Stroke, differences, on_sheet, wanted
from layout import Layout
from program import done, tool

# Around the sheet in a picture of it, mm.
MARGIN = 6.0


def export(name, *options, source=STARTER):
    path = OUT / name
    done("export", "picture", source, "-o", path, *options)
    return path


def paths(file):
    """The visible paths of an SVG, in millimetres from its upper left corner."""
    # 25.4 pixels to the inch make the user unit a millimetre.
    svg = SVG.parse(str(file), ppi=25.4)
    return svg, [element for element in svg.elements() if isinstance(element, Path)]


def strokes(found):
    for path in found:
        if path.stroke is None or path.stroke.value is None:
            continue
        dashes = (path.values.get("stroke-dasharray") or "").replace(",", " ").split()
        for part in path:
            if isinstance(part, (Line, Close)) and part.start != part.end:
                yield Stroke(path.stroke.hexrgb.lstrip("#").lower(), len(dashes), float(path.stroke_width),
                             (part.start.x, part.start.y), (part.end.x, part.end.y))


def filled(found):
    """Outlines of filled paths with straight sides, which letters are not."""
    for path in found:
        straight = all(isinstance(part, (Move, Line, Close)) for part in path)
        if straight and path.fill is not None and path.fill.value is not None:
            for part in path.as_subpaths():
                points = [(p.x, p.y) for p in Path(part).as_points()]
                if len(points) > 2:
                    yield Polygon(points).buffer(0)


def check_sheet(checks, document):
    for turn in range(4):
        file = export(f"sheet-{turn}.svg", "--turn", turn)
        tool("xmllint", "--noout", file)
        svg, found = paths(file)
        _, (wide, high) = folio.turned((0, 0), folio.size(document), turn)
        checks.near(float(svg.width), wide / 1e6 + 2 * MARGIN, TRUE, f"turn {turn}: width, mm")
        checks.near(float(svg.height), high / 1e6 + 2 * MARGIN, TRUE, f"turn {turn}: height, mm")
        check_lines(checks, f"turn {turn}", found, wanted(document, turn))


def check_lines(checks, what, found, lines):
    drawn = on_sheet((stroke for stroke in strokes(found) if stroke.kind), (MARGIN, MARGIN))
    wrong = differences(drawn, lines)
    checks.that(not wrong, f"{what}: every line and no other, within {TRUE} mm", "; ".join(wrong[:4]))


def check_any(checks, seed):
    document = made_up.any_lines(seed)
    source = made_up.save(document, OUT / f"any-lines-{seed}.folio")
    turn = seed % 4
    _, found = paths(export(f"any-lines-{seed}.svg", "--turn", turn, source=source))
    check_lines(checks, f"seed {seed}, turn {turn}", found, wanted(document, turn))


def check_anything(checks, seed):
    """Slanting lines, arcs, strips and corners: what is drawn of each kind lies on what is asked for, and covers it."""
    document = anything.sheet(seed)
    source = made_up.save(document, OUT / f"anything-{seed}.folio")
    turn = seed % 4
    _, found = paths(export(f"anything-{seed}.svg", "--turn", turn, source=source))
    layout = Layout(document)
    asked, drawn = {kind: [] for kind in KINDS}, {kind: [] for kind in KINDS}
    placed = lambda point: [part / 1e6 + MARGIN for part in folio.turned(point, layout.sheet, turn)[0]]
    for kind, pair in layout.seen():
        asked[kind].append([placed(point) for point in pair])
    for line in layout.lines.values():
        if line.kind == "guide":
            asked["guide"].append([placed(point) for point in line.path()])
    for stroke in strokes(found):
        if stroke.kind:
            drawn[stroke.kind].append([stroke.a, stroke.b])
    for kind in KINDS:
        ours, theirs = MultiLineString(asked[kind]), MultiLineString(drawn[kind])
        # Arcs are laid out to 5 µm.
        missing = ours.difference(theirs.buffer(TRUE + 0.005)).length
        besides = theirs.difference(ours.buffer(TRUE + 0.005)).length
        checks.that(missing < TRUE and besides < TRUE, f"seed {seed}, turn {turn}: every {kind} line and no other",
                    f"{missing:.3f} mm are missing, {besides:.3f} mm are drawn besides")


def silhouette(folding, time, mirrored):
    """The folio's shadow on the table, mm."""
    shapes = []
    for panel in folding.parents:
        rotation, shift = folding.pose(panel, time)
        corners = [rotation.apply(world(point)) + shift for point in folding.cells[panel].exterior.coords]
        shapes.append(Polygon([(-x if mirrored else x, -y) for x, y, _ in corners]).buffer(0))
    return unary_union(shapes)


def check_folded(checks, document):
    folding = Folding(document)
    for time in ("0", "1", "1.75", "2", "2.5", "3", "3.25", "closed"):
        moment = len(folding.steps) if time == "closed" else float(time)
        for view in ("front", "back"):
            file = export(f"folded-{time}-{view}.svg", "--fold", time, "--view", view)
            tool("xmllint", "--noout", file)
            shadow = silhouette(folding, moment, view == "back")
            seen = unary_union(list(filled(paths(file)[1])))
            # The picture is scaled to fit: its own width gives the scale.
            (a, b, c, d), (e, f, g, h) = seen.bounds, shadow.bounds
            scale = (c - a) / (g - e)
            placed = affinity.translate(affinity.scale(shadow, scale, scale, origin=(e, f)), a - e, b - f)
            # Paper has a thickness in pictures: 0.3 mm a layer round the rim of what lies crosswise.
            off = placed.symmetric_difference(seen).area / placed.area
            checks.that(off < 0.02, f"silhouette at {time} from the {view}", f"{off:.4f} of the area differs")


def check_png(checks):
    for name, options, width in (("flat", [], 900), ("closed", ["--fold", "closed"], 640)):
        svg, png = export(f"{name}.svg", *options), export(f"{name}.png", *options, "--width", width)
        view, _ = paths(svg)
        image = Image.open(png)
        checks.equal(image.width, width, f"{name}: width in pixels")
        checks.near(image.height, width * float(view.height) / float(view.width), 1, f"{name}: height in pixels")
        twin = OUT / f"{name}-rsvg.png"
        tool("rsvg-convert", "-w", image.width, "-h", image.height, "-b", "white", svg, "-o", twin)
        ours, theirs = (np.asarray(Image.open(file).convert("RGB"), dtype=int) for file in (png, twin))
        apart = np.abs(ours - theirs).max(axis=2)
        # Renderers differ in how they soften edges, so no pixel is held to its twin, but their mean is.
        checks.that(apart.mean() < 2, f"{name}: as librsvg draws it, mean of 255", f"{apart.mean():.3f}")
        checks.that((apart > 96).mean() < 0.005, f"{name}: as librsvg draws it, pixels far off", f"{(apart > 96).mean():.5f}")


def main():
    checks = Checks(__file__)
    document = folio.load(STARTER)
    checks.group("the flat sheet on four turns", "svgelements, xmllint; lines resolved from the file alone")
    check_sheet(checks, document)
    checks.group("60 sheets with any lines", "the same, seeds fixed")
    for seed in seeds(60):
        check_any(checks, seed)
    checks.group("60 sheets with anything on them", "svgelements; lines parted by shapely; seeds fixed")
    for seed in seeds(60):
        check_anything(checks, seed)
    checks.group("the folded folio", "svgelements, shapely; silhouettes of panels folded by scipy")
    check_folded(checks, document)
    checks.group("pixels", "Pillow, librsvg")
    check_png(checks)
    checks.finish()


main()
