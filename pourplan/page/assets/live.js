// Hears from the engine what has changed, and takes it over in place.
const hears = {}; // what else is done at an event, by its kind

const follow = () => {
  const news = byId("news"), trouble = byId("trouble");
  const own = "seen" in document.body.dataset; // the page is the mold's alone: it has its name
  let which = new URLSearchParams(location.search).get("which") ?? "";
  const tell = (text, working) => { news.textContent = text; news.classList.toggle("working", working); };
  const fresh = async (name) => {
    const answer = await transport.ask(which ? `${name}?which=${encodeURIComponent(which)}` : name);
    if (answer.status !== 200) throw new Error(`${name}: ${answer.status}`);
    return new DOMParser().parseFromString(await answer.blob.text(), "text/html");
  };
  const takeFigures = async () => {
    const doc = await fresh("figures");
    const open = new Set([...document.querySelectorAll("details")].filter((d) => d.open).map((d) => d.querySelector("summary").textContent));
    for (const id of ["sizes", "first", "model-note", "rest", "spots"]) byId(id).replaceWith(document.adoptNode(doc.getElementById(id)));
    for (const d of document.querySelectorAll("#first details, #rest details")) d.open = open.has(d.querySelector("summary").textContent);
    if (own) {
      document.title = doc.title;
      document.querySelector("h1").textContent = doc.querySelector("h1").textContent;
    }
    listenScale();
    listenBench();
    if (viewer.painter) { readSpots(); redraw(); }
  };
  const takeModel = async () => {
    const doc = await fresh("model");
    for (const id of ["model", "blob"]) byId(id).textContent = doc.getElementById(id).textContent;
    if (viewer.painter) showModel();
  };
  let last = Promise.resolve();
  const then = (take) => { last = last.then(take).catch((fault) => tell(String(fault), false)); };
  // A size is gone to without leaving the page: its engine may live in it.
  document.addEventListener("click", (e) => {
    const link = e.target.closest?.("#sizes a");
    if (!link || e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    which = new URLSearchParams(link.search).get("which") ?? "";
    try { history.replaceState(null, "", link.search + location.hash); } catch { /* a page without an address */ }
    then(takeFigures);
    then(takeModel);
  });
  // What is told is told in order: after what it is about has been taken over.
  transport.hear(document.body.dataset.seen ?? 0, {
    end: () => tell("The build has ended. This page no longer updates.", false),
    ...hears,
    busy: (text) => then(() => tell(text, true)),
    status: (text) => then(() => tell(text, false)),
    figures: () => then(takeFigures),
    model: () => then(takeModel),
    trouble: (text) => { trouble.textContent = JSON.parse(text); trouble.hidden = trouble.textContent === ""; },
  });
};
