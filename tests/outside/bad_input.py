"""What a maker may get wrong: one sentence on standard error, the promised exit code, nothing left behind."""

import json
import os
import shutil
import struct
import subprocess
import zlib

import folio
import made_up
from checks import OUT, ENVELOPE, Checks
from example import EXAMPLE, changed
from program import PROGRAM, run

SENTENCE = "one sentence on standard error"


def refused(checks, what, words, code, says, env=None):
    """A task that must fail: its exit code, nothing on standard output, one line that says what and where."""
    ended = run(*words, env=env, text=False)
    out, err = ended.stdout.decode(), ended.stderr.decode()
    checks.equal(ended.returncode, code, f"{what}: exit code ({err.strip()})")
    checks.equal(out, "", f"{what}: nothing on standard output")
    checks.that(len(err.splitlines()) == 1 and err.endswith("\n"), f"{what}: {SENTENCE}", err)
    for word in says:
        checks.that(word in err, f"{what}: the sentence says {word!r}", err.strip())
    checks.that("panicked" not in err and "RUST_BACKTRACE" not in err, f"{what}: no panic", err)


def spoiled(name, change):
    """A copy of the design with one thing changed."""
    document = folio.load(ENVELOPE)
    change(document)
    path = OUT / f"{name}.folio"
    path.write_text(json.dumps(document, indent=2), encoding="utf-8")
    return path


def place(document, number):
    return next(line for line in document["lines"] if line["id"] == number)["place"]


def check_unreadable(checks):
    checks.group("files that cannot be read", "the design's table of exit codes: 2 unreadable input")
    text = ENVELOPE.read_text(encoding="utf-8")
    files = {
        "empty": b"",
        "cut-short": text[:700].encode(),
        "no-json": b"Test envelope\n",
        "not-text": b"\xff\xfe\x00caf\xe9",
        "latin-1": text.replace("Test envelope", "Caf\u00e9").encode("latin-1"),
        "other-json": b"{\"format\": \"something else\", \"version\": 1}",
        "newer": text.replace("\"version\": 2", "\"version\": 99").encode(),
        "unknown-key": text.replace("\"units\"", "\"colour\": 1,\n  \"units\"").encode(),
        "bad-length": text.replace("\"8 3/4 in\"", "\"8 3/4\"").encode(),
        "huge-number": text.replace("\"8 3/4 in\"", "\"99999999999999999999999999999999 in\"").encode(),
        "huge-id": text.replace("\"id\": 14", "\"id\": 1e400").encode(),
        "twice": text.replace("\"id\": 14", "\"id\": 13").encode(),
        "deep": b"[" * 200_000,
        "no-sheet": text.replace("\"width\": \"12 in\"", "\"width\": \"0 in\"").encode(),
        "step-to-nowhere": text.replace("[1],", "[77],").encode(),
        "nul": text.replace("Test envelope", "Test\0envelope").encode(),
    }
    for name, content in files.items():
        path = OUT / f"bad-{name}.folio"
        path.write_bytes(content)
        for task in (["describe", path], ["export", "template", path, "-o", OUT / "never.pdf"],
                     ["export", "picture", path, "-o", OUT / "never.svg"]):
            refused(checks, f"{name} ({task[0]})", task, 2, [path.name])
    refused(checks, "missing file", ["describe", OUT / "no-such.folio"], 2, ["no-such.folio"])
    refused(checks, "folder", ["describe", OUT], 2, ["folder"])
    refused(checks, "name that is no text", ["describe", os.fsencode(OUT) + b"/caf\xe9.folio"], 2, [])
    checks.that(not (OUT / "never.pdf").exists() and not (OUT / "never.svg").exists(), "no output of a refused export")


def check_keys(checks):
    """What only arithmetic or a look elsewhere can tell, and what must never leave the folder of a design."""
    checks.group("designs that say what can't be", "docs/file-format.md; each with its place in the file")
    paper, drawn, corner = ["stock"], ["lines", 1, "place", "drawn"], ["corners", 0]
    here = "lines[1].place.drawn"
    artwork = [*paper, "front", "artwork"]
    card = EXAMPLE["further_stocks"][0]
    wrong = {
        "a length between two nanometres": ([*paper, "width"], "1/3 in", "stock.width"),
        "a sheet of more than 10 m": ([*paper, "width"], "10001 mm", "stock.width"),
        "paper of no thickness": (paper, {"width": "1 in", "height": "1 in", "caliper": "0 mm"}, "stock.caliper"),
        "paper thicker than any": (paper, {"width": "1 in", "height": "1 in", "caliper": "11 mm"}, "stock.caliper"),
        "pounds of what": ([*paper, "weight"], "80 lb", "stock.weight"),
        "weight in words": ([*paper, "weight"], "\u001b[1m heavy", "stock.weight"),
        "no weight at all": ([*paper, "weight"], "0 g/m2", "stock.weight"),
        "a bulk of more than 5": ([*paper, "bulk"], "5.001", "stock.bulk"),
        "two papers of one number": (["further_stocks"], [card, card], "further_stocks[1].id"),
        "papers without end": (["further_stocks"], [card | {"id": number} for number in range(101)], "further_stocks"),
        "corners without end": (["corners"], [EXAMPLE["corners"][0]] * 2001, "corners"),
        "lines without end": (["lines"], [EXAMPLE["lines"][0] | {"id": number} for number in range(2001)], "lines"),
        "a corner at a line that is no number": ([*corner, "which"], ["line x", "top edge"], "corners[0].which"),
        "a corner of no radius in words": ([*corner, "round"], "small", "corners[0].round"),
        "a mark that is a length": ([*corner, "mark"], "6 in", "corners[0].mark"),
        "a crossing of edges": ([*drawn, "from"], {"crossing": ["line 1", "edge"]}, f"{here}.from"),
        "a bow that is a number": ([*drawn, "bow"], 3, f"{here}.bow"),
        "a line number beyond all": ([*drawn, "to", "on"], "line 4294967296", f"{here}.to"),
        "a stop past nothing": (["lines", 2, "place", "start"], "line 2 +", "lines[2].place.start"),
        "a stop past two": (["lines", 2, "place", "start"], "line 2 + 1 in + line 1", "lines[2].place.start"),
        "a base beyond numbers": (["base", "x"], "1" * 400 + " in", "base.x"),
        "a picture of no width": ([*artwork, "width"], "0 in", "stock.front.artwork.width"),
        "a picture of pixels beyond all": ([*artwork, "pixels"], [3600, 5_000_000_000], "stock.front.artwork.pixels"),
        "a picture of fewer than no pixels": ([*artwork, "pixels"], [3600, -1], "stock.front.artwork.pixels"),
    }
    for name in ("", ".", "..", "../seedlings.png", "/etc/hostname", "a/b.png", "a\\b.png", "c:seedlings.png",
                 "seed\nlings.png", "seedlings\0.png", "n" * 256, "\u00e9" * 128):
        wrong[f"a picture called {ascii(name)[:30]}"] = ([*artwork, "file"], name, "stock.front.artwork.file")
    for what, (keys, value, where) in wrong.items():
        path = OUT / "bad-key.folio"
        path.write_text(json.dumps(changed(keys, value)), encoding="utf-8")
        refused(checks, what, ["describe", path], 2, [path.name, where])


def png(width, height):
    """The head of a PNG of so many pixels (PNG specification, third edition, 5.2 and 11.2.1), without any of them."""
    head = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + head + struct.pack(">I", zlib.crc32(head))


def whole_png(width, height):
    """The same with all its pixels, black (11.2.3 and 11.2.4)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    return png(width, height) + chunk(b"IDAT", zlib.compress(bytes((1 + 3 * width) * height))) + chunk(b"IEND", b"")


def jpeg(width, height):
    """The head of a JPEG of so many pixels (ITU-T T.81, B.2.2): start of image, start of frame."""
    return b"\xff\xd8\xff\xc0" + struct.pack(">HBHHB", 11, 8, height, width, 1) + b"\x01\x11\x00\xff\xd9"


def check_artwork(checks):
    checks.group("pictures that are none, or not there", "docs/command-line.md; heads of pictures by their standards")
    room = OUT / "artwork"
    shutil.rmtree(room, ignore_errors=True)
    room.mkdir()
    design = made_up.save(changed(["stock", "front"], None), room / "swap.folio")
    before = design.read_bytes()
    pictures = {
        "empty.png": b"", "letter.png": b"Dear neighbour", "head.png": png(3600, 1800)[:20], "none.png": png(0, 10),
        "huge.png": png(20_001, 10), "endless.png": png(2**31 - 1, 2**31 - 1), "high.jpg": jpeg(10, 65_535),
        "moving.gif": b"GIF89a\x10\0\x10\0\0\0\0", "back\\slash.png": whole_png(10, 10),
        "c:drive.png": whole_png(10, 10), "cut.png": png(3600, 1800), "short.png": whole_png(3600, 1800)[:-40],
    }
    for name, content in pictures.items():
        (room / name).write_bytes(content)
    (room / "folder.png").mkdir()
    os.mkfifo(room / "pipe.png")
    for name in [*pictures, "folder.png", "pipe.png", "not-there.png"]:
        refused(checks, f"artwork {name}", ["artwork", design, room / name, "--side", "front"], 2, [name])
    good = whole_png(3600, 1800)
    (room / "good.png").write_bytes(good)
    put = ["artwork", design, room / "good.png", "--side"]
    for width in ("0 in", "-1 in", "wide", "20 m", "1/3 in", "99999999999999999999 mm"):
        refused(checks, f"artwork {width} wide", [*put, "front", f"--width={width}"], 2, [])
    refused(checks, "artwork on no side", [*put, "top"], 2, ["top"])
    refused(checks, "artwork of no picture", ["artwork", design, "--side", "front"], 2, [])
    refused(checks, "nothing to take off", ["artwork", design, "--side", "front", "--remove"], 1, [design.name])
    kept = room / "swap.assets" / "good.png"
    checks.that(design.read_bytes() == before and not kept.parent.exists(), "nothing is changed or left behind")
    ended = run(*put, "front")
    checks.equal((ended.returncode, ended.stderr), (0, ""), "a picture that is one is taken")
    checks.equal(kept.read_bytes(), good, "and copied beside the design")
    (room / "good.png").write_bytes(whole_png(3600, 1801))
    refused(checks, "another picture of that name", [*put, "back"], 2, ["good.png"])
    changes = [("present", lambda: None), ("changed", lambda: kept.write_bytes(b"seeds")),
               ("changed", lambda: kept.write_bytes(b"")), ("missing", kept.unlink), ("missing", kept.mkdir),
               ("missing", lambda: (kept.rmdir(), os.mkfifo(kept)))]
    for state, change in changes:
        change()
        said = json.loads(run("describe", design, "--json").stdout)["sheet"]["front"]["artwork"]
        checks.equal(said["state"], state, "how the picture is found")
        for task in (["check", design], ["describe", design], ["export", "picture", design, "-o", room / "out.svg"],
                     ["export", "template", design, "-o", room / "out.pdf"]):
            ended = run(*task)
            as_promised = ended.returncode in (0, 1) and "panicked" not in ended.stderr
            checks.that(as_promised, f"picture {state}: {task[0]} ends as promised", ended)


def check_findings(checks):
    checks.group("designs that are readable and wrong", "the design's table of exit codes: 1 a warning or error")

    def beyond(document):
        place(document, 2)["distance"] = "13 in"

    def coincide(document):
        place(document, 2)["distance"] = "3 1/4 in"

    def circle(document):
        place(document, 3)["from"] = "line 4"

    def unknown(document):
        place(document, 4)["from"] = "line 99"

    def with_line(**line):
        return lambda document: document["lines"].append({"id": 99, **line})

    def with_corner(**corner):
        return lambda document: document.update(corners=[corner])

    def between(x, y, **more):
        return {"drawn": {"from": {"x": "1 in", "y": "1 in"}, "to": {"x": x, "y": y}, **more}}

    middle, outside = {"x": "6 in", "y": "5 in"}, {"x": "13 in", "y": "5 in"}
    on_itself, nowhere = {"on": "line 99", "at": "1 in"}, {"crossing": ["line 1", "line 2"]}
    left_edge = {"turn": 0, "from": "edge", "distance": "0 in"}
    for name, change in [
        ("beyond-the-sheet", beyond), ("two-at-one-place", coincide), ("circle", circle), ("unknown-line", unknown),
        ("drawn-to-itself", with_line(place=between("1 in", "1 in"), work="cut")),
        ("drawn-beyond-the-sheet", with_line(place=between("13 in", "1 in"), work="cut")),
        ("drawn-by-itself", with_line(place={"drawn": {"from": on_itself, "to": middle}}, work="cut")),
        ("crossing-of-parallels", with_line(place={"drawn": {"from": nowhere, "to": middle}}, work="cut")),
        ("more-than-half-round", with_line(place=between("3 in", "1 in", bow="1 1/64 in"), work="cut")),
        ("arc-beyond-the-sheet", with_line(place=between("9 in", "1 in", bow="-2 in"), work="cut")),
        ("curved-score", with_line(place=between("5 in", "1 in", bow="1 in"), work="score", fold="valley")),
        ("slot-of-no-width", with_line(place={"along": "line 1"}, work="slot", width="0 in")),
        ("slot-of-less", with_line(place={"along": "line 1"}, work="slot", width="-1 in")),
        ("wide-trim", with_line(place={"along": "line 1"}, work="trim", width="3/64 in", side="left")),
        ("deep-notch", with_line(place=between("3 in", "1 in"), work="notch", depth="1 1/64 in", side="left")),
        ("notch-beyond-the-sheet",
         with_line(place=left_edge | {"start": "1 in", "end": "3 in"}, work="notch", depth="1 in", side="left")),
        ("everything-taken-out", with_line(place=left_edge, work="slot", width="12 in", side="right")),
        ("corner-of-nothing", with_corner(mark=outside, which="panel", round="1/4 in")),
        ("corner-that-is-none", with_corner(mark=middle, which=["left edge", "right edge"], clip="1/4 in")),
        ("corner-of-no-line", with_corner(mark=middle, which=["line 77", "line 1"], clip="1/4 in")),
        ("corner-beyond-its-side", with_corner(mark=middle, which="piece", round="10 in")),
    ]:
        path = spoiled(name, change)
        ended = run("check", path)
        checks.equal((ended.returncode, ended.stderr), (1, ""), f"{name}: check ends with 1")
        checks.that(any(word in ended.stdout for word in (": error: ", ": warning: ")), f"{name}: a finding", ended.stdout)
        found = json.loads(run("check", path, "--json").stdout)["files"][0]["findings"]
        checks.that(any(one["severity"] in ("error", "warning") for one in found), f"{name}: the same as JSON", found)
        for task in (["describe", path], ["describe", path, "--json"], ["export", "template", path, "-o", OUT / "wrong.pdf"]):
            checks.that(run(*task).returncode in (0, 1), f"{name}: {task[0]} still ends as promised")
    ended = run("check", ENVELOPE)
    checks.equal((ended.returncode, ended.stderr), (0, ""), "the untouched design has nothing worse than a note")


def check_commands(checks):
    checks.group("commands that make no sense", "the design's table of exit codes")
    refused(checks, "two words that are no command", ["frobnicate", ENVELOPE], 2, ["frobnicate"])
    refused(checks, "no file", ["describe"], 2, ["FILE"])
    refused(checks, "unknown option", ["describe", ENVELOPE, "--yaml"], 2, ["--yaml"])
    refused(checks, "unknown paper", ["export", "template", ENVELOPE, "-o", OUT / "x.pdf", "--paper", "b5"], 2, ["b5"])
    refused(checks, "unknown picture", ["export", "picture", ENVELOPE, "-o", OUT / "x.bmp"], 2, [".png", ".svg"])
    for step in ("5", "-1", "NaN", "inf", "soon", "1e999"):
        words = ["export", "picture", ENVELOPE, "-o", OUT / "x.svg", f"--fold={step}"]
        refused(checks, f"step {step}", words, 2, [step])
    for step in ("5", "-1", "NaN", "inf", "soon"):
        refused(checks, f"describe at {step}", ["describe", ENVELOPE, "--json", f"--at={step}"], 2, [step])
    for width in ("0", "-3", "99999999999"):
        refused(checks, f"width {width}", ["export", "picture", ENVELOPE, "-o", OUT / "x.png", f"--width={width}"], 2, [width])
    for size in ("12", "0x12in", "axb", "999999x999999in"):
        refused(checks, f"sheet {size}", ["new", "--sheet", size, "-o", OUT / "new.folio"], 2, [])
    refused(checks, "no such starter", ["starters", "--copy", "no-such", OUT], 2, ["no-such", "seed-swap"])


def check_outputs(checks):
    checks.group("outputs that cannot be written", "the design's table of exit codes: 1 refused")
    template = ["export", "template", ENVELOPE, "-o"]
    refused(checks, "no such folder", [*template, OUT / "no" / "such" / "x.pdf"], 1, ["x.pdf"])
    (OUT / "folder.pdf").mkdir(exist_ok=True)
    refused(checks, "a folder of that name", [*template, OUT / "folder.pdf"], 1, ["folder"])
    refused(checks, "a file as a folder", [*template, ENVELOPE / "x.pdf"], 1, ["x.pdf"])
    refused(checks, "where nothing can be made", [*template, "/proc/x.pdf"], 1, ["/proc/x.pdf"])
    (OUT / "there.folio").write_bytes(ENVELOPE.read_bytes())
    refused(checks, "a design that is there already", ["new", "--sheet", "a4", "-o", OUT / "there.folio"], 1, ["there"])
    checks.equal((OUT / "there.folio").read_bytes(), ENVELOPE.read_bytes(), "and it is left as it was")
    # Nobody listens: no panic, no sentence.
    with subprocess.Popen([PROGRAM, "describe", ENVELOPE], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as task:
        task.stdout.close()
        said = task.stderr.read().decode()
        checks.that(task.wait() in (0, 1) and said == "", "standard output is closed", said)
    with open("/dev/full", "w") as full:
        ended = subprocess.run([PROGRAM, "describe", ENVELOPE], stdout=full, stderr=subprocess.PIPE, text=True)
        checks.that(ended.returncode == 1 and len(ended.stderr.splitlines()) == 1, "standard output is full", ended.stderr)


def check_no_display(checks):
    checks.group("no display", "the design: one clear sentence, exit 2, naming what works without one")
    env = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET")}
    for what, words in (("no file", []), ("a file", [ENVELOPE])):
        refused(checks, f"window with {what}", words, 2, ["display", "foliowright export template"], env)
        refused(checks, f"window with {what}, a display that is not there", words, 2, ["foliowright export template"],
                env | {"DISPLAY": ":997"})
        refused(checks, f"window with {what}, a Wayland that is not there", words, 2, ["foliowright export template"],
                env | {"WAYLAND_DISPLAY": "wayland-997"})
    refused(checks, "window with a file that is not there", [OUT / "no-such.folio"], 2, ["no-such.folio"], env)


def main():
    checks = Checks(__file__)
    check_unreadable(checks)
    check_keys(checks)
    check_artwork(checks)
    check_findings(checks)
    check_commands(checks)
    check_outputs(checks)
    check_no_display(checks)
    checks.finish()


main()
