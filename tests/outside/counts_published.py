"""How many layer orders maps have, against the published counts that are too large for tests built without optimization.

The general solver counts them, from panels and joints in the plane; nothing in it knows of maps. Boxes of unit cubes (OEIS
A001417: 2 x 2 x 2 has 96) are left out, since no sheet of paper is one.
"""

import subprocess
from pathlib import Path

from checks import Checks

ROOT = Path(__file__).resolve().parents[2]

# Labelled foldings of a strip of stamps, OEIS A000136; the shorter ones are among the tests of the crate.
STRIPS = {12: 146376, 13: 485914, 14: 1557892, 16: 16861984}

# Foldings of a map of 2 x n, OEIS A001415, and of 3 x n, A001416.
NARROW = {"2x6": 10512, "2x7": 60788, "2x8": 320896, "2x9": 1787904, "2x10": 9381840, "3x4": 15552}

# Foldings of a square map, OEIS A001418.
SQUARE = {"4x4": 300608, "5x5": 186086600}

# Recomputed by a count of unit maps by insertion; no published source looked up.
OTHER = {"4x5": 6139920}


def counted(sizes):
    """The counts of the solver, by size."""
    done = subprocess.run(["cargo", "run", "--quiet", "--release", "-p", "foliowright-order", "--example", "counts", "--", *sizes],
                          cwd=ROOT, capture_output=True, text=True, timeout=900, stdin=subprocess.DEVNULL, check=True)
    return dict(line.split(" ", 1) for line in done.stdout.splitlines())


def main():
    checks = Checks(__file__)
    wanted = {f"1x{n}": count for n, count in STRIPS.items()} | NARROW | SQUARE | OTHER
    found = counted(wanted)
    groups = [("strips", "OEIS A000136", [f"1x{n}" for n in STRIPS]), ("narrow maps", "OEIS A001415, A001416", NARROW),
              ("square maps", "OEIS A001418", SQUARE), ("another map", "recomputed, no published source", OTHER)]
    for name, source, sizes in groups:
        checks.group(name, source)
        for size in sizes:
            checks.equal(found.get(size), str(wanted[size]), f"a map of {size}")
    checks.finish()


main()
