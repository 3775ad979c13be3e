"""Disks that take nothing: full, read-only, gone, another's. The work stays, the file stays, and one sentence says why."""

import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import folio
from checks import OUT, ENVELOPE, Checks
from example import EXAMPLE
from program import PROGRAM
from screen import Screen

# A user without rights, as on every Debian system (base-passwd).
NOBODY = 65534


def printed(path):
    """A design with a picture on the front of its sheet, which can be taken off again."""
    path.write_text(json.dumps(EXAMPLE), encoding="utf-8")


def saved(path, to=None, user=None):
    """Saves a design in its place, without its picture, or elsewhere in another unit; as that user."""
    words = [PROGRAM, "convert", path, "--units", "mm", "-o", to] if to else [PROGRAM, "artwork", path, "--side", "front", "--remove"]
    if user is not None:
        words = ["setpriv", f"--reuid={user}", f"--regid={user}", "--clear-groups", *words]
    return subprocess.run([str(word) for word in words], capture_output=True, text=True, timeout=120,
                          stdin=subprocess.DEVNULL)


def refused(checks, what, path, says, to=None, user=None):
    before = path.read_bytes()
    names = sorted(os.listdir(path.parent))
    ended = saved(path, to, user)
    checks.that(ended.returncode == 1 and says in ended.stderr, f"{what}: it is said why", ended)
    checks.equal(len(ended.stderr.splitlines()), 1, f"{what}: in one sentence")
    checks.equal((path.read_bytes(), sorted(os.listdir(path.parent))), (before, names), f"{what}: nothing has changed")


def fill(folder):
    """Takes all the room there is."""
    with open(folder / "filler", "wb", buffering=0) as filler:
        for size in (4096, 512, 1):
            try:
                while True:
                    filler.write(bytes(size))
            except OSError:
                pass


class Mounted:
    """A file system of 128 KiB in memory; `folder` is nothing where none can be mounted."""

    def __enter__(self):
        self.room = Path(tempfile.mkdtemp())
        words = ["mount", "-t", "tmpfs", "-o", "size=128k,mode=777", "tmpfs", self.room]
        ended = subprocess.run([str(word) for word in words], capture_output=True, text=True)
        self.folder = self.room if ended.returncode == 0 else None
        self.why = ended.stderr.strip()
        return self

    def __exit__(self, *_):
        if self.folder:
            subprocess.run(["umount", "-l", str(self.folder)], check=True)
        self.room.rmdir()


def in_window(checks, what, path, spoil, name):
    """A change in the window that can't be saved where it was, and then is saved elsewhere."""
    elsewhere = OUT / f"faults-{name}.folio"
    elsewhere.unlink(missing_ok=True)
    with Screen(path) as screen:
        screen.open()
        screen.keys("a")
        screen.settled()
        before = spoil()
        screen.keys("ctrl+s")
        # The picture is what she sees then.
        screen.settled(f"faults-{name}")
        checks.that(screen.program.poll() is None, f"{what}: the window stays open")
        checks.that(not path.exists() or path.read_bytes() == before, f"{what}: the file is as it was")
        screen.keys("ctrl+a")
        subprocess.run(["xdotool", "type", str(elsewhere)], check=True, env=screen.env)
        screen.keys("Return")
        screen.settled(f"faults-{name}-elsewhere")
        if checks.that(elsewhere.exists(), f"{what}: it can be saved elsewhere"):
            count = len(folio.load(elsewhere)["lines"])
            checks.equal(count, len(folio.load(ENVELOPE)["lines"]) + 1, f"{what}: with the work of the window")
        screen.keys("ctrl+q")
        checks.equal(screen.ended(), 0, f"{what}: then it closes")


def check_full(checks):
    checks.group("a disk that is full", "a file system in memory, filled to its end")
    with Mounted() as mounted:
        if not mounted.folder:
            print(f"  left out, as nothing can be mounted here: {mounted.why}")
            return
        path = mounted.folder / "swap.folio"
        printed(path)
        fill(mounted.folder)
        refused(checks, "full disk", path, "there is no room left on the disk")
        (mounted.folder / "filler").unlink()
        checks.equal(saved(path).returncode, 0, "with room again it is saved")
        path.with_name("swap.folio~").unlink()
        shutil.copy(ENVELOPE, path)

        def spoil():
            fill(mounted.folder)
            return path.read_bytes()
        in_window(checks, "full disk, in the window", path, spoil, "full")


def check_rights(checks):
    checks.group("files and folders of others", "permissions; as a user without rights, since the owner of all has every right")
    if os.geteuid() != 0:
        print("  left out, as only root can become another user")
        return
    room = Path(tempfile.mkdtemp())
    room.chmod(0o755)
    # A program in a folder that others may not enter can't be started by them.
    global PROGRAM
    shutil.copy(PROGRAM, room / "foliowright")
    (room / "foliowright").chmod(0o755)
    own, PROGRAM = PROGRAM, room / "foliowright"
    try:
        folder = room / "mine"
        folder.mkdir()
        path = folder / "swap.folio"
        printed(path)
        for what, folder_mode, file_mode, owner, says in [
            ("read-only folder", 0o555, 0o644, NOBODY, "you may not save here"),
            ("read-only file", 0o755, 0o444, NOBODY, "this is marked read-only"),
            ("another's file", 0o777, 0o644, 0, "you may not save here"),
        ]:
            os.chown(folder, NOBODY, NOBODY)
            os.chown(path, owner, owner)
            path.chmod(file_mode)
            folder.chmod(folder_mode)
            refused(checks, what, path, says, user=NOBODY)
        path.chmod(0o600)
        os.chown(path, 0, 0)
        ended = saved(path, folder / "copy.folio", NOBODY)
        checks.that(ended.returncode == 2 and "you may not read this" in ended.stderr, "a file that may not be read", ended)
    finally:
        PROGRAM = own
        shutil.rmtree(room)


def check_gone(checks):
    checks.group("a folder that is gone", "the window on a design whose folder is taken away")
    room = OUT / "faults-room"
    room.mkdir()
    path = room / "swap.folio"
    shutil.copy(ENVELOPE, path)
    refused(checks, "no such folder", path, "there is no such folder to save in", OUT / "nowhere" / "swap.folio")

    def spoil():
        shutil.rmtree(room)
    in_window(checks, "folder gone, in the window", path, spoil, "gone")


def main():
    checks = Checks(__file__)
    check_full(checks)
    check_rights(checks)
    check_gone(checks)
    checks.finish()


main()
