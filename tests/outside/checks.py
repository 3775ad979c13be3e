"""A tiny runner: counts what holds and what does not, and says where each expectation comes from."""

import json
import math
import os
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
OUT = HERE / "out"


def plain_starter(name):
    """A starter on plain paper: most scripts look at lines, and at what is where in a drawing, not at what is printed."""
    design = json.loads((ROOT / "assets" / "starters" / f"{name}.folio").read_text())
    for face in ("front", "back"):
        design["stock"].pop(face, None)
    OUT.mkdir(exist_ok=True)
    path = OUT / f"{name}.folio"
    path.write_text(json.dumps(design))
    return path


STARTER = plain_starter("seed-swap")

# A design of the checks' own, for those that have to know what is in it.
ENVELOPE = HERE / "envelope.folio"


class Checks:
    """The checks of one script. `group` names what is looked at, `source` where the expected values come from."""

    def __init__(self, script):
        self.name = Path(script).stem
        self.passed = 0
        self.failed = 0
        self.group_name = ""
        OUT.mkdir(exist_ok=True)

    def group(self, name, source):
        """Starts a group of checks that share a source."""
        self.group_name = name
        print(f"{self.name}: {name} [{source}]")

    def that(self, holds, what, seen=""):
        """One check. Gives back whether it holds, so that what builds on it can be left out."""
        if holds:
            self.passed += 1
        else:
            self.failed += 1
            seen = str(seen)
            shown = f"; seen: {seen[:300]}" if seen else ""
            print(f"  FAILED {self.group_name}: {what}{shown}")
        return bool(holds)

    def equal(self, got, wanted, what):
        return self.that(got == wanted, what, f"{got!r} instead of {wanted!r}")

    def near(self, got, wanted, tolerance, what):
        close = math.isfinite(got) and abs(got - wanted) <= tolerance
        return self.that(close, what, f"{got!r} instead of {wanted!r}, within {tolerance}")

    def finish(self):
        """Says the counts, leaves them for `run`, and ends the program."""
        print(f"{self.name}: {self.passed} passed, {self.failed} failed")
        (OUT / f"{self.name}.counts").write_text(f"{self.passed} {self.failed}\n")
        # A script that checked nothing has not passed.
        sys.exit(1 if self.failed or not self.passed else 0)


def seeds(count):
    """Fixed seeds, so that a failure can be looked at again."""
    first = int(os.environ.get("FOLIOWRIGHT_SEED", "1"))
    return range(first, first + count)
