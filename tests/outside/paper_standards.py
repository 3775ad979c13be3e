"""Paper: sizes against the standards that make them, weights against the formula and printers' figures, thickness."""

import folio
import made_up
from checks import OUT, Checks
from program import described, done

# Inches, widths and heights of the sheets that pounds count, as printers' tables give them.
BASIC = {"bond": (17, 22), "text": (25, 38), "cover": (20, 26), "index": (25.5, 30.5), "tag": (24, 36),
         "bristol": (22.5, 28.5)}

# Pounds to g/m², as tables of both print them to a tenth; 500 sheets of the basic size weigh the pounds.
PRINTED = {
    "bond": {16: 60.2, 20: 75.2, 24: 90.2, 28: 105.3, 32: 120.3},
    "text": {50: 74.0, 60: 88.8, 70: 103.6, 80: 118.4, 100: 148.0},
    "cover": {50: 135.2, 60: 162.2, 65: 175.8, 80: 216.3, 90: 243.4, 100: 270.4, 110: 297.5, 120: 324.5, 130: 351.5},
    "bristol": {57: 125.0, 67: 146.9, 80: 175.4, 100: 219.3, 120: 263.1},
    "index": {90: 162.7, 110: 198.9, 140: 253.1},
    "tag": {100: 162.7, 125: 203.4, 150: 244.1, 175: 284.8},
}

# g/m² to grams of a sheet of 12 x 12 in, which has 0.09290304 m²; worked out by hand.
SHEET_GRAMS = {176: 16.4, 216: 20.1, 244: 22.7, 270: 25.1, 300: 27.9}

# ISO 217:2013, whole centimetres: the standard's own figures, mm.
UNTRIMMED = {"RA0": (860, 1220), "RA1": (610, 860), "RA2": (430, 610), "RA3": (305, 430), "RA4": (215, 305),
             "SRA0": (900, 1280), "SRA1": (640, 900), "SRA2": (450, 640), "SRA3": (320, 450), "SRA4": (225, 320)}

INCHES = {"letter": (8.5, 11), "tabloid": (11, 17), "legal": (8.5, 14), "12x12": (12, 12), "6x6": (6, 6)}

# Thousandths of an inch, g/m² and cm³/g: stockists' figures for 80 lb cover smooth and laid, 100 lb gloss cover, and
# 16 pt board coated on both sides.
STOCKED = [(10, 216, "1.17"), (13.5, 216, "1.59"), (9.5, 270, "0.89"), (16, 350, "1.16")]


def new_size(name):
    path = OUT / "new-size.folio"
    path.unlink(missing_ok=True)
    done("new", "--sheet", name, "-o", path)
    return folio.size(folio.load(path))


def check_sizes(checks):
    checks.group("A and B sizes", "ISO 216:2007: A0 and B0, then the longer side halved and rounded down to the mm")
    for series, (width, height) in (("A", (841, 1189)), ("B", (1000, 1414))):
        for step in range(11):
            for name in (f"{series}{step}", f"{series.lower()}{step}"):
                checks.equal(new_size(name), (width * 10**6, height * 10**6), name)
            width, height = height // 2, width
    checks.group("untrimmed sizes", "ISO 217:2013")
    for name, size in UNTRIMMED.items():
        checks.equal(new_size(name), tuple(side * 10**6 for side in size), name)
    checks.group("sizes in inches", "Letter and tabloid: ANSI/ASME Y14.1 A and B; others: common practice, no source")
    for name, size in INCHES.items():
        checks.equal(new_size(name), tuple(round(side * 25_400_000) for side in size), name)


def papers(stocks):
    """What the program says of papers, as the further stocks of a design."""
    document = made_up.sheet("12 in", "12 in", [], ("6 in", "6 in"), [], "Papers")
    said = []
    for first in range(0, len(stocks), 100):
        # At most a hundred to a design.
        some = stocks[first:first + 100]
        document["further_stocks"] = [{"id": number, "stock": {"width": "12 in", "height": "12 in", **stock}}
                                      for number, stock in enumerate(some)]
        said += described(made_up.save(document, OUT / "papers.folio"))["further_stocks"]
    return said


def check_weights(checks):
    checks.group("pounds in g/m²", "lb x 453.59237 g / 500 / the basic size; printers' tables to a tenth")
    asked = [(grade, pounds) for grade in BASIC for pounds in [*PRINTED[grade], 1, 37.125, 999.999]]
    for (grade, pounds), stock in zip(asked, papers([{"weight": f"{pounds} lb {grade}"} for grade, pounds in asked])):
        width, height = BASIC[grade]
        wanted = pounds * 453.59237 / 500 / (width * 0.0254 * height * 0.0254)
        checks.near(stock["weight"]["g_m2"], wanted, 1e-9 * wanted, f"{pounds} lb {grade}, by the formula")
        checks.equal(stock["weight"]["text"], f"{pounds} lb {grade}", "as it was typed")
        if pounds in PRINTED[grade]:
            checks.near(stock["weight"]["g_m2"], PRINTED[grade][pounds], 0.051, f"{pounds} lb {grade}, as printed")
        checks.near(stock["sheet_grams"], wanted * 0.3048**2, 1e-9 * wanted, f"{pounds} lb {grade}: one sheet, g")
    said = papers([{"weight": f"{weight} g/m2"} for weight in SHEET_GRAMS])
    for (weight, grams), stock in zip(SHEET_GRAMS.items(), said):
        checks.equal(stock["weight"]["g_m2"], weight, f"{weight} g/m2 are as many")
        checks.near(stock["sheet_grams"], grams, 0.051, f"{weight} g/m2: one sheet, g")


def check_thickness(checks):
    checks.group("thickness from bulk", "ISO 534: µm = g/m² x cm³/g; stockists' figures to 3 %")
    said = papers([{"weight": f"{weight} g/m2", "bulk": bulk} for _, weight, bulk in STOCKED])
    for (mil, weight, bulk), stock in zip(STOCKED, said):
        checks.near(stock["caliper"]["nm"], weight * float(bulk) * 1000, 0.5, f"{weight} g/m2 at {bulk}, nm")
        checks.near(stock["caliper"]["nm"] / 25_400, mil, 0.03 * mil, f"{weight} g/m2 at {bulk}, mil")
        checks.equal(stock["caliper_from"], "estimated", "and it says that it is an estimate")
    weight = {"weight": "80 lb cover"}
    known, *unknown = papers([{"caliper": "0.011 in"} | weight, weight, {"bulk": "1.25"}])
    checks.equal((known["caliper"]["nm"], known["caliper_from"]), (279_400, "measured"), "a measured one stays so")
    for stock in unknown:
        checks.equal((stock["caliper"], stock["caliper_from"]), (None, "unknown"), "it takes both weight and bulk")


def main():
    checks = Checks(__file__)
    check_sizes(checks)
    check_weights(checks)
    check_thickness(checks)
    checks.finish()


main()
