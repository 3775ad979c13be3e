"""Parts cut from leftovers, a PDF of a sheet's lines and pictures that move, by general libraries."""

import io
import random
import statistics

import rectpack
from PIL import Image, ImageSequence
from reportlab.pdfgen import canvas

import nest_peers
from checks import OUT
from flat_orders import point
from peers_clock import RUNS, clock
from program import done

# Sets of leftovers and parts.
SETS = range(1, 7)

# mm on paper of A4, less a margin; points an inch.
PAGE = (190.0, 277.0)
POINT = 72 / 25.4

PICTURES = 90


def nesting():
    """Medians in seconds: ours, rectpack once, rectpack's best of all, CP-SAT; and how much of the optimum each has."""
    nest, times, shares = nest_peers.Nest(), [[], [], [], []], [0, 0, 0]
    for seed in SETS:
        rng = random.Random(seed)
        papers = nest_peers.leftovers(rng)
        parts = nest_peers.wanted(rng, papers, rng.randint(*nest_peers.FEW))
        plan = min((nest.ask(papers, parts) for _ in range(RUNS)), key=lambda plan: plan["microseconds"])
        once, once_seconds = one_of_rectpack(papers, parts)
        best, best_seconds = nest_peers.best_of_rectpack(papers, parts)
        _, bound_seconds = nest_peers.without_cuts(papers, parts)
        for kept, seconds in zip(times, (plan["microseconds"] / 1e6, once_seconds, best_seconds, bound_seconds)):
            kept.append(seconds)
        shares = [share + reached for share, reached in zip(shares, (plan["reached"], once, best))]
    nest.close()
    return [statistics.median(kept) for kept in times], [share / shares[0] for share in shares]


def one_of_rectpack(papers, parts):
    """One run of rectpack with the algorithm and sort that it takes unasked, of those that cut from edge to edge."""
    start = clock()
    packer = rectpack.newPacker(pack_algo=nest_peers.ALGORITHMS[0], rotation=True)
    for number, (w, h, *_) in enumerate(parts):
        packer.add_rect(w, h, rid=number)
    for number, (w, h) in enumerate(papers):
        packer.add_bin(w, h, bid=number)
    packer.pack()
    seconds = clock() - start
    return sum(rect.width * rect.height for paper in packer for rect in paper), seconds


def lines_as_pdf(said):
    """Seconds in which reportlab draws a sheet's lines with their names, 1 : 1, on as many pages as the sheet takes."""
    drawn = [([point(end) for end in line["ends"]], line) for line in said["lines"] if "ends" in line]
    wide, high = (said["sheet"][key]["nm"] / 1e6 for key in ("width", "height"))
    dashes = {"valley": [6, 3], "mountain": [6, 2, 1, 2]}
    times = []
    for _ in range(RUNS):
        start, paper = clock(), io.BytesIO()
        page = canvas.Canvas(paper, pagesize=(210 * POINT, 297 * POINT))
        for row in range(-int(-high // PAGE[1])):
            for column in range(-int(-wide // PAGE[0])):
                page.translate((10 - column * PAGE[0]) * POINT, (287 + row * PAGE[1]) * POINT)
                page.setFont("Helvetica", 7)
                page.rect(0, -high * POINT, wide * POINT, high * POINT)
                for ((ax, ay), (bx, by)), line in drawn:
                    page.setDash(dashes.get(line.get("fold"), []))
                    page.line(ax * POINT, ay * POINT, bx * POINT, by * POINT)
                    page.drawString((ax + bx) / 2 * POINT, (ay + by) / 2 * POINT, line.get("name") or str(line["id"]))
                page.showPage()
        page.save()
        times.append(clock() - start)
    return statistics.median(times)


def pictures(design):
    """Seconds in which Pillow writes 90 pictures of 800 px as a GIF: the writing alone, they are drawn already."""
    path = OUT / "peers.gif"
    done("export", "animation", design, "-o", path, "--width", "800")
    with Image.open(path) as read:
        frames = [frame.convert("RGB") for frame in ImageSequence.Iterator(read)]
    frames = [frames[number * len(frames) // PICTURES] for number in range(PICTURES)]
    start, out = clock(), io.BytesIO()
    frames[0].save(out, "GIF", save_all=True, append_images=frames[1:], duration=40, loop=0)
    return clock() - start
