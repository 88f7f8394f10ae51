#!/usr/bin/env python3
"""Reads 3MF files by the rules of the core specification, without the library
that wrote them: the package's parts, unit and namespace, whole indices, every
edge twice in opposite ways, and a build that places each object once, on or
over the plate and clear of the others."""

import sys
import zipfile
from xml.etree import ElementTree

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
RELS = "{http://schemas.openxmlformats.org/package/2006/relationships}"
TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"
MODEL_REL = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"


class Broken(Exception):
    """A rule that a file breaks."""


def need(condition, message):
    if not condition:
        raise Broken(message)


def model_part(package):
    """Returns the name of the package's model, found as a reader must find it."""
    need(package.testzip() is None, "a part's checksum is wrong")
    rels = ElementTree.fromstring(package.read("_rels/.rels"))
    targets = [r.get("Target") for r in rels.iter(RELS + "Relationship") if r.get("Type") == MODEL_REL]
    need(len(targets) == 1, f"{len(targets)} start parts, must be 1")
    name = targets[0].lstrip("/")
    types = ElementTree.fromstring(package.read("[Content_Types].xml"))
    of_extension = {d.get("Extension").lower(): d.get("ContentType") for d in types.iter(TYPES + "Default")}
    need(of_extension.get(name.rsplit(".", 1)[-1].lower()) == MODEL_TYPE, f"{name} has no content type of a model")
    return name


def check_mesh(name, mesh):
    """Returns vertices and the number of triangles of a closed, oriented mesh."""
    vertices = [(float(v.get("x")), float(v.get("y")), float(v.get("z"))) for v in mesh.iter(CORE + "vertex")]
    n = len(vertices)
    need(len(set(vertices)) == n, f"{name}: two vertices are at one place")
    edges, used = set(), set()  # an edge from a to b is a * n + b
    count = 0
    for t in mesh.iter(CORE + "triangle"):
        a, b, c = int(t.get("v1")), int(t.get("v2")), int(t.get("v3"))
        need(a != b and b != c and c != a, f"{name}: triangle {count} has a corner twice")
        need(0 <= a < n and 0 <= b < n and 0 <= c < n, f"{name}: triangle {count} points past the vertices")
        edges.update((a * n + b, b * n + c, c * n + a))
        used.update((a, b, c))
        count += 1
    need(count >= 4, f"{name}: {count} triangles enclose nothing")
    need(len(edges) == 3 * count, f"{name}: an edge is used twice in one direction")
    need(all(e % n * n + e // n in edges for e in edges), f"{name}: an edge has a triangle on one side only")
    need(len(used) == n, f"{name}: a vertex belongs to no triangle")
    return vertices, count


def placed_box(item, vertices):
    """Returns the least and the greatest corner of an object where the build puts it."""
    m = [float(n) for n in item.get("transform", "1 0 0 0 1 0 0 0 1 0 0 0").split()]
    need(len(m) == 12, f"a transform has {len(m)} numbers")
    moved = [tuple(x * m[i] + y * m[3 + i] + z * m[6 + i] + m[9 + i] for i in range(3)) for x, y, z in vertices]
    return [min(p[i] for p in moved) for i in range(3)], [max(p[i] for p in moved) for i in range(3)]


def check(path):
    with zipfile.ZipFile(path) as package:
        model = ElementTree.fromstring(package.read(model_part(package)))
    need(model.tag == CORE + "model", f"the root is {model.tag}")
    need(model.get("unit") == "millimeter", f"the unit is {model.get('unit')}")
    objects = {}
    for o in model.iter(CORE + "object"):
        need(o.get("id") not in objects, f"id {o.get('id')} is used twice")
        objects[o.get("id")] = (o.get("name"), *check_mesh(o.get("name"), o.find(CORE + "mesh")))
    items = list(model.find(CORE + "build"))
    need(sorted(i.get("objectid") for i in items) == sorted(objects), "the build does not place each object once")
    boxes = []
    for item in items:
        name, vertices, count = objects[item.get("objectid")]
        low, high = placed_box(item, vertices)
        need(min(low) >= 0, f"{name}: is placed off the plate, at {low}")
        need(low[2] < 1e-3, f"{name}: hovers {low[2]} mm over the plate")
        for other, (l, h) in boxes:
            need(any(low[i] > h[i] or high[i] < l[i] for i in range(3)), f"{name} is placed into {other}")
        boxes.append((name, (low, high)))
        size = " x ".join(f"{h - l:.2f}" for l, h in zip(low, high))
        print(f"{path}: {name}: {len(vertices)} vertices, {count} triangles, {size} mm, closed and oriented")


def main():
    try:
        for path in sys.argv[1:]:
            check(path)
    except Broken as broken:
        sys.exit(f"{path}: {broken}")


main()
