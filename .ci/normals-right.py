"""Fails unless the normals of a binary STL are right, and as many as admesh puts right
are of facets too thin for its arithmetic: normals-right.py FILE COUNT

admesh 0.98 rounds one product of each component to 32 bits: of a facet thinner than a
few millionths of a mm it gets another normal than the facet has. Here it is worked out
in 64 bits from the corners in the file.
"""
import struct
import sys

THIN, OFF = 2e-6, 1e-4  # mm, and of a unit normal

data = open(sys.argv[1], "rb").read()
thin = 0
for f in struct.iter_unpack("<12fH", data[84:]):
    n, a, b, c = f[0:3], f[3:6], f[6:9], f[9:12]
    u, w = [b[i] - a[i] for i in range(3)], [c[i] - a[i] for i in range(3)]
    x = [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]]
    twice = sum(e * e for e in x) ** 0.5
    if twice == 0 or any(abs(x[i] / twice - n[i]) > OFF for i in range(3)):
        sys.exit(f"{sys.argv[1]}: a facet at {a} has the normal {n}")
    longest = max(sum(e * e for e in v) for v in (u, w, [b[i] - c[i] for i in range(3)])) ** 0.5
    thin += twice < THIN * longest
if thin < int(sys.argv[2]):
    sys.exit(f"{sys.argv[1]}: admesh puts {sys.argv[2]} normals right, {thin} facets are too thin for it")
