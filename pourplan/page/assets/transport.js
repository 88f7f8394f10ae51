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
  // when the engine begins to speak, on.end when it falls silent.
  hear: (seen, on) => {
    const events = new EventSource(`events?seen=${seen}`);
    for (const [kind, told] of Object.entries(on)) {
      if (kind !== "end") events.addEventListener(kind, (e) => told(e.data ?? ""));
    }
    events.addEventListener("error", () => on.end?.());
  },
};
