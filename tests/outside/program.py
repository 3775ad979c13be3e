"""Runs the program under test as a maker does: a separate process, its streams, its exit code."""

import json
import os
import subprocess
from concurrent.futures import ThreadPoolExecutor

PROGRAM = os.environ["FOLIOWRIGHT"]

# Long enough for a busy machine; what takes longer has hung.
PATIENCE = 120


def run(*words, env=None, text=True, **options):
    """A finished process, with `stdout` and `stderr`."""
    words = [str(word) if not isinstance(word, bytes) else word for word in words]
    return subprocess.run([PROGRAM, *words], capture_output=True, text=text, timeout=PATIENCE, env=env,
                          stdin=subprocess.DEVNULL, **options)


def done(*words):
    """What a task that must succeed prints."""
    ended = run(*words)
    if ended.returncode != 0:
        raise RuntimeError(f"{' '.join(map(str, words))} ended with {ended.returncode}: {ended.stderr.strip()}")
    return ended.stdout


def described(path, *words, at=None):
    """`describe FILE --json` with further words, read."""
    return json.loads(done("describe", path, "--json", *words, *([] if at is None else ["--at", at])))


def described_each(paths, *words):
    """Pairs of path and what `describe` says of it, in order; the program works ahead of whoever looks at them."""
    with ThreadPoolExecutor(os.cpu_count()) as several:
        yield from zip(paths, several.map(lambda path: described(path, *words), paths))


def tool(*words):
    """What another program prints; it must succeed."""
    ended = subprocess.run([str(word) for word in words], capture_output=True, text=True, timeout=PATIENCE)
    if ended.returncode != 0:
        raise RuntimeError(f"{words[0]} ended with {ended.returncode}: {ended.stderr.strip()}")
    return ended.stdout
