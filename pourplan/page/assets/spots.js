// Findings: marked at their place, and shown when they are picked in the list.
let spots = [];

// worldOf is where a place of the mold is in the world, as it stands now.
const worldOf = (at) => {
  const half = at[2] > 0.01 ? "left" : "right";
  return place(state.stage === "cast" ? halfPose(viewer.model, half) : rubberPose(viewer.model, half), at);
};

// placeMarkers puts each letter at its place; where several would lie on one
// another they are moved up, on a pin.
const placeMarkers = () => {
  if (!viewer.model) return;
  const apart = 30, put = [];
  for (const s of spots) {
    const p = onScreen(worldOf(s.at)), shown = p.seen && !sceneNow() && (s.mark || s.index === state.spot) && (s.stage === "cast") === (state.stage === "cast");
    s.button.hidden = !shown;
    s.pin.setAttribute("visibility", shown ? "visible" : "hidden");
    if (!shown) continue;
    let y = p.y;
    for (let tries = 0; tries < 26 && put.some((q) => Math.hypot(q.x - p.x, q.y - y) < apart); tries++) y -= apart / 2;
    put.push({ x: p.x, y });
    s.button.style.transform = `translate(${p.x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    for (const [key, value] of Object.entries({ x1: p.x, y1: p.y, x2: p.x, y2: y })) s.pin.setAttribute(key, value.toFixed(1));
  }
};

const readSpots = () => {
  const box = byId("markers");
  box.replaceChildren();
  byId("pins").replaceChildren();
  spots = viewer.model ? JSON.parse(byId("spots").textContent) : [];
  for (const s of spots) {
    const text = document.querySelector(`[data-spot="${s.index}"]`)?.textContent ?? "";
    s.button = Object.assign(document.createElement("button"), { type: "button", className: s.severity, textContent: s.mark || "•" });
    s.button.setAttribute("aria-label", `${s.severity} ${s.mark || ""}. ${text}`);
    s.button.addEventListener("click", () => choose(s.index, s));
    box.append(s.button);
    s.pin = document.createElementNS(byId("pins").namespaceURI, "line");
    byId("pins").append(s.pin);
  }
  for (const b of document.querySelectorAll("button[data-spot]")) {
    b.hidden = !viewer.model;
    b.addEventListener("click", () => { byId("look").scrollIntoView({ block: "nearest" }); choose(Number(b.dataset.spot)); });
  }
  if (!viewer.watchers.includes(placeMarkers)) viewer.watchers.push(placeMarkers);
};

// choose turns the view to a finding: to its first place, or to the one given.
const choose = (index, at) => {
  const s = at ?? JSON.parse(byId("spots").textContent).find((s) => s.index === index);
  if (!s || !viewer.model) return;
  state.spot = index;
  for (const b of document.querySelectorAll("button[data-spot]")) b.closest("li").classList.toggle("chosen", Number(b.dataset.spot) === index);
  for (const m of spots) m.button.classList.toggle("chosen", m.index === index);
  state.stage = s.stage;
  state.axis = "";
  const to = s.stage === "cast" ? { yaw: 0, pitch: 8 } : { yaw: 0, pitch: 62 };
  if (s.stage === "cast") state.open = 180;
  Object.assign(to, { zoom: 2.2, shift: sub(worldOf(s.at), extent(viewer.model).centre) });
  glide(to, changed);
};
