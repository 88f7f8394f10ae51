// Watches a job with "build --watch" and its page in headless Chromium: the page
// follows a save with its view kept, tells of a fault while the last figures
// stay, and the build ends at once with its port closed.
//   node watch.mjs HALFPOUR FOLDER_OF_JOB
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { openTab, startBrowser } from "./browser.mjs";

const [halfpour, folder] = process.argv.slice(2);
const path = join(folder, "job.toml"), job = readFileSync(path, "utf8");
const build = spawn(halfpour, ["build", "--watch", "--tolerance", "0.1", path], { stdio: ["ignore", "pipe", "inherit"] });
build.stdout.setEncoding("utf8");
const [line] = await once(build.stdout, "data");
const url = /http:\S+/.exec(line)?.[0];
assert.ok(url, `no address in ${line}`);
build.stdout.resume();

const browser = await startBrowser();
const since = (from) => `${((performance.now() - from) / 1000).toFixed(2)} s`;
try {
  const tab = await openTab(browser, { width: 1100, height: 800 });
  await tab.send("Page.navigate", { url });
  const figure = `document.querySelector('[data-figure="rubber.halves.0.a_g"]')?.value`;
  const text = (id) => tab.evaluate(`document.getElementById("${id}").textContent`);
  const built = `/^Built/.test(document.getElementById("news")?.textContent)`;
  let from = performance.now();
  await tab.until("the first figures", `Boolean(${figure})`);
  console.log(`figures on the page after ${since(from)}`);
  await tab.until("the first model", `${built} && Number(document.getElementById("canvas").dataset.drawn) > 0`);
  console.log(`model on the page after ${since(from)}`);
  await tab.evaluate(`document.getElementById("canvas").focus()`);
  for (let i = 0; i < 12; i++) await tab.key("ArrowLeft");
  await tab.evaluate(`(() => { const e = document.getElementById("axis"); e.value = "2"; e.dispatchEvent(new Event("change")); scrollTo({ top: 200, behavior: "instant" }); })()`);
  await tab.until("the spoken view", `/cut open; seen from the left/.test(document.getElementById("seen").textContent)`);
  const view = await text("seen"), scrolled = await tab.evaluate("scrollY"), first = await tab.evaluate(figure);

  const save = (next) => { // as an editor does that writes beside and renames
    writeFileSync(path + ".new", next);
    renameSync(path + ".new", path);
  };
  from = performance.now();
  save(job.replace(`target = "1/4 oz"`, `target = "3/8 oz"`));
  await tab.until("new figures", `Boolean(${figure}) && ${figure} !== "${first}"`);
  console.log(`after a save, new figures on the page after ${since(from)}`);
  assert.match(await text("news"), /first figures|making the trays|Built/);
  await tab.until("checked figures", `/making the trays|Built/.test(document.getElementById("news").textContent)`);
  console.log(`checked ones after ${since(from)}`);
  const second = await tab.evaluate(figure);
  from = performance.now();
  save(job.replace(`target = "1/4 oz"`, `target = "5/16 oz"`)); // overtakes the run that is on
  await tab.until("figures of the newer save", `Boolean(${figure}) && ${figure} !== "${second}"`);
  console.log(`after a save that overtakes a run, new figures after ${since(from)}`);
  await tab.until("its model", built);
  assert.equal(await text("seen"), view, "the view has not stayed");
  assert.equal(await tab.evaluate("scrollY"), scrolled, "the page has scrolled");

  const third = await tab.evaluate(figure);
  save(job.replace("\ntarget =", "\ntarkte ="));
  await tab.until("what is wrong", `document.getElementById("trouble").textContent.includes("tarkte")`);
  assert.equal(await tab.evaluate(figure), third, "the last good figures have not stayed");
  save(job);
  await tab.until("that nothing is wrong", `document.getElementById("trouble").hidden && ${figure} === "${first}"`);
  assert.deepEqual(tab.faults, []);
  assert.deepEqual(tab.asked.filter((u) => !u.startsWith(url)), [], "the page asks for what is not its own");

  from = performance.now();
  build.kill("SIGINT");
  const [code] = await once(build, "exit");
  assert.equal(code, 0);
  console.log(`left after ${since(from)}`);
  await assert.rejects(fetch(url), "the port is still open");
  await tab.until("that the build has ended", `/has ended/.test(document.getElementById("news").textContent)`);
} finally {
  build.kill("SIGKILL");
  writeFileSync(path, job);
  await browser.stop();
}
