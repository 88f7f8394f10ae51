// Opens one desk in eight tabs, more than a browser opens connections to a server:
// a change in one shows in all, also after the first tab is closed.
//   node desk-tabs.mjs HALFPOUR FOLDER
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { openTab, startBrowser } from "./browser.mjs";

const [halfpour, folder] = process.argv.slice(2);
execFileSync(halfpour, ["new", "--quiet", folder]);
const desk = spawn(halfpour, ["desk", folder], { stdio: ["ignore", "pipe", "inherit"] });
desk.stdout.setEncoding("utf8");
let said = "";
while (!/http:\S+/.test(said)) said += (await once(desk.stdout, "data"))[0];
desk.stdout.resume();
const browser = await startBrowser();
const title = (text) => `document.querySelector("h1")?.textContent === ${JSON.stringify(text)}`;
try {
  const tabs = [];
  for (let n = 0; n < 8; n++) {
    // Eight models would be drawn by the processor here; what is tried is the talk.
    tabs.push(await openTab(browser, { width: 800, height: 600, before: "HTMLCanvasElement.prototype.getContext = () => null" }));
    await tabs[n].send("Page.navigate", { url: /http:\S+/.exec(said)[0] });
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
  for (const tab of tabs) assert.deepEqual(tab.faults, []);
} finally {
  await browser.stop();
  desk.kill("SIGINT");
}
console.log("desk: eight tabs follow one another");
