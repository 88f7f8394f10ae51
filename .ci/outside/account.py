"""Reads an account with Python's csv and computes its figures anew:

    account.py CASTINGS.csv LOG.json PLAN.json
"""

import csv
import json
import math
import statistics
import sys

with open(sys.argv[1], newline="", encoding="utf-8") as f:
    rows = list(csv.DictReader(f, strict=True))
with open(sys.argv[2], encoding="utf-8") as f:
    told = json.load(f)["account"]
with open(sys.argv[3], encoding="utf-8") as f:
    plan = json.load(f)


def near(what, got, want, within=1e-6):
    if not abs(got - want) <= within * max(1, abs(want)):
        sys.exit(f"{what}: halfpour says {got}, computed anew {want}")
    print(f"{what}: {got:.6g}")


shots = sum(int(r["shots"]) for r in rows)
good = sum(int(r["good"]) for r in rows)
every = good + sum(int(r["bad"]) for r in rows)
near("shots", told["life"]["shots"], shots)
near("castings", told["castings"], len(rows))

# Wilson 1927: the shares p with |p - good/every| = z·sqrt(p(1-p)/every).
z = statistics.NormalDist().inv_cdf(0.975)


def end(low, high):
    for _ in range(200):
        middle = (low + high) / 2
        outside = abs(middle - good / every) > z * math.sqrt(middle * (1 - middle) / every)
        if outside == (low < good / every and high <= good / every):
            low = middle
        else:
            high = middle
    return 100 * low


near("yield, low", told["yield"]["low_percent"], end(0, good / every))
near("yield, high", told["yield"]["high_percent"], end(good / every, 1))

weights, factors = [], []
density = plan["metal"]["density_g_cm3"]["best"] * plan["metal"]["account_factor"]
for r in rows:
    for w in map(float, r["weights_g"].split()):
        weights.append(w)
        factors.append((w - float(r["steel_g"])) / (density * float(r["metal_mm3"]) / 1000))
near("mean weight", told["weighed"][0]["mean_g"], statistics.mean(weights))
near("spread", told["weighed"][0]["spread_g"], statistics.stdev(weights))
near("fill factor", told["fill_factor"]["factor"], statistics.mean(factors))
step = 0.01 / math.sqrt(12) / (density * float(rows[-1]["metal_mm3"]) / 1000)
near("its error", told["fill_factor"]["standard_error"], math.hypot(statistics.stdev(factors) / math.sqrt(len(factors)), step))
