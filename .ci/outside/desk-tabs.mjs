// Opens one desk in eight tabs, more than a browser opens connections to a server:
// a change in one shows in all, also after the first tab is closed.
//   node desk-tabs.mjs HALFPOUR FOLDER [PICTURE]
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { openTab, startBrowser, startDesk } from "./browser.mjs";

const [halfpour, folder] = process.argv.slice(2);
execFileSync(halfpour, ["new", "--quiet", folder]);
const { desk, url } = await startDesk(halfpour, folder);
const browser = await startBrowser();
const title = (text) => `document.querySelector("h1")?.textContent === ${JSON.stringify(text)}`;
try {
  const tabs = [];
  for (let n = 0; n < 8; n++) {
    // Eight models would be drawn by the processor here; what is tried is the talk.
    tabs.push(await openTab(browser, { width: 800, height: 600, before: "HTMLCanvasElement.prototype.getContext = () => null" }));
    await tabs[n].send("Page.navigate", { url });
    await tabs[n].until(`the form in tab ${n + 1}`, `document.querySelectorAll(".field").length > 40`, 30);
  }
  const retitle = async (tab, text) => {
    await tab.evaluate(`(() => {
      const i = [...document.querySelectorAll(".field")].find((f) => f.querySelector(".why").getAttribute("aria-label") === "What title means").querySelector("input");
      i.value = ${JSON.stringify(text)};
      i.dispatchEvent(new Event("change")); })()`);
    for (const [n, each] of tabs.entries()) await each.until(`${text} in tab ${n + 1} of ${tabs.length}`, title(text), 20);
  };
  await retitle(tabs[7], "From the last tab");
  await tabs.shift().close();
  await retitle(tabs[3], "After the first was closed");
  // Without scripts there is what to do, and the figures to read.
  await tabs[0].until("figures", `document.querySelector('[data-figure="rubber.halves.0.a_g"]')`, 60);
  const figure = await tabs[0].evaluate(`document.querySelector('[data-figure="rubber.halves.0.a_g"]').value`);
  const still = await openTab(browser, { width: 390, height: 800, scripts: false });
  await still.send("Page.navigate", { url });
  await still.until("the page without scripts", `document.readyState === "complete" && document.querySelector("noscript main")?.checkVisibility()`, 30);
  assert.equal(await still.evaluate(`document.querySelector("header, form, main:not(.plain)").checkVisibility()`), false);
  const text = await still.evaluate(`document.body.innerText`);
  for (const words of ["turn on JavaScript", "halfpour check", "halfpour build", "After the first was closed", "job.toml"]) assert.ok(text.includes(words), `${words}: ${text}`);
  assert.equal(await still.evaluate(`document.querySelector('[data-figure="rubber.halves.0.a_g"]').value`), figure);
  const start = await openTab(browser, { width: 390, height: 800 });
  await start.send("Page.navigate", { url });
  await start.until("the form on a phone", `document.querySelectorAll(".field").length > 40`, 30);
  await start.evaluate(`document.getElementById("jobs-show").click()`);
  await start.until("the jobs", `document.getElementById("start-head").checkVisibility()`);
  const low = await start.evaluate(`[...document.querySelectorAll("button, a:not(.skip), select, input:not([type=range], [type=checkbox], [type=radio]), summary, label.box")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height > 0 && e.getBoundingClientRect().height < 43.5).map((e) => e.id || e.textContent)`);
  assert.deepEqual(low, [], "too low for gloves");
  assert.ok(await still.evaluate(`document.documentElement.scrollWidth`) <= 390, "wider than a phone");
  if (process.argv[4]) writeFileSync(process.argv[4], await still.picture());
  for (const tab of [...tabs, still]) assert.deepEqual(tab.faults, []);
} finally {
  await browser.stop();
  desk.kill("SIGINT");
}
console.log("desk: eight tabs follow one another");
