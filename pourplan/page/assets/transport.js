// The one way from the page to its engine: nothing else on it asks for anything.
// Names, bodies and events are in docs/desk.md. Another engine, such as one in a
// worker, stands behind the page when it takes the place of this file.
const transport = {
  // ask sends for a name, with a body as a POST. The answer is {status, blob}.
  ask: async (name, body) => {
    const answer = await fetch(name, body === undefined ? { cache: "no-store" } : { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body });
    return { status: answer.status, blob: await answer.blob() };
  },
  // hear calls on[kind](text) for each event after the one of a number; on.open
  // when the engine begins to speak, on.end when it falls silent. A browser opens few
  // connections to one server: of all pages that are open, one listens, and hands on
  // to the others what it hears. When it is closed, another takes its place.
  hear: (seen, on) => {
    const pages = new BroadcastChannel(`events ${location.pathname}`), me = crypto.randomUUID(), changes = ["form", "figures", "model", "lying"];
    const latest = new Map();
    let last = Number(seen), listens = false;
    const take = ({ kind, text, id }) => {
      last = Math.max(last, id);
      on[kind]?.(text);
    };
    pages.addEventListener("message", ({ data }) => {
      if (listens && "comes" in data) { // a page that asks what it has missed
        const news = [...latest.values()].sort((a, b) => a.id - b.id).filter((e) => !changes.includes(e.kind) || e.id > data.seen);
        for (const e of [{ kind: "open", text: "", id: 0 }, ...news]) pages.postMessage({ ...e, to: data.comes });
      } else if (!listens && "kind" in data && (data.to ?? me) === me) take(data);
      else if (data.asks) pages.postMessage({ comes: me, seen: last });
    });
    pages.postMessage({ comes: me, seen: last });
    const listen = () => {
      listens = true;
      const events = new EventSource(`events?seen=${last}`);
      const heard = (kind, e) => {
        const news = { kind, text: e.data ?? "", id: Number(e.lastEventId ?? 0) };
        if (news.id > 0) latest.set(kind === "busy" ? "status" : kind, news);
        pages.postMessage(news);
        take(news);
      };
      for (const kind of Object.keys(on)) if (kind !== "end") events.addEventListener(kind, (e) => heard(kind, e));
      events.addEventListener("error", () => heard("end", {}));
      pages.postMessage({ asks: true });
    };
    navigator.locks.request(`events ${location.pathname}`, () => { listen(); return new Promise(() => {}); });
  },
};
