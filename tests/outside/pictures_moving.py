"""Animations, contact sheets and printed artwork, as Pillow, poppler and PDFium see them."""

import hashlib
import json
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image

import folio
from checks import OUT, STARTER, Checks
from program import PROGRAM, done, run, tool

# Around a picture, mm, and the longer side of one of the folded folio.
MARGIN, SIDE = 6.0, 200.0

# The flat sheet of the demo: four steps, each of 12 pictures there and back.
STEPS, PER_STEP = 4, 12


def bytes_of(path):
    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


def frames_of(path):
    """The pictures of an animation as they are seen, with how long each is shown, ms."""
    found = []
    with Image.open(path) as image:
        for number in range(image.n_frames):
            image.seek(number)
            found.append((np.asarray(image.convert("RGB"), dtype=int), image.info.get("duration")))
        return found, image.size, image.info.get("loop")


def check_animation(checks):
    still = OUT / "moving-still.png"
    done("export", "picture", STARTER, "-o", still, "--fold", "0", "--view", "front", "--width", "400")
    still = np.asarray(Image.open(still).convert("RGB"), dtype=int)
    kept = {}
    # A GIF has 255 colours a picture, so the palette may be off; an APNG may not.
    for ending, most, mean in (("gif", 16, 0.6), ("apng", 0, 0.0), ("png", 0, 0.0)):
        path, twin = OUT / f"moving.{ending}", OUT / f"moving-twin.{ending}"
        for out in (path, twin):
            said = done("export", "animation", STARTER, "-o", out, "--view", "front", "--width", "400")
        checks.equal(bytes_of(path), bytes_of(twin), f"{ending}: the same bytes twice")
        frames, size, loop = frames_of(path)
        kept[ending] = frames
        count = 2 * STEPS * PER_STEP
        checks.equal(len(frames), count, f"{ending}: pictures")
        checks.that(f"{count} pictures" in said, f"{ending}: says how many", said)
        checks.equal(loop, 0, f"{ending}: goes round for ever")
        checks.equal((size[1], size[0]), still.shape[:2], f"{ending}: as large as the still")
        shown = [duration for _, duration in frames]
        checks.equal((shown[0], shown[STEPS * PER_STEP]), (1500, 1500), f"{ending}: rests flat and closed, ms")
        checks.equal(set(shown), {80, 300, 1500}, f"{ending}: how long others are shown, ms")
        # Folding within its own outline, the sheet is as large as all of the motion, so the still has the same frame.
        apart = np.abs(frames[0][0] - still)
        checks.that(apart.max() <= most and apart.mean() <= mean, f"{ending}: begins with the flat sheet",
                    f"{apart.max()} at most, {apart.mean():.3f} on average")
        moves = [np.abs(a - b).max() for (a, _), (b, _) in zip(frames, frames[1:])]
        checks.that(all(move > 0 for move in moves), f"{ending}: every picture differs from the one before",
                    [number for number, move in enumerate(moves, 1) if move == 0])
        there, back = frames[10][0], frames[count - 10][0]
        checks.that(np.abs(there - back).max() <= 2 * most, f"{ending}: opens as it closed", np.abs(there - back).max())
    apart = max(np.abs(a - b).mean() for (a, _), (b, _) in zip(kept["gif"], kept["apng"]))
    checks.that(apart < 0.6, "GIF and APNG show the same, mean of 255", f"{apart:.3f}")
    path = OUT / "moving-slow.gif"
    done("export", "animation", STARTER, "-o", path, "--frames-per-step", "3", "--hold", "0.5", "--width", "240",
         "--view", "back")
    frames, size, _ = frames_of(path)
    checks.equal((len(frames), frames[0][1], frames[1][1], size[0]), (24, 500, 330, 240), "pace and size as asked")


def check_refused(checks):
    design = json.loads(STARTER.read_text())
    design["steps"] = []
    stepless = OUT / "moving-stepless.folio"
    stepless.write_text(json.dumps(design))
    cases = [
        (STARTER, "x.webp", [], 2, "end its name in .gif, .apng or .png"),
        (STARTER, "x.gif", ["--width", "0"], 2, "--width"),
        (STARTER, "x.gif", ["--width", "8000"], 1, "10 megapixels each"),
        (STARTER, "x.gif", ["--frames-per-step", "51"], 2, "--frames-per-step"),
        (STARTER, "x.gif", ["--hold", "-1"], 2, "give 0 to 60 seconds"),
        (STARTER, "x.gif", ["--hold", "nan"], 2, "give 0 to 60 seconds"),
        (stepless, "x.gif", [], 1, "nothing to show"),
        (STARTER, "no/such/folder/x.gif", [], 1, "folder"),
    ]
    for source, name, options, code, says in cases:
        ended = run("export", "animation", source, "-o", OUT / name, *options)
        sentence = ended.stderr.strip()
        checks.that(ended.returncode == code and says in sentence and "\n" not in sentence and not ended.stdout,
                    f"{name} {options}: one sentence", f"{ended.returncode}: {sentence}")
        checks.that(not (OUT / name).exists(), f"{name} {options}: nothing is written")


def check_contact(checks):
    path = OUT / "contact.svg"
    done("export", "contact", STARTER, "-o", path)
    tool("xmllint", "--noout", path)
    svg = ElementTree.parse(path).getroot()
    labels = " ".join(element.get("aria-label") for element in svg.iter() if element.get("aria-label"))
    design = folio.load(STARTER)
    names = {line["id"]: line["name"] for line in json.loads(STARTER.read_text())["lines"] if "name" in line}
    checks.that(labels.startswith("Flat ") and labels.endswith("Closed."), "from flat to closed", labels)
    steps = json.loads(STARTER.read_text())["steps"]
    checks.equal(len(steps), STEPS, "the demo's steps")
    for number, step in enumerate(steps, 1):
        ids = step if isinstance(step, list) else step["lines"]
        said = all(names[line] in labels for line in ids)
        checks.that(f"{number}. " in labels and said, f"step {number} has its words", labels)
    groups = [child for child in svg if child.get("transform")]
    checks.equal(len(groups), STEPS + 1, "a picture for the flat sheet and each step")
    drawn = {ElementTree.tostring(group[0]) for group in groups}
    checks.equal(len(drawn), STEPS + 1, "no two pictures are the same")
    png = OUT / "contact.png"
    done("export", "contact", STARTER, "-o", png, "--width", "900")
    twin = OUT / "contact-rsvg.png"
    image = Image.open(png)
    tool("rsvg-convert", "-w", image.width, "-h", image.height, "-b", "white", path, "-o", twin)
    ours, theirs = (np.asarray(Image.open(file).convert("RGB"), dtype=int) for file in (png, twin))
    apart = np.abs(ours - theirs).max(axis=2)
    checks.that(apart.mean() < 2, "as librsvg draws it, mean of 255", f"{apart.mean():.3f}")
    assert design


def check_transparent(checks):
    for options in ([], ["--fold", "closed"]):
        solid, clear = OUT / "solid.png", OUT / "clear.png"
        done("export", "picture", STARTER, "-o", solid, "--width", "500", *options)
        done("export", "picture", STARTER, "-o", clear, "--width", "500", "--transparent", *options)
        solid, clear = Image.open(solid), Image.open(clear)
        checks.equal((solid.mode, clear.mode), ("RGB", "RGBA"), f"{options}: with and without a ground")
        alpha = np.asarray(clear)[:, :, 3]
        checks.equal((alpha[0, 0], alpha[-1, -1], alpha.max()), (0, 0, 255), f"{options}: clear beside the paper")
        over = Image.new("RGBA", clear.size, "white")
        over.alpha_composite(clear)
        apart = np.abs(np.asarray(over.convert("RGB"), dtype=int) - np.asarray(solid, dtype=int)).max()
        checks.that(apart <= 2, f"{options}: over white it is the solid picture", apart)


def pattern(width, height):
    """A picture whose every place has a colour of its own: red to the right, green down, waves in blue."""
    x, y = np.meshgrid(np.linspace(0, 1, width), np.linspace(0, 1, height))
    blue = 0.5 + 0.5 * np.sin(9 * x) * np.cos(7 * y)
    return Image.fromarray((np.stack([x, y, blue], axis=2) * 255).round().astype(np.uint8), "RGB")


def design_with(name, face, picture, **place):
    """A copy of the demo with a picture on one face, put there by the program."""
    path = OUT / f"{name}.folio"
    path.write_text(STARTER.read_text())
    words = [f"--{key}={value}" for key, value in place.items()]
    done("artwork", path, picture, "--side", face, *words)
    return path


def where(picture, transform, size):
    """A picture under an affine map from the drawing's pixels to its own, by Pillow."""
    moved = picture.transform(size, Image.Transform.AFFINE, transform, resample=Image.Resampling.BICUBIC)
    return np.asarray(moved, dtype=int)


def compare(checks, what, seen, wanted, mask, mean, share):
    """Colours within a mask, but for lines and letters on them: those are few."""
    apart = np.abs(seen - wanted).max(axis=2)[mask]
    off = (apart > 24).mean()
    checks.that(mask.mean() > 0.05 and np.median(apart) <= mean and off < share, what,
                f"median {np.median(apart):.1f}, {off:.4f} far off, of {mask.mean():.2f}")


def eroded(mask, by):
    """A mask without its rim."""
    kept = mask.copy()
    for axis in (0, 1):
        for shift in range(-by, by + 1):
            kept &= np.roll(mask, shift, axis)
    return kept


def check_sheet_artwork(checks, picture, source):
    """The flat sheet: the demo's folio in full colours, offcuts veiled."""
    left, top, wide = 25.4, 12.7, 254.0
    high = wide * source.height / source.width
    path = design_with("printed", "front", picture, width="10in", left="1in", top="1/2in")
    pixels = 900
    scale = pixels / (304.8 + 2 * MARGIN)
    png, svg, pdf = (OUT / f"printed.{ending}" for ending in ("png", "svg", "pdf"))
    done("export", "picture", path, "-o", png, "--width", pixels)
    done("export", "picture", path, "-o", svg)
    tool("xmllint", "--noout", svg)
    tool("rsvg-convert", "-w", pixels, "-h", pixels, "-b", "white", svg, "-o", OUT / "printed-rsvg.png")
    # From a pixel of the drawing to one of the source, pixel middles at halves, as Pillow has it.
    per = source.width / wide / scale
    shift = lambda at: -(at + MARGIN) * source.width / wide
    wanted = where(source, (per, 0, shift(left), 0, per, shift(top)), (pixels, pixels))
    # The base and its gussets and flaps: the cross in the middle is the folio, beyond it lie offcuts.
    plain = OUT / "printed-plain.png"
    done("export", "picture", STARTER, "-o", plain, "--width", pixels)
    folio_colour = np.abs(np.asarray(Image.open(plain).convert("RGB"), dtype=int) - [0xFB, 0xF3, 0xE4]).max(axis=2) == 0
    y, x = np.mgrid[0:pixels, 0:pixels] / scale - MARGIN
    inside = (x > left + 1) & (x < left + wide - 1) & (y > top + 1) & (y < top + high - 1)
    mask = eroded(folio_colour, 3) & inside
    for name in ("printed.png", "printed-rsvg.png"):
        seen = np.asarray(Image.open(OUT / name).convert("RGB"), dtype=int)
        compare(checks, f"{name}: the folio bears the picture in its place", seen, wanted, mask, 3, 0.01)
    outside = eroded(folio_colour, 3) & ~((x > left - 1) & (x < left + wide + 1) & (y > top - 1) & (y < top + high + 1))
    seen = np.asarray(Image.open(png).convert("RGB"), dtype=int)
    checks.that(np.abs(seen - [0xFB, 0xF3, 0xE4])[outside].max() <= 2, "beside the picture the paper is plain")
    done("export", "template", path, "-o", pdf, "--paper", "sheet", "--artwork")
    check_printed(checks, pdf, path, source, (left, top, wide))
    return path


def sheet_page(pdf):
    """The number of the page that is as large as the sheet, 12 x 12 in; notes come on pages of their own."""
    sizes = [page.get_size() for page in pypdfium2.PdfDocument(pdf)]
    return next(number for number, size in enumerate(sizes) if max(abs(side - 864) for side in size) < 1)


def check_printed(checks, pdf, path, source, placed):
    """The template as PDFium and poppler draw it, with the picture at true size."""
    left, top, wide = placed
    dpi = 72
    page = sheet_page(pdf)
    tool("pdftoppm", "-r", dpi, "-f", page + 1, "-l", page + 1, "-singlefile", "-png", pdf, OUT / "printed-pdf")
    by_pdfium = pypdfium2.PdfDocument(pdf)[page].render(scale=dpi / 72).to_pil()
    pages = {"poppler": Image.open(OUT / "printed-pdf.png"), "PDFium": by_pdfium}
    per = source.width / wide * 25.4 / dpi
    plain = OUT / "printed-plain.pdf"
    done("export", "template", path, "-o", plain, "--paper", "sheet")
    blank = pypdfium2.PdfDocument(plain)[sheet_page(plain)].render(scale=dpi / 72).to_pil().convert("RGB")
    for name, page in pages.items():
        page = page.convert("RGB")
        shift = lambda at: -at * source.width / wide
        wanted = where(source, (per, 0, shift(left), 0, per, shift(top)), page.size)
        seen, empty = np.asarray(page, dtype=int), np.asarray(blank, dtype=int)
        checks.equal(seen.shape, empty.shape, f"{name}: one page of the sheet's size")
        y, x = np.mgrid[0 : page.height, 0 : page.width] * 25.4 / dpi
        high = wide * source.height / source.width
        inside = (x > left + 2) & (x < left + wide - 2) & (y > top + 2) & (y < top + high - 2)
        # Where the plain page has no ink but the paper's.
        values, counts = np.unique(empty.reshape(-1, 3), axis=0, return_counts=True)
        paper = values[counts.argmax()]
        mask = eroded(np.abs(empty - paper).max(axis=2) <= 2, 2) & inside
        compare(checks, f"{name}: the template bears the picture at true size", seen, wanted, mask, 4, 0.03)


def check_folded_artwork(checks, picture, source):
    """The folded folio seen straight on: the front at step 0, the back when the picture is on the back."""
    flat = 304.8
    for face, view in (("front", "front"), ("back", "back")):
        path = design_with(f"printed-{face}", face, picture, width="12in")
        png = OUT / f"printed-{face}.png"
        pixels = 700
        done("export", "picture", path, "-o", png, "--fold", "0", "--view", view, "--width", pixels)
        seen = np.asarray(Image.open(png).convert("RGB"), dtype=int)
        # The folio's bounds fill the picture within its margin. They are found on the plain one.
        svg = OUT / f"printed-{face}.svg"
        done("export", "picture", path, "-o", svg, "--fold", "0", "--view", view)
        tool("rsvg-convert", "-w", pixels, "-h", seen.shape[0], "-b", "white", svg, "-o", OUT / f"printed-{face}-rsvg.png")
        described = json.loads(done("describe", path, "--json"))
        corners = [(p["x"]["nm"] / 1e6, p["y"]["nm"] / 1e6) for panel in described["panels"] if panel["piece"] == "Folio"
                   for p in panel["outline"]]
        xs, ys = zip(*((flat - x if face == "back" else x, y) for x, y in corners))
        low, span = (min(xs), min(ys)), max(max(xs) - min(xs), max(ys) - min(ys))
        width_mm = (max(xs) - min(xs)) * (SIDE - 2 * MARGIN) / span + 2 * MARGIN
        scale = pixels / width_mm * (SIDE - 2 * MARGIN) / span
        margin = MARGIN * pixels / width_mm
        per = source.width / flat / scale
        shift = lambda start: (start - margin / scale) * source.width / flat
        wanted = where(source, (per, 0, shift(low[0]), 0, per, shift(low[1])), (pixels, seen.shape[0]))
        # Paper is shaded a little: 10 parts of 255 of the outline's ink (0x4a), from the drawing's own light.
        wanted = (wanted * 245 + 0x4A * 10) / 255
        y, x = (np.mgrid[0 : seen.shape[0], 0:pixels] - margin) / scale
        mask = np.zeros(seen.shape[:2], dtype=bool)
        for panel in described["panels"]:
            if panel["piece"] == "Folio":
                px, py = zip(*((p["x"]["nm"] / 1e6, p["y"]["nm"] / 1e6) for p in panel["outline"]))
                px = [flat - value for value in px] if face == "back" else px
                mask |= ((x > min(px) - low[0] + 1.5) & (x < max(px) - low[0] - 1.5)
                         & (y > min(py) - low[1] + 1.5) & (y < max(py) - low[1] - 1.5))
        mask &= y * source.width / source.height < flat - low[1] - 2
        for name in (f"printed-{face}.png", f"printed-{face}-rsvg.png"):
            drawn = np.asarray(Image.open(OUT / name).convert("RGB"), dtype=int)
            compare(checks, f"{name}: panels bear the picture in its place", drawn, wanted, mask, 4, 0.03)
        # From the other side nothing of it is seen.
        other = OUT / f"printed-{face}-other.png"
        done("export", "picture", path, "-o", other, "--fold", "0", "--view", "back" if view == "front" else "front",
             "--width", "200")
        colours = np.asarray(Image.open(other).convert("RGB"), dtype=int)
        spread = (colours.max(axis=2) - colours.min(axis=2)).max()
        checks.that(spread < 60, f"{face}: the other face is plain", spread)


def check_orientation(checks, source):
    """A picture that a camera noted to be turned lies as Pillow turns it."""
    upright = source.resize((300, 240))
    for number, turn in ((3, Image.Transpose.ROTATE_180), (6, Image.Transpose.ROTATE_90),
                         (8, Image.Transpose.ROTATE_270), (5, Image.Transpose.TRANSPOSE)):
        stored = upright.transpose(turn)
        exif = Image.Exif()
        exif[274] = number
        noted, plain = OUT / f"turned-{number}.jpg", OUT / f"turned-{number}.png"
        stored.save(noted, exif=exif, quality=95, subsampling=0)
        upright.save(plain)
        seen = []
        for picture in (noted, plain):
            path = design_with(f"turned-{number}-{picture.suffix[1:]}", "front", picture, width="12in")
            pages = [OUT / f"turned-{number}-{picture.suffix[1:]}.png", OUT / f"turned-{number}-{picture.suffix[1:]}.svg"]
            done("export", "picture", path, "-o", pages[0], "--width", "400")
            done("export", "picture", path, "-o", pages[1])
            drawn = OUT / f"turned-{number}-{picture.suffix[1:]}-rsvg.png"
            tool("rsvg-convert", "-w", 400, "-h", 400, "-b", "white", pages[1], "-o", drawn)
            seen.append([np.asarray(Image.open(page).convert("RGB"), dtype=int) for page in (pages[0], drawn)])
        for ours, upright_one, kind in zip(*seen, ("PNG", "SVG")):
            apart = np.abs(ours - upright_one).mean()
            checks.that(apart < 3, f"orientation {number}: {kind} as it is seen upright, mean of 255", f"{apart:.3f}")
        kept = (OUT / f"turned-{number}-jpg.svg").read_text()
        checks.that("data:image/" in kept and "Exif" not in kept, f"orientation {number}: no notes of a camera go along")


# What the program may take beside its usual 60 MB, in kB: a file of 64 MB twice, and the pixels that are kept.
MOST_MEMORY = 420_000


# Runs a program from a process that is small itself, since memory that a process had before it became another one counts as
# the other's, and says how much the program took, in kB.
LAUNCH = """
import resource, subprocess, sys
resource.setrlimit(resource.RLIMIT_CPU, (100, 100))
ended = subprocess.run(sys.argv[1:], capture_output=True, text=True)
sys.stderr.write(ended.stderr)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
sys.exit(ended.returncode)
"""


def limited(*words):
    """A finished process, and how much memory it took at most, kB."""
    command = [sys.executable, "-I", "-S", "-c", LAUNCH, PROGRAM, *words]
    ended = subprocess.run([str(word) for word in command], capture_output=True, text=True)
    return ended, int(ended.stdout or 10**9)


def check_trouble(checks, picture, source):
    """Pictures that are too large, damaged or gone: one sentence, and a drawing without them."""
    design = OUT / "trouble.folio"
    design.write_text(STARTER.read_text())
    raw = OUT / "trouble"
    raw.mkdir(exist_ok=True)
    Image.new("RGB", (10_000, 10_000), (90, 140, 60)).save(raw / "large.png")
    Image.new("RGB", (10_000, 10_000), (90, 140, 60)).save(raw / "large.jpg", quality=60)
    Image.new("L", (15_000, 15_000), 90).save(raw / "huge.png")
    Image.new("CMYK", (60, 40), (90, 0, 60, 0)).save(raw / "inks.jpg")
    source.save(raw / "sound.jpg", quality=90)
    whole = Path(picture).read_bytes()
    (raw / "cut.png").write_bytes(whole[: len(whole) // 2])
    (raw / "cut.jpg").write_bytes((raw / "sound.jpg").read_bytes()[:-400])
    (raw / "spoilt.png").write_bytes(whole[:200] + bytes(60) + whole[260:])
    (raw / "letter.png").write_text("Dear neighbour, the beans have come up.")
    for name, says in (("huge.png", "too large"), ("inks.jpg", "printing inks"), ("cut.png", "damaged"),
                       ("cut.jpg", "damaged"), ("spoilt.png", "damaged"), ("letter.png", "no PNG or JPEG"),
                       ("gone.png", "no such file")):
        before = design.read_bytes()
        ended = run("artwork", design, raw / name, "--side", "front")
        sentence = ended.stderr.strip()
        checks.that(ended.returncode == 2 and says in sentence and "\n" not in sentence and name in sentence,
                    f"{name}: one sentence", f"{ended.returncode}: {sentence}")
        checks.that(design.read_bytes() == before and not (OUT / "trouble.assets" / name).exists(),
                    f"{name}: nothing is changed")
    for name in ("large.png", "large.jpg"):
        path = design_with(f"trouble-{name[-3:]}", "front", raw / name, width="12in")
        for kind, out in (("picture", "png"), ("template", "pdf")):
            options = ["--width", "1200"] if kind == "picture" else ["--paper", "sheet", "--artwork"]
            ended, memory = limited("export", kind, path, "-o", OUT / f"trouble.{out}", *options)
            checks.that(ended.returncode == 0 and not ended.stderr, f"{name}, 100 megapixels: a {out}", ended.stderr)
            checks.that(memory < MOST_MEMORY, f"{name}: a {out} within {MOST_MEMORY // 1000} MB", f"{memory} kB")
    # Found missing or changed only when it is to be drawn: the drawing is made without it, with a sentence.
    path = design_with("trouble-gone", "front", picture, width="12in")
    plain = OUT / "trouble-plain.png"
    done("export", "picture", STARTER, "-o", plain, "--width", "300")
    kept = OUT / "trouble-gone.assets" / Path(picture).name
    for what, says in ((b"other", "another picture"), (None, "no such file")):
        if what is None:
            kept.unlink()
        else:
            kept.write_bytes(what)
        out = OUT / "trouble-gone.png"
        ended = run("export", "picture", path, "-o", out, "--width", "300")
        sentence = ended.stderr.strip()
        checks.that(ended.returncode == 0 and says in sentence and "\n" not in sentence and kept.name in sentence,
                    f"{says}: one sentence", f"{ended.returncode}: {sentence}")
        same = np.array_equal(np.asarray(Image.open(out)), np.asarray(Image.open(plain)))
        checks.that(same, f"{says}: drawn without it")
    ended = run("export", "animation", path, "-o", OUT / "trouble-gone.gif", "--width", "100", "--frames-per-step", "1")
    checks.that(ended.returncode == 0 and ended.stderr.count("\n") == 1, "an animation too", ended.stderr)


def check_moving_artwork(checks, path):
    """A printed folio moves as well, within the colours of a GIF."""
    gif, apng = OUT / "printed.gif", OUT / "printed.apng"
    for out in (gif, apng):
        done("export", "animation", path, "-o", out, "--width", "320", "--frames-per-step", "4")
    ours, exact = frames_of(gif)[0], frames_of(apng)[0]
    checks.equal((len(ours), len(exact)), (32, 32), "pictures")
    apart = [np.abs(a - b).mean() for (a, _), (b, _) in zip(ours, exact)]
    checks.that(max(apart) < 4, "a GIF's colours are near, mean of 255", f"{max(apart):.3f}")


def main():
    checks = Checks(__file__)
    checks.group("the folio closing and opening", "Pillow; stills of the same view")
    check_animation(checks)
    checks.group("animations that can't be made", "the exit codes that the manual gives")
    check_refused(checks)
    checks.group("the contact sheet", "ElementTree, librsvg; steps of the file")
    check_contact(checks)
    checks.group("pictures without a ground", "Pillow")
    check_transparent(checks)
    source = pattern(1600, 1300)
    picture = OUT / "pattern.png"
    source.save(picture)
    checks.group("artwork on the sheet", "Pillow's affine map of the source; librsvg, poppler, PDFium")
    printed = check_sheet_artwork(checks, picture, source)
    checks.group("artwork on the folded folio", "the same")
    check_folded_artwork(checks, picture, source)
    checks.group("artwork that moves", "Pillow")
    check_moving_artwork(checks, printed)
    checks.group("artwork that a camera noted to be turned", "Pillow, librsvg; CIPA DC-008 for the numbers")
    check_orientation(checks, source)
    checks.group("artwork in trouble", "getrusage; the exit codes that the manual gives")
    check_trouble(checks, picture, source)
    checks.finish()


main()
