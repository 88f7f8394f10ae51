// The way from the page to an engine in a worker of this browser: takes the place
// of transport.js where there is no server behind the page.
const transport = (() => {
  const worker = new Worker("engine.js"), asked = new Map();
  let last = 0, ended = "", heard = null;
  worker.addEventListener("message", ({ data }) => {
    if (data.ready) { navigator.serviceWorker?.register("sw.js"); heard?.open?.(""); return; }
    if (data.ended) {
      ended = data.ended;
      heard?.status?.(ended);
      for (const id of [...asked.keys()]) answer({ id, status: 500, blob: new Blob([ended]) });
      return;
    }
    if (data.kind) { heard[data.kind]?.(data.text); return; }
    answer(data);
  });
  const answer = (data) => {
    asked.get(data.id)?.(data);
    asked.delete(data.id);
  };
  return {
    ask: (address, body) => new Promise((done) => {
      const { pathname, searchParams } = new URL(address, "http://engine/"), id = ++last;
      asked.set(id, done);
      if (ended) { answer({ id, status: 500, blob: new Blob([ended]) }); return; }
      worker.postMessage({ id, name: pathname.slice(1), which: searchParams.get("which") ?? "", body });
    }),
    hear: (seen, on) => {
      heard = on;
      if (ended) on.status?.(ended); else on.busy?.("Loading the engine.");
      worker.postMessage({ id: 0, name: "events", seen: Number(seen) });
    },
  };
})();
