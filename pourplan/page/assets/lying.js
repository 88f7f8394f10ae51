// The head as it lies in its file, with hook and parting plane, whether or not a
// mold can be made of it: one more stage of the model. The world is the hook's
// plane: x to the tail, y to the back, the hook's eye at the origin.
const lying = { heads: [], at: 0, shapes: new Map(), loaded: [], plane: null, hook: [0, 0, 0], slid: null, sliding: false, clear: false, turn: Promise.resolve() };

const headNow = () => lying.heads[lying.at];
const shapeNow = () => lying.shapes.get(headNow()?.shape);

// toWorld takes a place along the file's axes, mm, to the world; toFile goes back.
const toWorld = (p) => place(headNow().to_hook, p);
const toFile = (p) => {
  const m = headNow().to_hook, d = sub(p, m.slice(12, 15)), k = m[0] * m[0] + m[1] * m[1] + m[2] * m[2];
  return [0, 4, 8].map((c) => dot(d, m.slice(c, c + 3)) / k);
};
const scaleOf = (m) => Math.hypot(m[0], m[1], m[2]);
const sized = (k) => [k, 0, 0, 0, 0, k, 0, 0, 0, 0, k, 0, 0, 0, 0, 1];

// planeZ is where the parting plane stands while it slides: 0 when it does not.
const planeZ = () => {
  const h = headNow();
  if (lying.slid === null) return 0;
  return toWorld(scaled(h.across, lying.slid))[2] - toWorld(scaled(h.across, h.parting))[2];
};

const square = () => {
  const corner = (x, y) => [x, y, 0];
  const places = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, -1), corner(1, 1), corner(-1, 1)], out = new ArrayBuffer(16 * 6);
  places.forEach((p, i) => { new Float32Array(out).set(p, 4 * i); new Int8Array(out).set([0, 0, 127], 16 * i + 12); });
  return { corners: out, count: 6 };
};

// takeLying shows how heads lie now. A mesh comes once: it stays the same while the
// person points at places on it.
const takeLying = async () => {
  const answer = await transport.ask("lying"), doc = JSON.parse(await answer.blob.text()), shapes = new Map();
  for (const h of doc.heads) {
    const known = lying.shapes.get(h.shape);
    if (known || shapes.has(h.shape)) { shapes.set(h.shape, known ?? shapes.get(h.shape)); continue; }
    const got = await transport.ask("shape?which=" + h.shape);
    if (got.status !== 200) return; // the job has another by now, and says so
    const mesh = JSON.parse(await got.blob.text()), { points, indices } = unpack(mesh, bytesOf(mesh.blob));
    const shape = { ...mesh, points, indices, corners: corners({ points, indices }), count: indices.length };
    if (viewer.painter) hand(viewer.painter, [shape]);
    shapes.set(h.shape, shape);
  }
  lying.heads = doc.heads;
  lying.at = Math.min(lying.at, Math.max(0, doc.heads.length - 1));
  lying.shapes = shapes;
  viewer.canvas.dataset.shape = headNow()?.shape ?? "";
  lying.hook = [0, 0, 0];
  if (!lying.sliding) lying.slid = null;
  if (!viewer.painter) return;
  unload(viewer.painter, lying.loaded);
  for (const h of lying.heads) {
    const blob = bytesOf(h.blob);
    h.wires = h.wires.map((w) => ({ ...w, corners: corners(unpack(w, blob)), count: w.indices }));
  }
  lying.loaded = hand(viewer.painter, lying.heads.flatMap((h) => h.wires));
  if (!lying.plane) { lying.plane = square(); hand(viewer.painter, [lying.plane]); }
  chooseStage();
  showTools();
  redraw();
};

// headCorners are those of the head's box, in the world.
const headCorners = () => {
  const { low, high } = shapeNow(), unit = headNow().unit;
  return Array.from({ length: 8 }, (_, i) => toWorld([0, 1, 2].map((k) => unit * (i >> k & 1 ? high : low)[k])));
};

scenes.head = {
  there: () => Boolean(shapeNow()),
  words: () => `The head as it lies, with its hook and the parting plane${lying.clear ? "; the head is seen through" : ""}`,
  extent: () => {
    const wires = headNow().wires.flatMap((w) => [w.low, w.high]), head = headCorners();
    return around([...head, ...wires], around(head).centre);
  },
  solids: (hue) => {
    const h = headNow(), shape = shapeNow(), none = [0, 0, 0], plain = { cut: null, hatch: 0, pitch: 1, shine: 0.3 };
    const draw = (m) => [{ array: m.array, from: 0, count: m.count, sign: [1, 1, 1], at: [none], facing: 1 }];
    const ball = scenes.head.extent(), head = around(headCorners());
    const pose = multiply(moved([head.centre[0], head.centre[1], planeZ()]), sized(head.radius * 1.25));
    return [
      { ...plain, name: "head", pose: multiply(h.to_hook, sized(h.unit)), colour: hue.metal, line: hue.metal, clear: lying.clear, alpha: 0.5, draws: draw(shape) },
      ...h.wires.map((w, i) => ({ ...plain, name: "wire", pose: i === 0 ? moved(lying.hook) : identity(), colour: hue.wire, line: hue.wire, draws: draw(w) })),
      { ...plain, name: "plane", pose, colour: hue.plane, line: hue.plane, shine: 0, clear: true, alpha: 0.22, draws: draw(lying.plane), size: ball.radius },
    ];
  },
};

// chooseStage shows the mold if there is one and the head if there is none, unless
// the person has chosen.
chooseStage = () => {
  const there = { head: Boolean(shapeNow()), mold: Boolean(viewer.model) };
  const stage = !there.mold && there.head ? "head" : !there.head && state.stage === "head" ? "cast" : !state.chosen && there.mold ? "cast" : state.stage;
  if (stage !== state.stage) {
    state.stage = stage;
    [state.yaw, state.pitch] = slantOf();
    Object.assign(state, { zoom: 1, shift: [0, 0, 0] });
  }
  for (const r of document.getElementsByName("stage")) r.disabled = r.value === "head" ? !there.head : !there.mold;
  byId("viewer").hidden = !there.mold && !there.head;
  byId("no-look").hidden = !byId("viewer").hidden;
  showControls();
};
