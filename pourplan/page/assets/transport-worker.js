// The way from the page to an engine in a worker of this browser: takes the place
// of transport.js where there is no server behind the page.
const transport = (() => {
  const asked = new Map();
  let last = 0, ended = "", heard = null, worker = null;
  const answer = (data) => {
    asked.get(data.id)?.(data);
    asked.delete(data.id);
  };
  const end = (text) => {
    ended ||= text;
    heard?.status?.(ended);
    for (const id of [...asked.keys()]) answer({ id, status: 500, blob: new Blob([ended]) });
  };
  const cannotStart = (why) => end(`The engine cannot start${why ? ": " + why.replace(/\.$/, "") : ""}. This page needs a web server; opened as a file it does not work.`);
  try {
    worker = new Worker("engine.js");
    worker.addEventListener("error", (e) => cannotStart(e.message));
    worker.addEventListener("message", ({ data }) => {
      if (data.ready) { navigator.serviceWorker?.register("sw.js"); heard?.open?.(""); }
      else if (data.ended) end(data.ended);
      else if (data.kind) heard[data.kind]?.(data.text);
      else answer(data);
    });
  } catch (fault) {
    cannotStart(fault.message);
  }
  return {
    ask: (address, body) => new Promise((done) => {
      const { pathname, searchParams } = new URL(address, "http://engine/"), id = ++last;
      asked.set(id, done);
      if (ended) answer({ id, status: 500, blob: new Blob([ended]) });
      else worker.postMessage({ id, name: pathname.slice(1), which: searchParams.get("which") ?? "", body });
    }),
    hear: (seen, on) => {
      heard = on;
      if (ended) { on.status?.(ended); return; }
      on.busy?.("Loading the engine.");
      worker.postMessage({ id: 0, name: "events", seen: Number(seen) });
    },
  };
})();
