"""The Debian package: read by Debian's own tools, with what a desktop, a shell and `man` ask of it."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from checks import ROOT, Checks

PROGRAM = os.environ["FOLIOWRIGHT"]

# Where the standards have these things: the Filesystem Hierarchy Standard 3.0, the desktop entry, shared MIME-info and icon
# theme specifications of freedesktop.org, and the Debian policy 12.5 (copyright) and 12.7 (changelog); from memory.
EXPECTED = [
    "usr/bin/foliowright",
    "usr/share/applications/foliowright.desktop",
    "usr/share/mime/packages/foliowright.xml",
    "usr/share/icons/hicolor/scalable/apps/foliowright.svg",
    "usr/share/doc/foliowright/copyright",
    "usr/share/doc/foliowright/changelog.gz",
    "usr/share/man/man1/foliowright.1.gz",
    "usr/share/man/man1/foliowright-check.1.gz",
    "usr/share/man/man1/foliowright-export-template.1.gz",
    "usr/share/bash-completion/completions/foliowright",
]


def ran(*words, **more):
    """Exit code and all that was said."""
    done = subprocess.run(words, capture_output=True, text=True, timeout=300, check=False, **more)
    return done.returncode, done.stdout + done.stderr


def package():
    done = subprocess.run(
        ["cargo", "xtask", "deb", PROGRAM], cwd=ROOT, capture_output=True, text=True, timeout=600, check=False
    )
    return Path(done.stdout.strip().splitlines()[-1]) if done.returncode == 0 else done.stderr


checks = Checks(__file__)
checks.group("the package", "dpkg-deb")
place = package()
if checks.that(isinstance(place, Path) and place.is_file(), "it is made", place):
    first = place.read_bytes()
    checks.equal(package().read_bytes() == first, True, "and made again with the same bytes")
    code, info = ran("dpkg-deb", "--info", str(place))
    checks.equal(code, 0, "Debian reads its control file")
    checks.that("Package: foliowright" in info and "Depends: libc6" in info, "it says what it is and needs", info)
    code, listing = ran("dpkg-deb", "--contents", str(place))
    rows = [row.split() for row in listing.splitlines()]
    names = [row[5].removeprefix("./") for row in rows]
    for expected in EXPECTED:
        checks.that(expected in names, f"it has {expected}")
    checks.that(all(row[1] == "root/root" for row in rows), "all of it is root's")
    checks.that(all("w" not in row[0][4:] for row in rows), "nobody else may change it")
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        code, said = ran("dpkg-deb", "--extract", str(place), str(folder))
        checks.equal(code, 0, f"it is unpacked: {said}")

        checks.group("the program in it", "itself")
        code, said = ran(str(folder / "usr/bin/foliowright"), "--version")
        checks.that(code == 0 and said.startswith("foliowright "), "it runs", said)

        checks.group("its place on a desktop", "desktop-file-validate, update-mime-database, rsvg-convert")
        code, said = ran("desktop-file-validate", str(folder / "usr/share/applications/foliowright.desktop"))
        checks.that(code == 0 and not said.strip(), "the desktop entry is sound", said)
        code, said = ran("update-mime-database", str(folder / "usr/share/mime"))
        globs = folder / "usr/share/mime/globs2"
        wanted = "application/vnd.foliowright.folio+json:*.folio"
        checks.that(code == 0 and globs.is_file() and wanted in globs.read_text(), "designs are known by their ending", said)
        code, said = ran("rsvg-convert", "-w", "64", "-o", str(folder / "icon.png"),
                         str(folder / "usr/share/icons/hicolor/scalable/apps/foliowright.svg"))
        checks.that(code == 0 and (folder / "icon.png").stat().st_size > 500, "the icon can be drawn", said)

        checks.group("its manual", "mandoc -T lint")
        pages = sorted((folder / "usr/share/man/man1").iterdir())
        checks.that(len(pages) > 20, "there is a page for each command", len(pages))
        for page in pages:
            text = subprocess.run(["gzip", "-dc", str(page)], capture_output=True, check=True).stdout
            lint = subprocess.run(["mandoc", "-T", "lint", "-W", "error"], input=text, capture_output=True, check=False)
            checks.that(lint.returncode == 0, f"{page.name} is sound", lint.stdout.decode())

        checks.group("its completions", "bash")
        script = folder / "usr/share/bash-completion/completions/foliowright"
        ask = f'source "{script}"; COMP_WORDS=(foliowright exp); COMP_CWORD=1; _foliowright foliowright exp foliowright; '
        code, said = ran("bash", "-c", ask + 'echo "${COMPREPLY[@]}"')
        checks.that(code == 0 and said.split() == ["export"], "it completes a command", said)
shutil.rmtree(ROOT / "tests/outside/__pycache__", ignore_errors=True)
checks.finish()
