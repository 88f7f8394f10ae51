// The viewer: a canvas that is drawn again when something on it has changed.
const viewer = { painter: null, model: null, canvas: null, camera: null, dirty: false, watchers: [] };

// What else than a mold can be shown, by the stage's name: solids(hue), extent() and
// words() of it, and whether it is there.
const scenes = {};
let chooseStage = () => {}; // where there is more than one scene
const begins = []; // what else begins with the viewer
const sceneNow = () => scenes[state.stage];

const redraw = () => {
  if (viewer.dirty || !viewer.painter) return;
  viewer.dirty = true;
  requestAnimationFrame(draw);
};

const draw = () => {
  viewer.dirty = false;
  const { canvas, model, painter } = viewer;
  if (sceneNow() ? !sceneNow().there() : !model) return;
  const dots = Math.min(devicePixelRatio || 1, 2), box = canvas.getBoundingClientRect();
  const wide = Math.max(1, Math.round(box.width * dots)), high = Math.max(1, Math.round(box.height * dots));
  if (canvas.width !== wide || canvas.height !== high) { canvas.width = wide; canvas.height = high; }
  viewer.camera = cameraNow();
  const lit = state.stage === "cast" && model.pockets.length > 0;
  paint(painter, model, viewer.camera, lit && !calm() ? 0.6 + 0.4 * Math.sin(performance.now() / 220) : 0.8);
  canvas.dataset.drawn = String(1 + Number(canvas.dataset.drawn ?? 0));
  for (const told of viewer.watchers) told();
  if (lit && !calm() && !document.hidden) setTimeout(redraw, 60); // so that trapped air glows
};

const cameraNow = () => {
  const { canvas, model } = viewer, ball = extent(model);
  return eyeOf(ball, canvas.width / canvas.height, add(ball.centre, state.shift));
};

// onScreen is where a place of the world is on the canvas, in its own pixels.
const onScreen = (p) => {
  const m = viewer.camera.sight, w = m[3] * p[0] + m[7] * p[1] + m[11] * p[2] + m[15];
  const q = place(m, p), box = viewer.canvas.getBoundingClientRect();
  return { x: (q[0] / w + 1) / 2 * box.width, y: (1 - q[1] / w) / 2 * box.height, seen: w > 0 };
};

// describe says in words what is to be seen.
const describe = () => {
  if (sceneNow()) return `${sceneNow().words()}; ${whereFrom()}`;
  const stages = { print: "The printed trays", pour: "Rubber in the trays", cast: "The mold" };
  let text = stages[state.stage];
  if (state.stage === "cast") {
    text += state.open < 1 ? ", closed" : `, opened by ${Math.round(state.open)}°`;
    if (viewer.model) text += ", " + filledText(viewer.model);
    if (viewer.model?.pockets.length) text += `; trapped air in ${viewer.model.pockets.length === 1 ? "one place" : viewer.model.pockets.length + " places"}`;
  }
  if (state.stage === "pour" && state.lift >= 1) text += ", lifted";
  if (state.axis !== "") text += ", cut open";
  return `${text}; ${whereFrom()}`;
};

const whereFrom = () => {
  const yaw = Math.round(state.yaw), pitch = Math.round(state.pitch);
  const side = Math.abs(yaw) <= 45 ? "front" : Math.abs(yaw) >= 135 ? "back" : yaw > 0 ? "right" : "left";
  return `seen from the ${side}, ${Math.abs(pitch)}° from ${pitch >= 0 ? "above" : "below"}.`;
};

let speaking = 0;
const speak = () => {
  clearTimeout(speaking);
  speaking = setTimeout(() => { document.getElementById("seen").textContent = describe(); }, 700);
};
