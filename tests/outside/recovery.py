"""The real window, killed while there is work that was not saved: the file is as it was, and the work is offered again."""

import json
import os
import random
import shutil
import signal
import time

import folio
from checks import OUT, ENVELOPE, Checks
from screen import Screen, awaited

# Kills of the window; the saving itself is killed far more often in killed.py.
KILLS = int(os.environ.get("FOLIOWRIGHT_WINDOW_KILLS", "4"))

# Seconds until a change is kept, at most, and some more for a busy machine.
KEPT = 10


def records(state):
    return [path for path in (state / "foliowright" / "recovery").glob("*.json")]


def kept_lines(state):
    """How many lines the designs have that are kept."""
    return [len(json.loads(json.loads(path.read_text())["design"])["lines"]) for path in records(state)]


def killed(checks, path, state, rng):
    """The window is killed some moments after a change."""
    before, count = path.read_bytes(), len(folio.load(path)["lines"])
    with Screen(path, state=state) as screen:
        screen.open()
        screen.keys("a")
        awaited(lambda: count + 1 in kept_lines(state), "the change to be kept")
        screen.keys("a")
        time.sleep(rng.uniform(0, 3))
        screen.program.send_signal(signal.SIGKILL)
        screen.program.wait()
    checks.equal(path.read_bytes(), before, "killed: the file is as it was")
    kept = kept_lines(state)
    checks.that(kept in ([count + 1], [count + 2]), "killed: the work is kept but for the last seconds of it", kept)
    return kept[0] if kept else count


def recovered(checks, path, state, wanted, number):
    """The next start offers it; it is opened and saved where it belongs."""
    before = path.read_bytes()
    with Screen(state=state) as screen:
        screen.open()
        # The picture is the question that is asked.
        screen.settled(f"recovery-{number}")
        checks.equal(path.read_bytes(), before, "offered: the file is as it was")
        screen.keys("Return")
        screen.settled(f"recovery-{number}-opened")
        checks.equal(path.read_bytes(), before, "recovered: nothing is saved unasked")
        screen.keys("ctrl+s")
        screen.settled()
        checks.equal(len(folio.load(path)["lines"]), wanted, "saved where it belongs")
        screen.keys("ctrl+q")
        checks.equal(screen.ended(), 0, "it closes without a question")
    checks.equal(records(state), [], "nothing is left to recover")


def main():
    checks = Checks(__file__)
    checks.group("the window is killed and started again", "the real window under Xvfb, SIGKILL")
    room, rng = OUT / "recovery", random.Random(1)
    shutil.rmtree(room, ignore_errors=True)
    room.mkdir()
    path, state = room / "swap.folio", room / "state"
    shutil.copy(ENVELOPE, path)
    for number in range(KILLS):
        wanted = killed(checks, path, state, rng)
        recovered(checks, path, state, wanted, number)
    said = (OUT / "window.log").read_text()
    checks.that("panicked" not in said, "no panic", said)
    checks.finish()


main()
