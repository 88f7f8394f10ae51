// What stands below the head: what to point at, the plane to slide, what is proposed.
const showTools = () => {
  const h = headNow();
  byId("tools").hidden = state.stage !== "head" || !shapeNow();
  if (!h) return;
  byId("heads-of").hidden = lying.heads.length < 2;
  byId("which-head").replaceChildren(...lying.heads.map((one, i) => new Option(one.name || `head ${i + 1}`, String(i), false, i === lying.at)));
  const tools = toolsOf(h), same = [...byId("aims").children].map((b) => b.textContent).join() === tools.map((t) => t.label).join();
  if (!same) choosePointing(null);
  byId("aims").replaceChildren(...tools.map((tool) => {
    const b = make("button", "", tool.label);
    b.type = "button";
    b.tool = tool;
    if (pick.tool?.key === tool.key && pick.tool.item === tool.item) pick.tool = tool;
    b.setAttribute("aria-pressed", String(pick.tool === tool));
    b.addEventListener("click", () => { choosePointing(pick.tool === tool ? null : tool); viewer.canvas.focus(); });
    return b;
  }));
  const slide = byId("parting"), step = (h.high - h.low) / h.unit / 400, fine = 10 ** Math.floor(Math.log10(step));
  if (!lying.sliding) {
    Object.assign(slide, { min: String(h.low / h.unit), max: String(h.high / h.unit), step: "any" });
    slide.dataset.fine = String(fine);
    slide.value = String(h.parting / h.unit);
  }
  sayParting();
  byId("ghosts").replaceChildren(...h.ghosts.map((g) => {
    const line = make("li", g.trust === "not sure" ? "unsure" : ""), take = make("button", "", "Take it");
    take.type = "button";
    take.setAttribute("aria-label", `Take ${g.label} ${g.text}`);
    take.addEventListener("click", () => change("set", { path: g.key, text: g.text.replaceAll('"', "") }));
    line.append(`${g.label} ${g.text.replaceAll('"', "")}, ${g.trust}: ${g.why} `, take);
    return line;
  }));
  placeList = null;
};

// slidTo is the plane's place as it is written, in the file's unit.
const slidTo = () => {
  const slide = byId("parting"), fine = Number(slide.dataset.fine) || 0.01;
  return String(Number((Math.round(Number(slide.value) / fine) * fine).toFixed(6)));
};

const sayParting = () => {
  const out = document.querySelector('output[for="parting"]'), text = lying.slid === null ? String(Number((headNow().parting / headNow().unit).toFixed(4))) : slidTo();
  out.textContent = text.replace("-", "−");
  byId("parting").setAttribute("aria-valuetext", text);
};

// Places stand on the model by their names: what the job has, what is proposed, and
// where findings are.
let placeList = null;
const listPlaces = () => {
  const h = headNow(), middle = around(headCorners());
  const ahead = (way) => toFile(add(middle.centre, scaled(unit(sub(toWorld(way), toWorld([0, 0, 0]))), middle.radius * 0.8)));
  const list = [["place", "nose", ahead(h.nose)], ["place", "back", ahead(h.back)],
    ...h.points.filter((p) => p.at).map((p) => [p.label === "gate" ? "place gate" : "place", p.label, p.at]),
    ...h.ghosts.filter((g) => g.at || g.way).map((g) => ["ghost", `${g.label}? ${g.trust}`, g.at ?? ahead(g.way)]),
    ...h.marks.map((m) => [m.severity, m.code, m.at])];
  return list.map(([kind, label, at]) => ({ at, mark: make("span", kind, label) }));
};

const placePlaces = () => {
  const box = byId("places"), shown = state.stage === "head" && shapeNow();
  box.hidden = byId("tools").hidden = !shown;
  if (!shown) return;
  if (!placeList) { placeList = listPlaces(); box.replaceChildren(...placeList.map((p) => p.mark)); }
  const seen = [];
  for (const { at, mark } of placeList) {
    const p = onScreen(toWorld(at));
    mark.hidden = !p.seen;
    if (p.seen) seen.push({ mark, x: p.x, y: p.y });
  }
  for (const s of seen) Object.assign(s, { width: s.mark.offsetWidth, height: s.mark.offsetHeight });
  seen.sort((a, b) => a.y - b.y);
  seen.forEach((s, i) => {
    s.down = 0;
    // From the top: whatever is in the way is above.
    for (const o of seen.slice(0, i).sort((a, b) => a.y + a.down - b.y - b.down)) {
      const beside = s.x >= o.x + o.width + 2 || o.x >= s.x + s.width + 2, gap = o.y + o.down + o.height + 2 - s.y;
      if (!beside && gap > s.down && s.y + s.down + s.height + 2 > o.y + o.down) s.down = gap;
    }
    s.mark.style.setProperty("--down", `${s.down.toFixed(1)}px`);
    s.mark.style.transform = `translate(${s.x.toFixed(1)}px, ${(s.y + s.down).toFixed(1)}px)`;
  });
};

const listenTools = () => {
  const slide = byId("parting");
  slide.addEventListener("input", () => { lying.sliding = true; lying.slid = Number(slidTo()) * headNow().unit; sayParting(); redraw(); });
  slide.addEventListener("keydown", (e) => {
    const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[e.key];
    if (!by) return;
    e.preventDefault();
    slide.value = String(Number(slide.value) + by * Number(slide.dataset.fine));
    slide.dispatchEvent(new Event("input"));
    clearTimeout(slide.waiting);
    slide.waiting = setTimeout(() => slide.dispatchEvent(new Event("change")), 400);
  });
  slide.addEventListener("change", () => {
    lying.sliding = false;
    if (headNow()) change("set", { path: headNow().keys.parting, text: slidTo() });
  });
  byId("which-head").addEventListener("change", (e) => { lying.at = Number(e.target.value); choosePointing(null); showTools(); redraw(); });
  for (const r of document.getElementsByName("stage")) r.addEventListener("change", () => choosePointing(null));
  listenPointing(viewer.canvas);
  viewer.watchers.push(placePlaces);
};
