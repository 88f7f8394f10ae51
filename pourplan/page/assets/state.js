const byId = (id) => document.getElementById(id);

// What the viewer shows. It stays through new models and, by the address, through
// reloading the page.
const state = {
  stage: "cast", open: 118, lift: 0, axis: "", cut: 500, side: false, level: 100, clear: false,
  yaw: 24, pitch: 18, zoom: 1, shift: [0, 0, 0], spot: -1,
};

const numbers = ["open", "lift", "cut", "level", "yaw", "pitch", "zoom"];

const readAddress = () => {
  const given = new URLSearchParams(location.hash.replace(/^#look\??/, ""));
  for (const key of numbers) {
    const x = Number.parseFloat(given.get(key));
    if (Number.isFinite(x)) state[key] = x;
  }
  if (["head", "print", "pour", "cast"].includes(given.get("stage"))) state.stage = given.get("stage");
  if (["0", "1", "2"].includes(given.get("axis"))) state.axis = given.get("axis");
  state.side = given.has("side") ? given.get("side") === "1" : state.side;
  state.clear = given.has("clear") ? given.get("clear") === "1" : state.clear;
};

let writing = 0;
const writeAddress = () => {
  clearTimeout(writing);
  writing = setTimeout(() => {
    const out = new URLSearchParams();
    for (const key of numbers) out.set(key, String(Math.round(100 * state[key]) / 100));
    out.set("stage", state.stage);
    if (state.axis) out.set("axis", state.axis);
    if (state.side) out.set("side", "1");
    if (state.clear) out.set("clear", "1");
    try { history.replaceState(null, "", "#look?" + out); } catch { /* a page without an address */ }
  }, 400);
};

const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
