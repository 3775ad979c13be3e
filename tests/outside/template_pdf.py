"""The printed template: page sizes, every line at true size on the taped pages and on their backs, every part, the tone
of the inks, the layers, the scale check, the text."""

import dataclasses
import functools
import re
import subprocess

import pikepdf
from PIL import Image

import folio
import made_up
from checks import OUT, STARTER, Checks, plain_starter, seeds
from ink import KINDS, TRUE, Stroke, differences, on_sheet, wanted
from pdf_ink import by_mupdf, by_pdfminer
from pdf_ink import texts as read_texts
from program import described, done, tool

# A starter with parts from its offcuts.
DIARY = plain_starter("season-diary")

# Width and height in mm by name on the command line, and who says so.
PAPERS = {
    "letter": ((215.9, 279.4), "ANSI/ASME Y14.1 size A, 8 1/2 x 11 in"),
    "a4": ((210.0, 297.0), "ISO 216 A4"),
    "tabloid": ((279.4, 431.8), "ANSI/ASME Y14.1 size B, 11 x 17 in"),
    "a3": ((297.0, 420.0), "ISO 216 A3"),
    "sheet": ((304.8, 304.8), "the sheet itself, 12 x 12 in"),
}

INCHES, MILLIMETRES = re.compile(r"above: (\d+) in"), re.compile(r"below: (\d+) mm")

TILE = re.compile(r"Row (\d+) of (\d+), column (\d+) of (\d+), (front|back)")

# Reading text takes long; a file of one name is written once, or again with the same bytes.
texts = functools.cache(read_texts)

# The names of the layers of lines that a reader can switch.
LAYERS = {"Cuts", "Valley scores", "Outlines", "Names", "Distances", "Registration marks", "Scale check", "Notes"}


def light(channel):
    """One sRGB channel as linear light (IEC 61966-2-1, as quoted by WCAG 2.2)."""
    part = channel / 255
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4


def contrast(colour):
    """Contrast on white, by WCAG 2.2."""
    red, green, blue = (light(int(colour[i:i + 2], 16)) for i in (0, 2, 4))
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)


def paled(colour):
    """The palest mix of a colour with white that still has 3 : 1 on white, the least for a line (WCAG 2.2, 1.4.11)."""
    def mixed(white):
        parts = [int(colour[i:i + 2], 16) for i in (0, 2, 4)]
        return "".join(f"{(255 * white + part * (255 - white) + 127) // 255:02x}" for part in parts)
    return next(mixed(white) for white in range(255, -1, -1) if contrast(mixed(white)) >= 3)


# What is printed on the sheet is pale; the kinds of line are told by their own inks.
PALE = {paled(colour): colour for colour, _ in KINDS.values()}


# Pale greys are alike; a cut is told from an outline and from marks by its width, 0.35 mm of ISO 128-2.
CUT_WIDTH = 0.35


def inked(strokes):
    """Strokes with the full ink of a pale one, and without one that is no pale ink."""
    def full(stroke):
        colour = PALE.get(stroke.colour, "")
        is_grey = colour == KINDS["cut"][0] and abs(stroke.width - CUT_WIDTH) > TRUE
        return dataclasses.replace(stroke, colour="" if is_grey else colour)
    return [full(stroke) for stroke in strokes]


READERS = {"MuPDF": lambda path, number: inked(by_mupdf(path, number)[0]),
           "pdfminer": lambda path, number: inked(by_pdfminer(path, number))}

OVER = {"valley": "mountain", "mountain": "valley"}


def over(stroke, size):
    """A stroke of a back as it would lie on the front: turned over about the page's long edge, folds the other way."""
    wide, high = size
    turn = (lambda x, y: (wide - x, y)) if wide <= high else (lambda x, y: (x, high - y))
    colour, dashes = KINDS.get(OVER.get(stroke.kind), (stroke.colour, stroke.dashes))
    return Stroke(colour, dashes, stroke.width, turn(*stroke.a), turn(*stroke.b))


def export(source, name, paper, *words):
    path = OUT / f"{name}.pdf"
    done("export", "template", source, "-o", path, "--paper", paper, *words)
    return path


def sheets(path, source):
    """The pages of the sheet's own size, from 1."""
    size = [side / 1e6 for side in folio.size(folio.load(source))]
    return [number for number, (_, *sides) in enumerate(texts(path), 1)
            if max(abs(a - b) for a, b in zip(sides, size)) < TRUE]


def tiles_of(path, face):
    """The pages of a face by row and column, and how many rows and columns there are."""
    tiles, grid = {}, (0, 0)
    for number, (text, _, _) in enumerate(texts(path), 1):
        found = TILE.search(text)
        if found and found[5] == face:
            row, rows, column, columns = map(int, found.groups()[:4])
            tiles[row, column], grid = number, (rows, columns)
    return tiles, grid


def crosses(paths):
    """The middles of registration crosses: paths that hold a level and an upright stroke of 6 mm each that cross."""
    middles = []
    for strokes in paths:
        level = [s for s in strokes if abs(s.a[1] - s.b[1]) < TRUE and abs(abs(s.a[0] - s.b[0]) - 6) < TRUE]
        upright = [s for s in strokes if abs(s.a[0] - s.b[0]) < TRUE and abs(abs(s.a[1] - s.b[1]) - 6) < TRUE]
        for one in level:
            x, y = (one.a[0] + one.b[0]) / 2, one.a[1]
            if any(abs(s.a[0] - x) < TRUE and abs((s.a[1] + s.b[1]) / 2 - y) < TRUE for s in upright):
                middles.append((x, y))
    return middles


def outermost(points, axis, most):
    """The points that lie furthest one way, in order along the other."""
    far = (max if most else min)(point[axis] for point in points)
    return sorted((point for point in points if abs(point[axis] - far) < TRUE), key=lambda point: point[1 - axis])


def taped(checks, path, tiles):
    """Where the sheet's corner lies on each page when pages are laid cross on cross, as a maker tapes them.

    The first tile's own corner is that of its uppermost and leftmost ink of the sheet.
    """
    marks = {tile: crosses(by_mupdf(path, number)[1]) for tile, number in tiles.items()}
    first, _ = by_mupdf(path, tiles[1, 1])
    edge = [stroke for stroke in first if stroke.dashes == 0 and stroke.kind != "cut" and stroke.width < CUT_WIDTH - TRUE]
    corners = [point for stroke in edge for point in (stroke.a, stroke.b)]
    x, y = min(point[0] for point in corners), min(point[1] for point in corners)
    offsets = {(1, 1): (x, y)}
    for row, column in sorted(tiles):
        for axis, before in ((1, (row - 1, column)), (0, (row, column - 1))):
            if before not in offsets:
                continue
            there = outermost(marks[before], axis, True)
            here = outermost(marks[row, column], axis, False)
            if not checks.that(len(here) == len(there) > 1, f"{path.name}: crosses of {before} and {row, column}",
                               f"{there} and {here}"):
                continue
            shifts = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(there, here)]
            spread = max(max(abs(s[i] - shifts[0][i]) for s in shifts) for i in (0, 1))
            checks.near(spread, 0, TRUE, f"{path.name}: all crosses of {before} and {row, column} meet")
            offset = tuple(offsets[before][i] + shifts[0][i] for i in (0, 1))
            known = offsets.setdefault((row, column), offset)
            off = max(abs(known[i] - offset[i]) for i in (0, 1))
            checks.near(off, 0, TRUE, f"{path.name}: {row, column} lies the same from above and from the left")
    return offsets


def check_lines(checks, source, path, paper, backs=False, lacks=0):
    """Every line of the design, on the pages as taped, by both readers; nothing besides. `lacks` pages are left out."""
    document = folio.load(source)
    lines = wanted(document)
    if paper == "sheet":
        pages = sheets(path, source)
        if not checks.equal(len(pages), 2 if backs else 1, f"{path.name}: pages of the sheet's own size"):
            return
        offsets, tiles = {(1, 1): (0.0, 0.0)}, {(1, 1): pages[0]}
    else:
        tiles, (rows, columns) = tiles_of(path, "front")
        complete = tiles and len(tiles) == rows * columns - lacks
        if not checks.that(complete, f"{path.name}: a page for every part", tiles):
            return
        offsets = taped(checks, path, tiles)
        checks.equal(len(offsets), len(tiles), f"{path.name}: all pages hang together")
    sizes = [size for _, *size in texts(path)]
    for reader, read in READERS.items():
        strokes, behind = [], []
        for tile, number in tiles.items():
            if tile in offsets:
                strokes += on_sheet((stroke for stroke in read(path, number) if stroke.kind), offsets[tile])
                # The back comes after its front and is printed behind it.
                if backs:
                    turned = (over(stroke, sizes[number]) for stroke in read(path, number + 1))
                    behind += on_sheet((stroke for stroke in turned if stroke.kind), offsets[tile])
        # The dash of a mountain fold reads as four lengths, that of a valley as two, a cut is solid: a stroke of another
        # ink or dash is no kind of line, and the line it should be is then missing.
        wrong = differences(strokes, lines)
        checks.that(not wrong, f"{path.name}: lines by {reader}, within {TRUE} mm", "; ".join(wrong[:4]))
        if backs:
            wrong = differences(behind, lines)
            checks.that(not wrong, f"{path.name}: lines of the backs by {reader}, within {TRUE} mm", "; ".join(wrong[:4]))


def check_faces(checks, path):
    """Each front is on an odd page, its back on the next, which says so."""
    said = [text for text, _, _ in texts(path)]
    fronts = [number for number, text in enumerate(said, 1) if re.search(r"(Row|row) .*, front", text)]
    checks.that(bool(fronts), f"{path.name}: there are fronts")
    for number in fronts:
        name = re.search(r"(Row|row) \d+ of \d+, column \d+ of \d+", said[number - 1])[0]
        checks.that(number % 2 == 1 and f"{name}, back" in said[number], f"{path.name}: page {number} and its back")


def check_parts(checks, path, source):
    """The edges and scores of every part, at true size, on one of the pages of parts."""
    pages = [number for number, (text, _, _) in enumerate(texts(path), 1)
             if "parts, front" in text or 'part "' in text and ", front" in text]
    strokes = {number: [stroke for stroke in READERS["MuPDF"](path, number) if stroke.kind] for number in pages}
    for part in described(source)["parts"]:
        wide, high = part["width"]["nm"] / 1e6, part["height"]["nm"] / 1e6
        found = [number for number, own in strokes.items() if has_edges(own, wide, high, len(edges_of(part)))]
        checks.that(bool(found) or max(wide, high) > 240, f"{path.name}: {part['name']}, {wide} x {high} mm", pages)


def edges_of(part):
    return part["panels"][0]["outline"] if len(part["panels"]) == 1 else [None] * 4


def has_edges(strokes, wide, high, corners):
    """Whether two opposite edges of these lengths are so far apart, or for a triangle its slanting edge is there."""
    cuts = [stroke for stroke in strokes if stroke.kind == "cut"]
    def long(stroke):
        return abs(stroke.a[0] - stroke.b[0]), abs(stroke.a[1] - stroke.b[1])
    if corners == 3:
        return any(abs(x - wide) < TRUE and abs(y - high) < TRUE for x, y in map(long, cuts))
    # Folds part two of the four edges at most, so one pair of opposite edges is whole.
    uprights = [s for s in cuts if long(s)[0] < TRUE and abs(long(s)[1] - high) < TRUE]
    levels = [s for s in cuts if long(s)[1] < TRUE and abs(long(s)[0] - wide) < TRUE]
    top = lambda stroke: min(stroke.a[1], stroke.b[1])
    left = lambda stroke: min(stroke.a[0], stroke.b[0])
    beside = any(abs(top(a) - top(b)) < TRUE and abs(left(b) - left(a) - wide) < TRUE for a in uprights for b in uprights)
    below = any(abs(left(a) - left(b)) < TRUE and abs(top(b) - top(a) - high) < TRUE for a in levels for b in levels)
    return beside or below


def check_behind(checks, path):
    """Every stroke of a face lies behind one of the other, on pages of the sheet and of parts."""
    pages = texts(path)
    for number, (text, *size) in enumerate(pages, 1):
        if not re.search(r"(Row|row) .*, front|parts, front", text):
            continue
        front = [stroke for stroke in READERS["MuPDF"](path, number) if stroke.kind]
        back = [over(stroke, size) for stroke in READERS["MuPDF"](path, number + 1) if stroke.kind]
        def found(stroke, among):
            return any(stroke.kind == other.kind and near(stroke, other) for other in among)
        lost = [s for s in front if not found(s, back)] + [s for s in back if not found(s, front)]
        checks.that(not lost and front, f"{path.name}: what is on page {number} is behind it", lost[:2])


def near(one, other):
    close = lambda p, q: max(abs(p[0] - q[0]), abs(p[1] - q[1])) < TRUE
    return close(one.a, other.a) and close(one.b, other.b) or close(one.a, other.b) and close(one.b, other.a)


def check_layers(checks, path, wanted):
    """Layers that can be switched, all shown at first, and nothing that is drawn on none of them."""
    with pikepdf.open(path) as pdf:
        layers = pdf.Root.OCProperties
        names = {str(layer.Name) for layer in layers.OCGs}
        checks.that(wanted <= names, f"{path.name}: layers", sorted(wanted - names))
        checks.equal(len(layers.D.ON), len(layers.OCGs), f"{path.name}: all layers are shown")
        loose = 0
        for page in pdf.pages:
            within = []
            for operands, operator in pikepdf.parse_content_stream(page):
                operator = str(operator)
                if operator in ("BDC", "BMC"):
                    within.append(str(operands[0]) == "/OC")
                elif operator == "EMC":
                    within.pop()
                loose += operator in ("S", "f", "Tj", "TJ", "Do") and not any(within)
        checks.equal(loose, 0, f"{path.name}: marks on no layer")


def check_sizes(checks, path, paper):
    """Page boxes; a template page may lie on its side."""
    (width, height), source = PAPERS[paper]
    for number, (_, wide, high) in enumerate(texts(path), 1):
        if paper == "sheet" and number not in sheets(path, STARTER):
            continue
        alike = min(max(abs(wide - w), abs(high - h)) for w, h in ((width, height), (height, width)))
        checks.near(alike, 0, TRUE, f"{path.name}: size of page {number} ({source})")


def check_scale_bar(checks, path):
    """Every page has a bar as long as the words beside it say; the first page's is 4 in and 100 mm."""
    for number, (text, _, _) in enumerate(texts(path), 1):
        strokes, _ = by_mupdf(path, number)
        level = [abs(s.a[0] - s.b[0]) for s in strokes if abs(s.a[1] - s.b[1]) < 1e-3]
        for label, unit in ((INCHES, 25.4), (MILLIMETRES, 1.0)):
            said = label.search(text)
            if checks.that(said, f"{path.name}: page {number} says how long its bar is", text[-200:]):
                length = int(said[1]) * unit
                checks.that(any(abs(one - length) < 0.001 for one in level), f"{path.name}: {said[0]} on page {number}",
                            sorted(level)[-3:])
                checks.that(number > 1 or length >= 100, f"{path.name}: the first page's bar is a long one", length)


def check_text(checks, path, document):
    text = tool("pdftotext", "-layout", path, "-")
    checks.that(document["title"] in text, f"{path.name}: the title can be searched for")
    for name in ("Base", "Left flap", "Right flap"):
        checks.that(name in text, f"{path.name}: the name {name} can be searched for")


def check_raster(checks, path, document):
    """One cut as printed at 2540 dpi, 100 pixels to the millimetre, on the page of the sheet's own size."""
    kind, upright, at, start, end = next(line for line in wanted(document) if line[0] == "cut" and line[1])
    middle, half = (start + end) / 2, 100
    out = OUT / "cut-2540"
    page = sheets(path, STARTER)[0]
    tool("pdftoppm", "-r", 2540, "-f", page, "-l", page, "-singlefile", "-gray", "-png", "-x", round(at * 100) - half,
         "-y", round(middle * 100), "-W", 2 * half, "-H", 20, path, out)
    image = Image.open(f"{out}.png").convert("L")
    row = [image.getpixel((x, 10)) for x in range(image.width)]
    # Half way between the paper and its ink, which is pale.
    dark = [x for x, grey in enumerate(row) if grey < (255 + min(row)) / 2]
    checks.that(bool(dark) and dark == list(range(dark[0], dark[-1] + 1)), "the cut is one dark stripe", dark)
    if dark:
        centre = (round(at * 100) - half + (dark[0] + dark[-1] + 1) / 2) / 100
        checks.near(centre, at, TRUE, "the cut's middle, mm from the sheet's left edge")
        checks.near(len(dark) / 100, 0.35, 2 * TRUE, "the cut's width, mm")


def main():
    checks = Checks(__file__)
    document = folio.load(STARTER)
    for paper, (_, source) in PAPERS.items():
        checks.group(f"the starter on {paper}", f"{source}; lines resolved from the file alone; MuPDF, pdfminer, qpdf, poppler")
        path = export(STARTER, f"template-{paper}", paper)
        sound = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
        checks.equal(sound.returncode, 0, f"{path.name}: qpdf finds nothing: {sound.stdout[-300:]}{sound.stderr[-300:]}")
        with pikepdf.open(path) as pdf:
            checks.that(all("/UserUnit" not in page for page in pdf.pages), f"{path.name}: a point is a point")
            scaling = pdf.Root.get("/ViewerPreferences", {}).get("/PrintScaling")
            checks.equal(str(scaling), "/None", f"{path.name}: print dialogs offer true size first")
        check_sizes(checks, path, paper)
        check_lines(checks, STARTER, path, paper)
        check_scale_bar(checks, path)
        check_text(checks, path, document)
        again = path.read_bytes()
        checks.that(export(STARTER, f"template-{paper}", paper).read_bytes() == again, f"{path.name}: same bytes again")
    for paper, (_, source) in PAPERS.items():
        checks.group(f"the starter on both sides of {paper}", f"{source}; flipped on the long edge; MuPDF, pdfminer")
        path = export(STARTER, f"template-{paper}-back", paper, "--back")
        check_lines(checks, STARTER, path, paper, backs=True)
        check_layers(checks, path, LAYERS - {"Registration marks"} if paper == "sheet" else LAYERS)
        if paper != "sheet":
            check_sizes(checks, path, paper)
            check_faces(checks, path)
    for paper in ("letter", "a3"):
        checks.group(f"a folio with parts on both sides of {paper}", "describe --json; MuPDF")
        path = export(DIARY, f"template-parts-{paper}", paper, "--back")
        check_behind(checks, path)
        check_faces(checks, path)
        check_parts(checks, path, DIARY)
        check_scale_bar(checks, path)
        text = " ".join(tool("pdftotext", path, "-").split())
        for offcut in described(DIARY)["plan"]["offcuts"]:
            said = [cut["sentence"] for cut in offcut["cuts"]]
            checks.that(all(" ".join(one.split()) in text for one in said), f"{path.name}: the cuts of {offcut['name']}", said)
    checks.group("a large sheet with one score", "24 x 36 in on Letter: pages with no line are left out; MuPDF, pdfminer")
    score = {"id": 1, "name": "Fold", "place": {"turn": 0, "from": "edge", "distance": "1 in"}, "work": "score",
             "fold": "valley"}
    large = made_up.save(made_up.sheet("24 in", "36 in", [score], ("12 in", "18 in"), [[1]]), OUT / "large.folio")
    # Upright 4 columns of 187.9 mm and 4 rows of 237.4 mm cover 609.6 x 914.4 mm, 12 mm of it shared: 16 pages, of which the
    # four in the middle hold nothing; on their side 3 columns of 251.4 mm and 6 rows of 173.9 mm, 18 less 4.
    check_lines(checks, large, export(large, "large", "letter"), "letter", lacks=4)
    checks.group("one cut in print", "poppler at 2540 dpi")
    check_raster(checks, OUT / "template-sheet.pdf", document)
    checks.group("20 variants of the starter", "lines resolved from the file alone; MuPDF, pdfminer; seeds fixed")
    for seed in seeds(20):
        source = made_up.save(made_up.variant(document, seed), OUT / f"variant-{seed}.folio")
        paper = ["letter", "a4", "sheet"][seed % 3]
        check_lines(checks, source, export(source, f"variant-{seed}", paper), paper)
    checks.finish()


main()
