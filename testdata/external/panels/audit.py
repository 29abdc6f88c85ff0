"""Reads DXF files of panels with ezdxf: python3 audit.py FILE ...

Prints one JSON object a file: its version, the errors and fixes of an audit, how many entities of each type, whether the lines of
layer CUT close to one loop end to end, that loop's area and box, and the circles of layer HOLES as x, y and diameter.
"""

import json
import sys

import ezdxf


def loop(lines):
    """Returns the corners of the loop that lines make end to end, in any order and direction, or None."""
    left = list(lines)
    at, corners = left[0][1], [left[0][0]]
    del left[0]
    while left:
        for k, (a, b) in enumerate(left):
            if a == at or b == at:
                corners.append(at)
                at = b if a == at else a
                del left[k]
                break
        else:
            return None
    return corners if at == corners[0] else None


def main(files):
    for name in files:
        document = ezdxf.readfile(name)
        audit = document.audit()
        kinds, lines, holes = {}, [], []
        for e in document.modelspace():
            kinds[e.dxftype()] = kinds.get(e.dxftype(), 0) + 1
            if e.dxftype() == "LINE" and e.dxf.layer == "CUT":
                lines.append(tuple((round(p.x, 4), round(p.y, 4)) for p in (e.dxf.start, e.dxf.end)))
            if e.dxftype() == "CIRCLE" and e.dxf.layer == "HOLES":
                holes.append([e.dxf.center.x, e.dxf.center.y, 2 * e.dxf.radius])
        corners = loop(lines) if lines else None
        area = 0.0
        for (ax, ay), (bx, by) in zip(corners or [], (corners or [])[1:] + (corners or [])[:1]):
            area += (ax * by - bx * ay) / 2
        print(json.dumps({
            "version": document.dxfversion, "errors": len(audit.errors), "fixes": len(audit.fixes), "kinds": kinds, "closed": corners is not None,
            "corners": len(corners or []), "area": abs(area), "holes": sorted(holes),
            "low": [min(p[k] for p in corners or [(0, 0)]) for k in range(2)], "high": [max(p[k] for p in corners or [(0, 0)]) for k in range(2)],
        }))


main(sys.argv[1:])
