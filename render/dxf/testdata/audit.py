# Reads the DXF files named on the command line with ezdxf, audits them, and
# prints what they hold as a JSON list.
import json
import math
import sys

import ezdxf
from ezdxf import bbox


def segments(polyline):
    """Corner and bulge of each piece of a polyline."""
    points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in polyline.vertices]
    pairs = list(zip(points, points[1:]))
    if polyline.is_closed:
        pairs.append((points[-1], points[0]))
    return [(a, b) for a, b in pairs]


def length(polyline):
    total = 0.0
    for (x, y, bulge), (u, v, _) in segments(polyline):
        chord = math.hypot(u - x, v - y)
        if bulge:
            sweep = 4 * math.atan(abs(bulge))
            total += chord / 2 / math.sin(sweep / 2) * sweep
        else:
            total += chord
    return total


def area(polyline):
    total = 0.0
    for (x, y, bulge), (u, v, _) in segments(polyline):
        total += (x * v - u * y) / 2
        if bulge:
            sweep = 4 * math.atan(bulge)
            r = math.hypot(u - x, v - y) / 2 / math.sin(abs(sweep) / 2)
            total += math.copysign(r * r * (abs(sweep) - math.sin(abs(sweep))) / 2, sweep)
    return total


def read(path):
    doc = ezdxf.readfile(path)
    auditor = doc.audit()
    space = doc.modelspace()
    out = {
        "version": doc.dxfversion,
        "errors": [e.message for e in auditor.errors],
        "fixes": [e.message for e in auditor.fixes],
        "min": list(doc.header["$EXTMIN"])[:2],
        "max": list(doc.header["$EXTMAX"])[:2],
        "layers": {l.dxf.name: l.dxf.color for l in doc.layers},
        "types": {},
        "entities": [],
    }
    for t in doc.linetypes:
        out["types"][t.dxf.name] = [tag.value for tag in t.pattern_tags.tags if tag.code == 49]
    for e in space:
        kind = e.dxftype()
        item = {"kind": kind, "layer": e.dxf.layer, "type": e.dxf.get("linetype", "BYLAYER")}
        if kind == "LINE":
            item["points"] = [list(e.dxf.start)[:2], list(e.dxf.end)[:2]]
            item["length"] = (e.dxf.end - e.dxf.start).magnitude
        elif kind == "ARC":
            sweep = math.radians((e.dxf.end_angle - e.dxf.start_angle) % 360)
            item["points"] = [list(e.start_point)[:2], list(e.end_point)[:2]]
            item["length"] = e.dxf.radius * sweep
            item["radius"] = e.dxf.radius
        elif kind == "CIRCLE":
            item["points"] = [list(e.dxf.center)[:2]]
            item["length"] = 2 * math.pi * e.dxf.radius
            item["radius"] = e.dxf.radius
        elif kind == "POLYLINE":
            item["points"] = [list(v.dxf.location)[:2] for v in e.vertices]
            item["closed"] = e.is_closed
            item["length"] = length(e)
            if e.is_closed:
                item["area"] = area(e)
        elif kind == "SOLID":
            item["points"] = [list(p)[:2] for p in (e.dxf.vtx0, e.dxf.vtx1, e.dxf.vtx2, e.dxf.vtx3)]
        elif kind == "TEXT":
            item["text"] = e.plain_text()
            item["height"] = e.dxf.height
            item["points"] = [list(e.dxf.insert)[:2]]
            if e.dxf.hasattr("align_point"):
                item["points"].append(list(e.dxf.align_point)[:2])
        out["entities"].append(item)
    lines = [e for e in space if e.dxftype() != "TEXT"]
    if lines:
        box = bbox.extents(lines)
        out["box"] = [box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y]
    return out


json.dump([read(path) for path in sys.argv[1:]], sys.stdout)
