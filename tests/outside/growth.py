"""Draws how the time of each stage grows with the panels: `growth.py STAGES.json PICTURE.svg`, from what
`cargo bench -p foliowright-tests --bench stages -- --json STAGES.json` measured."""

import json
import math
import sys
from collections import defaultdict

import matplotlib

matplotlib.use("svg")
# The same bytes each time, and text as text.
matplotlib.rcParams.update({"svg.hashsalt": "growth", "svg.fonttype": "none", "font.family": "sans-serif",
                            "font.size": 9})

from matplotlib import pyplot

FOLIOS = ["concertina", "flaps", "pages", "map"]

# Colours that colour-blind eyes tell apart (M. Okabe and K. Ito, 2008), and marks for those who see none.
STAGES = {"layout": ("#0072B2", "o"), "close": ("#D55E00", "s"), "check": ("#009E73", "^"), "nest": ("#CC79A7", "D"),
          "draw folded": ("#E69F00", "v"), "edit": ("#000000", "*")}


def main():
    rows = json.loads(open(sys.argv[1], encoding="utf-8").read())["rows"]
    times = defaultdict(list)
    for row in rows:
        times[row["folio"], row["what"]].append((row["panels"], row["ms"]))
    figure, axes = pyplot.subplots(1, len(FOLIOS), figsize=(11, 4.2), sharex=True, sharey=True, layout="constrained")
    for axis, folio in zip(axes, FOLIOS):
        for stage, (colour, mark) in STAGES.items():
            points = sorted(point for point in times[folio, stage] if point[1] > 1e-3)
            if points:
                axis.plot(*zip(*points), color=colour, marker=mark, markersize=4, linewidth=1.4, label=stage)
        guide(axis)
        axis.set(title=folio, xscale="log", yscale="log", xlabel="panels")
        axis.set_xticks([50, 200, 500, 2000], ["50", "200", "500", "2000"])
        axis.minorticks_off()
        axis.grid(color="#dddddd", linewidth=0.5)
    axes[0].set_ylabel("ms")
    figure.legend(*axes[0].get_legend_handles_labels(), loc="outside lower center", ncols=len(STAGES), frameon=False)
    figure.savefig(sys.argv[2], metadata={"Date": None, "Creator": None})


def guide(axis):
    """What grows with n log n, and what with the square, from 0.1 ms for 50 panels on."""
    sizes = [50, 200, 500, 2000]
    for name, by in (("n log n", lambda n: n * math.log(n)), ("n²", lambda n: n * n)):
        axis.plot(sizes, [0.1 * by(n) / by(50) for n in sizes], color="#999999", linewidth=0.8, linestyle=":")
        axis.annotate(name, (2000, 0.1 * by(2000) / by(50)), fontsize=7, color="#666666", ha="right", va="bottom")


main()
