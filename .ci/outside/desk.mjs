// Changes a job on the desk in headless Chromium, by pointer and keys, from an
// empty folder: a job started, values, wrong values, undo, an editor that changes
// the file meanwhile, a build, a file saved; the server killed and started again;
// a job copied, another opened.
//   node desk.mjs HALFPOUR FOLDER
import assert from "node:assert/strict";
import { once } from "node:events";
import { copyFileSync, existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { openTab, startBrowser, startDesk } from "./browser.mjs";

const [halfpour, home] = process.argv.slice(2);
let folder = join(home, "Ball"); // of the job
let path = join(folder, "job.toml");
const read = () => readFileSync(path, "utf8");

// tilted turns an STL by 40° about two axes.
const tilted = (data) => {
  const out = Buffer.from(data), [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  for (let at = 84; at < out.length; at += 50) {
    for (let k = 0; k < 4; k++) {
      const [x, y, z] = [0, 4, 8].map((i) => out.readFloatLE(at + 12 * k + i)), u = c * x - s * y, v = s * x + c * y;
      [u, c * v - s * z, s * v + c * z].forEach((p, i) => out.writeFloatLE(p, at + 12 * k + 4 * i));
    }
  }
  return out;
};

let { desk, url } = await startDesk(halfpour, home);
const browser = await startBrowser();
const since = (from) => `${((performance.now() - from) / 1000).toFixed(2)} s`;
try {
  const tab = await openTab(browser, { width: 1440, height: 900 });
  const at = (key) => `[...document.querySelectorAll(".field")].find((f) => f.querySelector(".why").getAttribute("aria-label") === "What ${key} means")`;
  const value = (key) => tab.evaluate(`${at(key)}.querySelector("input, select").value`);
  const wrong = (key) => `${at(key)}.querySelector(".wrong").textContent`;
  const type = async (key, text) => {
    await tab.evaluate(`(() => { const i = ${at(key)}.querySelector("input"); i.focus(); i.select(); })()`);
    await tab.send("Input.insertText", { text });
  };
  const enter = async (key, text) => {
    await type(key, text);
    await press("Enter", 13);
  };
  const press = async (key, number) => {
    for (const kind of ["keyDown", "keyUp"]) await tab.send("Input.dispatchKeyEvent", { type: kind, key, code: key, windowsVirtualKeyCode: number, text: key === "Enter" && kind === "keyDown" ? "\r" : undefined });
  };
  const click = async (id) => {
    const [x, y] = await tab.evaluate(`(() => { const r = document.getElementById("${id}").getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`);
    for (const kind of ["mousePressed", "mouseReleased"]) await tab.send("Input.dispatchMouseEvent", { type: kind, x, y, button: "left", clickCount: 1 });
  };
  const saved = async (what, holds) => {
    for (const end = Date.now() + 30000; !holds(read()); await new Promise((r) => setTimeout(r, 30))) assert.ok(Date.now() < end, `the file never got ${what}`);
  };
  const open = async () => {
    await tab.send("Page.navigate", { url });
    await tab.until("the form", `document.querySelectorAll(".field").length > 40`);
  };

  // An empty folder shows where a job is started; nothing is written unasked.
  await tab.send("Page.navigate", { url });
  await tab.until("where a job is started", `document.getElementById("start")?.checkVisibility() && /No jobs here yet/.test(document.getElementById("jobs-news").textContent)`);
  assert.ok(!existsSync(home));
  assert.equal(await tab.evaluate(`document.querySelector("main").checkVisibility()`), false);
  const fill = async (id, text) => {
    await tab.evaluate(`document.getElementById("${id}").focus(); document.getElementById("${id}").select()`);
    await tab.send("Input.insertText", { text });
    await press("Enter", 13);
  };
  const refused = (what) => tab.until(what, `document.getElementById("jobs-wrong").textContent !== ""`);
  await fill("start-name", "../out");
  await refused("a name that is none");
  await fill("start-name", "Ball");
  await tab.until("the new job", `document.querySelectorAll(".field").length > 40 && document.getElementById("jobs").hidden`);
  const before = read();
  assert.equal(await value("title"), "Ball");
  assert.equal(await value("head.unit"), "mm");
  const figure = `document.querySelector('[data-figure="rubber.halves.0.a_g"]')?.value`;
  await tab.until("figures beside the form", `Boolean(${figure})`);
  await tab.until("the model beside the form", `Number(document.getElementById("canvas")?.dataset.drawn) > 0`);

  // A value changes its own characters in the file, and the figures follow.
  const weight = await tab.evaluate(figure);
  let from = performance.now();
  await enter("weight.target", "3/8 oz");
  await saved("the weight", (text) => text.includes('target = "3/8 oz"'));
  console.log(`saved after ${since(from)}`);
  assert.equal(read(), before.replace('target = "1/4 oz"', 'target = "3/8 oz"'));
  await tab.until("new figures", `${figure} !== "${weight}"`);
  console.log(`new figures after ${since(from)}`);

  // A key that was a remark takes its place; a comma is a decimal comma.
  await tab.evaluate(`document.getElementById("all-keys").click()`);
  await enter("hook.fit", "0,06");
  await saved("the fit", (text) => text.includes("\nfit = 0.06          # clearance"));

  // A wrong value is told as it is typed, and never saved.
  const good = read();
  await type("hook.wire", "40");
  await tab.until("what is wrong with it", `/must be at most 6 mm/.test(${wrong("hook.wire")})`);
  await enter("hook.wire", "40 parsec");
  await tab.until("what is wrong with that", `${wrong("hook.wire")} !== ""`);
  assert.equal(read(), good);
  await enter("hook.wire", "1.1");
  await tab.until("nothing wrong", `${wrong("hook.wire")} === ""`);

  // Undo and redo, to the byte.
  await click("undo");
  await saved("the undo", (text) => text === before.replace('target = "1/4 oz"', 'target = "3/8 oz"'));
  await click("undo");
  await saved("the second undo", (text) => text === before);
  await tab.until("the field as it was", `${at("weight.target")}.querySelector("input").value === "1/4 oz"`);
  await click("redo");
  await saved("the redo", (text) => text.includes('target = "3/8 oz"'));

  // An editor changes the file while a value is being typed: neither is lost.
  await type("title", "Two");
  writeFileSync(path, read().replace('title = "Ball" ', 'title = "Ball, mine" ') + "# a remark\n");
  await tab.until("the editor's change", `document.querySelector("h1").textContent === "Ball, mine"`);
  assert.equal(await value("title"), "Two");
  await enter("title", "Two");
  await saved("the title", (text) => text.includes('title = "Two" ') && text.endsWith("# a remark\n"));

  // Killed and started again: nothing is lost, and the page comes back.
  desk.kill("SIGKILL");
  await once(desk, "exit");
  await tab.until("word of it", `/has ended/.test(document.getElementById("news").textContent)`);
  ({ desk, url } = await startDesk(halfpour, home));
  await open();
  assert.equal(await value("title"), "Two");

  // A head in a pose of its own is dropped in, and one undo takes it out again.
  const was = read();
  await tab.send("DOM.enable");
  const { root } = await tab.send("DOM.getDocument");
  const { nodeId } = await tab.send("DOM.querySelector", { nodeId: root.nodeId, selector: "#head" });
  await tab.send("DOM.setFileInputFiles", { nodeId, files: [fileURLToPath(new URL("../../examples/minnow-tray/head.stl", import.meta.url))] });
  await tab.until("why not", `/is in the job's folder already/.test(document.getElementById("proposed").textContent)`);
  copyFileSync(new URL("../../examples/minnow-tray/head.stl", import.meta.url), join(folder, "..", "minnow.stl"));
  await tab.send("DOM.setFileInputFiles", { nodeId, files: [resolve(folder, "..", "minnow.stl")] });
  await tab.until("what is proposed", `document.querySelectorAll("#proposed li").length >= 5`);
  assert.equal(await value("head.file"), "minnow.stl");
  assert.ok(existsSync(join(folder, "minnow.stl")));
  console.log(await tab.evaluate(`document.getElementById("proposed").innerText`));
  await click("undo");
  await saved("the undo of the head", (text) => text === was);

  // By keys alone: a copy, a name that is taken, back to the first job.
  const jobsByKeys = async () => {
    await tab.evaluate(`document.getElementById("jobs-show").focus()`);
    await press("Enter", 13);
    await tab.until("the jobs", `!document.getElementById("jobs").hidden && document.querySelectorAll("#jobs-list button").length > 0 && document.activeElement.id === "jobs-title"`);
  };
  const onDesk = (file) => tab.until(file, `document.getElementById("file").textContent === "${file}"`);
  await jobsByKeys();
  await fill("copy-name", "job");
  await refused("a name that is taken");
  await fill("copy-name", "Ball two");
  await onDesk("Ball/Ball two.toml");
  assert.equal(await value("title"), "Ball two");
  assert.equal(await tab.evaluate(`document.getElementById("undo").disabled`), true);
  assert.equal(readFileSync(join(folder, "Ball two.toml"), "utf8"), read().replace(/^title = "[^"]*"/m, 'title = "Ball two"'));
  await tab.until("figures of the copy", `Boolean(${figure}) && /A coarse model/.test(document.getElementById("news").textContent)`);
  await jobsByKeys();
  await press("Escape", 27);
  await tab.until("the jobs gone", `document.getElementById("jobs").hidden && document.activeElement.id === "jobs-show"`);
  await jobsByKeys();
  assert.equal(await tab.evaluate(`document.querySelector("#jobs-list [aria-current]").textContent`), "Ball two (Ball/Ball two.toml)");
  await tab.evaluate(`[...document.querySelectorAll("#jobs-list button")].find((b) => /job.toml/.test(b.textContent)).focus()`);
  await press("Enter", 13);
  await onDesk("Ball/job.toml");
  assert.equal(await value("title"), "Two");

  // A job for a head of one's own, in a strange pose.
  const shape = `document.getElementById("canvas").dataset.shape`, ball = await tab.evaluate(shape);
  const strange = resolve(folder, "..", "tilted.stl");
  writeFileSync(strange, tilted(readFileSync(new URL("../../examples/minnow-gang/head.stl", import.meta.url))));
  await jobsByKeys();
  const start = await tab.send("DOM.querySelector", { nodeId: (await tab.send("DOM.getDocument")).root.nodeId, selector: "#start-head" });
  await tab.send("DOM.setFileInputFiles", { nodeId: start.nodeId, files: [strange] });
  await tab.until("a name for it", `document.getElementById("start-name").value === "tilted" && document.activeElement.id === "start-name"`);
  await press("Enter", 13);
  await onDesk("tilted/job.toml");
  assert.ok(existsSync(join(home, "tilted", "tilted.stl")));
  assert.ok(await tab.evaluate(`document.querySelectorAll("#proposed li").length`) >= 5);
  folder = join(home, "tilted");
  path = join(folder, "job.toml");

  // Its eye is pointed at in the model, by pointer and then by keys, and the parting
  // slides; each is one step to undo.
  await tab.until("the head in the model", `![undefined, "", "${ball}"].includes(${shape}) && Number(document.getElementById("canvas").dataset.drawn) > 0`);
  await tab.evaluate(`document.querySelector("input[name=stage][value=head]").click()`);
  const tool = async (name) => {
    await tab.evaluate(`[...document.querySelectorAll("#aims button")].find((b) => b.textContent === "${name}").click()`);
    // Until the model has turned and nothing in it moves any more.
    const places = `[...document.querySelectorAll("#places .place")].map((p) => p.textContent + p.style.transform).join()`;
    for (let last = null, still = 0; still < 2;) {
      await new Promise((r) => setTimeout(r, 120));
      const now = await tab.evaluate(places);
      still = now === last ? still + 1 : 0;
      last = now;
    }
  };
  const eyeOf = (text) => /^eye = \[(.*?)\]/m.exec(text)[1].split(",").map(Number);
  const apart = (a, b) => Math.hypot(...a.map((x, k) => x - b[k]));
  const first = read(), eye = eyeOf(first), parting = Number(/^parting = (\S+)/m.exec(first)[1]);
  await tool("eye");
  // The mold comes while the tool is in hand: the head stays.
  await tab.until("the mold", `!document.querySelector('input[name=stage][value=cast]').disabled`);
  const [x, y] = await tab.evaluate(`(() => {
    const r = [...document.querySelectorAll("#places .place")].find((p) => p.textContent === "eye"), m = new DOMMatrix(r.style.transform), c = document.getElementById("canvas").getBoundingClientRect();
    return [c.x + m.e + 6, c.y + m.f]; })()`);
  for (const kind of ["mouseMoved", "mousePressed", "mouseReleased"]) await tab.send("Input.dispatchMouseEvent", { type: kind, x, y, button: kind === "mouseMoved" ? "none" : "left", clickCount: 1 });
  await saved("the eye that is pointed at", (text) => apart(eyeOf(text), eye) > 0.05);
  const pointed = read();
  assert.ok(apart(eyeOf(pointed), eye) < 1, `pointed near ${eye}, the eye is ${eyeOf(pointed)}`);
  assert.equal(pointed.replace(/^eye = \[.*?\]/m, ""), first.replace(/^eye = \[.*?\]/m, ""));
  await tab.until("the eye in its field", `${at("head.eye")}.querySelector("input").value === "[${eyeOf(pointed).join(", ")}]"`);
  await tool("eye");
  await tab.evaluate(`document.getElementById("canvas").focus()`);
  for (const key of ["ArrowLeft", "ArrowLeft", "Enter"]) await tab.key(key);
  await saved("the eye by keys", (text) => apart(eyeOf(text), eyeOf(pointed)) > 0.05);
  await tab.evaluate(`document.getElementById("parting").focus()`);
  await tab.key("ArrowRight");
  await saved("the parting", (text) => Number(/^parting = (\S+)/m.exec(text)[1]) > parting);
  for (const [what, want] of [["parting", (text) => Number(/^parting = (\S+)/m.exec(text)[1]) === parting], ["eye by keys", (text) => text === pointed], ["eye", (text) => text === first]]) {
    await click("undo");
    await saved(`the undo of the ${what}`, want);
  }

  // A refused job shows its head, and nothing of the mold before.
  await tab.until("a mold", `document.querySelector("input[name=stage][value=cast]").disabled === false && Boolean(${figure})`);
  await enter("head.parting", "90");
  await tab.until("that it is refused", `!document.getElementById("trouble").hidden && !${figure} && document.querySelector("input[name=stage][value=cast]").disabled`);
  assert.ok(await tab.evaluate(`document.querySelector("input[name=stage][value=head]").checked && document.getElementById("canvas").checkVisibility()`));
  await click("undo");
  await saved("the undo of it", (text) => text === first);
  await tab.until("the mold again", `Boolean(${figure})`);

  // The build writes what the command line writes.
  from = performance.now();
  await click("build");
  await tab.until("the build", `/^Wrote/.test(document.getElementById("built-news").textContent)`, 300);
  console.log(`built after ${since(from)}`);
  assert.ok(statSync(join(folder, "job-out", "left.stl")).size > 1e6);
  await tab.until("the files", `document.querySelectorAll("#files button").length > 10`);
  const links = await tab.evaluate(`[...document.querySelectorAll("#files button")].map((a) => a.textContent)`);
  assert.ok(links.includes("frames.3mf") && links.includes("pour-sheet.pdf"), String(links));
  const bytes = await tab.evaluate(`fetch("file?which=left.stl").then((r) => r.arrayBuffer()).then((b) => b.byteLength)`);
  assert.equal(bytes, statSync(join(folder, "job-out", "left.stl")).size);
  assert.equal(await tab.evaluate(`fetch("file?which=..%2Fjob.toml").then((r) => r.status)`), 404);

  tab.faults.splice(0, tab.faults.length, ...tab.faults.filter((f) => !/404|409|422|ERR_CONNECTION|ERR_INCOMPLETE|ERR_SOCKET/.test(f)));
  assert.deepEqual(tab.faults, []);
} finally {
  await browser.stop();
  desk.kill("SIGINT");
}
console.log("desk: all steps passed");
