"""The window as a maker uses it: open a design, drag a score line, undo, redo, save, close."""

import copy
import json
import shutil
import time

import numpy as np

import folio
from checks import OUT, ENVELOPE, Checks
from program import run, tool
from screen import SIZE, Screen

# The design's upright scores and how far apart they are, mm.
LEFT, RIGHT = 1, 2

# The inks that the screen shows folds in; they are the project's own.
VALLEY, CHOSEN = (0x00, 0x79, 0x5A), (0x00, 0x72, 0xB2)

# The front of a part's paper on the screen; the project's own too.
PART = (0xF7, 0xE9, 0xD0)

# Grooves of its board, inches.
GROOVE = 1 / 8


def upright_folds(picture):
    """Columns of the sheet's part of the screen that hold an upright line in the ink of valleys or of what is chosen,
    and the rows it runs over."""
    # Right of it the folio is shown folded.
    picture = picture[:, :picture.shape[1] * 2 // 3]
    inked = np.any([np.abs(picture - np.array(ink)).max(axis=2) < 50 for ink in (VALLEY, CHOSEN)], axis=0)
    # Dashes of a list's little samples are a few pixels high, those of a fold on the sheet run over hundreds.
    tall = [x for x in range(picture.shape[1]) if inked[:, x].sum() > 80]
    groups = [group for group in np.split(tall, np.where(np.diff(tall) > 2)[0] + 1) if len(group)]
    return [(float(np.mean(group)), np.where(inked[:, int(group[0])])[0]) for group in groups]


def columns(picture):
    return [round(x, 1) for x, _ in upright_folds(picture)]


def resting(screen, name):
    """The screen with nothing under the mouse."""
    tool("xdotool", "mousemove", SIZE[0] // 2, SIZE[1] - 10)
    return screen.settled(name)


def check_drag(checks, screen, path):
    before = folio.load(path)
    lines = folio.lines(before)
    picture = screen.open()
    found = upright_folds(picture)
    if not checks.that(len(found) == 2, "both side folds are seen on the sheet", columns(picture)):
        return
    (left, _), (right, rows) = found
    pixels = (right - left) / ((lines[RIGHT].across - lines[LEFT].across) / 25.4e6)
    checks.that(20 < pixels < 80, "the sheet fills its part of the window", f"{pixels} pixels to the inch")
    checks.that(path.name in screen.title() or before["title"] in screen.title(), "the title bar names the design", screen.title())

    # Not quite four grooves: the line goes to the nearest.
    inches = 4 * GROOVE
    middle = round(float(rows.mean()))
    start = (round(right), middle)
    screen.drag(start, (start[0] + round((inches - 0.02) * pixels), middle + 3))
    moved = columns(resting(screen, "window-moved"))
    checks.near(moved[-1], right + inches * pixels, 1.5, "the line lies four grooves further right, in pixels")
    checks.near(moved[0], left, 0.5, "the other fold stays")
    screen.keys("ctrl+z")
    checks.near(columns(resting(screen, "window-undone"))[-1], right, 0.5, "ctrl+Z takes it back, in pixels")
    screen.keys("ctrl+shift+z")
    checks.near(columns(resting(screen, "window-redone"))[-1], moved[-1], 0.5, "ctrl+shift+Z moves it again, in pixels")
    checks.equal(folio.load(path), before, "nothing is saved before it is asked for")
    screen.keys("ctrl+s")
    screen.settled("window-saved")

    after = folio.load(path)
    distance = next(line for line in after["lines"] if line["id"] == RIGHT)["place"]["distance"]
    wanted = copy.deepcopy(before)
    next(line for line in wanted["lines"] if line["id"] == RIGHT)["place"]["distance"] = distance
    checks.equal(folio.length(distance), lines[RIGHT].across + round(inches * 25.4e6), f"saved four grooves further ({distance})")
    checks.equal(after, wanted, "and nothing else has changed in the file")
    checks.equal(run("describe", path).returncode, 0, "the command line reads what the window saved")


def check_care(checks, screen, path):
    """A change that is not saved is not lost by closing; a window that nobody touches costs nothing."""
    before = folio.load(path)
    found = upright_folds(screen.open())
    if not checks.that(len(found) == 2, "both side folds are seen on the sheet", found):
        return
    x, rows = found[0]
    used = screen.processor_seconds()
    time.sleep(3)
    checks.near(screen.processor_seconds() - used, 0, 0.1, "seconds of a processor used in 3 s at rest")
    screen.drag((round(x), round(float(rows.mean()))), (round(x) - 40, round(float(rows.mean()))))
    resting(screen, "window-unsaved")
    screen.keys("ctrl+q")
    screen.settled("window-asks")
    if checks.that(screen.program.poll() is None, "ctrl+Q with a change that is not saved asks first"):
        screen.keys("Escape", "ctrl+z")
        screen.settled("window-taken-back")
        screen.keys("ctrl+q")
        checks.equal(screen.ended(), 0, "with the change taken back it closes, exit code")
    checks.equal(folio.load(path), before, "the file is as it was")


def part_columns(picture):
    """The leftmost and rightmost column of a part's paper on the sheet."""
    picture = picture[:, :picture.shape[1] * 2 // 3]
    paper = np.abs(picture - np.array(PART)).max(axis=2) < 3
    across, down = np.where(paper.sum(axis=0) > 20)[0], np.where(paper.sum(axis=1) > 20)[0]
    return (int(across[0]), int(across[-1]), int(down[0]), int(down[-1])) if len(across) and len(down) else None


def check_part(checks, screen, path):
    """A mat on the base is dragged; the file has it where it is seen."""
    before = folio.load(path)
    lines = folio.lines(before)
    picture = screen.open()
    found = upright_folds(picture)
    part = part_columns(picture)
    if not checks.that(len(found) == 2 and part is not None, "both side folds and the mat are seen", (columns(picture), part)):
        return
    pixels = (found[1][0] - found[0][0]) / ((lines[RIGHT].across - lines[LEFT].across) / 25.4e6)
    left, right, top, bottom = part
    checks.near((right - left) / pixels, 1, 0.1, "the mat is an inch wide within its outline, in inches")
    middle = ((left + right) // 2, (top + 3 * bottom) // 4)
    screen.drag(middle, (middle[0] + round(0.5 * pixels), middle[1] + 2))
    # What is selected is hatched where it is glued.
    screen.keys("Escape")
    moved = part_columns(resting(screen, "window-part-moved"))
    if not checks.that(moved is not None, "the mat is still seen when it has been dragged", moved):
        return
    screen.keys("ctrl+s")
    screen.settled("window-part-saved")
    after = folio.load(path)
    words = after["parts"][0]["place"]["across"]
    distance, _, anchor = words.partition(" from ")
    checks.equal(anchor, "middle", "it is still measured from the middle of its panel")
    checks.near(folio.length(distance) / 25.4e6, 0.5, GROOVE / 2, f"saved half an inch to the right ({words}), in inches")
    checks.near(moved[0] - left, folio.length(distance) / 25.4e6 * pixels, 2, "seen as far to the right as saved, in pixels")
    screen.keys("ctrl+z")
    back = part_columns(resting(screen, "window-part-undone"))
    checks.near(back[0] if back else -1, left, 2, "ctrl+Z takes it back, in pixels")


def main():
    checks = Checks(__file__)
    checks.group("drag, undo, redo, save, close", "the real window under Xvfb; places measured on screenshots")
    path = OUT / "window.folio"
    shutil.copy(ENVELOPE, path)
    with Screen(path) as screen:
        check_drag(checks, screen, path)
        screen.keys("ctrl+q")
        checks.equal(screen.ended(), 0, "ctrl+Q closes the window, exit code")
    with Screen(path) as screen:
        checks.group("at rest, and with a change that is not saved", "the design: no repaint at rest, nothing lost")
        check_care(checks, screen, path)
    shutil.copy(ENVELOPE, path)
    with_part = folio.load(path)
    mat = {"id": 1, "kind": {"mat": {"width": "1 in", "height": "1 in"}}, "from": "folio stock", "place": {"on": with_part["base"]}}
    path.write_text(json.dumps({**with_part, "parts": [mat]}), encoding="utf-8")
    with Screen(path) as screen:
        checks.group("a part is dragged", "the real window under Xvfb; places measured on screenshots")
        check_part(checks, screen, path)
        screen.keys("ctrl+q")
    said = (OUT / "window.log").read_text()
    checks.that("panicked" not in said, "no panic", said)
    checks.finish()


main()
