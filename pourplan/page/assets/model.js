// Reads the model that stands in the page.
const readModel = (head, base64) => {
  const doc = JSON.parse(head), blob = bytesOf(base64);
  const load = (m) => ({ ...m, corners: corners(unpack(m, blob)), count: m.indices });
  return addPours({ ...doc, trays: doc.trays.map(load), metal: doc.metal.map(load), wires: doc.wires.map(load) });
};

// A print's coordinates differ from the mold's by signs: the right half is
// turned by 180° about Y.
const signOf = (half) => half === "right" ? [-1, 1, -1] : [1, 1, 1];

// boundsOf is the box of a half's tray in mold coordinates.
const boundsOf = (tray) => {
  const s = signOf(tray.half), a = tray.low.map((x, k) => x * s[k]), b = tray.high.map((x, k) => x * s[k]);
  return { low: a.map((x, k) => Math.min(x, b[k])), high: a.map((x, k) => Math.max(x, b[k])) };
};

// rubberOf is the box of a half's rubber in mold coordinates.
const rubberOf = (tray) => {
  const s = signOf(tray.half), a = [...tray.inside[0]], b = [...tray.inside[1]];
  a[2] = 0; b[2] = tray.fill;
  const p = a.map((x, k) => x * s[k]), q = b.map((x, k) => x * s[k]);
  return { low: p.map((x, k) => Math.min(x, q[k])), high: p.map((x, k) => Math.max(x, q[k])) };
};
