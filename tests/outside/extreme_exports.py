"""Every kind of export of designs at the ends of what can be made: either a file that other programs read, or one sentence;
never more memory than a bounded amount, never something half-written left behind."""

import hashlib
import itertools
import json
import os
import resource
import shutil
import struct
import subprocess
import threading
import zlib

import made_up
from checks import OUT, Checks
from program import PROGRAM

ROOM = OUT / "extreme"

# Address space that a task may take, bytes: a hundred megapixels as they are would take 300 MB at least, and as pixels that
# can be drawn on 400 MB, beside what the program itself takes.
MOST_MEMORY = 1 << 30

KINDS = [
    ("template", "pdf", []), ("template", "pdf", ["--paper", "sheet", "--back", "--artwork"]), ("booklet", "pdf", []),
    ("booklet", "pdf", ["--units", "both", "--paper", "a4"]), ("cutting", "svg", []), ("cutting", "dxf", []),
    ("cutting", "svg", ["--layout", "pieces", "--outline", "--marks", "--scores", "dashed"]),
    ("inserts", "pdf", []), ("picture", "png", ["--width", "300"]), ("picture", "svg", []),
    ("picture", "png", ["--fold", "closed", "--width", "300"]), ("picture", "svg", ["--fold", "closed"]),
    ("contact", "png", ["--width", "300"]), ("contact", "svg", []),
    ("animation", "gif", ["--width", "120", "--frames-per-step", "2"]),
    ("animation", "apng", ["--width", "120", "--frames-per-step", "2"]),
]

READERS = {
    "pdf": lambda path: [["qpdf", "--check", path], ["pdftotext", path, "-"]],
    "svg": lambda path: [["xmllint", "--huge", "--noout", path], ["rsvg-convert", "--width", "100", path, "-o", ROOM / "seen.png"]],
    "png": lambda path: [["identify", path]],
    "apng": lambda path: [["identify", f"png:{path}"]],
    "gif": lambda path: [["identify", path]],
}


def run(*words):
    """The program with bounded memory; its exit code, what it says, and how much it held at most, bytes."""

    def bound():
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))

    with subprocess.Popen([PROGRAM, *map(str, words)], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          stdin=subprocess.DEVNULL, preexec_fn=bound) as task:
        streams = [[], []]
        readers = [threading.Thread(target=lambda into=into, stream=stream: into.append(stream.read()))
                   for into, stream in zip(streams, (task.stdout, task.stderr))]
        for reader in readers:
            reader.start()
        _, status, used = os.wait4(task.pid, 0)
        task.returncode = os.waitstatus_to_exitcode(status)
        for reader in readers:
            reader.join()
        # ru_maxrss is in kilobytes on Linux (getrusage(2)).
        return task.returncode, *(stream[0].decode() for stream in streams), used.ru_maxrss * 1024


def readable(checks, what, path):
    """Other programs read the file. A DXF of release 12 is pairs of lines that end with the group 0, EOF."""
    ending = path.suffix[1:]
    if ending == "dxf":
        lines = path.read_text(encoding="ascii").split("\n")
        checks.that(len(lines) % 2 == 1 and [line.strip() for line in lines[-3:]] == ["0", "EOF", ""], f"{what}: whole",
                    lines[-4:])
        return
    for words in READERS[ending](path):
        ended = subprocess.run([str(word) for word in words], capture_output=True, timeout=300)
        checks.that(ended.returncode == 0, f"{what}: {words[0]} reads it", ended.stderr[-300:])


def each_kind(checks, name, design, notes=0, refusals=()):
    """Exports a design in every way. `notes` is how many sentences may stand on standard error beside a file."""
    for number, (kind, ending, words) in enumerate(KINDS):
        room = ROOM / f"{name}-{number}"
        shutil.rmtree(room, ignore_errors=True)
        room.mkdir()
        out = room / f"out.{ending}"
        what = f"{name}: {kind} {' '.join(words)} as {ending}"
        code, said, wrong, held = run("export", kind, design, "-o", out, *words)
        left = sorted(path.name for path in room.iterdir())
        checks.that(held < MOST_MEMORY, f"{what}: memory", held)
        if code == 0:
            checks.that(out.exists() and all(one.startswith("out") and one.endswith(ending) for one in left),
                        f"{what}: its file and no other", left)
            checks.that(len(wrong.splitlines()) <= notes, f"{what}: nothing else to say", wrong)
            checks.that("out." in said, f"{what}: names it", said)
            for path in room.iterdir():
                readable(checks, what, path)
        else:
            checks.equal(code, 1, f"{what}: exit code ({wrong.strip()})")
            one = len(wrong.splitlines()) == 1 and wrong.endswith("\n") and "panicked" not in wrong
            checks.that(one and design.name in wrong, f"{what}: one sentence that names the design", wrong)
            checks.that(kind in refusals, f"{what}: is refused only for a reason", wrong)
            checks.equal((left, said), ([], ""), f"{what}: nothing left behind")
        shutil.rmtree(room)


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def large_png(width, height):
    """A PNG of so many pixels in bands of colour (PNG specification, third edition), made row by row."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    packer = zlib.compressobj(1)
    data = bytearray()
    for y in range(height):
        data += packer.compress(b"\0" + bytes([(y // 64) % 256, 255 - (y // 32) % 256, 60]) * width)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", bytes(data + packer.flush())) + chunk(b"IEND", b"")


def printed(document, name, content, pixels, width="12 in"):
    """The design with a picture on both faces, which lies beside it."""
    path = ROOM / f"{name}.folio"
    folder = ROOM / f"{name}.assets"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    (folder / "picture.png").write_bytes(content)
    artwork = {"file": "picture.png", "sha256": hashlib.sha256(content).hexdigest(), "pixels": pixels, "width": width}
    document = json.loads(json.dumps(document))
    for face in ("front", "back"):
        document["stock"][face] = {"pattern": "any way", "artwork": artwork}
    return made_up.save(document, path)


def folio(width, height, at):
    """Three panels and what comes off, between two upright scores and a cut, all a share of the sheet."""
    lines = [{"id": 1, "name": "Left", "place": {"turn": 0, "from": "edge", "distance": at[0]}, "work": "score", "fold": "valley"},
             {"id": 2, "name": "Right", "place": {"turn": 0, "from": "edge", "distance": at[1]}, "work": "score", "fold": "valley"},
             {"id": 3, "name": "Top", "place": {"turn": 1, "from": "edge", "distance": at[2]}, "work": "cut"}]
    return made_up.sheet(width, height, lines, at[3], [[1], [2]], f"Sheet of {width}", "mm")


def check_sheets(checks):
    checks.group("sheets at the ends", "docs/command-line.md: a file or one sentence; other programs read the file")
    # Nothing folds on an empty sheet, and so little is on a tiny one that nothing goes into it.
    still = ("animation", "contact", "inserts", "picture", "cutting")
    empty = made_up.sheet("12 in", "12 in", [], ("6 in", "6 in"), [], "Nothing yet")
    each_kind(checks, "empty", made_up.save(empty, ROOM / "empty.folio"), refusals=still)
    del empty["base"]
    each_kind(checks, "no-base", made_up.save(empty, ROOM / "no-base.folio"), refusals=still)
    tiny = folio("1 mm", "1 mm", ("0.3 mm", "0.7 mm", "0.2 mm", ("0.5 mm", "0.7 mm")))
    each_kind(checks, "tiny", made_up.save(tiny, ROOM / "tiny.folio"), refusals=("inserts",))
    tiny_bare = made_up.sheet("1 mm", "1 mm", [], ("0.5 mm", "0.5 mm"), [], "Crumb", "mm")
    each_kind(checks, "crumb", made_up.save(tiny_bare, ROOM / "crumb.folio"), refusals=still)
    huge = folio("2000 mm", "2000 mm", ("500 mm", "1500 mm", "200 mm", ("1000 mm", "1000 mm")))
    each_kind(checks, "huge", made_up.save(huge, ROOM / "huge.folio"), refusals=("inserts",))
    strip = folio("2000 mm", "1 mm", ("500 mm", "1500 mm", "0.2 mm", ("1000 mm", "0.6 mm")))
    each_kind(checks, "strip", made_up.save(strip, ROOM / "strip.folio"), refusals=("inserts",))


def check_pictures(checks):
    checks.group("pictures at the ends", "docs/command-line.md: up to 120 megapixels; what can't be read is left out with a sentence")
    plain = folio("12 in", "12 in", ("3 in", "9 in", "2 in", ("6 in", "6 in")))
    large = large_png(10_000, 10_000)
    each_kind(checks, "large", printed(plain, "large", large, [10_000, 10_000]), refusals=("inserts",))
    # As wide as a sheet may be, and so 30 times as wide as this one.
    stretched = printed(plain, "stretched", large_png(2_000, 2_000), [2_000, 2_000], "9000 mm")
    each_kind(checks, "stretched", stretched, refusals=("inserts",))
    small = large_png(64, 64)
    tiny = folio("1 mm", "1 mm", ("0.3 mm", "0.7 mm", "0.2 mm", ("0.5 mm", "0.7 mm")))
    each_kind(checks, "tiny-printed", printed(tiny, "tiny-printed", small, [64, 64], "1 mm"), refusals=("inserts",))
    # Both faces have the one picture, which is named once.
    for name, spoil in (("short", small[:-30]), ("no-picture", b"Dear neighbour"), ("head-alone", small[:40])):
        each_kind(checks, name, printed(plain, name, spoil, [64, 64]), notes=1, refusals=("inserts",))
    gone = printed(plain, "gone", small, [64, 64])
    shutil.rmtree(ROOM / "gone.assets")
    each_kind(checks, "gone", gone, notes=1, refusals=("inserts",))
    other = printed(plain, "other", small, [64, 64])
    (ROOM / "other.assets" / "picture.png").write_bytes(large_png(32, 32))
    each_kind(checks, "other", other, notes=1, refusals=("inserts",))


def check_size_of_booklet(checks):
    checks.group("a printed booklet", "at most some 2 MB more for each picture, each of them once; the same bytes each time")
    plain = folio("12 in", "12 in", ("3 in", "9 in", "2 in", ("6 in", "6 in")))
    design = ROOM / "large.folio"
    bare = made_up.save(plain, ROOM / "bare.folio")
    sizes, digests = [], set()
    for path in (bare, design, design):
        out = ROOM / "size.pdf"
        code, *_ = run("export", "booklet", path, "-o", out)
        checks.equal(code, 0, f"{path.name}: made")
        content = out.read_bytes()
        sizes.append(len(content))
        digests.add(hashlib.sha256(content).hexdigest())
    checks.equal(len(digests), 2, "the same bytes the second time")
    checks.that(sizes[1] - sizes[0] < 2_100_000, "no more than that", sizes)
    listed = subprocess.run(["pdfimages", "-list", str(ROOM / "size.pdf")], capture_output=True, text=True).stdout.splitlines()[2:]
    objects = {line.split()[10] for line in listed}
    checks.that(len(listed) > 5 and len(objects) == 1, "drawn often, there once", (len(listed), objects))
    checks.that(all(int(line.split()[3]) <= 800 for line in listed), "with no more pixels than it needs", listed[:2])


def check_broken_off(checks):
    checks.group("where nothing can be written", "the design's table of exit codes: 1 refused; nothing is left behind")
    design = ROOM / "bare.folio"
    for number, (kind, ending, words) in enumerate(KINDS):
        if kind == "inserts":
            continue
        room = ROOM / f"full-{number}"
        shutil.rmtree(room, ignore_errors=True)
        room.mkdir()
        out = room / f"out.{ending}"

        def bound():
            # No file may grow beyond a kilobyte: as on a disk that fills up. The signal that comes with it is put off.
            import signal
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

        ended = subprocess.run([PROGRAM, "export", kind, str(design), "-o", str(out), *words], capture_output=True,
                               text=True, preexec_fn=bound, timeout=300)
        left = [path.name for path in room.iterdir()]
        whole = ended.returncode == 0 and all(path.stat().st_size <= 1000 for path in room.iterdir())
        refused = ended.returncode == 1 and not left and len(ended.stderr.splitlines()) == 1
        checks.that(whole or refused, f"{kind} {' '.join(words)}: whole or not at all", (ended, left))
        shutil.rmtree(room)


def main():
    checks = Checks(__file__)
    shutil.rmtree(ROOM, ignore_errors=True)
    ROOM.mkdir(parents=True)
    check_sheets(checks)
    check_pictures(checks)
    check_size_of_booklet(checks)
    check_broken_off(checks)
    hidden = [path for path in itertools.chain(ROOM.iterdir(), OUT.iterdir()) if path.name.startswith(".")]
    checks.equal(hidden, [], "no file of a moment is left behind")
    checks.finish()


main()
