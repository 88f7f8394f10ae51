// Asks the server of a watching build for changes, and takes them over in place.
const follow = () => {
  const news = byId("news"), trouble = byId("trouble");
  const tell = (text, working) => { news.textContent = text; news.classList.toggle("working", working); };
  const fresh = async (name) => {
    const answer = await fetch(name + location.search, { cache: "no-store" });
    if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
    return new DOMParser().parseFromString(await answer.text(), "text/html");
  };
  const takeFigures = async () => {
    const doc = await fresh("figures");
    const open = new Set([...document.querySelectorAll("details")].filter((d) => d.open).map((d) => d.querySelector("summary").textContent));
    for (const id of ["sizes", "first", "model-note", "rest", "spots"]) byId(id).replaceWith(document.adoptNode(doc.getElementById(id)));
    for (const d of document.querySelectorAll("details")) d.open = open.has(d.querySelector("summary").textContent);
    document.title = doc.title;
    document.querySelector("h1").textContent = doc.querySelector("h1").textContent;
    listenScale();
    listenBench();
    if (viewer.painter && viewer.model) { readSpots(); redraw(); }
  };
  const takeModel = async () => {
    const doc = await fresh("model");
    for (const id of ["model", "blob"]) byId(id).textContent = doc.getElementById(id).textContent;
    if (viewer.painter) showModel();
  };
  const events = new EventSource(`events?seen=${document.body.dataset.seen ?? 0}`);
  let last = Promise.resolve();
  const then = (take) => { last = last.then(take).catch((fault) => tell(String(fault), false)); };
  // What is told is told in order: after what it is about has been taken over.
  events.addEventListener("busy", (e) => then(() => tell(e.data, true)));
  events.addEventListener("status", (e) => then(() => tell(e.data, false)));
  events.addEventListener("figures", () => then(takeFigures));
  events.addEventListener("model", () => then(takeModel));
  events.addEventListener("trouble", (e) => { trouble.textContent = JSON.parse(e.data); trouble.hidden = trouble.textContent === ""; });
  events.addEventListener("error", () => tell("The build has ended. This page no longer updates.", false));
};
