"""The printed booklet: its structure for screen readers, its text on the page, and every measure against `describe`."""

import json
import re
import subprocess
from collections import Counter

import pdfplumber
import pikepdf

from checks import OUT, STARTER, Checks, plain_starter
from program import described, done, run, tool

MM = 25.4 / 72
DIARY = plain_starter("season-diary")

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}

# White edges that the booklet promises, in mm: at the sides, at the top and foot with what runs there in them.
SIDE, TOP, FOOT = 20.0, 10.0, 7.0

# A length in words: about 2 49/64 in, 69.85 mm, 1/4 in.
LENGTH = re.compile(r"(?<![\w./])(-?\d+ \d+/\d+|-?\d+/\d+|-?\d+(?:\.\d+)?) (in|mm|cm)\b")
# A size in words: 5 1/2 x 4 in.
SIZE = re.compile(r"((?:\d+ )?\d+(?:/\d+|\.\d+)?) x (?=(?:about )?(?:(?:\d+ )?\d+(?:/\d+|\.\d+)?) (in|mm|cm)\b)")
UNITS = {"in": 25_400_000, "mm": 1_000_000, "cm": 10_000_000}


def millionths(number, unit):
    """A number in words as nanometres."""
    value = sum(int(part.split("/")[0]) / int(part.split("/")[1]) if "/" in part else float(part)
                for part in number.split())
    return value * UNITS[unit]


def lengths(text):
    """All lengths said in a text, as nanometres with their unit; those of a size both."""
    text = text.replace("\u00a0", " ")
    said = [(millionths(number, unit), unit) for number, unit in LENGTH.findall(text)]
    return said + [(millionths(number, unit), unit) for number, unit in SIZE.findall(text)]


def near(nm, unit, known, fits=10_000):
    """Whether a length, rounded as it is read, is one that is known."""
    # A sixty-fourth of an inch or a hundredth of a millimetre; what has to fit, a tenth of a millimetre: what rulers show.
    step = 25_400_000 / 64 if unit == "in" else fits if unit == "mm" else 100_000
    return any(abs(nm - one) <= step * 1.001 for one in known)


def known_lengths(value):
    """Every length in a JSON value, exact or in a sentence."""
    if isinstance(value, dict):
        found = {abs(value["nm"])} if isinstance(value.get("nm"), int) else set()
        found |= {one * 1e6 for key, one in value.items() if key.endswith("_mm") and isinstance(one, (int, float))}
        return found.union(*(known_lengths(one) for one in value.values())) if value else found
    if isinstance(value, list):
        return set().union(*(known_lengths(one) for one in value)) if value else set()
    return {nm for nm, _ in lengths(value)} if isinstance(value, str) else set()


def plain(text):
    """One space for any white space."""
    return " ".join(text.replace("\u00a0", " ").split())


class Element:
    """An element of the structure with its text, by the marks in it."""

    def __init__(self, kind, node):
        self.kind = kind
        self.node = node
        self.children = []
        self.marks = []
        self.own = ""

    def text(self):
        return plain(self.own + " ".join(child.text() for child in self.children))

    def all(self, *kinds):
        for child in self.children:
            if child.kind in kinds:
                yield child
            yield from child.all(*kinds)


class Booklet:
    """A booklet as two libraries read it: the structure by pikepdf, the characters of each mark by pdfminer."""

    def __init__(self, path):
        self.path = path
        self.pdf = pikepdf.open(path)
        self.chars, self.words, self.sizes = [], [], []
        with pdfplumber.open(path) as pdf:
            for page in pdf.pages:
                self.chars.append(page.chars)
                self.words.append(page.extract_words(keep_blank_chars=False, extra_attrs=["upright"]))
                self.sizes.append((float(page.width), float(page.height)))
        self.said = {}
        for number, chars in enumerate(self.chars):
            for char in chars:
                if char.get("mcid") is not None:
                    self.said.setdefault((number, char["mcid"]), []).append(char)
        self.pages = {page.objgen: number for number, page in enumerate(self.pdf.pages)}
        self.used = Counter()
        self.order = []
        root = self.pdf.Root.StructTreeRoot
        self.tree = self.read(root.K, None)

    def read(self, node, page):
        page = self.pages.get(node.Pg.objgen, page) if "/Pg" in node else page
        element = Element(str(node.S)[1:], node)
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, int):
                self.mark(element, page, kid)
            elif str(kid.get("/Type", "")) == "/MCR":
                self.mark(element, self.pages[kid.Pg.objgen] if "/Pg" in kid else page, int(kid.MCID))
            else:
                element.children.append(self.read(kid, page))
        return element

    def mark(self, element, page, mark):
        self.used[page, mark] += 1
        element.marks.append((page, mark))
        chars = self.said.get((page, mark), [])
        element.own += "".join(char["text"] for char in chars)
        if chars and element.kind != "Figure":
            self.order.append((page, min(char["top"] for char in chars), element))

    def content_marks(self):
        """The marks in the content of each page, and whether anything is drawn outside of all."""
        for number, page in enumerate(self.pdf.pages):
            open_marks, loose, found = [], 0, []
            for operands, operator in pikepdf.parse_content_stream(page):
                name = str(operator)
                if name in ("BDC", "BMC"):
                    mark = operands[1].get("/MCID") if name == "BDC" and isinstance(operands[1], pikepdf.Dictionary) else None
                    open_marks.append("element" if mark is not None else str(operands[0]))
                    if mark is not None:
                        found.append((number, int(mark)))
                elif name == "EMC":
                    open_marks.pop()
                elif name in ("f", "S", "B", "TJ", "Tj", "Do") and not {"element", "/Artifact"} & set(open_marks):
                    loose += 1
            yield found, loose, open_marks

    def chapter(self, title):
        """The elements after a heading of the first level, up to the next."""
        inside, found = False, []
        for child in self.tree.children:
            if child.kind == "H1":
                inside = child.text() == title
            elif inside:
                found.append(child)
        return found


def export(source, name, *words):
    path = OUT / f"{name}.pdf"
    done("export", "booklet", source, "-o", path, *words)
    return path


def check_structure(checks, book):
    """ISO 32000-1, 14.7 and 14.8, and what ISO 14289-1 asks of a file that a program can see."""
    name, pdf, root = book.path.name, book.pdf, book.pdf.Root
    checks.that(bool(root.MarkInfo.Marked), f"{name}: marked as tagged")
    checks.equal(str(root.Lang), "en", f"{name}: language")
    checks.that(bool(root.ViewerPreferences.DisplayDocTitle), f"{name}: the title is shown")
    with pdf.open_metadata() as meta:
        checks.that(bool(meta.get("dc:title")), f"{name}: a title in its metadata")
        claims = meta.get("pdfuaid:part")
    checks.equal(claims, "1", f"{name}: says that it is accessible")
    marks = Counter()
    for number, (found, loose, open_marks) in enumerate(book.content_marks(), 1):
        marks.update(found)
        checks.that(not loose and not open_marks, f"{name}: all on page {number} is an element or an artifact", loose)
    checks.equal(marks, book.used, f"{name}: every mark is in the structure once")
    checks.that(all(count == 1 for count in marks.values()), f"{name}: no mark twice")
    parents = root.StructTreeRoot.ParentTree.Nums
    held = {int(parents[i]): parents[i + 1] for i in range(0, len(parents), 2)}
    for number, page in enumerate(pdf.pages):
        count = sum(1 for at, _ in marks if at == number)
        checks.equal(len(held[int(page.StructParents)]), count, f"{name}: parents of the marks on page {number + 1}")
        checks.equal(str(page.get("/Tabs")), "/S", f"{name}: order of page {number + 1}")
    tree = book.tree
    checks.equal(tree.kind, "Document", f"{name}: one document")
    for figure in tree.all("Figure"):
        alt = str(figure.node.get("/Alt", ""))
        box = next((part.BBox for part in figure.node.A if "/BBox" in part), None)
        checks.that(len(alt) > 8 and box is not None, f"{name}: a picture says what is on it, and where", alt)
        if box is not None:
            checks.that(float(box[0]) < float(box[2]) and float(box[1]) < float(box[3]), f"{name}: a box with an area", box)
    for table in tree.all("Table"):
        rows = [[cell.kind for cell in row.children] for row in table.all("TR")]
        checks.that(rows[0] == ["TH"] * len(rows[0]), f"{name}: the first row of a table are heads", rows[0])
        checks.equal({len(row) for row in rows}, {len(rows[0])}, f"{name}: rows are of one length")
        scopes = [str(part.Scope) for cell in table.all("TH") for part in cell.node.A if "/Scope" in part]
        checks.equal(scopes, ["/Column"] * len(rows[0]), f"{name}: heads say what they are of")
    for item in tree.all("LI"):
        checks.equal([child.kind for child in item.children], ["Lbl", "LBody"], f"{name}: an item has a label and a body")
    levels = [int(heading.kind[1]) for heading in tree.all("H1", "H2", "H3", "H4")]
    jumps = [(a, b) for a, b in zip([0] + levels, levels) if b > a + 1]
    checks.that(levels and not jumps, f"{name}: no level of headings is left out", jumps)
    outline = pdf.open_outline()
    titles = [str(item.title) for item in outline.root]
    checks.equal([plain(title) for title in titles], [heading.text() for heading in tree.all("H1")],
                 f"{name}: the chapters are listed beside it")


def check_fonts(checks, book):
    for page in book.pdf.pages:
        for font in page.Resources.get("/Font", {}).values():
            below = font.DescendantFonts[0]
            checks.that("/FontFile2" in below.FontDescriptor and "/ToUnicode" in font,
                        f"{book.path.name}: {font.BaseFont} is embedded and says its text")
            checks.that(re.fullmatch(r"/[A-Z]{6}\+.*", str(font.BaseFont)), f"{book.path.name}: {font.BaseFont} is a subset")


def check_page(checks, book, paper):
    """Where text lies: within the white edges, none over another, in the order in which it is told."""
    name, (wide, high) = book.path.name, PAPERS[paper]
    count = len(book.sizes)
    for number, ((width, height), words, chars) in enumerate(zip(book.sizes, book.words, book.chars), 1):
        checks.near(max(abs(width * MM - wide), abs(height * MM - high)), 0, 0.01, f"{name}: size of page {number}")
        out = [char["text"] for char in chars if char["text"].strip() and not (
            SIDE - 0.1 <= char["x0"] * MM and char["x1"] * MM <= wide - SIDE + 0.1
            and TOP <= char["top"] * MM and char["bottom"] * MM <= high - FOOT)]
        checks.that(not out, f"{name}: text beyond the white edges of page {number}", "".join(out))
        over = overlapping(chars)
        checks.that(not over, f"{name}: text over other text on page {number}", over[:5])
        foot = " ".join(word["text"] for word in words if word["top"] * MM > high - 15)
        checks.equal(foot, f"{number} of {count}", f"{name}: the number of page {number}")
        body = [word for word in words if 18 < word["top"] * MM < high - 19]
        checks.that(len(body) > 3, f"{name}: page {number} is not left empty", len(body))
    headings = {id(heading) for heading in book.tree.all("H1", "H2")}
    lowest = {}
    for page, top, element in book.order:
        lowest[page] = max(lowest.get(page, (0.0, None)), (top, id(element)), key=lambda one: one[0])
    orphans = [page + 1 for page, (_, last) in lowest.items() if last in headings]
    checks.that(not orphans, f"{name}: no page ends with a heading", orphans)
    # Cells and the words beside a picture begin at one height; all else begins lower than what is told before it.
    backward = [(page + 1, element.text()[:40]) for (before, above, _), (page, top, element) in zip(book.order, book.order[1:])
                if page < before or (page == before and top < above - 12)
                and element.kind not in ("TH", "TD", "Caption", "P")]
    checks.that(not backward, f"{name}: the text is told from top to bottom", backward[:4])


def overlapping(chars):
    """Characters of different marks or lines that lie over one another by more than a hair."""
    inked = sorted((char for char in chars if char["text"].strip()), key=lambda char: char["top"])
    found = []
    for i, one in enumerate(inked):
        # The middle half of a letter's box holds its ink whatever the letter.
        top, bottom = one["top"] + one["height"] * 0.3, one["bottom"] - one["height"] * 0.25
        for other in inked[i + 1:]:
            if other["top"] > one["bottom"]:
                break
            top2, bottom2 = other["top"] + other["height"] * 0.3, other["bottom"] - other["height"] * 0.25
            across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            down = min(bottom, bottom2) - max(top, top2)
            if one["upright"] and other["upright"] and across > 0.6 and down > 0.4:
                found.append(f"{one['text']} and {other['text']} at {one['x0'] * MM:.0f}, {one['top'] * MM:.0f} mm")
    return found


def tables(elements):
    for element in elements:
        if element.kind == "Table":
            yield element
        yield from element.all("Table")


def rows(table):
    return [[cell.text() for cell in row.children] for row in table.all("TR")]


def first(text, unit):
    """The first length of a text in a unit, as nanometres."""
    return next(nm for nm, of in lengths(text) if of == unit)


def without_second(text, second):
    """A sentence without the lengths in brackets that say the same in the other unit."""
    return re.sub(rf" \((?:about )?[^()]*? {second}\)", "", text)


def check_measures(checks, book, told, unit, second):
    """Scores, cuts, parts, mats and the making order against `describe --json`, both ways."""
    name = book.path.name
    both = lambda text, nm: all(near(first(text, of), of, [nm]) for of in [unit] + ([second] if second else []))
    # Scores.
    wanted = Counter((score["distance"]["nm"], run["line"]["name"]) for turn in told["scoring"]["turns"]
                     for score in turn["scores"] for run in score["runs"])
    got = [row for table in tables(book.chapter("Score")) for row in rows(table)[1:]
           if rows(table)[0][0] == "From the left edge"]
    left = dict(wanted)
    for distance, far, names in got:
        match = [key for key in left if both(distance, key[0]) and key[1] in names.split(", ") and left[key]]
        checks.that(match, f"{name}: the score {distance}, {names} is one", sorted(left))
        for key in match:
            left[key] -= 1
    checks.that(not any(left.values()), f"{name}: all scores are told", [key for key, count in left.items() if count])
    # Cuts.
    said = [without_second(item.children[1].text(), second) if second else item.children[1].text()
            for element in book.chapter("Cut") for item in ([element] if element.kind == "LI" else element.all("LI"))]
    for cut in told["cuts"]:
        checks.that(any(text.startswith(cut["sentence"]) for text in said), f"{name}: {cut['sentence']}", said[:3])
    checks.equal(len(said), len(told["cuts"]), f"{name}: as many cuts as there are")
    # Parts.
    sections, at = {}, None
    for element in book.chapter("The parts"):
        if element.kind == "H2":
            at = element.text()
        elif at:
            sections[at] = sections.get(at, "") + " " + element.text()
    for part in told["parts"]:
        text = sections.get(part["name"])
        if checks.that(text, f"{name}: {part['name']} has its section", list(sections)):
            said = {nm for nm, _ in lengths(text)}
            for measure, value in part["measures"].items():
                if value["nm"] and part["width"]:
                    checks.that(near(value["nm"], unit, said), f"{name}: {part['name']}, {measure} {value['text']}", text)
            for glue in part["glue"]:
                checks.that(glue["to"] in text, f"{name}: {part['name']} is glued to {glue['to']}", text)
            place = part["place"] or {"borders": {}, "panel": ""}
            for border, value in place["borders"].items():
                holds = near(abs(value["nm"]), unit, said) if value["nm"] else f"at its {border}" in text
                checks.that(holds, f"{name}: {part['name']}, {border} {value['text']}", text)
    # Mats.
    mats = [row for table in tables(book.chapter("Cards and mats that fit")) for row in rows(table)[1:]]
    cut_list = told["mats"]["cut_list"]
    checks.equal(len(mats), len(cut_list), f"{name}: as many sizes of mats")
    for row, mat in zip(mats, cut_list):
        checks.that(row[0] == str(mat["count"]) and both(row[1], mat["width"]["nm"]) and both(row[2], mat["height"]["nm"]),
                    f"{name}: mats of {mat['width']['text']} x {mat['height']['text']}", row)
        faces = [f"{told['mats']['faces'][face]['panel']}, {told['mats']['faces'][face]['face']}" for face in mat["faces"]]
        checks.equal(row[3], "; ".join(faces), f"{name}: what those mats are for")
    # Everything that is said anywhere.
    check_known(checks, book, told)


def on_rulers(told):
    """What is said so that a ruler shows it: the closed folio no smaller, to 1/16 in or 1 mm and to 1/32 in or 0.1 mm in its
    thickness; what goes into something no larger, to 1/32 in or 0.5 mm, and a stack to 1/32 in or 0.1 mm."""
    up = lambda nm, step: -(-round(nm) // step) * step
    closed = known_lengths([told["closed"], told["post"], told["fits"]["loaded"]])
    found = {up(nm, step) for nm in closed for step in (1_587_500, 1_000_000, 793_750, 100_000)}
    return found | {nm // step * step for nm in known_lengths(told["fits"]) for step in (793_750, 500_000, 100_000)}


def check_known(checks, book, told):
    """Every length that is said anywhere is one that `describe` tells."""
    known = known_lengths(told) | on_rulers(told)
    loose = {id(element) for element in book.chapter("Cards and mats that fit")}
    for element in book.tree.children:
        text = element.text()
        fits = 100_000 if id(element) in loose else 10_000
        strange = [f"{nm / 1e6:.3f} mm ({of})" for nm, of in lengths(text) if not near(nm, of, known, fits)]
        checks.that(not strange, f"{book.path.name}: every length is one of the design", f"{strange[:4]} in {text[:200]}")


def check_making(checks, book, told, second):
    """No step uses what is not made yet: the order is that of `describe`, and a part is cut before it is named otherwise."""
    name = book.path.name
    steps = [item.children[1].text() for element in book.chapter("Make it in this order") for item in element.all("LI")]
    steps = [without_second(step, second) if second else step for step in steps]
    jobs = told["making"]["jobs"]
    checks.equal(len(steps), len(jobs), f"{name}: as many steps as jobs")
    for step, job in zip(steps, jobs):
        checks.that(step.startswith(job["instruction"] + "."), f"{name}: {job['instruction']}", step)
        for caution in job["cautions"]:
            checks.that(caution in step, f"{name}: {caution[:40]} stands with its step", step)
    for part in told["parts"]:
        makes = [at for at, job in enumerate(jobs) if job["job"] == f"cut part {part['id']}"]
        naming = [at for at, step in enumerate(steps) if re.search(rf"\b{re.escape(part['name'])}\b(?! \d)", step)
                  and jobs[at]["job"] != f"score part {part['id']}"]
        if makes and naming:
            checks.that(naming[0] >= makes[0], f"{name}: {part['name']} is cut before anything is done with it", steps)
        if part["source"]["from"] in ("any offcut", "offcut") and makes:
            folio = [at for at, job in enumerate(jobs) if job["job"] == "cut folio"]
            checks.that(folio and folio[0] < makes[0], f"{name}: the folio is cut out before {part['name']}", steps)
    closing = [item.children[1].text() for element in book.chapter("Close it in this order") for item in element.all("LI")]
    checks.equal(len(closing), len(told["closing"]), f"{name}: as many steps of closing")
    for step, fold in zip(closing, told["closing"]):
        checks.that(all(one["line"]["name"] in step and one["fold"] in step for one in fold["folds"]),
                    f"{name}: closing step {fold['step']}", step)


def check_text(checks, book, told):
    """What two more readers make of the text."""
    text = plain(tool("pdftotext", book.path, "-"))
    checks.that(plain(told["title"]) in text, f"{book.path.name}: poppler finds the title")
    for job in told["making"]["jobs"][:3]:
        start = " ".join(job["instruction"].split()[:3])
        checks.that(start in text, f"{book.path.name}: poppler finds \"{start}\"")


def refused(checks):
    """Designs that say little, and one that says too much."""
    base = json.loads(STARTER.read_text())
    cases = {
        "no-base": {key: value for key, value in base.items() if key != "base"},
        "empty": {**{key: base[key] for key in ("format", "version", "units", "stock")}, "title": "Empty", "credit": "",
                  "lines": [], "steps": []},
    }
    for name, design in cases.items():
        path = OUT / f"booklet-{name}.folio"
        path.write_text(json.dumps(design))
        ended = run("export", "booklet", path, "-o", OUT / f"booklet-{name}.pdf")
        checks.equal((ended.returncode, ended.stderr), (0, ""), f"{name}: a booklet all the same")
        if ended.returncode == 0:
            check_structure(checks, Booklet(OUT / f"booklet-{name}.pdf"))
    many = dict(base, lines=[dict(base["lines"][0], id=100 + i, name="", place={
        "turn": 0, "from": "edge", "distance": f"{i + 1} mm"}) for i in range(201)], steps=[], parts=[])
    many.pop("corners", None)
    path = OUT / "booklet-many.folio"
    path.write_text(json.dumps(many))
    ended = run("export", "booklet", path, "-o", OUT / "booklet-many.pdf")
    checks.equal(ended.returncode, 1, f"201 lines are refused: {ended.stderr}")
    checks.that("200 at most" in ended.stderr and ended.stderr.count("\n") == 1, "in one sentence", ended.stderr)
    ended = run("export", "booklet", STARTER, "-o", OUT / "booklet.txt")
    checks.that(ended.returncode == 2 and ended.stderr.count("\n") == 1, "a name that is no PDF is refused", ended.stderr)


def main():
    checks = Checks(__file__)
    for source in (STARTER, DIARY):
        told = described(source)
        for paper, units in (("letter", None), ("a4", "both"), ("a4", "mm"), ("letter", "both")):
            words = ["--paper", paper] + (["--units", units] if units else [])
            checks.group(f"{source.stem} on {paper}, {units or 'as designed'}",
                         "ISO 32000-1 14.7 and 14.8, ISO 14289-1; `describe --json`; pikepdf, pdfminer, poppler, qpdf")
            path = export(source, f"booklet-{source.stem}-{paper}-{units or 'own'}", *words)
            sound = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
            checks.equal(sound.returncode, 0, f"{path.name}: qpdf finds nothing: {sound.stdout[-300:]}{sound.stderr[-300:]}")
            book = Booklet(path)
            check_structure(checks, book)
            check_fonts(checks, book)
            check_page(checks, book, paper)
            unit, second = ("mm", None) if units == "mm" else ("in", "mm" if units else None)
            if units != "mm":
                check_measures(checks, book, told, unit, second)
                check_making(checks, book, told, second)
                check_text(checks, book, told)
            else:
                check_known(checks, book, told)
                inches = [text for text in (element.text() for element in book.chapter("Score")) if " in " in text]
                checks.that(not any(of == "in" for text in inches for _, of in lengths(text)), f"{path.name}: no inches", inches)
            again = path.read_bytes()
            checks.that(export(source, path.stem, *words).read_bytes() == again, f"{path.name}: same bytes again")
    checks.group("designs that say little or too much", "what a maker may feed it")
    refused(checks)
    checks.finish()


main()
