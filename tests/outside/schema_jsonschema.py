"""The JSON Schema of the project file: sound by its own standard, and of one mind with the program."""

import json

import jsonschema
from jsonschema import Draft202012Validator

import anything
import folio
import made_up
from checks import ENVELOPE, OUT, ROOT, STARTER, Checks, seeds
from example import EXAMPLE, GONE, changed
from program import done, run

KEPT = ROOT / "docs" / "folio.schema.json"

# What is changed in the example (keys from the outside in), to what, so that neither may take it.
WRONG = {
    "no version": (["version"], GONE),
    "another version": (["version"], 3),
    "a version in quotes": (["version"], "2"),
    "another format": (["format"], "recipe"),
    "no title": (["title"], GONE),
    "a title that is a number": (["title"], 7),
    "a title too long": (["title"], "n" * 201),
    "a title of two lines": (["title"], "Swap\nfolio"),
    "an unknown key": (["colour"], "#000000"),
    "an unknown unit": (["units"], "pt"),
    "a number for a length": (["stock", "width"], 12),
    "a length without a unit": (["stock", "width"], "12"),
    "a length in another unit": (["stock", "width"], "12 px"),
    "a sheet of no width": (["stock", "width"], "0 in"),
    "a sheet of less": (["stock", "height"], "-12 in"),
    "no stock": (["stock"], GONE),
    "a sheet without a height": (["stock", "height"], GONE),
    "pounds without a grade": (["stock", "weight"], "80 lb"),
    "a weight without a unit": (["stock", "weight"], "216"),
    "a weight that is a number": (["stock", "weight"], 216),
    "a bulk that no paper has": (["stock", "bulk"], "12"),
    "caliper and bulk": (["stock", "caliper"], "0.3 mm"),
    "a grain that is none": (["stock", "grain"], "long"),
    "a pattern that is none": (["stock", "front", "pattern"], "up"),
    "a colour by name": (["stock", "front", "colour"], "green"),
    "artwork in another folder": (["stock", "front", "artwork", "file"], "../seedlings.png"),
    "artwork with a drive": (["stock", "front", "artwork", "file"], "c:seedlings.png"),
    "artwork without a hash": (["stock", "front", "artwork", "sha256"], GONE),
    "a hash cut short": (["stock", "front", "artwork", "sha256"], "0a"),
    "artwork without pixels": (["stock", "front", "artwork", "pixels"], [0, 1800]),
    "artwork of one measure": (["stock", "front", "artwork", "pixels"], [3600]),
    "a further stock without its paper": (["further_stocks", 0, "stock"], GONE),
    "lines that are no list": (["lines"], {}),
    "a line without an id": (["lines", 0, "id"], GONE),
    "an id below nothing": (["lines", 0, "id"], -1),
    "an id that is no whole number": (["lines", 0, "id"], 1.5),
    "a line without a place": (["lines", 0, "place"], GONE),
    "a turn too many": (["lines", 0, "place", "turn"], 4),
    "a place without a distance": (["lines", 0, "place", "distance"], GONE),
    "a distance without a turn": (["lines", 0, "place", "turn"], GONE),
    "two places": (["lines", 0, "place", "along"], "line 2"),
    "a place of nothing": (["lines", 2, "place"], {}),
    "a datum that is none": (["lines", 0, "place", "from"], "middle"),
    "along a number": (["lines", 2, "place", "along"], 1),
    "along the edge": (["lines", 2, "place", "along"], "edge"),
    "a stop that is none": (["lines", 2, "place", "start"], 2),
    "a drawn line with a stop": (["lines", 1, "place", "end"], "2 in"),
    "a drawn line to nowhere": (["lines", 1, "place", "drawn", "to"], GONE),
    "a spot that is half one": (["lines", 1, "place", "drawn", "from"], {"x": "1 in"}),
    "a spot that is two": (["lines", 1, "place", "drawn", "from", "on"], "line 1"),
    "a crossing of one": (["lines", 1, "place", "drawn", "from"], {"crossing": ["line 1"]}),
    "a crossing of three": (["lines", 1, "place", "drawn", "from"], {"crossing": ["line 1", "line 3", "line 4"]}),
    "work that is none": (["lines", 0, "work"], "crease"),
    "a score without a fold": (["lines", 0, "fold"], GONE),
    "a fold that is none": (["lines", 0, "fold"], "hill"),
    "an angle that is none": (["lines", 0, "angle"], 45),
    "a face that is none": (["lines", 0, "pressed"], "top"),
    "a cut that folds": (["lines", 1, "fold"], "valley"),
    "a slot without a width": (["lines", 2, "width"], GONE),
    "a slot with a depth": (["lines", 2, "depth"], "1 in"),
    "a trim without a side": (["lines", 3, "side"], GONE),
    "a side that is none": (["lines", 3, "side"], "upper"),
    "a notch without a depth": (["lines", 4, "depth"], GONE),
    "a notch on both sides": (["lines", 4, "side"], "centred"),
    "locked by a word": (["lines", 0, "locked"], "yes"),
    "a corner of nothing": (["corners", 0, "which"], GONE),
    "a corner of all": (["corners", 0, "which"], "all"),
    "a corner of one border": (["corners", 0, "which"], ["line 1"]),
    "a corner at a border that is none": (["corners", 0, "which"], ["line 1", "upper edge"]),
    "a corner with nothing done": (["corners", 0, "round"], GONE),
    "a corner with two things done": (["corners", 0, "clip"], "1/8 in"),
    "a corner that is not square": (["corners", 0], {"mark": EXAMPLE["base"], "which": "panel", "square": False}),
    "a corner without a mark": (["corners", 0, "mark"], GONE),
    "a base that is half one": (["base"], {"x": "6 in"}),
    "a board without grooves": (["board"], {}),
    "no steps": (["steps"], GONE),
    "a step that is a number": (["steps"], [1]),
    "a step with a word in it": (["steps"], [["line 1"]]),
}


def main():
    checks = Checks(__file__)
    checks.group("the schema itself", "JSON Schema, draft 2020-12, by jsonschema")
    schema = json.loads(KEPT.read_text(encoding="utf-8"))
    try:
        Draft202012Validator.check_schema(schema)
        fault = ""
    except jsonschema.SchemaError as error:
        fault = error.message
    checks.equal(fault, "", "it is a schema of that draft")
    checks.equal(schema["$schema"], "https://json-schema.org/draft/2020-12/schema", "and says so")
    out = OUT / "folio.schema.json"
    done("export", "schema", "-o", out)
    checks.equal(out.read_bytes(), KEPT.read_bytes(), "docs/folio.schema.json is what the program exports")
    schema = Draft202012Validator(schema)

    def accepted(document, what):
        checks.equal([error.message for error in schema.iter_errors(document)], [], f"{what} is accepted")

    checks.group("designs that are right", "jsonschema; designs made from the description of the file")
    for name in (starter["name"] for starter in json.loads(done("starters", "--json"))["starters"]):
        (OUT / f"{name}.folio").unlink(missing_ok=True)
        done("starters", "--copy", name, OUT)
        accepted(json.loads((OUT / f"{name}.folio").read_text(encoding="utf-8")), name)
    accepted(json.loads(STARTER.read_text(encoding="utf-8")), STARTER.name)
    accepted(folio.load(ENVELOPE), ENVELOPE.name)
    accepted(EXAMPLE, "the example")
    example = made_up.save(EXAMPLE, OUT / "schema-example.folio")
    checks.equal(run("describe", example).returncode, 0, "the program reads the example")
    for seed in seeds(300):
        accepted(anything.sheet(seed), f"anything, seed {seed}")
    for seed in seeds(30):
        accepted(made_up.flaps(seed), f"flaps, seed {seed}")
    for seed in seeds(30):
        # As the program writes it.
        path = made_up.save(anything.sheet(seed), OUT / f"anything-{seed}.folio")
        (OUT / "written.folio").unlink(missing_ok=True)
        done("convert", path, "-o", OUT / "written.folio", "--units", "cm")
        accepted(folio.load(OUT / "written.folio"), f"anything as written, seed {seed}")
    checks.group("designs that are wrong", "each refused by the schema; by the program with code 2 and a sentence")
    for what, change in WRONG.items():
        document = changed(*change)
        checks.that(not schema.is_valid(document), f"{what}: refused by the schema")
        path = OUT / "wrong.folio"
        path.write_text(json.dumps(document), encoding="utf-8")
        ended = run("describe", path)
        seen = (ended.returncode, len(ended.stderr.splitlines()), ended.stdout)
        checks.equal(seen, (2, 1, ""), f"{what}: refused by the program")
    checks.finish()


main()
