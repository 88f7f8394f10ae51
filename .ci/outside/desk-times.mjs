// Times in headless Chromium, with a job of five cavities whose head has 100,000
// facets, from a key press to the first figures painted, to checked ones and to the
// coarse mold. It fails where they come in another order, or far too late even for a busy machine.
//   node desk-times.mjs HALFPOUR FOLDER
import assert from "node:assert/strict";
import { cpSync, mkdirSync } from "node:fs";
import { loadavg } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openTab, startBrowser, startDesk } from "./browser.mjs";

const [halfpour, folder] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
for (const name of ["job.toml", "head.stl"]) cpSync(fileURLToPath(new URL(`../../examples/minnow-tray/${name}`, import.meta.url)), join(folder, name));
const { desk, url } = await startDesk(halfpour, folder);
const browser = await startBrowser();
const median = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
try {
  const tab = await openTab(browser, { width: 1440, height: 900 });
  await tab.send("Page.navigate", { url });
  const ready = `/A coarse model/.test(document.getElementById("news")?.textContent)`;
  await tab.until("the mold", ready);
  // The page's own clock: from the key press to the frame after the change.
  await tab.evaluate(`(() => {
    const times = window.times = {};
    const shows = () => {
      const news = document.getElementById("news").textContent;
      if (!times.seen && document.querySelector('[data-figure="rubber.halves.0.a_g"]')?.value !== times.before) times.seen = true;
      else if (!times.seen) return null;
      return { figures: true, checked: /making the trays|A coarse model/.test(news), mold: ${ready} };
    };
    new MutationObserver(() => {
      if (!times.from) return;
      for (const [name, there] of Object.entries(shows() ?? {})) {
        if (there && !(name in times)) { times[name] = 0; requestAnimationFrame(() => setTimeout(() => { times[name] = performance.now() - times.from; })); }
      }
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
    document.addEventListener("keydown", (e) => {
      if (e.key !== "Enter") return;
      for (const name of Object.keys(times)) delete times[name];
      Object.assign(times, { from: performance.now(), before: document.querySelector('[data-figure="rubber.halves.0.a_g"]')?.value });
    }, true);
  })()`);
  await tab.evaluate(`document.getElementById("all-keys").click()`);
  const field = (key) => `[...document.querySelectorAll(".field")].find((f) => f.querySelector(".why").getAttribute("aria-label") === "What ${key} means").querySelector("input")`;
  for (const [key, values] of [["weight.target", ["5/16 oz", "3/8 oz", "5/16 oz"]], ["sprue.mouth", ["13", "12", "13"]]]) {
    const all = { figures: [], checked: [], mold: [] };
    for (const value of values) {
      await tab.evaluate(`(() => { const i = ${field(key)}; i.focus(); i.select(); })()`);
      await tab.send("Input.insertText", { text: value });
      for (const type of ["keyDown", "keyUp"]) await tab.send("Input.dispatchKeyEvent", { type, key: "Enter", code: "Enter", windowsVirtualKeyCode: 13, text: type === "keyDown" ? "\r" : undefined });
      await tab.until("the mold anew", "window.times.mold > 0", 60);
      for (const name of Object.keys(all)) all[name].push(await tab.evaluate(`window.times.${name}`));
    }
    console.log(`${key}, load ${loadavg()[0].toFixed(1)}: ` + Object.entries(all).map(([name, list]) => `${name} after ${(median(list) / 1000).toFixed(3)} s`).join(", "));
    const [figures, checked, mold] = [all.figures, all.checked, all.mold].map((list) => Math.min(...list));
    assert.ok(figures <= checked && checked <= mold && figures < 20000, `first figures after ${figures} ms, checked after ${checked}, mold after ${mold}`);
  }
  assert.deepEqual(tab.faults, []);
} finally {
  await browser.stop();
  desk.kill("SIGINT");
}
