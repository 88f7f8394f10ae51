"""Holds the rubber of a plan against the mesh of it that another program cut.

    python3 .ci/outside/boxes.py RUBBER.stl UNIT PLAN.json
"""
import json
import re
import sys

rubber, unit, plan = sys.argv[1:]
corners = [tuple(map(float, m)) for m in re.findall(r"vertex (\S+) (\S+) (\S+)", open(rubber).read())]
volume = 0.0
for (ax, ay, az), (bx, by, bz), (cx, cy, cz) in zip(*[iter(corners)] * 3):
    volume += (ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx)) / 6
want = volume * {"mm": 1, "in": 25.4**3}[unit] / 1000
halves = json.load(open(plan))["rubber"]["halves"]
for half in halves:
    got = half["volume_ml"]["best"]
    print(f"{half['half']}: {got:.4f} ml, {half['volume_us_fl_oz']:.4f} US fl oz; booleans {want:.4f} ml, {got / want - 1:+.1e}")
    assert abs(got / want - 1) < 1e-4
