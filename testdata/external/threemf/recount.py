"""Reads a 3MF package with Python's own zip and XML readers and recounts it: python3 recount.py FILE

Prints one JSON object: objects, items, triangles and volume (mm3) with every item placed by its transform, the box of
all placed points, the unit, the title, and how many edges of an object are not used once in each direction; of each object its
name, its volume and how often it is placed, of each item its name and the box of its placed points.
"""

import json
import sys
import zipfile
import xml.etree.ElementTree as tree

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"


def model_path(package):
    root = tree.fromstring(package.read("_rels/.rels"))
    for relation in root.iter(RELATION):
        if relation.get("Type").endswith("/3dmodel"):
            return relation.get("Target").lstrip("/")
    raise SystemExit("no relation to a model")


def read_object(element):
    mesh = element.find(CORE + "mesh")
    points = [tuple(float(v.get(k)) for k in "xyz") for v in mesh.iter(CORE + "vertex")]
    faces = [tuple(int(t.get(k)) for k in ("v1", "v2", "v3")) for t in mesh.iter(CORE + "triangle")]
    edges = {}
    for a, b, c in faces:
        for e in ((a, b), (b, c), (c, a)):
            edges[e] = edges.get(e, 0) + 1
    loose = sum(1 for (a, b), n in edges.items() if n != 1 or edges.get((b, a)) != 1)
    return points, faces, loose


def six_volumes(points, faces):
    total = 0.0
    for a, b, c in faces:
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = points[a], points[b], points[c]
        total += ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx)
    return total


def main(path):
    with zipfile.ZipFile(path) as package:
        if package.testzip() is not None:
            raise SystemExit("a damaged file in the package")
        times = sorted({info.date_time for info in package.infolist()})
        root = tree.fromstring(package.read(model_path(package)))
    objects = {e.get("id"): read_object(e) for e in root.iter(CORE + "object")}
    names = {e.get("id"): e.get("name") for e in root.iter(CORE + "object")}
    placed_as = {key: 0 for key in objects}
    boxes = []
    triangles, volume, items = 0, 0.0, 0
    low, high = [float("inf")] * 3, [float("-inf")] * 3
    for item in root.iter(CORE + "item"):
        points, faces, _ = objects[item.get("objectid")]
        m = [float(v) for v in (item.get("transform") or "1 0 0 0 1 0 0 0 1 0 0 0").split()]
        placed = [tuple(x * m[k] + y * m[3 + k] + z * m[6 + k] + m[9 + k] for k in range(3)) for x, y, z in points]
        items += 1
        triangles += len(faces)
        volume += six_volumes(placed, faces) / 6
        placed_as[item.get("objectid")] += 1
        boxes.append({"name": item.get("partnumber"), "object": names[item.get("objectid")],
                      "low": [min(p[k] for p in placed) for k in range(3)], "high": [max(p[k] for p in placed) for k in range(3)]})
        for p in placed:
            low = [min(a, b) for a, b in zip(low, p)]
            high = [max(a, b) for a, b in zip(high, p)]
    title = [m.text for m in root.iter(CORE + "metadata") if m.get("name") == "Title"]
    print(json.dumps({
        "objects": len(objects), "items": items, "triangles": triangles, "volume": volume, "low": low, "high": high,
        "unit": root.get("unit"), "title": title[0] if title else "", "loose_edges": sum(o[2] for o in objects.values()),
        "parts": [item.get("partnumber") for item in root.iter(CORE + "item")],
        "times": times,
        "each": [{"name": names[key], "volume": six_volumes(o[0], o[1]) / 6, "items": placed_as[key]} for key, o in objects.items()],
        "boxes": boxes,
    }))


main(sys.argv[1])
