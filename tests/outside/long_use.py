"""Long use: a design edited over and over holds no more memory after the last edit than when its history was full."""

import os
import subprocess
from pathlib import Path

from checks import Checks

# As many as are made in a run of all checks; FOLIOWRIGHT_EDITS asks for another number.
COUNT = int(os.environ.get("FOLIOWRIGHT_EDITS", "24000"))

EDITS = Path(os.environ["FOLIOWRIGHT"]).with_name("examples") / "edits"

# The most that memory may grow by once the history can hold no more, in KiB: what an allocator keeps is no whole number.
MOST_GROWTH = 4096

# The steps that a history holds at most, as `docs/reliability.md` has it.
MOST_STEPS = 10_000


def main():
    checks = Checks(__file__)
    checks.group("memory over many edits", "resident memory as the kernel counts it (proc(5), VmRSS)")
    ended = subprocess.run([EDITS, str(COUNT)], capture_output=True, text=True, timeout=3600)
    checks.equal(ended.returncode, 0, "it ends well")
    said = [tuple(map(int, line.split())) for line in ended.stdout.splitlines()]
    checks.equal([done for done, _, _ in said], [COUNT // 10 * tenth for tenth in range(1, 11)], "all edits are made")
    checks.that(all(steps <= MOST_STEPS for _, steps, _ in said), "the history is bounded", said)
    full = [kib for _, steps, kib in said if steps > MOST_STEPS * 9 // 10]
    checks.that(len(full) >= 2, "the history is full before the end", said)
    if full:
        checks.that(max(full) - full[0] <= MOST_GROWTH, f"no more than {MOST_GROWTH} KiB come to it then", said)
        print(f"  {COUNT} edits: {full[0]} KiB with a full history, at most {max(full)} KiB after that")
    checks.finish()


main()
