"""The printed template: page sizes, every line at true size on the taped pages, the scale check, the text."""

import re
import subprocess

import pikepdf
from PIL import Image

import folio
import made_up
from checks import OUT, STARTER, Checks, seeds
from ink import TRUE, differences, on_sheet, wanted
from pdf_ink import by_mupdf, by_pdfminer, texts
from program import done, tool

# Width and height in mm by name on the command line, and who says so.
PAPERS = {
    "letter": ((215.9, 279.4), "ANSI/ASME Y14.1 size A, 8 1/2 x 11 in"),
    "a4": ((210.0, 297.0), "ISO 216 A4"),
    "sheet": ((304.8, 304.8), "the sheet itself, 12 x 12 in"),
}

READERS = {"MuPDF": lambda path, number: by_mupdf(path, number)[0], "pdfminer": by_pdfminer}

INCHES, MILLIMETRES = re.compile(r"above: (\d+) in"), re.compile(r"below: (\d+) mm")

TILE = re.compile(r"Row (\d+) of (\d+), column (\d+) of (\d+)")


def export(source, name, paper):
    path = OUT / f"{name}.pdf"
    done("export", "template", source, "-o", path, "--paper", paper)
    return path


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
    edge = [stroke for stroke in first if stroke.dashes == 0 and stroke.kind != "cut"]
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


def check_lines(checks, source, path, paper):
    """Every line of the design, on the pages as taped, by both readers; nothing besides."""
    document = folio.load(source)
    lines = wanted(document)
    if paper == "sheet":
        # The sheet comes last, after as many pages of words as it takes.
        offsets, tiles = {(1, 1): (0.0, 0.0)}, {(1, 1): len(texts(path))}
    else:
        tiles = {}
        for number, (text, _, _) in enumerate(texts(path), 1):
            if found := TILE.search(text):
                row, rows, column, columns = map(int, found.groups())
                tiles[row, column] = number
        complete = tiles and len(tiles) == rows * columns
        if not checks.that(complete, f"{path.name}: a page for every part", tiles):
            return
        offsets = taped(checks, path, tiles)
    for reader, read in READERS.items():
        strokes = []
        for tile, number in tiles.items():
            if tile in offsets:
                strokes += on_sheet((stroke for stroke in read(path, number) if stroke.kind), offsets[tile])
        # The dash of a mountain fold reads as four lengths, that of a valley as two, a cut is solid: a stroke of another
        # ink or dash is no kind of line, and the line it should be is then missing.
        wrong = differences(strokes, lines)
        checks.that(not wrong, f"{path.name}: lines by {reader}, within {TRUE} mm", "; ".join(wrong[:4]))


def check_sizes(checks, path, paper):
    """Page boxes; a template page may lie on its side."""
    (width, height), source = PAPERS[paper]
    for number, (_, wide, high) in enumerate(texts(path)[-1 if paper == "sheet" else 0:], 1):
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
    page = len(texts(path))
    tool("pdftoppm", "-r", 2540, "-f", page, "-l", page, "-singlefile", "-gray", "-png", "-x", round(at * 100) - half,
         "-y", round(middle * 100), "-W", 2 * half, "-H", 20, path, out)
    image = Image.open(f"{out}.png").convert("L")
    row = [image.getpixel((x, 10)) for x in range(image.width)]
    dark = [x for x, grey in enumerate(row) if grey < 128]
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
    checks.group("one cut in print", "poppler at 2540 dpi")
    check_raster(checks, OUT / "template-sheet.pdf", document)
    checks.group("20 variants of the starter", "lines resolved from the file alone; MuPDF, pdfminer; seeds fixed")
    for seed in seeds(20):
        source = made_up.save(made_up.variant(document, seed), OUT / f"variant-{seed}.folio")
        paper = ["letter", "a4", "sheet"][seed % 3]
        check_lines(checks, source, export(source, f"variant-{seed}", paper), paper)
    checks.finish()


main()
