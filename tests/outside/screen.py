"""The real window on a screen of its own: Xvfb shows it, xdotool moves the mouse, ImageMagick looks."""

import os
import shutil
import subprocess
import time

import numpy as np
from PIL import Image

from checks import OUT
from program import PROGRAM, tool

SIZE = (1400, 900)

# Seconds; software rendering on a busy machine is slow, and what takes longer has hung.
PATIENCE = 60


def awaited(ready, what):
    """What `ready` gives once it gives anything."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        if found := ready():
            return found
        time.sleep(0.1)
    raise RuntimeError(f"waited {PATIENCE} s for {what}")


class Screen:
    """A screen with the program's window on it; leaves neither behind. The program remembers in the folder `state`; in none
    that was there before when none is given."""

    def __init__(self, *words, state=None):
        self.words = [str(word) for word in words]
        self.state = state

    def __enter__(self):
        reading, writing = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24", "-nolisten", "tcp",
             # A server that begins anew when its last client leaves turns away whoever comes just then.
             "-noreset"],
            pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(writing)
        with os.fdopen(reading) as display:
            number = display.readline().strip()
        if not number:
            self.server.wait()
            raise RuntimeError("Xvfb did not start")
        self.env = {key: value for key, value in os.environ.items() if not key.startswith("WAYLAND")}
        state = self.state or OUT / "state"
        if self.state is None:
            shutil.rmtree(state, ignore_errors=True)
        self.env.update({"DISPLAY": f":{number}", "LIBGL_ALWAYS_SOFTWARE": "1", "XDG_STATE_HOME": str(state)})
        os.environ["DISPLAY"] = self.env["DISPLAY"]
        self.heard = open(OUT / "window.log", "a")
        self.program = subprocess.Popen([PROGRAM, *self.words], env=self.env, stdin=subprocess.DEVNULL,
                                        stdout=self.heard, stderr=self.heard)
        return self

    def __exit__(self, *_):
        for process in (self.program, self.server):
            if process.poll() is None:
                process.terminate()
                process.wait()
        self.heard.close()

    def open(self):
        """Waits for the window and its first picture, and turns the keyboard to it."""
        window = awaited(lambda: self.window(), "the window")
        awaited(lambda: len(np.unique(self.look().reshape(-1, 3), axis=0)) > 16, "the first picture")
        # There is no window manager to give the keyboard to a new window.
        tool("xdotool", "windowfocus", "--sync", window)
        return self.settled()

    def window(self):
        if self.program.poll() is not None:
            raise RuntimeError(f"the window's program ended with {self.program.returncode}")
        found = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", "Foliowright"], capture_output=True, text=True)
        return found.stdout.split()[-1] if found.stdout.split() else None

    def title(self):
        return tool("xdotool", "getwindowname", self.window()).strip()

    def look(self, name="screen"):
        """The screen as red, green and blue, and as a file in `out`."""
        path = OUT / f"{name}.png"
        tool("import", "-window", "root", path)
        return np.asarray(Image.open(path).convert("RGB"), dtype=int)

    def settled(self, name="screen"):
        """The screen once nothing on it has changed for half a second."""
        def ready():
            before = self.look(name)
            time.sleep(0.5)
            after = self.look(name)
            return [after] if np.array_equal(before, after) else None
        return awaited(ready, "the screen to settle")[0]

    def keys(self, *keys):
        for key in keys:
            tool("xdotool", "key", "--clearmodifiers", key)

    def drag(self, start, end):
        """Presses the mouse at a place, moves it in steps as a hand does, lets go, and moves on at once, as a quick hand
        does: what counts is where it let go."""
        tool("xdotool", "mousemove", *start, "sleep", 0.2, "mousedown", 1)
        for step in range(1, 13):
            x, y = (round(a + (b - a) * step / 12) for a, b in zip(start, end))
            tool("xdotool", "mousemove", x, y, "sleep", 0.05)
        tool("xdotool", "sleep", 0.2, "mouseup", 1, "mousemove", SIZE[0] // 2, SIZE[1] - 10)

    def processor_seconds(self):
        """How long the program has kept a processor busy."""
        with open(f"/proc/{self.program.pid}/stat") as stat:
            user, system = stat.read().rsplit(")", 1)[1].split()[11:13]
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")

    def ended(self):
        """The exit code, once the program has ended."""
        return self.program.wait(PATIENCE)
