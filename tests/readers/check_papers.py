#!/usr/bin/env python3
"""Opens every drawing in a folder with readers that others wrote, and says what is wrong with it.

    pip install -r tests/readers/requirements.txt
    python3 tests/readers/check_papers.py FOLDER

Exits with 1 when any file is not what it should be; the last line counts the files.

  .dxf  millimetres by its name or by $INSUNITS, words on TEXT, release 12, the audit finds nothing, something is cut, all of
        it is closed and encloses an area, nothing lies on
        nothing, layers are CUT, BEND, ETCH and TEXT, the extents in the header are those of what is drawn
  .svg  width and height in mm, the view box in the same numbers (of a picture of a cavity: in one scale to them), ids used
        once, inside the page, words on it
  .pdf  strictly read, every page has words and the size of a sheet of paper, every font is in the file with what its codes
        mean

In a folder with a cut-list.csv, what was drawn is held against it as well:

  sizes, holes and bends of each pattern-MARK_mm.dxf, its holes one by one against holes.csv, and every mark is on the flat
  patterns, the nests, the labels and a box drawing
"""

import collections
import csv
import html
import math
import re
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
    # Release 12 has no variable for units; a reader that finds one anyway must find millimetres.
    units = doc.header.get("$INSUNITS", None)
    must(units == 4 or (units in (None, 0) and file.stem.endswith("_mm")), f"units are {units}, and the name says none")
    space = doc.modelspace()
    must(space.query('TEXT[layer=="TEXT"]'), "no words on TEXT")
    must(all(line.dxf.layer in ("BEND", "TEXT", "ETCH") for line in space.query("LINE")), "loose lines on CUT")
    outlines = list(space.query('POLYLINE[layer=="CUT"]'))
    must(outlines, "nothing is cut")
    must(all(outline.is_closed for outline in outlines), "an outline on CUT is open")
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
    if file.name.startswith("layout-"):
        # A picture of a cavity: its numbers are millimetres of the truck, drawn to one scale.
        must(len(view) == 4 and abs(view[2] / width - view[3] / height) < 0.005 * view[2] / width, f"{view} is stretched")
    else:
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


PAPER_MM = [(210.0, 297.0), (297.0, 420.0), (215.9, 279.4), (279.4, 431.8)]


def is_paper(box):
    sides = sorted(float(side) * 25.4 / 72 for side in (box.width, box.height))
    return any(abs(sides[0] - a) < 0.1 and abs(sides[1] - b) < 0.1 for a, b in PAPER_MM)


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
        must(is_paper(page.mediabox), f"page {number} has the size of no paper: {page.mediabox}")
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


def rows(file):
    with open(file, newline="", encoding="utf-8") as opened:
        return list(csv.DictReader(opened))


def number(text):
    return float(text.lstrip("~"))


def near(a, b, within):
    return abs(a - b) <= within + 1e-6


def check_pattern(folder, line, holes):
    """One piece of sheet against its line of the cut list; sizes there are rounded to 0.1 mm, one way."""
    mark = line["mark"]
    file = folder / f"pattern-{mark.lower()}_mm.dxf"
    must(file.exists(), f"{mark} is sheet and has no pattern")
    space = ezdxf.readfile(file).modelspace()
    drawn = ezdxf.bbox.extents(space.query('POLYLINE[layer=="CUT"]'), fast=False)
    for name, side in (("length mm", drawn.size.x), ("width mm", drawn.size.y)):
        must(near(number(line[name]), side, 0.1), f"{mark}: {name} {line[name]} in the list, {side:.3f} in the pattern")
    circles = [circle for circle in space.query('CIRCLE[layer=="CUT"]')]
    counts = [int(count) for count in re.findall(r'(\d+) of [\d./]+(?: mm|")', line["holes"])]
    must(len(circles) == sum(counts) == len(holes), f"{mark}: {len(circles)} holes drawn, {line['holes']} in the list")
    bends = len(space.query('LINE[layer=="BEND"]'))
    must(bends == int(line["bends"]), f"{mark}: {bends} bends drawn, {line['bends']} in the list")
    for hole in holes:
        at, diameter = (number(hole["x mm"]), number(hole["y mm"])), number(hole["diameter mm"])
        must(
            any(
                near(circle.dxf.center.x, at[0], 0.05)
                and near(circle.dxf.center.y, at[1], 0.05)
                and near(circle.dxf.radius * 2, diameter, 0.1)
                for circle in circles
            ),
            f"{mark}: hole {hole['hole']} of the table is not drawn",
        )
        must(hole["for"], f"{mark}: hole {hole['hole']} says not what it is for")


def text_of(folder, pattern):
    pages = [page for file in sorted(folder.glob(pattern)) for page in pypdf.PdfReader(file).pages]
    return "\n".join(page.extract_text() for page in pages)


def check_list(folder):
    """What was drawn against the cut list; how many of its lines were held."""
    lines = rows(folder / "cut-list.csv")
    must(lines, "the cut list is empty")
    by_mark = collections.defaultdict(list)
    for hole in rows(folder / "holes.csv"):
        by_mark[hole["mark"]].append(hole)
    for line in lines:
        if line["machine"].startswith("knife"):
            mark = line["mark"]
            must(not list(folder.glob(f"pattern-{mark.lower()}_mm.dxf")), f"{mark} goes to no laser and has a file for one")
        elif line["thickness or section"].endswith("sheet"):
            check_pattern(folder, line, by_mark[line["mark"]])
    labels = (folder / "labels.html").read_text(encoding="utf-8")
    tags = collections.Counter(re.findall(r'<p class="mark">([^<]+)<span>piece', html.unescape(labels)))
    drawn = {pattern: text_of(folder, pattern) for pattern in ("flat-patterns.pdf", "nests.pdf", "drawing-*.pdf")}
    for line in lines:
        mark = line["mark"]
        must(tags[mark] == int(line["number off"]), f"{mark}: {line['number off']} off in the list, {tags[mark]} labels")
        for pattern, text in drawn.items():
            # Words that stand close together come out of a reader without a space between them.
            must(re.search(rf"(?<![A-Z0-9]){mark}(?![0-9])|(?<=[0-9]){mark}(?![0-9])", text), f"{mark} is not on {pattern}")
    must(set(tags) == {line["mark"] for line in lines}, "labels of marks that are not on the list")
    return len(lines)


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
    for file in sorted(Path(sys.argv[1]).rglob("cut-list.csv")):
        try:
            print(f"{check_list(file.parent)} lines of {file} held against what was drawn")
        except Exception as error:
            wrong += 1
            print(f"{file}: {error or type(error).__name__}")
    counts = collections.Counter(file.suffix.lower() for file in files)
    told = ", ".join(f"{counts[suffix]} {suffix}" for suffix in CHECKS)
    print(f"{len(files)} files read ({told}), {wrong} wrong")
    sys.exit(1 if wrong or not files else 0)


if __name__ == "__main__":
    main()
