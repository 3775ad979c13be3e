"""A small design with something of all that a file can say, and copies of it with one thing changed."""

import copy

EXAMPLE = {
    "format": "foliowright folio", "version": 2, "title": "Swap folio", "units": "in", "board": {"grooves": "1/8 in"},
    "stock": {"width": "12 in", "height": "12 in", "weight": "80 lb cover", "bulk": "1.25", "grain": "upright",
              "front": {"pattern": "top up", "colour": "#7a9b3c",
                        "artwork": {"file": "seedlings.png", "sha256": "0a" * 32, "pixels": [3600, 1800],
                                    "width": "12 in"}}},
    "further_stocks": [{"id": 4, "stock": {"width": "210 mm", "height": "297 mm", "caliper": "0.16 mm"}}],
    "lines": [
        {"id": 1, "place": {"turn": 0, "from": "edge", "distance": "3 in"}, "work": "score", "fold": "either",
         "pressed": "back"},
        {"id": 2, "place": {"drawn": {"from": {"x": "0 in", "y": "2 in"}, "to": {"on": "line 1", "at": "2 1/2 in"}}},
         "work": "cut"},
        {"id": 3, "place": {"along": "line 1", "start": "line 2 + 1/8 in"}, "work": "slot", "width": "1/8 in"},
        {"id": 4, "place": {"along": "line 1"}, "work": "trim", "width": "1/64 in", "side": "left"},
        {"id": 5, "place": {"along": "line 1", "end": "2 in"}, "work": "notch", "depth": "1/4 in", "side": "right"},
    ],
    "corners": [{"mark": {"x": "6 in", "y": "6 in"}, "which": ["line 1", "top edge"], "round": "1/4 in"}],
    "base": {"x": "6 in", "y": "5 in"}, "steps": [[1]],
}

# In place of a value: the key is taken out.
GONE = object()


def changed(keys, value):
    """The example with one thing changed: the keys to it from the outside in, and what stands there then."""
    document = copy.deepcopy(EXAMPLE)
    inner = document
    for key in keys[:-1]:
        inner = inner[key]
    if value is GONE:
        del inner[keys[-1]]
    else:
        inner[keys[-1]] = value
    return document
