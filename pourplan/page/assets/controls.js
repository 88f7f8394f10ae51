// Buttons and sliders beside the canvas.
const changed = () => { showControls(); writeAddress(); speak(); redraw(); };

// showControls writes the state into the controls.
const showControls = () => {
  const cast = state.stage === "cast";
  for (const e of document.querySelectorAll(".mold-only")) e.classList.toggle("hidden", Boolean(sceneNow()));
  for (const r of document.getElementsByName("stage")) r.checked = r.value === state.stage;
  for (const e of document.querySelectorAll(".cast-only")) e.classList.toggle("hidden", !cast);
  const open = byId("open"), lift = state.stage === "pour";
  open.closest("p").classList.toggle("hidden", state.stage === "print" || Boolean(sceneNow()));
  open.labels[0].textContent = lift ? "Lift the rubber out" : "Open the mold";
  open.value = lift ? state.lift : state.open;
  say("open", lift ? `${Math.round(state.lift / 1.8)} %` : `${Math.round(state.open)}°`);
  byId("metal").value = state.level;
  say("metal", `${Math.round(state.level)} %`);
  byId("axis").value = state.axis;
  byId("cut").value = state.cut;
  byId("cut").disabled = byId("side").disabled = state.axis === "";
  byId("clear").checked = state.clear;
  if (state.axis !== "" && viewer.model) {
    const [low, high] = reachOf(viewer.model, Number(state.axis));
    say("cut", `${(low + (high - low) * state.cut / 1000).toFixed(1)} mm`);
  } else {
    say("cut", "");
  }
};

const say = (id, text) => { document.querySelector(`output[for="${id}"]`).textContent = text; byId(id).setAttribute("aria-valuetext", text); };

// openToEye keeps the side of a cut that lies behind it, so that one looks in.
const openToEye = () => {
  if (state.axis === "" || !viewer.camera) return;
  state.side = false;
  const pose = halfPose(viewer.model, "right"), n = cutOf(viewer.model, "right");
  const way = sub(place(pose, n.slice(0, 3)), place(pose, [0, 0, 0]));
  state.side = dot(way, viewer.camera.back) < 0;
};

const connect = () => {
  for (const r of document.getElementsByName("stage")) {
    r.addEventListener("change", () => {
      state.stage = r.value;
      state.chosen = true;
      [state.yaw, state.pitch] = slantOf();
      Object.assign(state, { zoom: 1, shift: [0, 0, 0], cut: 500 });
      viewer.camera = cameraNow();
      openToEye();
      changed();
    });
  }
  byId("open").addEventListener("input", (e) => { state[state.stage === "pour" ? "lift" : "open"] = Number(e.target.value); changed(); });
  byId("metal").addEventListener("input", (e) => { state.level = Number(e.target.value); changed(); });
  byId("axis").addEventListener("change", (e) => { state.axis = e.target.value; openToEye(); changed(); });
  byId("cut").addEventListener("input", (e) => { state.cut = Number(e.target.value); changed(); });
  byId("side").addEventListener("click", () => { state.side = !state.side; changed(); });
  byId("clear").addEventListener("change", (e) => { state.clear = e.target.checked; changed(); });
  byId("rise").addEventListener("click", rise);
  for (const b of document.querySelectorAll("[data-view]")) {
    b.addEventListener("click", () => {
      const [yaw, pitch] = b.dataset.view === "slant" ? slantOf() : setViews[b.dataset.view];
      glide({ yaw, pitch, zoom: 1, shift: [0, 0, 0] }, changed);
    });
  }
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { viewer.painter.colours = colours(); redraw(); });
  addEventListener("resize", redraw);
  addEventListener("beforeprint", () => { for (const d of document.querySelectorAll(".half details")) d.open = true; });
  new ResizeObserver(redraw).observe(byId("stand"));
};

// rise pours the metal in, within some seconds; into a closed mold one looks
// through the rubber.
let rising = 0;
const rise = () => {
  cancelAnimationFrame(rising);
  if (state.open < 45 && state.axis === "") state.clear = true;
  if (calm()) { state.level = 100; changed(); return; }
  const begin = performance.now(), seconds = Math.min(3 + viewer.model.pours.length, 10);
  const step = () => {
    state.level = clamp((performance.now() - begin) / (10 * seconds), 0, 100);
    changed();
    if (state.level < 100) rising = requestAnimationFrame(step);
  };
  step();
};
