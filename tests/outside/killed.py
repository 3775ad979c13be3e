"""Killed at any moment while it saves: a file is the old one or the new one, whole, and the work of the last seconds is kept."""

import fcntl
import json
import os
import random
import shutil
import signal
import subprocess
import time
from pathlib import Path

from checks import OUT, STARTER, Checks
from program import run

# As many as fit into a run of all checks; FOLIOWRIGHT_KILLS asks for another number.
KILLS = int(os.environ.get("FOLIOWRIGHT_KILLS", "100"))

SAVER = Path(os.environ["FOLIOWRIGHT"]).parent / "examples" / "saver"

# Seconds of work that may be gone; the machine may be busy.
MOST_LOST = 4


def said(stream):
    """Lines of what a saver printed, each with when it was there to be read; nothing of a line that was cut short."""
    return [line.split() for line in stream.decode().split("\n")[:-1]]


def killed(design, state, rng):
    """What a saver said until it was killed, and when each number was made."""
    reading, writing = os.pipe()
    process = subprocess.Popen([SAVER, design, state], stdout=writing, stdin=subprocess.DEVNULL)
    os.close(writing)
    made, heard, begun = {}, b"", time.monotonic()
    end = None
    while chunk := os.read(reading, 1 << 16):
        heard += chunk
        now = time.monotonic()
        for words in said(heard[-400:].partition(b"\n")[2]):
            if words[0] == "made":
                made.setdefault(int(words[1]), now)
        if end is None:
            end = now + rng.uniform(0, 0.06)
        if now >= end:
            process.send_signal(signal.SIGKILL)
            break
    process.kill()
    while chunk := os.read(reading, 1 << 16):
        heard += chunk
    os.close(reading)
    process.wait()
    return said(heard), made


def title(text):
    """The number in the title of a design, which has to be whole."""
    design = json.loads(text)
    if list(design)[-1] not in ("steps", "silences") or not text.endswith("}\n"):
        raise ValueError("it is cut short")
    return int(design["title"].split()[-1])


def look(checks, room, design, before, heard, made):
    """What a kill has left: the design, its backup, what is kept for recovery."""
    numbers = [int(words[1]) for words in heard if words[0] == "saved"]
    last = numbers[-1] if numbers else before
    refused = [words for words in heard if words[0] == "refused:"]
    found = title(design.read_text())
    # Of three numbers one is made and not saved.
    good = found == last or last < found <= last + 2
    good &= not refused
    backup = room / (design.name + "~")
    if backup.exists():
        good &= title(backup.read_text()) <= found
    kept = [path for path in (room / "state" / "recovery").glob("*.json")]
    newest = max((title(json.loads(path.read_text())["design"]) for path in kept), default=None)
    all_made = max((int(words[1]) for words in heard if words[0] == "made"), default=before)
    # What is not kept was made in the last seconds; a disk may take long over what came before it.
    if newest is not None and newest + 1 in made:
        good &= max(made.values()) - made[newest + 1] <= MOST_LOST
    good &= len(kept) <= 1
    checks.that(good, "old or new, whole, and nothing older is kept",
                f"saved {last}, found {found}, made {all_made}, kept {newest}, {refused}, {len(kept)} kept")
    return newest is not None, found != last


def locked(path):
    """Whether somebody holds the lock of a recovery file."""
    with open(path.with_suffix(".lock")) as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
    return False


def main():
    checks = Checks(__file__)
    checks.group("killed while saving and keeping", "the design: a crash at any moment leaves the old file or the new one")
    room = OUT / "killed"
    shutil.rmtree(room, ignore_errors=True)
    room.mkdir()
    design, rng = room / "swap.folio", random.Random(1)
    shutil.copy(STARTER, design)
    text = json.loads(design.read_text()) | {"title": "Step 0"}
    design.write_text(json.dumps(text) + "\n")
    before, kept, between = 0, 0, 0
    for _ in range(KILLS):
        heard, made = killed(design, room / "state", rng)
        is_kept, is_new = look(checks, room, design, before, heard, made)
        kept, between = kept + is_kept, between + is_new
        before = title(design.read_text())
        for path in (room / "state" / "recovery").glob("*.json"):
            checks.that(not locked(path), "the lock is gone with the window")
        shutil.rmtree(room / "state" / "recovery", ignore_errors=True)
    checks.that(before > KILLS / 4, "it saved between kills", before)
    checks.that(kept > KILLS / 2, "most had something to recover", kept)
    checks.equal(run("check", design).returncode in (0, 1), True, "the program reads what is left")
    left = sorted(path.name for path in room.iterdir())
    print(f"  {KILLS} kills, {before} numbers saved, {between} between the rename and the word, {kept} kept; left: {len(left)}")
    for name in left:
        checks.that(name in ("swap.folio", "swap.folio~", "state") or name.startswith("."), "no clutter", name)
    checks.finish()


main()
