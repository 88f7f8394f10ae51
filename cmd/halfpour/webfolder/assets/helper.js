// A worker that runs a second engine, which helps the one in engine.js with a build.
// It has the compiled program and the job's files from there, and ends with the build.
"use strict";
importScripts("wasm_exec.js");

const waiting = [];
let hear = (message) => waiting.push(message);
globalThis.hearLeader = (f) => { hear = f; waiting.splice(0).forEach(f); };
globalThis.tellLeader = (message) => postMessage(message, [message.data.buffer]);

const run = async ({ module, order, lock }) => {
  navigator.locks?.request(lock, () => { postMessage({ locked: true }); return new Promise(() => {}); });
  globalThis.order = order;
  const go = new Go();
  await go.run(await WebAssembly.instantiate(module, go.importObject));
  postMessage({ ended: true });
};
onmessage = ({ data }) => {
  onmessage = ({ data }) => hear(data);
  run(data);
};
addEventListener("unhandledrejection", () => postMessage({ ended: true }));
