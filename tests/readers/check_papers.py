#!/usr/bin/env python3
"""Opens every drawing in a folder with readers that others wrote, and says what is wrong with it.

    pip install ezdxf svgelements lxml pypdf pdfplumber
    python3 tests/readers/check_papers.py FOLDER

Exits with 1 when any file is not what it should be; the last line counts the files.

  .dxf  release 12, the audit finds nothing, something is cut, all of it is closed and encloses an area, nothing lies on
        nothing, layers are CUT, BEND, ETCH and TEXT, the extents in the header are those of what is drawn
  .svg  width and height in mm, the view box in the same numbers, ids used once, inside the page, words on it
  .pdf  strictly read, every page has words, every font is in the file with what its codes mean
"""

import collections
import math
import sys
from pathlib import Path

import ezdxf
import ezdxf.bbox
import ezdxf.path
import pdfplumber
import pypdf
from lxml import etree
from svgelements import SVG, Shape

LAYERS = {"CUT", "BEND", "ETCH", "TEXT"}
SVG_NAME = "{http://www.w3.org/2000/svg}"


class Wrong(Exception):
    """What is wrong with a file."""


def must(holds, otherwise):
    if not holds:
        raise Wrong(otherwise)


def shoelace(points):
    following = points[1:] + points[:1]
    return abs(sum(a.x * b.y - b.x * a.y for a, b in zip(points, following))) / 2


def rounded(*points):
    return tuple(round(number, 6) for point in points for number in (point.x, point.y))


def check_dxf(file):
    doc = ezdxf.readfile(file)
    must(doc.dxfversion == "AC1009", f"version is {doc.dxfversion}, not AC1009")
    audit = doc.audit()
    must(not audit.errors, f"audit errors: {[error.message for error in audit.errors]}")
    must(not audit.fixes, f"audit fixes: {[fix.message for fix in audit.fixes]}")
    space = doc.modelspace()
    outlines = list(space.query('POLYLINE[layer=="CUT"]'))
    must(outlines, "nothing is cut")
    must(all(outline.is_closed for outline in outlines), "an outline on CUT is open")
    must(not space.query('LINE[layer=="CUT"]'), "loose lines on CUT")
    for outline in outlines:
        points = list(ezdxf.path.make_path(outline).flattening(0.01))
        must(shoelace(points) > 0.01, "an outline encloses nothing")
        corners = [vertex.dxf.location for vertex in outline.vertices]
        for a, b in zip(corners, corners[1:] + corners[:1]):
            must(a.distance(b) > 1e-6, f"a piece of no length at {a}")
    seen = collections.Counter()
    for entity in space:
        must(entity.dxf.layer in LAYERS, f"{entity.dxftype()} on layer {entity.dxf.layer}")
        if entity.dxftype() == "LINE":
            ends = sorted([rounded(entity.dxf.start), rounded(entity.dxf.end)])
            must(ends[0] != ends[1], "a line of no length")
            seen["LINE", entity.dxf.layer, *ends] += 1
        elif entity.dxftype() == "CIRCLE":
            must(entity.dxf.radius > 0, "a circle without radius")
            seen["CIRCLE", entity.dxf.layer, rounded(entity.dxf.center), round(entity.dxf.radius, 6)] += 1
        elif entity.dxftype() == "POLYLINE":
            seen["POLYLINE", entity.dxf.layer, tuple(sorted(rounded(v.dxf.location) for v in entity.vertices))] += 1
    twice = [what for what, count in seen.items() if count > 1]
    must(not twice, f"there twice: {twice}")
    drawn = ezdxf.bbox.extents((entity for entity in space if entity.dxftype() != "TEXT"), fast=False)
    low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
    off = [low[0] - drawn.extmin.x, low[1] - drawn.extmin.y, drawn.extmax.x - high[0], drawn.extmax.y - high[1]]
    must(max(off) < 0.02, f"the extents {low}, {high} leave out what is drawn")


def millimetres(text):
    must(text is not None and text.endswith("mm"), f"{text} is not in mm")
    return float(text.removesuffix("mm"))


def check_svg(file):
    root = etree.parse(str(file)).getroot()
    width, height = millimetres(root.get("width")), millimetres(root.get("height"))
    view = [float(number) for number in root.get("viewBox", "").split()]
    must(view == [0.0, 0.0, width, height], f"view box {view} is not that of {width} x {height} mm")
    ids = collections.Counter(element.get("id") for element in root.iter() if element.get("id"))
    must(all(count == 1 for count in ids.values()), f"ids used twice: {ids}")
    words = [element.text for element in root.iter(f"{SVG_NAME}text") if (element.text or "").strip()]
    must(words, "no words")
    clipped = {id(part) for group in root.iter() if group.get("clip-path") for part in group.iter()}
    bare = sum(1 for element in root.iter(f"{SVG_NAME}path") if id(element) not in clipped)
    # With 25.4 pixels to the inch, a pixel of the reader is a millimetre.
    shapes = list(SVG.parse(str(file), ppi=25.4, reify=True).select(lambda element: isinstance(element, Shape)))
    must(shapes, "no lines")
    if not clipped and bare:
        boxes = [box for box in (shape.bbox() for shape in shapes) if box is not None]
        edges = [min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)]
        inside = edges[0] > -0.001 and edges[1] > -0.001 and edges[2] < width + 0.001 and edges[3] < height + 0.001
        must(inside, f"lines from {edges} leave the page of {width} x {height} mm")


def fonts_of(page):
    fonts = page["/Resources"].get("/Font", {})
    for name in fonts:
        yield fonts[name].get_object()


def check_pdf(file):
    reader = pypdf.PdfReader(file, strict=True)
    must(len(reader.pages) > 0, "no pages")
    for number, page in enumerate(reader.pages, 1):
        must(page.extract_text().strip(), f"page {number} has no words")
        must(all(math.isfinite(side) and side > 0 for side in page.mediabox[2:]), f"page {number} has no size")
        for font in fonts_of(page):
            name = font["/BaseFont"]
            must("/ToUnicode" in font, f"page {number}: {name} does not say what its codes mean")
            whole = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            descriptor = whole["/FontDescriptor"].get_object()
            inside = [key for key in ("/FontFile", "/FontFile2", "/FontFile3") if key in descriptor]
            must(inside, f"page {number}: {name} is not in the file")
            must(descriptor[inside[0]].get_object().get_data(), f"page {number}: {name} is empty")
    with pdfplumber.open(file) as plumbed:
        for number, page in enumerate(plumbed.pages, 1):
            must(page.chars, f"page {number} has no letters")
            must(not any("cid:" in char["text"] for char in page.chars), f"page {number} has letters without meaning")


CHECKS = {".dxf": check_dxf, ".svg": check_svg, ".pdf": check_pdf}


def main():
    if len(sys.argv) != 2 or not Path(sys.argv[1]).is_dir():
        sys.exit("usage: check_papers.py FOLDER")
    files = sorted(file for file in Path(sys.argv[1]).rglob("*") if file.suffix.lower() in CHECKS)
    wrong = 0
    for file in files:
        try:
            CHECKS[file.suffix.lower()](file)
        # A reader that gives up says as much of the file as a check that fails.
        except Exception as error:
            wrong += 1
            print(f"{file}: {error or type(error).__name__}")
    counts = collections.Counter(file.suffix.lower() for file in files)
    told = ", ".join(f"{counts[suffix]} {suffix}" for suffix in CHECKS)
    print(f"{len(files)} files read ({told}), {wrong} wrong")
    sys.exit(1 if wrong or not files else 0)


if __name__ == "__main__":
    main()
