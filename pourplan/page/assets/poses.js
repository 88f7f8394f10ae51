// Where each half stands at each stage of the work. The world has Y up, mm.
const gap = 14; // between the trays on the bench
const besideParting = 0.05; // how near a cut comes to the parting plane: more than a step of the packed vertices

// halfPose takes mold coordinates of a half to the world.
const halfPose = (model, half) => {
  const tray = model.trays[half === "right" ? 1 : 0];
  if (state.stage === "cast") {
    if (half === "right" || state.open === 0) return identity();
    // The left half opens like the cover of a book, about its edge at low x.
    const hinge = rubberOf(tray).low[0];
    return multiply(moved([hinge, 0, 0]), multiply(turnedUp(-state.open * Math.PI / 180), moved([-hinge, 0, 0])));
  }
  const box = boundsOf(tray), wide = box.high[0] - box.low[0], s = signOf(half);
  const middle = half === "right" ? wide / 2 + gap / 2 : -wide / 2 - gap / 2;
  // Print to world: x stays, y goes away from the viewer, z up.
  const x = middle - s[0] * (box.low[0] + box.high[0]) / 2, z = (box.low[1] + box.high[1]) / 2;
  return [s[0], 0, 0, 0, 0, 0, -1, 0, 0, s[2], 0, 0, x, -tray.low[2], z, 1];
};

// liftOf is how far rubber stands out of its tray, mm.
const liftOf = (tray) => state.stage === "pour" ? state.lift / 180 * (tray.fill + 22) : 0;

const rubberPose = (model, half) => {
  const tray = model.trays[half === "right" ? 1 : 0];
  return multiply(moved([0, liftOf(tray), 0]), halfPose(model, half));
};

// cutOf is the plane of the cut for a half, in mold coordinates: what is on
// its positive side is taken away. null without one.
const cutOf = (model, half) => {
  if (state.axis === "") return null;
  const k = Number(state.axis), [low, high] = reachOf(model, k);
  const at = low + (high - low) * state.cut / 1000;
  const n = [0, 0, 0];
  let way = state.side ? -1 : 1, where = at;
  if (k === 2 && state.stage !== "cast") { // by height over the floor, alike in both trays
    n[2] = way * signOf(half)[2];
    return [...n, -way * where];
  }
  // In the parting plane both halves end: a cut just there would paint faces that lie in it.
  if (k === 2 && Math.abs(where) < besideParting) where = where < 0 ? -besideParting : besideParting;
  n[k] = way;
  return [...n, -way * where];
};

// reachOf is between where a cut can go.
const reachOf = (model, k) => {
  const [a, b] = model.trays;
  if (state.stage === "cast") {
    const p = rubberOf(a), q = rubberOf(b);
    return [Math.min(p.low[k], q.low[k]), Math.max(p.high[k], q.high[k])];
  }
  if (k === 2) return [Math.min(a.low[2], b.low[2]), Math.max(a.high[2], b.high[2])];
  const p = boundsOf(a), q = boundsOf(b);
  return [Math.min(p.low[k], q.low[k]), Math.max(p.high[k], q.high[k])];
};

// extent is what is shown, in the world: corners, their middle and a radius.
const extent = (model) => {
  if (sceneNow()) return sceneNow().extent();
  const corners = [];
  for (const tray of model.trays) {
    const box = state.stage === "cast" ? rubberOf(tray) : boundsOf(tray), poses = [halfPose(model, tray.half)];
    if (liftOf(tray) > 0) poses.push(rubberPose(model, tray.half));
    for (const m of poses) {
      for (let i = 0; i < 8; i++) corners.push(place(m, [0, 1, 2].map((k) => (i >> k & 1 ? box.high : box.low)[k])));
    }
  }
  return around(corners);
};

// around is the extent of some corners.
const around = (corners, centre) => {
  const low = [0, 1, 2].map((k) => Math.min(...corners.map((p) => p[k]))), high = [0, 1, 2].map((k) => Math.max(...corners.map((p) => p[k])));
  return { corners, centre: centre ?? scaled(add(low, high), 0.5), radius: Math.hypot(...sub(high, low)) / 2 };
};
