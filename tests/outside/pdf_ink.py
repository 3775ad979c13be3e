"""Strokes of a PDF page by two readers that share no code: MuPDF's `mutool trace` and pdfminer (through pdfplumber)."""

import xml.etree.ElementTree as ElementTree

import pdfplumber

from ink import Stroke, hexed
from program import tool

MM = 25.4 / 72


def by_mupdf(path, number):
    """The strokes of a page, each path as its straight parts, and those paths of more than one part."""
    page = ElementTree.fromstring(tool("mutool", "trace", path, number)).find("page")
    strokes, paths = [], []
    for element in page.iter("stroke_path"):
        a, b, c, d, e, f = map(float, element.get("transform").split())
        place = lambda x, y: ((a * x + c * y + e) * MM, (b * x + d * y + f) * MM)
        scale = abs(a * d - b * c) ** 0.5 * MM
        colour = hexed(map(float, element.get("color").split()))
        dashes = len((element.get("dash") or "").split())
        at, parts = None, []
        for step in element:
            if step.tag == "moveto":
                at = place(float(step.get("x")), float(step.get("y")))
            elif step.tag == "lineto":
                end = place(float(step.get("x")), float(step.get("y")))
                parts.append(Stroke(colour, dashes, float(element.get("linewidth")) * scale, at, end))
                at = end
            elif step.tag == "curveto":
                at = place(float(step.get("x3")), float(step.get("y3")))
        strokes.extend(parts)
        paths.append(parts)
    return strokes, paths


def by_pdfminer(path, number):
    """The strokes of a page that are one straight line each."""
    with pdfplumber.open(path) as pdf:
        page = pdf.pages[number - 1]
        strokes = []
        for line in page.lines:
            (ax, ay), (bx, by) = line["pts"]
            dashes = len((line.get("dash") or ([], 0))[0])
            strokes.append(Stroke(hexed(line["stroking_color"]), dashes, line["linewidth"] * MM,
                                  (ax * MM, ay * MM), (bx * MM, by * MM)))
        return strokes


def texts(path):
    """The text of each page, and its size in mm."""
    with pdfplumber.open(path) as pdf:
        return [(page.extract_text(), float(page.width) * MM, float(page.height) * MM) for page in pdf.pages]
