"""Cards, tags and mats as printed: each at its size, with cut marks outside it, none over another, with words that say
what it is for."""

import itertools
import math
import re
import xml.etree.ElementTree as ElementTree

import pikepdf

from checks import OUT, STARTER, Checks, plain_starter
from ink import TRUE
from pdf_ink import MM, by_mupdf, texts
from program import described, done, run, tool

DIARY = plain_starter("season-diary")

PAPERS = {
    "letter": ((215.9, 279.4), "ANSI/ASME Y14.1 size A"),
    "a4": ((210.0, 297.0), "ISO 216 A4"),
    "tabloid": ((279.4, 431.8), "ANSI/ASME Y14.1 size B"),
    "a3": ((297.0, 420.0), "ISO 216 A3"),
}

# mm: a trim is drawn thin of a cut, marks thinner; how far marks keep from a corner and how long they are.
TRIM, MARK = 0.35, 0.25
CLEAR, LONG = 1.5, 3.0

EIGHTH = 3.175


def export(source, name, *words):
    path = OUT / f"{name}.pdf"
    done("export", "inserts", source, "-o", path, *words)
    return path


def trims_of(path, number):
    """The outlines that are cut out, each as the rectangle around it (left, top, right, bottom) and how long its straight
    parts are; by `mutool trace`, corners and all."""
    page = ElementTree.fromstring(tool("mutool", "trace", path, number)).find("page")
    found = []
    for element in page.iter("stroke_path"):
        a, b, c, d, e, f = map(float, element.get("transform").split())
        scale = abs(a * d - b * c) ** 0.5 * MM
        if abs(float(element.get("linewidth")) * scale - TRIM) > TRUE:
            continue
        points, long, first = [], [], None
        for step in element:
            end = "3" if step.tag == "curveto" else ""
            if step.tag == "closepath":
                at = first
            else:
                x, y = float(step.get("x" + end)), float(step.get("y" + end))
                at = ((a * x + c * y + e) * MM, (b * x + d * y + f) * MM)
            if step.tag == "moveto":
                first = at
            elif step.tag in ("lineto", "closepath") and math.dist(points[-1], at) > TRUE:
                long.append(math.dist(points[-1], at))
            points.append(at)
        xs, ys = zip(*points)
        found.append(((min(xs), min(ys), max(xs), max(ys)), long))
    return found


def marks_of(path, number):
    strokes, _ = by_mupdf(path, number)
    long = lambda mark: max(abs(mark.a[0] - mark.b[0]), abs(mark.a[1] - mark.b[1]))
    return [stroke for stroke in strokes if abs(stroke.width - MARK) < TRUE and abs(long(stroke) - LONG) < TRUE]


def apart(one, other):
    return (one[2] <= other[0] + TRUE or other[2] <= one[0] + TRUE
            or one[3] <= other[1] + TRUE or other[3] <= one[1] + TRUE)


def box(mark):
    (ax, ay), (bx, by) = mark.a, mark.b
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def wanted_marks(trim):
    """Two at each corner, in line with its edges."""
    left, top, right, bottom = trim
    for x, right_of in ((left, -1), (right, 1)):
        for y, below in ((top, -1), (bottom, 1)):
            yield (x + right_of * CLEAR, y), (x + right_of * (CLEAR + LONG), y)
            yield (x, y + below * CLEAR), (x, y + below * (CLEAR + LONG))


def is_there(ends, marks):
    close = lambda p, q: max(abs(p[0] - q[0]), abs(p[1] - q[1])) < TRUE
    return any(close(mark.a, ends[0]) and close(mark.b, ends[1]) for mark in marks)


def wanted_sizes(said, units):
    """The least that has to be there: inserts and mats of the design, the largest card of each pocket and tray, and a mat for
    each face, mm. What has to go into something stays on a mark of 1/64 in or 0.5 mm, and is else rounded down to 1/32 in or
    0.5 mm."""
    mark, step = (396_875, 793_750) if units == "in" else (500_000, 500_000)
    size = lambda one: (one["width"]["nm"] / 1e6, one["height"]["nm"] / 1e6)
    cut = lambda nm: nm if nm % mark == 0 else nm // step * step
    down = lambda one: tuple(cut(one[side]["nm"]) / 1e6 for side in ("width", "height"))
    fits = said["fits"]
    own = [size(part) for part in said["parts"] if part["kind"] in ("insert", "mat") and part["source"]["from"] != "bought"]
    cards = [down(one["largest"]) for one in fits["pockets"] if one["holds"] == "pocket" and one["largest"] and one["mouths"]]
    cards += [down(one["largest"]) for one in fits["corners"] + fits["trays"] if one["largest"]]
    mats = [size(face) for face in said["mats"]["faces"]]
    return own + cards, mats


def take(sizes, size):
    """Takes one of this size out of a list; whether it was there."""
    for one in sizes:
        if max(abs(a - b) for a, b in zip(one, size)) < TRUE:
            sizes.remove(one)
            return True
    return False


def check_pages(checks, source, path, paper, corner=0.0):
    (wide, high), standard = PAPERS[paper]
    said = described(source)
    cards, mats = wanted_sizes(said, said["units"])
    known = {tuple(sorted((card["width"]["nm"] / 1e6, card["height"]["nm"] / 1e6)))
             for holder in ("pockets", "trays", "corners") for one in said["fits"][holder] for card in one["cards"]}
    left = cards + mats
    pages = texts(path)
    checks.that(bool(pages), f"{path.name}: there are pages")
    for number, (text, *size) in enumerate(pages, 1):
        checks.near(max(abs(size[0] - wide), abs(size[1] - high)), 0, TRUE, f"{path.name}: size of page {number} ({standard})")
        trims, marks = trims_of(path, number), marks_of(path, number)
        checks.that(bool(trims), f"{path.name}: page {number} holds something")
        boxes = [trim for trim, _ in trims]
        checks.that(all(apart(a, b) for a, b in itertools.combinations(boxes, 2)), f"{path.name}: none over another", boxes)
        inside = [trim for trim in boxes if not (5 <= trim[0] and 5 <= trim[1] and trim[2] <= wide - 5 and trim[3] <= high - 5)]
        checks.that(not inside, f"{path.name}: 5 mm inside the page, where printers print", inside)
        checks.equal(len(marks), 8 * len(trims), f"{path.name}: cut marks on page {number}")
        checks.that(all(apart(box(mark), trim) for mark in marks for trim in boxes), f"{path.name}: marks lie outside all trims")
        for trim, straight in trims:
            lost = [ends for ends in wanted_marks(trim) if not is_there(ends, marks)]
            checks.that(not lost, f"{path.name}: marks in line with {trim}", lost)
            size = (trim[2] - trim[0], trim[3] - trim[1])
            is_asked = take(left, size) or tuple(sorted(round(side, 2) for side in size)) in {
                tuple(round(side, 2) for side in one) for one in known}
            checks.that(is_asked, f"{path.name}: something of {size} mm is asked for")
            # Each straight side is shorter by the radius at both ends.
            sides = sorted([size[0] - 2 * corner] * 2 + [size[1] - 2 * corner] * 2)
            off = max((abs(one - other) for one, other in zip(sorted(straight), sides)), default=1)
            checks.that(len(straight) == 4 and off < TRUE, f"{path.name}: sides of {size}", straight)
        checks.that(not marks or re.search(r"\bfor\b", text), f"{path.name}: page {number} says what for", text[:200])
    checks.that(not left, f"{path.name}: every card and mat is there", left)
    text = " ".join(text for text, _, _ in pages)
    for face in said["mats"]["faces"]:
        checks.that(face["panel"] in text, f"{path.name}: says that a mat is for {face['panel']}")


def main():
    checks = Checks(__file__)
    for source in (STARTER, DIARY):
        for paper, (_, standard) in PAPERS.items():
            name = f"inserts-{source.stem}-{paper}"
            checks.group(f"{source.stem} on {paper}", f"{standard}; describe --json; MuPDF")
            path = export(source, name, "--paper", paper)
            check_pages(checks, source, path, paper)
            once = path.read_bytes()
            checks.that(export(source, name, "--paper", paper).read_bytes() == once, f"{path.name}: same bytes again")
        checks.group(f"{source.stem} with rounded corners", "1/8 in; MuPDF")
        check_pages(checks, source, export(source, f"inserts-{source.stem}-round", "--paper", "a4", "--corner", "1/8in"), "a4",
                    EIGHTH)
    checks.group("layers", "pikepdf")
    with pikepdf.open(OUT / "inserts-season-diary-a4.pdf") as pdf:
        names = {str(layer.Name) for layer in pdf.Root.OCProperties.OCGs}
        checks.that({"Cuts", "Registration marks", "Names", "Notes", "Scale check"} <= names, "layers of inserts", names)
    checks.group("what can't be printed", "one sentence each")
    for words, code, says in (
        (["--for", "cards", "--corner", "-1in"], 2, "is no radius"),
        (["--corner", "9in"], 1, "would meet"),
        (["--margin", "soon"], 2, "soon"),
    ):
        ended = run("export", "inserts", DIARY, "-o", OUT / "none.pdf", *words)
        checks.that(ended.returncode == code and says in ended.stderr and ended.stderr.count("\n") == 1,
                    " ".join(words), ended.stderr)
    checks.finish()


main()
