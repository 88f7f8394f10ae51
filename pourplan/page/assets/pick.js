// Pointing at the head: by pointer, or with a cross that the arrow keys move. What
// is pointed at goes to the engine as the ray along which it is seen; the engine
// takes the place on the real surface, or in the parting plane.
const pick = { tool: null, at: null, first: null };

const toolsOf = (h) => [
  { key: h.keys.nose, item: -1, label: "nose", surface: true },
  { key: h.keys.back, item: -1, label: "back", surface: true },
  ...h.points.map((p) => ({ ...p })),
  { key: "keeper", item: -1, label: "new keeper", ends: 2 },
];

// rayAt is how a place of the canvas, in its own pixels, is looked at: along the
// file's axes.
const rayAt = ({ x, y }) => {
  const box = viewer.canvas.getBoundingClientRect(), c = viewer.camera, k = Math.tan(viewAngle / 2);
  const right = (2 * x / box.width - 1) * k * box.width / box.height, up = (1 - 2 * y / box.height) * k;
  const way = add(add(scaled(c.right, right), scaled(c.up, up)), scaled(c.back, -1)), from = toFile(c.eye);
  return { from, way: unit(sub(toFile(add(c.eye, way)), from)) };
};

// meet is where a ray first meets the head's facets as they are drawn (Möller and
// Trumbore, 1997).
const meet = ({ from, way }) => {
  const { points: p, indices: n } = shapeNow(), u = headNow().unit, o = scaled(from, 1 / u);
  let near = Infinity;
  for (let t = 0; t < n.length; t += 3) {
    const a = 3 * n[t], b = 3 * n[t + 1], c = 3 * n[t + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2], vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const px = way[1] * vz - way[2] * vy, py = way[2] * vx - way[0] * vz, pz = way[0] * vy - way[1] * vx, det = ux * px + uy * py + uz * pz;
    if (det === 0) continue;
    const sx = o[0] - p[a], sy = o[1] - p[a + 1], sz = o[2] - p[a + 2], x = (sx * px + sy * py + sz * pz) / det;
    if (x < 0 || x > 1) continue;
    const qx = sy * uz - sz * uy, qy = sz * ux - sx * uz, qz = sx * uy - sy * ux, y = (way[0] * qx + way[1] * qy + way[2] * qz) / det;
    if (y < 0 || x + y > 1) continue;
    const at = (vx * qx + vy * qy + vz * qz) / det;
    if (at > 0 && at < near) near = at;
  }
  return near < Infinity ? scaled(add(o, scaled(way, near)), u) : null;
};

// onPlane is where a ray meets the parting plane; null where that is seen edge-on.
const onPlane = ({ from, way }) => {
  const { across, parting } = headNow(), steep = dot(way, across);
  return Math.abs(steep) < Math.sin(5 * Math.PI / 180) ? null : add(from, scaled(way, (parting - dot(from, across)) / steep));
};

const inUnits = (p) => p.map((x) => (x / headNow().unit).toFixed(2).replace("-", "−")).join(", ");

// aimAt moves the cross and says what it is on.
const aimAt = (at) => {
  const box = viewer.canvas.getBoundingClientRect(), aim = byId("aim");
  pick.at = { x: clamp(at.x, 0, box.width), y: clamp(at.y, 0, box.height) };
  aim.hidden = false;
  aim.style.transform = `translate(${pick.at.x.toFixed(1)}px, ${pick.at.y.toFixed(1)}px)`;
  const ray = rayAt(pick.at), p = pick.tool.surface ? meet(ray) : onPlane(ray);
  byId("aimed").textContent = `${pick.tool.label}: ${p ? inUnits(p) + (pick.tool.surface ? " on the head" : " in the parting plane") : pick.tool.surface ? "beside the head" : "the plane is seen edge-on: turn the model"}`;
  if (pick.tool.follow && p) { lying.hook = toWorld(p); redraw(); }
};

// choosePointing takes a tool, or puts it away.
const choosePointing = (tool) => {
  pick.tool = tool;
  if (tool) state.chosen = true; // a mold that comes now does not take the head away
  pick.first = null;
  pick.at = null;
  byId("aim").hidden = true;
  lying.hook = [0, 0, 0];
  lying.clear = Boolean(tool && !tool.surface);
  byId("aimed").textContent = tool ? `Point at the ${tool.label} and press. By keys: arrows, then Enter; Escape puts it away.` : "";
  for (const b of byId("aims").children) b.setAttribute("aria-pressed", String(b.tool === tool));
  viewer.canvas.classList.toggle("aiming", Boolean(tool));
  if (tool && !tool.surface) glide({ yaw: 0, pitch: 0 }, redraw);
  speak();
  redraw();
};

// point sends what is pointed at.
const point = () => {
  const ray = rayAt(pick.at), tool = pick.tool;
  if (tool.ends === 2 && !pick.first) {
    pick.first = ray;
    byId("aimed").textContent = "That is where it begins. Point at where it ends.";
    return;
  }
  change("point", { head: lying.at, key: tool.key, item: tool.item, rays: pick.first ? [pick.first, ray] : [ray] });
  choosePointing(null);
  viewer.canvas.focus();
};

const listenPointing = (canvas) => {
  const local = (e) => { const box = canvas.getBoundingClientRect(); return { x: e.clientX - box.x, y: e.clientY - box.y }; };
  let pressed = null;
  canvas.addEventListener("pointerdown", (e) => { pressed = local(e); });
  canvas.addEventListener("pointermove", (e) => { if (pick.tool && e.buttons === 0) aimAt(local(e)); });
  canvas.addEventListener("pointerup", (e) => {
    const at = local(e);
    if (!pick.tool || !pressed || Math.hypot(at.x - pressed.x, at.y - pressed.y) > 4) return;
    aimAt(at);
    point();
  });
  // Before the keys that turn the model.
  canvas.addEventListener("keydown", (e) => {
    if (!pick.tool || e.ctrlKey || e.metaKey || e.altKey) return;
    const step = e.shiftKey ? 1 : 8, by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
    if (by) aimAt({ x: (pick.at ?? middleAim()).x + by[0], y: (pick.at ?? middleAim()).y + by[1] });
    else if (e.key === "Enter" && pick.at) point();
    else if (e.key === "Escape") choosePointing(null);
    else return;
    e.preventDefault();
    e.stopImmediatePropagation();
  }, { capture: true });
};

// middleAim is where the cross begins: where the place is now, else in the middle.
const middleAim = () => {
  const box = viewer.canvas.getBoundingClientRect();
  return pick.tool.at ? onScreen(toWorld(pick.tool.at)) : { x: box.width / 2, y: box.height / 2 };
};
