"""Designs that a fault has changed: bits flipped, ends cut off, values swapped, made huge or of the wrong kind. Whatever is
in them, every task ends soon, with its promised exit code, in bounded memory and without a panic."""

import copy
import json
import os
import random
import resource
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

from checks import OUT, ROOT, Checks, seeds
from program import PROGRAM

# As many as are looked at in a run of all checks; FOLIOWRIGHT_MUTATED asks for another number.
COUNT = int(os.environ.get("FOLIOWRIGHT_MUTATED", "60"))

# Seconds of a processor, and bytes, that one task may take.
MOST_SECONDS = 5
MOST_BYTES = 1 << 30

STARTERS = sorted((ROOT / "assets" / "starters").glob("*.folio"))

# What may stand where something else belongs.
ODD = [None, True, -1, 0, 3, 2**31, 2**63, 1e308, "", "x", "line 1", "line 4294967295", "0 in", "-3 in", "1 nm", "1/3 in",
       "999999999999 mm", "10000 mm", "0.000001 mm", "12 in", [], {}, [[]], "\u0000", "\u202e", "9" * 400]

TASKS = [["check"], ["describe"], ["describe", "--json"], ["export", "template", "-o", "x.pdf"],
         ["export", "booklet", "-o", "x.pdf"], ["export", "cutting", "-o", "x.svg"], ["export", "cutting", "-o", "x.dxf"],
         ["export", "inserts", "-o", "x.pdf"], ["export", "picture", "-o", "x.svg"],
         ["export", "picture", "-o", "x.png", "--width", "200"], ["export", "contact", "-o", "x.svg"],
         ["export", "animation", "-o", "x.gif", "--width", "60"]]


def places(value, path=()):
    """Every place in a design."""
    yield path
    for key, item in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        yield from places(item, (*path, key))


def at(value, path):
    for key in path:
        value = value[key]
    return value


def bytes_changed(rng, text):
    """A change that knows nothing of the format."""
    data = bytearray(text)
    kind = rng.randrange(4)
    for _ in range(rng.choice([1, 1, 1, 3, 20])):
        where = rng.randrange(len(data))
        if kind == 0:
            data[where] ^= 1 << rng.randrange(8)
        elif kind == 1:
            return bytes(data[:where])
        elif kind == 2:
            data[where:where + rng.randrange(1, 200)] = b""
        else:
            start = rng.randrange(len(data))
            data[where:where] = data[start:start + rng.randrange(1, 200)]
        if not data:
            break
    return bytes(data)


def length(rng, text):
    """A length, changed a little or a lot."""
    figures = [figure for figure in ("1", "2", "3", "5", "7", "9", "12", "250", "10000", "0") if rng.random() < 0.4]
    return f"{rng.choice(['', '-'])}{rng.choice(figures or ['1/64'])} {rng.choice(['in', 'mm', 'cm'])}"


def keys_changed(rng, text):
    """A change of what the format says, so that most are still designs."""
    design = json.loads(text)
    # Half of them say nothing but other lengths, numbers and lines.
    is_mild = rng.random() < 0.6
    for _ in range(rng.choice([1, 1, 2, 4, 8]) if is_mild else 1):
        every = [path for path in places(design) if path]
        if is_mild:
            words = lambda path: isinstance(at(design, path), str) and at(design, path).endswith((" in", " mm", " cm"))
            every = [path for path in every if words(path) or isinstance(at(design, path), bool)] or every
        path = rng.choice(every)
        parent, value = at(design, path[:-1]), at(design, path)
        kind = 7 if is_mild else rng.randrange(8)
        if kind == 0:
            parent[path[-1]] = rng.choice(ODD)
        elif kind == 1:
            del parent[path[-1]]
        elif kind == 2:
            other = rng.choice(every)
            parent[path[-1]] = copy.deepcopy(at(design, other))
        elif kind == 3 and isinstance(value, list) and value:
            value.append(copy.deepcopy(rng.choice(value)))
        elif kind == 4 and isinstance(value, list):
            rng.shuffle(value)
        elif isinstance(value, str) and value.endswith((" in", " mm", " cm")):
            parent[path[-1]] = length(rng, value)
        elif isinstance(value, bool):
            parent[path[-1]] = not value
        elif isinstance(value, int):
            parent[path[-1]] = rng.choice([value + 1, value - 1, value * 1000, 0, 90, 180])
        elif isinstance(value, str) and value.startswith("line "):
            parent[path[-1]] = f"line {rng.randrange(1, 30)}"
    return json.dumps(design).encode()


def mutated(seed):
    rng = random.Random(seed)
    text = rng.choice(STARTERS).read_bytes()
    return bytes_changed(rng, text) if rng.random() < 0.3 else keys_changed(rng, text)


def bounded():
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    # One second more, so that what takes too long is told from what was ended for it.
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS + 1, MOST_SECONDS + 2))


def one(task, path, room):
    """What is wrong with how a task ends, or nothing; and whether the design was read."""
    words = [str(room / word) if word.startswith("x.") else word for word in task]
    words = [*words[:2], path, *words[2:]] if task[0] == "export" else [words[0], path, *words[1:]]
    before = time.monotonic()
    ended = subprocess.run([PROGRAM, *map(str, words)], capture_output=True, stdin=subprocess.DEVNULL, preexec_fn=bounded,
                           timeout=600)
    took, said = time.monotonic() - before, ended.stderr.decode(errors="replace")
    if ended.returncode < 0:
        return f"ended by signal {-ended.returncode} after {took:.1f} s: {said[:200]}", False
    if ended.returncode not in (0, 1, 2) or "panicked" in said:
        return f"exit code {ended.returncode}: {said[:300]}", False
    if ended.returncode == 2 and len(said.splitlines()) != 1:
        return f"refused without one sentence: {said[:300]}", False
    return None, ended.returncode != 2


def design(seed):
    """All tasks on one design: what is wrong, whether it was a design, and how many tasks were done."""
    room = OUT / "mutated"
    path = room / f"{seed}.folio"
    path.write_bytes(mutated(seed))
    (room / str(seed)).mkdir(exist_ok=True)
    wrong, is_design = [], False
    for task in TASKS:
        why, read = one(task, path, room / str(seed))
        is_design |= read
        if why:
            wrong.append(f"{path.name}: {' '.join(task)}: {why}")
    for left in (room / str(seed)).iterdir():
        left.unlink()
    (room / str(seed)).rmdir()
    if not wrong:
        path.unlink()
    return wrong, is_design


def main():
    checks = Checks(__file__)
    checks.group("designs that a fault has changed", "exit codes of the design; bounds asked for: 5 s, 1 GiB, no panic")
    (OUT / "mutated").mkdir(exist_ok=True)
    begun, designs, done, all_wrong = time.monotonic(), 0, 0, []
    with ThreadPoolExecutor(os.cpu_count()) as several:
        for wrong, is_design in several.map(design, seeds(COUNT)):
            designs += is_design
            done += 1
            all_wrong += wrong
            for sentence in wrong:
                print(f"  {sentence}", flush=True)
            if COUNT > 500 and done % 50 == 0:
                print(f"  {done} designs after {time.monotonic() - begun:.0f} s, {len(all_wrong)} wrong", flush=True)
    checks.equal(len(all_wrong), 0, f"{COUNT} designs by {len(TASKS)} tasks each end as promised")
    checks.that(designs * 5 > COUNT, "a fifth of them or more are still designs", designs)
    print(f"  {designs} of {COUNT} were still designs; {time.monotonic() - begun:.0f} s", file=sys.stderr)
    checks.finish()


main()
