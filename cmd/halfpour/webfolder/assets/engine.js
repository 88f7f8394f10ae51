// A worker that runs the engine and carries questions and answers between it and
// the page. The engine is the program itself, as WebAssembly.
"use strict";
importScripts("files.js", "wasm_exec.js");

// alone waits until no other tab works on the files. A page that is loaded again
// waits for the end of its own worker.
const alone = () => new Promise((done, fail) => {
  if (!navigator.locks) { done(); return; }
  navigator.locks.request("halfpour", { signal: AbortSignal.timeout(5000) }, () => {
    done();
    return new Promise(() => {}); // for as long as the worker lives
  }).catch(() => fail(new Error("The desk is open in another tab already. Close one of the two and reload this page.")));
});

// program is compiled while it comes. A server may have unpacked it on its way.
const program = async () => {
  const answer = await fetch("halfpour.wasm.gz");
  if (!answer.ok) throw new Error(`halfpour.wasm.gz: ${answer.status}`);
  const bytes = await answer.blob(), [first, second] = new Uint8Array(await bytes.slice(0, 2).arrayBuffer());
  const packed = first === 0x1f && second === 0x8b;
  const plain = packed ? bytes.stream().pipeThrough(new DecompressionStream("gzip")) : bytes.stream();
  return WebAssembly.compileStreaming(new Response(plain, { headers: { "Content-Type": "application/wasm" } }));
};

// tellEnd says that there is no engine any more, as when memory has run out.
const tellEnd = (e) => postMessage({ ended: `${e.message ?? e}. What was saved is still there: reload this page.` });
addEventListener("error", (e) => { e.preventDefault(); tellEnd(e); });

// The engine may have a second one help it with a build, in a worker inside this
// one, where the browser has a processor and memory for it, and locks to tell when it ends.
globalThis.mayHelp = () => Boolean(navigator.locks) && navigator.hardwareConcurrency >= 2 && !(navigator.deviceMemory < 4);
globalThis.startHelper = (order, hear, ended) => {
  let worker;
  try { worker = new Worker("helper.js"); } catch { return null; }
  const lock = `halfpour-helper-${crypto.getRandomValues(new Uint32Array(2)).join("-")}`, over = new AbortController();
  const end = () => { if (!over.signal.aborted) { over.abort(); worker.terminate(); ended(); } };
  worker.onerror = (e) => { e.preventDefault(); end(); };
  worker.onmessage = ({ data }) => {
    if (over.signal.aborted) return;
    if (data.ended) end();
    // The helper holds the lock for as long as it lives, however it ends.
    else if (data.locked) navigator.locks.request(lock, { signal: over.signal }, end).catch(() => {});
    else hear(data);
  };
  worker.postMessage({ module, order, lock });
  return {
    send: (message) => worker.postMessage(message, [message.data.buffer]),
    stop: () => { over.abort(); worker.terminate(); },
  };
};

// serve is called by the engine when it is ready.
let module;
const start = async () => {
  await alone();
  const go = new Go();
  [module] = await Promise.all([program(), openFiles()]);
  const instance = await WebAssembly.instantiate(module, go.importObject);
  const ready = new Promise((done) => { globalThis.serve = (ask, hear) => done({ ask, hear }); });
  const ended = go.run(instance).then(() => { throw new Error("The engine has ended"); });
  ended.catch(tellEnd);
  return Promise.race([ready, ended]);
};

const engine = start();
engine.catch((e) => postMessage({ ended: e.message }));
engine.then(() => postMessage({ ready: true }));

onmessage = async ({ data: { id, name, which, body, seen } }) => {
  try {
    const { ask, hear } = await engine;
    if (name === "events") { hear(seen, (number, kind, text) => postMessage({ id, kind, text })); return; }
    const bytes = body === undefined ? null : new Uint8Array(await new Response(body).arrayBuffer());
    ask(name, which, bytes, (status, type, attach, data) => postMessage({ id, status, blob: new Blob([data], { type }) }));
  } catch (e) {
    postMessage({ id, status: 500, blob: new Blob([e.message]) });
  }
};
