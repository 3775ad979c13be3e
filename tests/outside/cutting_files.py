"""Cutting files: read by svgelements and ezdxf, and held against sheets that are parted by shapely.

Every score and cut is there once and where it lies, what is inside is cut first, pieces and parts have their areas, and
dashes have their lengths.
"""

import random
from collections import Counter

import ezdxf
import shapely
from ezdxf.path import make_path
from lxml import etree
from shapely import LineString, MultiLineString, MultiPoint, Point, Polygon
from shapely.affinity import affine_transform
from shapely.ops import polygonize, unary_union
from svgelements import SVG, Arc, Close, Line, Move, Path

import anything
import folio
import made_up
from checks import OUT, ROOT, STARTER, Checks, seeds
from layout import Layout
from program import described, done, run

# mm: what is asked of a cutting file; arcs are laid out to 0.005 mm elsewhere.
NEAR = 0.01

# mm: coordinates are written to the nanometre; lines are noded on a grid of ten of them.
GRID = 0.000_01

SVG_SPACE = "{http://www.w3.org/2000/svg}"

# The order of work: docs/command-line.md.
ORDER = ["mark", "score-valley", "score-mountain", "score-either", "slot", "cut", "outline"]

CUTS = ("slot", "cut", "outline")

KINDS = {"valley": "score-valley", "mountain": "score-mountain", "either": "score-either"}


class Run:
    """One way of the tool: its pass, the piece it is of, the path it is a part of, and its points, arcs finely."""

    def __init__(self, job, piece, path, points, length):
        self.job, self.piece, self.path, self.length = job, piece, path, length
        self.line = LineString(points)
        self.closed = points[0] == points[-1] and len(points) > 3

    @property
    def polygon(self):
        return Polygon(self.line.coords)


def points_of(part, count=180):
    if isinstance(part, Arc):
        return [(point.x, point.y) for point in (part.point(k / count) for k in range(1, count + 1))]
    return [(part.end.x, part.end.y)]


def read_svg(checks, name, file):
    """The runs of an SVG in its order, and its size."""
    svg = SVG.parse(str(file), ppi=25.4)
    tree = etree.parse(str(file)).getroot()
    wide, high = (tree.get(key) for key in ("width", "height"))
    checks.that(wide.endswith("mm") and high.endswith("mm"), f"{name}: the size is in mm", (wide, high))
    size = float(wide[:-2]), float(high[:-2])
    box = tuple(map(float, tree.get("viewBox").split()))
    checks.equal(box, (0, 0, *size), f"{name}: the user unit is a millimetre")
    # It rounds its pixels per millimetre.
    checks.near(float(svg.width), size[0], 1e-6 * size[0], f"{name}: width as svgelements reads it")
    kinds = {element.tag.removeprefix(SVG_SPACE) for element in tree.iter()} - {"svg", "title"}
    checks.that(kinds <= {"g", "path"}, f"{name}: groups and paths alone", kinds)
    checks.that(all(group.get("fill", "none") == "none" for group in tree.iter(f"{SVG_SPACE}g")), f"{name}: no fills")
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    checks.equal(len(ids), len(set(ids)), f"{name}: names are unlike")
    runs = []
    for number, path in enumerate(tree.iter(f"{SVG_SPACE}path")):
        group = path.getparent()
        piece = group.getparent().get("id") or ""
        for part in Path(path.get("d")).as_subpaths():
            points, length = [], 0.0
            for step in part:
                if isinstance(step, Move):
                    points.append((step.end.x, step.end.y))
                elif isinstance(step, (Line, Close, Arc)) and step.start != step.end:
                    points += points_of(step)
                    length += step.length()
            runs.append(Run(group.get("class"), piece, number, points, length))
    return runs, size


def read_dxf(checks, name, file, size):
    """The runs of a DXF, with y down as in the SVG."""
    document = ezdxf.readfile(file)
    audit = document.audit()
    checks.that(not audit.errors and not audit.fixes, f"{name}: ezdxf's audit", [*audit.errors, *audit.fixes])
    checks.equal(document.units, 4, f"{name}: units are millimetres")
    found = []
    for entity in document.modelspace():
        points = [(point.x, size[1] - point.y) for point in make_path(entity).flattening(0.0005)]
        found.append((entity.dxf.layer, points))
    layers = {layer for layer, _ in found}
    checks.that(layers <= {layer.dxf.name for layer in document.layers}, f"{name}: layers are declared", layers)
    return found


def check_twins(checks, name, runs, twins):
    """The SVG and the DXF have the same ways in the same order."""
    if checks.equal([run.job.upper() for run in runs], [layer for layer, _ in twins], f"{name}: passes of SVG and DXF"):
        far = max((run.line.hausdorff_distance(LineString(points)) for run, (_, points) in zip(runs, twins)), default=0)
        # It makes Bézier curves of arcs, which are up to 0.03 % of a radius off.
        checks.that(far < 0.03, f"{name}: SVG and DXF have the same lines", far)


def exported(checks, name, source, *options):
    """The sheets of a design, as pairs of runs and size by the ending of their names; each written twice and as DXF."""
    sheets = {}
    stem = f"cutting-{name}".replace(" ", "-")
    for old in OUT.glob(f"{stem}*"):
        old.unlink()
    told = done("export", "cutting", source, "-o", OUT / f"{stem}.svg", *options)
    done("export", "cutting", source, "-o", OUT / f"{stem}.dxf", *options)
    first = {file.name: file.read_bytes() for file in OUT.glob(f"{stem}*")}
    done("export", "cutting", source, "-o", OUT / f"{stem}.svg", *options)
    done("export", "cutting", source, "-o", OUT / f"{stem}.dxf", *options)
    again = {file.name: file.read_bytes() for file in OUT.glob(f"{stem}*")}
    checks.that(first == again, f"{name}: the same bytes twice")
    for file in sorted(OUT.glob(f"{stem}*.svg")):
        checks.that(str(file) in told, f"{name}: it says that it wrote {file.name}", told)
        part = file.stem.removeprefix(stem)
        runs, size = read_svg(checks, f"{name}{part}", file)
        check_twins(checks, f"{name}{part}", runs, read_dxf(checks, f"{name}{part}", file.with_suffix(".dxf"), size))
        check_order(checks, f"{name}{part}", runs)
        check_once(checks, f"{name}{part}", runs)
        sheets[part] = runs, size
    return sheets


def check_order(checks, name, runs):
    """Passes in their order in each piece, and from the inside out."""
    for piece in dict.fromkeys(run.piece for run in runs):
        jobs = [ORDER.index(run.job) for run in runs if run.piece == piece]
        checks.equal(jobs, sorted(jobs), f"{name}: the passes of {piece or 'the sheet'} are in their order")
    cuts = [run for run in runs if run.job in CUTS]
    late = []
    for i, run in enumerate(cuts):
        if run.closed:
            inside = run.polygon.buffer(-NEAR)
            shapely.prepare(inside)
            late += [other for other in cuts[i + 1:] if inside.contains(other.line)]
    checks.that(not late, f"{name}: what is inside is cut first", [str(run.line)[:100] for run in late[:2]])
    if any(run.job == "outline" for run in cuts):
        checks.equal(cuts[-1].job, "outline", f"{name}: the sheet's edge is cut last")


def check_once(checks, name, runs):
    """No cut lies on another, and no score on a cut."""
    for what, found in (("cut", [run for run in runs if run.job in CUTS]),
                        ("line", [run for run in runs if run.job != "mark"])):
        lines = [run.line for run in found]
        total = sum(line.length for line in lines)
        together = shapely.unary_union(lines, grid_size=GRID).length if lines else 0
        # Where a rounded corner leaves a straight cut, both lie within the grid for a hundredth.
        checks.near(total - together, 0, 0.1 + 1e-5 * total, f"{name}: no {what} lies on another, mm")
        straight = [LineString(pair) for line in lines for pair in zip(line.coords, line.coords[1:])]
        straight = [line for line in straight if line.length > 1]
        tree, twice = shapely.STRtree(straight), 0
        for i, line in enumerate(straight):
            band = line.buffer(NEAR, cap_style="flat")
            twice += sum(band.intersection(straight[j]).length > 1 for j in tree.query(band) if j != i)
        checks.equal(twice, 0, f"{name}: no {what} runs beside another within {NEAR} mm")


def lines_of(runs, *jobs):
    return MultiLineString([run.line for run in runs if run.job in jobs])


def check_lines(checks, name, runs, wanted):
    """`wanted`: for each kind of line, MultiLineStrings in mm."""
    for kind, asked in wanted.items():
        ours = lines_of(runs, *(CUTS if kind == "cut" else (KINDS[kind],)))
        missing = asked.difference(ours.buffer(NEAR)).length
        besides = ours.difference(asked.buffer(NEAR)).length
        checks.that(missing < 0.02 and besides < 0.02, f"{name}: every {kind} line and no other, within {NEAR} mm",
                    f"{missing:.3f} mm are missing, {besides:.3f} mm are there besides")
        long = sum(run.length for run in runs if run.job in (CUTS if kind == "cut" else (KINDS[kind],)))
        whole = shapely.unary_union(asked, grid_size=GRID).length
        checks.near(long, whole, 0.05 + 2e-4 * whole, f"{name}: all {kind} lines together, mm")


def seen(document):
    """What a sheet asks for: its lines by kind, parted by shapely, in mm."""
    wanted = {kind: [] for kind in ("cut", *KINDS)}
    for kind, pair in Layout(document).seen():
        wanted[kind].append([[part / 1e6 for part in point] for point in pair])
    return {kind: MultiLineString(lines) for kind, lines in wanted.items()}


def check_any(checks, name, document):
    """A sheet without parts: every line of it."""
    source = made_up.save(document, OUT / f"design-{name}.folio".replace(" ", "-"))
    wanted = seen(document)
    if all(lines.is_empty for lines in wanted.values()):
        ended = run("export", "cutting", source, "-o", OUT / "nothing.svg")
        checks.that(ended.returncode == 1 and "nothing is scored or cut" in ended.stderr, f"{name}: nothing to do",
                    ended.stderr)
        return
    runs, size = exported(checks, name, source)[""]
    sheet = folio.size(document)
    checks.that(all(abs(a - b / 1e6) < 1e-6 for a, b in zip(size, sheet)), f"{name}: as large as the sheet", size)
    check_lines(checks, name, runs, wanted)


def place(said):
    return said["x"]["nm"] / 1e6, said["y"]["nm"] / 1e6


def polygon(said):
    return Polygon([place(corner) for corner in said["outline"]],
                   [[place(corner) for corner in hole] for hole in said["holes"]])


def on_paper(shape, part, cutout):
    """A shape of a part's little sheet where it is cut from: docs/command-line.md."""
    x, y = place(cutout["at"])
    wide, high = (part[key]["nm"] / 1e6 for key in ("width", "height"))
    turn = [[1, 0, 0, 1, 0, 0], [0, -1, 1, 0, high, 0], [-1, 0, 0, -1, wide, high], [0, 1, -1, 0, 0, wide]]
    a, b, d, e, dx, dy = turn[cutout["quarters"]]
    return affine_transform(shape, [a, b, d, e, x + dx, y + dy])


def stretches(folds):
    return MultiLineString([[place(end) for end in pair] for fold in folds for pair in fold["stretches"]])


def check_furnished(checks, name, document):
    """Sheets with parts: what is cut is the folio's cuts and the parts' outlines, each once."""
    source = made_up.save(document, OUT / f"design-{name}.folio".replace(" ", "-"))
    sheets = exported(checks, name, source)
    said = described(source)
    parts = {part["id"]: part for part in said["parts"]}
    supplies = [one for one in said["plan"]["supplies"] if one["cutout"] and not parts[one["part"]["id"]]["fault"]]
    on = {"": [one for one in supplies if one["offcut"]]}
    for number, (stock, sheet) in enumerate(
            ((use["stock"], sheet["number"]) for use in said["plan"]["sheets"] for sheet in use["sheets"]), 2):
        on[f"-{number}"] = [one for one in supplies
                            if not one["offcut"] and (one["stock"], one["sheet"]) == (stock, sheet)]
    on = {key: mine for key, mine in on.items() if mine or key == ""}
    checks.equal(sorted(sheets), sorted(on), f"{name}: a file for each sheet")
    for key, mine in on.items():
        runs, (wide, high) = sheets[key]
        wanted = seen(document) if key == "" else {kind: MultiLineString() for kind in ("cut", *KINDS)}
        if key == "":
            used = {one["offcut"] for one in mine}
            gone = unary_union([polygon(panel) for panel in said["panels"] if panel["piece"] in used]).buffer(-NEAR)
            wanted = {kind: lines if kind == "cut" else lines.difference(gone) for kind, lines in wanted.items()}
        edge = LineString([(0, 0), (wide, 0), (wide, high), (0, high), (0, 0)]).buffer(NEAR)
        for one in mine:
            part = parts[one["part"]["id"]]
            shape = unary_union([on_paper(polygon(panel), part, one["cutout"]) for panel in part["panels"]])
            wanted["cut"] = unary_union([wanted["cut"], shape.boundary.difference(edge)])
            for kind in KINDS:
                folds = [fold for fold in part["folds"] if fold["fold"].split()[0] == kind]
                wanted[kind] = unary_union([wanted[kind], on_paper(stretches(folds), part, one["cutout"])])
        check_lines(checks, f"{name}{key}", runs, wanted)
    check_pieces(checks, name, source, said)


def check_pieces(checks, name, source, said):
    """Side by side: every piece has its area, and none lies on another."""
    sheets = exported(checks, f"{name} pieces", source, "--layout", "pieces")
    used = {one["offcut"] for one in said["plan"]["supplies"] if one["offcut"]} if said["plan"] else set()
    areas = {piece["name"].lower().replace(" ", "-"): int(piece["area"]["half_nm2"]) / 2e12
             for piece in said["pieces"] if piece["name"] not in used}
    for part in said["parts"]:
        if part["source"]["from"] != "bought" and not part["fault"]:
            areas[f"part-{part['id']}"] = sum(int(panel["area"]["half_nm2"]) for panel in part["panels"]) / 2e12
    found, shapes = {}, []
    for runs, (wide, high) in sheets.values():
        here = []
        for piece in dict.fromkeys(run.piece for run in runs):
            rings = [run.polygon for run in runs if run.piece == piece and run.closed and run.job in CUTS]
            rings.sort(key=lambda ring: -ring.area)
            paper = rings[0]
            for ring in rings[1:]:
                paper = paper.difference(ring)
            # Elsewhere arcs are laid out within 0.005 mm of themselves.
            found[piece] = paper.area, paper.length
            here.append(rings[0])
            box = rings[0].bounds
            room = min(box[0], box[1], wide - box[2], high - box[3])
            checks.that(room > 4.99, f"{name}: {piece} is on its sheet", box)
        shapes += [(a, b) for i, a in enumerate(here) for b in here[:i] if a.distance(b) < 4.99]
    checks.equal(sorted(found), sorted(areas), f"{name}: every piece and part is there once")
    wrong = {key: (found[key], area) for key, area in areas.items()
             if key in found and abs(found[key][0] - area) > 0.02 + NEAR / 2 * found[key][1]}
    checks.that(not wrong, f"{name}: pieces have their areas, mm2", wrong)
    checks.that(not shapes, f"{name}: pieces lie apart", len(shapes))


def by_path(runs):
    """Runs of each path, in order."""
    paths = {}
    for one in runs:
        if one.job.startswith("score"):
            paths.setdefault(one.path, []).append(one.line)
    return paths.values()


def meetings(scores, ends):
    """Where scores end, or meet other lines."""
    count = Counter(tuple(round(part, 4) for part in end)
                    for line in shapely.get_parts(shapely.unary_union([scores, ends], grid_size=GRID))
                    for end in (line.coords[0], line.coords[-1]))
    met = [Point(end) for end, many in count.items() if many != 2]
    return MultiPoint([point for point in met if point.distance(scores) < 0.001])


def check_dashes(checks, name, document, dash, gap):
    source = made_up.save(document, OUT / f"design-{name}.folio".replace(" ", "-"))
    wanted = seen(document)
    scores = unary_union([wanted[kind] for kind in KINDS])
    (wide, high) = (side / 1e6 for side in folio.size(document))
    edge = LineString([(0, 0), (wide, 0), (wide, high), (0, high), (0, 0)])
    ends = unary_union([wanted["cut"], edge])
    said = ("--dash", f"{dash} mm", "--gap", f"{gap} mm")
    runs, _ = exported(checks, f"{name} perforated", source, "--scores", "perforated", *said)[""]
    rows = by_path(runs)
    dashes = [line for row in rows for line in row]
    short = [line for line in dashes if line.length < dash - 1e-5]
    whole = [line for line in dashes if line.length >= dash - 1e-5]
    checks.that(all(abs(line.length - dash) < 1e-5 for line in whole), f"{name}: dashes are {dash} mm long")
    checks.that(all(line.length < (dash + 2 * gap) / 3 for line in short), f"{name}: only where none goes in, a third")
    checks.that(whole, f"{name}: there are dashes")
    met = meetings(scores, ends)
    near = [line.distance(met) for line in whole if line.distance(met) < gap - 0.001]
    checks.that(not near, f"{name}: paper is left uncut where perforation ends or meets another line", near[:3])
    full = [a.distance(b) for row in rows for a, b in zip(row, row[1:]) if min(a.length, b.length) >= dash - 1e-5]
    checks.that(all(one >= gap - 1e-5 for one in full), f"{name}: {gap} mm left at least", min(full, default=0))
    off = MultiLineString(dashes).difference(scores.buffer(NEAR)).length
    checks.that(off < 1e-6, f"{name}: perforation lies on scores", off)

    runs, _ = exported(checks, f"{name} dashed", source, "--scores", "dashed", *said)[""]
    rows = by_path(runs)
    dashes = MultiLineString([line for row in rows for line in row])
    gaps = [a.distance(b) for row in rows for a, b in zip(row, row[1:])]
    real = [one for one in gaps if one > 1e-5]
    checks.that(all(abs(one - gap) < 1e-5 for one in real), f"{name}: gaps are {gap} mm", real[:4])
    checks.near(scores.length - dashes.length, gap * len(real), 0.02, f"{name}: pressed up to every end, mm less")


def check_sides(checks, name, source, document):
    """Turned over: the scores of the back, mirrored, and those of the front; together all of them, each once."""
    sheets = exported(checks, f"{name} turned over", source, "--turn-over")
    (whole, size), = exported(checks, f"{name} front up", source).values()
    if not checks.equal(sorted(sheets), ["", "-back"], f"{name}: a file for each face"):
        return
    front, (back, back_size) = sheets[""][0], sheets["-back"]
    checks.equal(back_size, size, f"{name}: the back is as large")
    checks.that(all(run.job.startswith("score") for run in back), f"{name}: the back is scored alone")
    over = affine_transform(lines_of(back, *KINDS.values()), [-1, 0, 0, 1, size[0], 0])
    scores = lines_of(whole, *KINDS.values())
    both = unary_union([over, lines_of(front, *KINDS.values())])
    off = both.difference(scores.buffer(NEAR)).length + scores.difference(both.buffer(NEAR)).length
    checks.near(off, 0, 1e-3, f"{name}: all scores on the two faces, mm off")
    checks.near(both.length, scores.length, 0.01, f"{name}: each score on one face alone")
    pressed = MultiLineString([[[part / 1e6 for part in end] for end in (line.a, line.b)]
                               for line in folio.lines(document).values()
                               if line.work == "score" and line.face == "back"])
    checks.that(over.difference(pressed.buffer(NEAR)).length < 1e-6, f"{name}: the back has what is pressed into it")


def mm(value):
    return f"{value:.3f} mm"


def furnished(seed):
    """A base with four flaps, offcuts at its corners that parts are cut from, slots, a notch, a window and rounded
    corners."""
    rng = random.Random(seed)
    some = lambda least, most: rng.randint(least * 10, most * 10) / 10
    wide, high = some(240, 320), some(240, 320)
    depths = [some(45, 80) for _ in range(4)]
    left, top, right, bottom = depths
    lines = [{"id": turn + 1, "work": "score", "fold": rng.choice(["valley", "mountain", "either"]),
              "place": {"turn": turn, "from": "edge", "distance": mm(depth)}} for turn, depth in enumerate(depths)]
    add = lambda **said: lines.append({"id": len(lines) + 1, **said})
    for fold in range(1, 5):
        for key, at in (("end", fold % 4 + 1), ("start", (fold + 2) % 4 + 1)):
            add(work="cut", place={"along": f"line {fold}", key: f"line {at}"})
    spot = lambda point: {"x": mm(point[0]), "y": mm(point[1])}
    drawn = lambda a, b, **more: {"drawn": {"from": spot(a), "to": spot(b), **more}}
    middle = (left + (wide - left - right) / 2, top + (high - top - bottom) / 2)
    if rng.random() < 0.7:
        # A round window in the base, by two half circles.
        radius = some(5, 20)
        a, b = (middle[0], middle[1] - radius), (middle[0], middle[1] + radius)
        for way in ((a, b), (b, a)):
            add(work="cut", place=drawn(*way, bow=mm(radius)))
    if rng.random() < 0.6:
        # To the left of the way to the right is down.
        add(work="notch", depth=mm(some(4, 8)), side="left", place=drawn((middle[0] - 12, 0), (middle[0] + 12, 0)))
    if rng.random() < 0.7:
        add(work="slot", width=mm(some(1, 4)), side="centred",
            place=drawn((left + 8, top + 8), (left + 8, top + some(15, 40))))
    if rng.random() < 0.5:
        add(work="slot", width="2 mm", side="left", place={"along": "line 1", "start": "line 2", "end": mm(top + 30)})
    if rng.random() < 0.5:
        add(work="cut", place=drawn((left + 40, 0), (left, top - 5)))
    base = {"x": mm(left + 3.217), "y": mm(high - bottom - 3.713)}
    kinds = [{"hinge": {"length": mm(some(20, 40)), "leaf": "9 mm", "free_leaf": "9 mm"}},
             {"mat": {"width": mm(some(15, 60)), "height": mm(some(15, 60))}},
             {"pocket": {"width": mm(some(20, 50)), "height": mm(some(20, 50)), "glued": ["right", "bottom", "left"],
                         "strip": "5 mm"}},
             {"pocket": {"width": mm(some(20, 40)), "height": mm(some(20, 40)), "glued": ["right", "bottom", "left"],
                         "strip": "5 mm", "gusset": "4 mm"}},
             {"tuck_corner": {"across": mm(some(20, 35)), "down": mm(some(20, 35)), "corner": "top left",
                              "strip": "4 mm"}},
             {"page": {"width": mm(some(20, 60)), "height": mm(some(20, 60)), "hinged": "left", "strip": "8 mm"}}]
    parts = [{"id": number, "name": f"Part {number}", "kind": rng.choice(kinds),
              "from": rng.choice(["any offcut", "any offcut", "any offcut", "folio stock", "stock 1"]),
              "place": {"on": base, "face": "front", "across": "5 mm from left", "down": "5 mm from top",
                        "showing": "front"}} for number in range(1, rng.randint(3, 8))]
    document = made_up.sheet(mm(wide), mm(high), lines, (base["x"], base["y"]), [[1], [2], [3], [4]],
                             f"Furnished {seed}", "mm")
    document["further_stocks"] = [{"id": 1, "stock": {"name": "Meadow", "width": "200 mm", "height": "180 mm"}}]
    document["parts"] = parts
    if rng.random() < 0.6:
        document["corners"] = [{"mark": base, "which": "piece", "round": mm(some(2, 9))}]
    return document


def check_marks(checks):
    """Names are there only when they are asked for, on their own; the sheet's edge too."""
    plain, size = exported(checks, "plain", STARTER)[""]
    jobs = {run.job for run in plain}
    checks.that(jobs <= set(ORDER) - {"mark", "outline"}, "nothing to draw unless it is asked for", jobs)
    marked, _ = exported(checks, "marked", STARTER, "--marks", "--outline")[""]
    checks.that(sum(run.job == "mark" for run in marked) > 20, "letters to draw")
    rest = [(run.job, run.line) for run in marked if run.job not in ("mark", "outline")]
    checks.that(rest == [(run.job, run.line) for run in plain], "the rest is as it was")
    around = unary_union(list(polygonize([run.line for run in marked if run.job in CUTS])))
    checks.near(around.area, size[0] * size[1], 0.01, "with its edge the whole sheet is cut out, mm2")


def check_refusals(checks):
    out = OUT / "cutting-refused.svg"
    for words, code, says in (
            (["-o", OUT / "cutting.pdf"], 2, "end its name in .svg or .dxf"),
            (["-o", out, "--scores", "perforated", "--dash", "0"], 2, "too short for a dash"),
            (["-o", out, "--scores", "dashed", "--gap", "-1 mm"], 2, "too short for a gap"),
            (["-o", out, "--scores", "dashed", "--gap", "wide"], 2, "wide"),
            (["-o", out, "--dash", "2 mm"], 2, "solid scores have no dashes"),
            (["-o", out, "--scores", "perforated", "--turn-over"], 2, "need not be turned over"),
            (["-o", OUT / "nowhere" / "cutting.svg"], 1, "nowhere")):
        ended = run("export", "cutting", STARTER, *words)
        checks.that(ended.returncode == code and says in ended.stderr and ended.stderr.count("\n") == 1,
                    f"{' '.join(map(str, words[2:])) or words[1]}: refused", (ended.returncode, ended.stderr))
        checks.that(not out.exists(), "nothing is written then")
    lines = [{"id": number, "work": "score", "fold": "valley",
              "place": {"turn": 0, "from": "edge", "distance": f"{number * 100} mm"}} for number in range(1, 80)]
    huge = made_up.sheet("9000 mm", "9000 mm", lines, ("1 mm", "1 mm"), [], "Huge", "mm")
    source = made_up.save(huge, OUT / "design-huge.folio")
    ended = run("export", "cutting", source, "-o", out, "--scores", "dashed", "--dash", "0.1 mm", "--gap", "0.1 mm")
    checks.that(ended.returncode == 1 and "more than 100000 dashes" in ended.stderr, "too many dashes", ended.stderr)


def main():
    checks = Checks(__file__)
    tools = "svgelements, lxml, ezdxf; lines parted by shapely from the file alone"
    starters = sorted((ROOT / "assets" / "starters").glob("*.folio"))
    checks.group("the starters", tools)
    for source in starters:
        document = folio.load(source)
        if document.get("parts"):
            check_furnished(checks, source.stem, document)
        else:
            check_any(checks, source.stem, document)
        check_dashes(checks, source.stem, document | {"parts": []}, 1.7, 0.9)
    check_sides(checks, "seed swap", STARTER, folio.load(STARTER))
    checks.group("marks and the sheet's edge", tools)
    check_marks(checks)
    checks.group("24 sheets with anything on them", f"{tools}; seeds fixed")
    for seed in seeds(24):
        document = anything.sheet(seed)
        check_any(checks, f"anything {seed}", document)
        if seed % 6 == 0 and not all(seen(document)[kind].is_empty for kind in KINDS):
            check_dashes(checks, f"anything {seed}", document, 2.5, 0.4)
    checks.group("12 made-up folios with parts", f"{tools}; parts as describe tells them; seeds fixed")
    for seed in seeds(12):
        check_furnished(checks, f"furnished {seed}", furnished(seed))
    checks.group("what can't be done", "docs/command-line.md")
    check_refusals(checks)
    checks.finish()


main()
