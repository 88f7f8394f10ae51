// Plays docs/one-evening-desk.md in headless Chromium, from an empty folder, and
// holds what it leaves against the command line's build of the same job.
//   node evening-desk.mjs HALFPOUR FOLDER
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { openTab, startBrowser, startDesk } from "./browser.mjs";

const [halfpour, folder] = process.argv.slice(2);
const text = readFileSync(new URL("../../docs/one-evening-desk.md", import.meta.url), "utf8");
const steps = [...text.matchAll(/^- ([A-Z][a-z ]+)(?:`([^`]+)`)?: `([^`]+)`$/gm)].map(([, verb, key, value]) => ({ verb: verb.trim(), key, value }));
assert.equal(steps.length, [...text.matchAll(/^- /gm)].length, "a step that is not understood");
assert.ok(steps.length > 20);

const { desk, url } = await startDesk(halfpour, folder);
const browser = await startBrowser();
try {
  const tab = await openTab(browser, { width: 1440, height: 900 });
  await tab.send("Page.navigate", { url });
  await tab.until("the desk", `document.getElementById("start")?.checkVisibility()`);
  const click = async (element) => {
    const [x, y] = await tab.evaluate(`(() => { const e = ${element}; e.scrollIntoView({ block: "center", behavior: "instant" }); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`);
    for (const type of ["mousePressed", "mouseReleased"]) await tab.send("Input.dispatchMouseEvent", { type, x, y, button: "left", clickCount: 1 });
  };
  const button = (name) => `[...document.querySelectorAll("button")].find((b) => b.checkVisibility() && b.textContent === ${JSON.stringify(name)})`;
  const fill = async (element, value) => {
    await tab.evaluate(`(() => { const e = ${element}; e.focus(); e.select(); })()`);
    await tab.send("Input.insertText", { text: value });
    for (const type of ["keyDown", "keyUp"]) await tab.send("Input.dispatchKeyEvent", { type, key: "Enter", code: "Enter", windowsVirtualKeyCode: 13, text: type === "keyDown" ? "\r" : undefined });
  };
  // What can be seen: text and entries, of what is shown.
  const seen = (words) => `(document.body.innerText + [...document.querySelectorAll("output, #file")].map((e) => e.value ?? e.textContent).join("\\n")).replaceAll("\\u00a0", " ").includes(${JSON.stringify(words)})`;
  const jobs = async () => {
    await click(button("Jobs"));
    await tab.until("the jobs", `document.getElementById("jobs").checkVisibility() && document.activeElement.id === "jobs-title"`);
  };
  const shows = (file) => tab.until(file, `document.getElementById("file").textContent === ${JSON.stringify(file)} && !document.getElementById("jobs").checkVisibility()`);
  const does = {
    "Start a job": async ({ value }) => { await fill(`document.getElementById("start-name")`, value); await shows(`${value}/job.toml`); },
    "Copy the job": async ({ value }) => { await jobs(); await fill(`document.getElementById("copy-name")`, value); await tab.until("the copy", `document.getElementById("file").textContent.endsWith(${JSON.stringify(value + ".toml")})`); },
    Open: async ({ value }) => { await jobs(); await click(`[...document.querySelectorAll("#jobs-list button")].find((b) => b.textContent.includes(${JSON.stringify(`(${value})`)}))`); await shows(value); },
    Type: ({ key, value }) => fill(`[...document.querySelectorAll(".field")].find((f) => f.querySelector(".why").getAttribute("aria-label") === "What ${key} means").querySelector("input")`, value),
    Find: ({ value }) => fill(`document.getElementById("find")`, value),
    Press: ({ value }) => click(button(value)),
    See: ({ value }) => tab.until(value, seen(value), 90),
    Gone: ({ value }) => tab.until(`no ${value}`, `!${seen(value)}`),
  };
  for (const step of steps) {
    assert.ok(does[step.verb], `no such step: ${step.verb}`);
    await does[step.verb](step);
  }
  tab.faults.splice(0, tab.faults.length, ...tab.faults.filter((f) => !/422/.test(f))); // wrong values
  assert.deepEqual(tab.faults, []);
} finally {
  await browser.stop();
  desk.kill("SIGINT");
}
const job = join(folder, "Boathouse ball", "job.toml"), again = join(folder, "again");
execFileSync(halfpour, ["build", "--quiet", "--out", again, job]);
execFileSync("diff", ["-r", join(folder, "Boathouse ball", "job-out"), again], { stdio: "inherit" });
console.log(`the evening with the desk: ${steps.length} steps, and the same bytes at the command line`);
