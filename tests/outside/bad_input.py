"""What a maker may get wrong: one sentence on standard error, the promised exit code, nothing left behind."""

import json
import os
import subprocess

import folio
from checks import OUT, ENVELOPE, Checks
from program import PROGRAM, run

SENTENCE = "one sentence on standard error"


def refused(checks, what, words, code, says, env=None):
    """A task that must fail: its exit code, nothing on standard output, one line that says what and where."""
    ended = run(*words, env=env, text=False)
    out, err = ended.stdout.decode(), ended.stderr.decode()
    checks.equal(ended.returncode, code, f"{what}: exit code ({err.strip()})")
    checks.equal(out, "", f"{what}: nothing on standard output")
    checks.that(len(err.splitlines()) == 1 and err.endswith("\n"), f"{what}: {SENTENCE}", err)
    for word in says:
        checks.that(word in err, f"{what}: the sentence says {word!r}", err.strip())
    checks.that("panicked" not in err and "RUST_BACKTRACE" not in err, f"{what}: no panic", err)


def spoiled(name, change):
    """A copy of the design with one thing changed."""
    document = folio.load(ENVELOPE)
    change(document)
    path = OUT / f"{name}.folio"
    path.write_text(json.dumps(document, indent=2), encoding="utf-8")
    return path


def place(document, number):
    return next(line for line in document["lines"] if line["id"] == number)["place"]


def check_unreadable(checks):
    checks.group("files that cannot be read", "the design's table of exit codes: 2 unreadable input")
    text = ENVELOPE.read_text(encoding="utf-8")
    files = {
        "empty": b"",
        "cut-short": text[:700].encode(),
        "no-json": b"Test envelope\n",
        "not-text": b"\xff\xfe\x00caf\xe9",
        "latin-1": text.replace("Test envelope", "Caf\u00e9").encode("latin-1"),
        "other-json": b"{\"format\": \"something else\", \"version\": 1}",
        "newer": text.replace("\"version\": 1", "\"version\": 99").encode(),
        "unknown-key": text.replace("\"units\"", "\"colour\": 1,\n  \"units\"").encode(),
        "bad-length": text.replace("\"8 3/4 in\"", "\"8 3/4\"").encode(),
        "huge-number": text.replace("\"8 3/4 in\"", "\"99999999999999999999999999999999 in\"").encode(),
        "huge-id": text.replace("\"id\": 14", "\"id\": 1e400").encode(),
        "twice": text.replace("\"id\": 14", "\"id\": 13").encode(),
        "deep": b"[" * 200_000,
        "no-sheet": text.replace("\"width\": \"12 in\"", "\"width\": \"0 in\"").encode(),
        "step-to-nowhere": text.replace("[1],", "[77],").encode(),
        "nul": text.replace("Test envelope", "Test\0envelope").encode(),
    }
    for name, content in files.items():
        path = OUT / f"bad-{name}.folio"
        path.write_bytes(content)
        for task in (["describe", path], ["export", "template", path, "-o", OUT / "never.pdf"],
                     ["export", "picture", path, "-o", OUT / "never.svg"]):
            refused(checks, f"{name} ({task[0]})", task, 2, [path.name])
    refused(checks, "missing file", ["describe", OUT / "no-such.folio"], 2, ["no-such.folio"])
    refused(checks, "folder", ["describe", OUT], 2, ["folder"])
    refused(checks, "name that is no text", ["describe", os.fsencode(OUT) + b"/caf\xe9.folio"], 2, [])
    checks.that(not (OUT / "never.pdf").exists() and not (OUT / "never.svg").exists(), "no output of a refused export")


def check_findings(checks):
    checks.group("designs that are readable and wrong", "the design's table of exit codes: 1 a warning or error")

    def beyond(document):
        place(document, 2)["distance"] = "13 in"

    def coincide(document):
        place(document, 2)["distance"] = "3 1/4 in"

    def circle(document):
        place(document, 3)["from"] = "line 4"

    def unknown(document):
        place(document, 4)["from"] = "line 99"

    for name, change in [("beyond-the-sheet", beyond), ("two-at-one-place", coincide), ("circle", circle),
                         ("unknown-line", unknown)]:
        path = spoiled(name, change)
        ended = run("check", path)
        checks.equal((ended.returncode, ended.stderr), (1, ""), f"{name}: check ends with 1")
        checks.that(any(word in ended.stdout for word in (": error: ", ": warning: ")), f"{name}: a finding", ended.stdout)
        found = json.loads(run("check", path, "--json").stdout)["files"][0]["findings"]
        checks.that(any(one["severity"] in ("error", "warning") for one in found), f"{name}: the same as JSON", found)
        for task in (["describe", path], ["describe", path, "--json"], ["export", "template", path, "-o", OUT / "wrong.pdf"]):
            checks.that(run(*task).returncode in (0, 1), f"{name}: {task[0]} still ends as promised")
    ended = run("check", ENVELOPE)
    checks.equal((ended.returncode, ended.stderr), (0, ""), "the untouched design has nothing worse than a note")


def check_commands(checks):
    checks.group("commands that make no sense", "the design's table of exit codes")
    refused(checks, "two words that are no command", ["frobnicate", ENVELOPE], 2, ["frobnicate"])
    refused(checks, "no file", ["describe"], 2, ["FILE"])
    refused(checks, "unknown option", ["describe", ENVELOPE, "--yaml"], 2, ["--yaml"])
    refused(checks, "unknown paper", ["export", "template", ENVELOPE, "-o", OUT / "x.pdf", "--paper", "b5"], 2, ["b5"])
    refused(checks, "unknown picture", ["export", "picture", ENVELOPE, "-o", OUT / "x.bmp"], 2, [".png", ".svg"])
    for step in ("5", "-1", "NaN", "inf", "soon", "1e999"):
        words = ["export", "picture", ENVELOPE, "-o", OUT / "x.svg", f"--fold={step}"]
        refused(checks, f"step {step}", words, 2, [step])
    for step in ("5", "-1", "NaN", "inf", "soon"):
        refused(checks, f"describe at {step}", ["describe", ENVELOPE, "--json", f"--at={step}"], 2, [step])
    for width in ("0", "-3", "99999999999"):
        refused(checks, f"width {width}", ["export", "picture", ENVELOPE, "-o", OUT / "x.png", f"--width={width}"], 2, [width])
    for size in ("12", "0x12in", "axb", "999999x999999in"):
        refused(checks, f"sheet {size}", ["new", "--sheet", size, "-o", OUT / "new.folio"], 2, [])
    refused(checks, "no such starter", ["starters", "--copy", "no-such", OUT], 2, ["no-such", "seed-swap"])


def check_outputs(checks):
    checks.group("outputs that cannot be written", "the design's table of exit codes: 1 refused")
    template = ["export", "template", ENVELOPE, "-o"]
    refused(checks, "no such folder", [*template, OUT / "no" / "such" / "x.pdf"], 1, ["x.pdf"])
    (OUT / "folder.pdf").mkdir(exist_ok=True)
    refused(checks, "a folder of that name", [*template, OUT / "folder.pdf"], 1, ["folder"])
    refused(checks, "a file as a folder", [*template, ENVELOPE / "x.pdf"], 1, ["x.pdf"])
    refused(checks, "where nothing can be made", [*template, "/proc/x.pdf"], 1, ["/proc/x.pdf"])
    (OUT / "there.folio").write_bytes(ENVELOPE.read_bytes())
    refused(checks, "a design that is there already", ["new", "--sheet", "a4", "-o", OUT / "there.folio"], 1, ["there"])
    checks.equal((OUT / "there.folio").read_bytes(), ENVELOPE.read_bytes(), "and it is left as it was")
    # Nobody listens: no panic, no sentence.
    with subprocess.Popen([PROGRAM, "describe", ENVELOPE], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as task:
        task.stdout.close()
        said = task.stderr.read().decode()
        checks.that(task.wait() in (0, 1) and said == "", "standard output is closed", said)
    with open("/dev/full", "w") as full:
        ended = subprocess.run([PROGRAM, "describe", ENVELOPE], stdout=full, stderr=subprocess.PIPE, text=True)
        checks.that(ended.returncode == 1 and len(ended.stderr.splitlines()) == 1, "standard output is full", ended.stderr)


def check_no_display(checks):
    checks.group("no display", "the design: one clear sentence, exit 2, naming what works without one")
    env = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET")}
    for what, words in (("no file", []), ("a file", [ENVELOPE])):
        refused(checks, f"window with {what}", words, 2, ["display", "foliowright export template"], env)
        refused(checks, f"window with {what}, a display that is not there", words, 2, ["foliowright export template"],
                env | {"DISPLAY": ":997"})
        refused(checks, f"window with {what}, a Wayland that is not there", words, 2, ["foliowright export template"],
                env | {"WAYLAND_DISPLAY": "wayland-997"})
    refused(checks, "window with a file that is not there", [OUT / "no-such.folio"], 2, ["no-such.folio"], env)


def main():
    checks = Checks(__file__)
    check_unreadable(checks)
    check_findings(checks)
    check_commands(checks)
    check_outputs(checks)
    check_no_display(checks)
    checks.finish()


main()
