// Drives a headless Chromium by its DevTools protocol over a pipe, so that
// nothing listens on a port.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";

const flags = ["--headless=new", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--remote-debugging-pipe",
  "--no-first-run", "--disable-background-networking", "--hide-scrollbars", "about:blank"];

export const startBrowser = async () => {
  const profile = mkdtempSync(join(tmpdir(), "page-"));
  const own = process.getuid?.() === 0 ? ["--no-sandbox"] : []; // Chromium has no sandbox for root
  const child = spawn(process.env.CHROMIUM ?? "chromium", [...own, `--user-data-dir=${profile}`, ...flags],
    { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] });
  const waiting = new Map(), listeners = [];
  let rest = "", last = 0;
  child.stdio[4].setEncoding("utf8");
  child.stdio[4].on("data", (text) => {
    const parts = (rest + text).split("\0");
    rest = parts.pop();
    for (const part of parts) {
      const message = JSON.parse(part);
      if (!message.id) { for (const hear of listeners) hear(message); continue; }
      const { resolve, reject, method } = waiting.get(message.id);
      waiting.delete(message.id);
      if (message.error) reject(new Error(`${method}: ${message.error.message}`)); else resolve(message.result);
    }
  });
  const send = (method, params = {}, sessionId = undefined) => new Promise((resolve, reject) => {
    waiting.set(++last, { resolve, reject, method });
    child.stdio[3].write(JSON.stringify({ id: last, method, params, sessionId }) + "\0");
  });
  const gone = new Promise((resolve) => child.on("exit", resolve));
  const stop = async () => {
    await Promise.race([send("Browser.close").catch(() => {}), gone]);
    await gone;
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  return { send, listeners, stop };
};

// openTab opens a page and returns how to ask it. faults gathers what the page
// complains about, and what it asks of the network.
export const openTab = async (browser, { width, height, dark = false, print = false, scripts = true, before = "" }) => {
  const { targetId } = await browser.send("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await browser.send("Target.attachToTarget", { targetId, flatten: true });
  const send = (method, params) => browser.send(method, params, sessionId);
  const faults = [], asked = [];
  browser.listeners.push((m) => {
    if (m.sessionId !== sessionId) return;
    if (m.method === "Runtime.exceptionThrown") faults.push(m.params.exceptionDetails.exception?.description ?? m.params.exceptionDetails.text);
    if (m.method === "Runtime.consoleAPICalled" && m.params.type !== "log") faults.push(`console ${m.params.type}: ${m.params.args.map((a) => a.value ?? a.description).join(" ")}`);
    if (m.method === "Log.entryAdded" && m.params.entry.level === "error") faults.push(`${m.params.entry.text} ${m.params.entry.url ?? ""}`);
    if (m.method === "Network.requestWillBeSent") asked.push(m.params.request.url);
  });
  for (const domain of ["Page", "Runtime", "Log", "Network", "Accessibility"]) await send(`${domain}.enable`, {});
  await send("Emulation.setDeviceMetricsOverride", { width, height, deviceScaleFactor: 1, mobile: width < 600 });
  await send("Emulation.setTouchEmulationEnabled", { enabled: width < 600 });
  await send("Emulation.setEmulatedMedia", { media: print ? "print" : "", features: [{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }] });
  if (!scripts) await send("Emulation.setScriptExecutionDisabled", { value: true });
  if (before) await send("Page.addScriptToEvaluateOnNewDocument", { source: before });
  const evaluate = async (expression) => {
    const { result, exceptionDetails } = await send("Runtime.evaluate", { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  };
  const until = async (what, expression, seconds = 120) => {
    for (const end = Date.now() + 1000 * seconds; ; await sleep(50)) {
      if (await evaluate(expression)) return;
      if (Date.now() > end) throw new Error(`waited ${seconds} s in vain for ${what}`);
    }
  };
  const key = async (name) => {
    for (const type of ["keyDown", "keyUp"]) await send("Input.dispatchKeyEvent", { type, key: name, code: name });
  };
  const picture = async () => Buffer.from((await send("Page.captureScreenshot", { format: "png" })).data, "base64");
  const close = () => browser.send("Target.closeTarget", { targetId });
  return { send, evaluate, until, key, picture, close, faults, asked };
};

// startDesk starts the desk on a folder: the program, and where its page is.
export const startDesk = async (halfpour, folder) => {
  const desk = spawn(halfpour, ["desk", folder], { stdio: ["ignore", "pipe", "inherit"] });
  desk.stdout.setEncoding("utf8");
  let said = "";
  while (!/http:\S+/.test(said)) said += (await once(desk.stdout, "data"))[0];
  desk.stdout.resume();
  return { desk, url: /http:\S+/.exec(said)[0] };
};
