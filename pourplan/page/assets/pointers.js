// Fingers, mouse, wheel and keys on the canvas.
const listen = (canvas) => {
  const down = new Map();
  const changed = () => { writeAddress(); speak(); redraw(); };
  const shiftBy = (dx, dy) => {
    const k = 2 * Math.tan(viewAngle / 2) * viewer.camera.far / canvas.getBoundingClientRect().height;
    state.shift = add(state.shift, add(scaled(viewer.camera.right, -dx * k), scaled(viewer.camera.up, dy * k)));
  };
  const span = () => {
    const [a, b] = [...down.values()];
    return { long: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  };
  canvas.addEventListener("pointerdown", (e) => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
  });
  canvas.addEventListener("pointermove", (e) => {
    const last = down.get(e.pointerId);
    if (!last || !viewer.camera) return;
    const before = down.size === 2 ? span() : null;
    const dx = e.clientX - last.x, dy = e.clientY - last.y;
    down.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (before) {
      const now = span();
      if (before.long > 0) zoomBy(now.long / before.long);
      shiftBy(now.x - before.x, now.y - before.y);
    } else if (e.shiftKey || e.buttons & 2) {
      shiftBy(dx, dy);
    } else {
      turnBy(-dx * 0.45, dy * 0.45);
    }
    changed();
  });
  for (const name of ["pointerup", "pointercancel", "lostpointercapture"]) canvas.addEventListener(name, (e) => down.delete(e.pointerId));
  canvas.addEventListener("contextmenu", (e) => e.preventDefault());
  canvas.addEventListener("wheel", (e) => {
    e.preventDefault();
    zoomBy(Math.exp(-e.deltaY * (e.deltaMode === 1 ? 0.05 : 0.0016)));
    changed();
  }, { passive: false });
  canvas.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const step = 6, far = 24, move = e.shiftKey && viewer.camera;
    const keys = {
      ArrowLeft: () => move ? shiftBy(-far, 0) : turnBy(-step, 0),
      ArrowRight: () => move ? shiftBy(far, 0) : turnBy(step, 0),
      ArrowUp: () => move ? shiftBy(0, -far) : turnBy(0, step),
      ArrowDown: () => move ? shiftBy(0, far) : turnBy(0, -step),
      "+": () => zoomBy(1.15), "=": () => zoomBy(1.15), "-": () => zoomBy(1 / 1.15),
      Home: () => { state.zoom = 1; state.shift = [0, 0, 0]; },
    };
    if (!keys[e.key]) return;
    e.preventDefault();
    keys[e.key]();
    changed();
  });
};
