// Opens the page of a build in headless Chromium, narrow and wide, light and
// dark, and looks whether it shows what it says: every figure as in plan.json,
// a model that is no blank canvas and answers to keys and sliders, controls
// with names, nothing wider than the screen, no complaint and no request. Then
// without WebGL, without scripts, and as printed.
//   node page.mjs FOLDER [FOLDER FOR PICTURES]
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { openTab, startBrowser } from "./browser.mjs";

const [folder, pictures] = process.argv.slice(2);
const url = pathToFileURL(resolve(folder, "mold.html")).href;
const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8"));

const numbers = {};
const walk = (value, path) => {
  if (typeof value === "number") numbers[path] = value;
  else if (value && typeof value === "object") for (const key of Object.keys(value)) walk(value[key], path ? `${path}.${key}` : key);
};
walk(plan, "");

const figures = `[...document.querySelectorAll("data")].map((d) => [d.dataset.figure, Number(d.value), d.textContent])`;
const checkFigures = async (tab) => {
  const seen = new Set();
  for (const [path, value, text] of await tab.evaluate(figures)) {
    assert.equal(value, numbers[path], path);
    assert.notEqual(text.trim(), "", path);
    seen.add(path);
  }
  assert.deepEqual(Object.keys(numbers).filter((path) => !seen.has(path)), [], "figures that the page does not show");
  return seen.size;
};

// look draws the model again and says how many colours it has, and a number
// that another picture has not. The drawing that the event asks for comes first
// in the next frame; the canvas is read in the same one.
const look = `new Promise((done) => {
  const canvas = document.getElementById("canvas");
  window.dispatchEvent(new Event("resize"));
  requestAnimationFrame(() => {
    const flat = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d");
    flat.drawImage(canvas, 0, 0);
    const dots = new Uint32Array(flat.getImageData(0, 0, canvas.width, canvas.height).data.buffer), colours = new Set(dots);
    let sum = 0;
    for (const dot of dots) sum = (Math.imul(sum, 31) + dot) | 0;
    done({ colours: colours.size, sum });
  });
})`;
const slide = (id, value) => `(() => { const e = document.getElementById("${id}"); e.value = "${value}"; e.dispatchEvent(new Event(e.tagName === "SELECT" ? "change" : "input")); })()`;
// slim lists controls that are less high than a thumb needs, 44 points.
const slim = `[...document.querySelectorAll("button, select, input:not([type=radio], [type=checkbox]), .tick, .choice span, summary, nav a")]
  .filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 44 && !e.closest("#markers")).map((e) => e.id || e.textContent)`;
const nameless = async (tab) => {
  const { nodes } = await tab.send("Accessibility.getFullAXTree");
  const roles = ["button", "slider", "combobox", "checkbox", "radio", "spinbutton", "link", "application", "region", "img"];
  return nodes.filter((n) => !n.ignored && roles.includes(n.role?.value) && !n.name?.value).map((n) => n.role.value);
};

// checkTables looks for tables that are wider than their place, on screens of all
// widths, and for values that do not stand under or beside their heads.
const checkTables = async (tab, height, what) => {
  for (const width of [320, 390, 768, 1024, 1280, 1440]) {
    await tab.send("Emulation.setDeviceMetricsOverride", { width, height, deviceScaleFactor: 1, mobile: width < 600 });
    const wide = await tab.evaluate(`[...document.querySelectorAll(".wide")].filter((e) => e.checkVisibility() && e.scrollWidth > e.clientWidth + 1).map((e) => e.ariaLabel)`);
    assert.deepEqual(wide, [], `${what}, at ${width}: tables with columns out of sight`);
  }
  const heads = await tab.evaluate(`[...document.querySelectorAll("thead")].flatMap((h) => [...h.parentElement.querySelectorAll("tbody tr")].filter((r) =>
    r.children.length !== h.rows[0].children.length || [...r.children].some((c, i) => i > 0 && c.dataset.head !== h.rows[0].children[i].textContent)).map((r) => r.textContent))`);
  assert.deepEqual(heads, [], `${what}: rows that do not fit their heads`);
};

// checkScale types an A as a person does. A decimal comma is a decimal comma; what
// can be read in two ways is not read; what is far from the plan is asked about.
const checkScale = async (tab, what) => {
  const { halves, ratio_a, ratio_b, scale_step_g, one_mix } = plan.rubber;
  const type = async (text) => {
    await tab.evaluate(`document.getElementById("scale-a").focus(), document.getElementById("scale-a").select()`);
    await tab.send("Input.insertText", { text });
    return tab.evaluate(`document.querySelector("#scale output").textContent`);
  };
  const takes = (answer, a) => {
    const b = Number.parseFloat(answer.replace("takes B ", ""));
    assert.ok(answer.startsWith("takes B ") && Math.abs(b - a * ratio_b / ratio_a) <= scale_step_g / 2 + 1e-9, `${what}: for ${a} g of A the page says ${answer}`);
  };
  const asks = () => tab.evaluate(`document.querySelector("#scale button").checkVisibility()`);
  const near = (halves[0].a_g + 0.5).toFixed(1);
  for (const text of [near, near.replace(".", ","), ` ${near.replace(".", ",")} g`]) takes(await type(text), Number(near));
  assert.equal(await asks(), false, `${what}: ${near} g is asked about`);
  const largest = Math.max(...halves.map((h) => h.a_g), one_mix.a_g);
  const odd = String(Math.ceil(largest) * 4);
  assert.match(await type(odd), new RegExp(`of A\\. Is it ${odd} g\\?$`), `${what}: ${odd} g pass without a question`);
  await tab.evaluate(`document.querySelector("#scale button").click()`);
  takes(await tab.evaluate(`document.querySelector("#scale output").textContent`), Number(odd));
  for (const text of ["1,000.5", "1.000,5", "12-3", "abc", "0"]) assert.match(await type(text), /^Type grams/, `${what}: ${text}`);
};

// checkBench works as one does at the bench: ticks steps, starts a timer, puts too
// much B into the cup, notes three shots, and loads the page again.
const checkBench = async (tab, what) => {
  const { halves, ratio_a, ratio_b } = plan.rubber, a = halves[0].a_g;
  const type = async (id, text) => {
    await tab.evaluate(`document.getElementById("${id}").focus(), document.getElementById("${id}").select()`);
    await tab.send("Input.insertText", { text: String(text) });
  };
  const said = () => tab.evaluate(`document.querySelector('output[for="scale-b"]').textContent`);
  const grams = (text) => Number.parseFloat(/ ([\d.]+) g/.exec(text)?.[1]);
  await type("scale-a", a.toFixed(2));
  const right = a * ratio_b / ratio_a;
  await tab.evaluate(`localStorage.clear()`); // of another screen's bench
  await type("scale-b", right.toFixed(2).replace(".", ","));
  assert.match(await said(), /^Right: mix/, `${what}: ${right} g of B`);
  await type("scale-b", (1.5 * right).toFixed(2));
  assert.ok(Math.abs(grams(await said()) - 0.5 * a) < 0.02 * a && /^too much B: add A/.test(await said()), `${what}: overshot, ${await said()}`);
  await type("scale-b", (0.5 * right).toFixed(2));
  assert.ok(/^add B/.test(await said()), `${what}: too little, ${await said()}`);
  await type("scale-a", (0.5 * a).toFixed(2));
  assert.match(await said(), /Not enough/, `${what}: half of A`);
  await tab.evaluate(`document.querySelector("[data-tick]").click(), document.querySelector(".timer button").click()`);
  for (const weights of ["7,1", "7.2 7.0", "7"]) {
    await type("weights", weights);
    await tab.evaluate(`document.querySelector("#castings button").click()`);
  }
  await type("weights", "heavy");
  await tab.evaluate(`document.querySelector("#castings button").click()`);
  assert.match(await tab.evaluate(`document.querySelector("#castings output").textContent`), /^Type weights/);
  await tab.send("Page.reload");
  await tab.until("the steps again", `document.querySelectorAll("#noted li").length === 3`);
  assert.ok(await tab.evaluate(`document.querySelector("[data-tick]").checked && / left$/.test(document.querySelector(".timer output").textContent)`), `${what}: ticks and timer are gone`);
  assert.match(await tab.evaluate(`document.getElementById("noted").textContent`), /7\.1 g.*7\.2, 7 g.*7 g/);
  await tab.evaluate(`document.querySelector("#noted button").click(), document.getElementById("afresh").click()`);
  assert.equal(await tab.evaluate(`document.querySelectorAll("#noted li").length`), 2);
  assert.equal(await tab.evaluate(`document.querySelector("[data-tick]").checked || document.querySelector(".timer output").textContent !== ""`), false);
};

// checkCuts moves the cut from one end to the other: near the parting plane, where
// faces of both halves lie, it stays beside it, and elsewhere where it is asked to be.
const checkCuts = () => {
  const assets = new URL("../../pourplan/page/assets/", import.meta.url);
  const source = ["vectors", "model", "state", "poses"].map((name) => readFileSync(new URL(`${name}.js`, assets), "utf8")).join("");
  const { state, cutOf } = new Function(`${source}; return { state, cutOf };`)();
  const tray = (half) => ({ half, low: [-20, -30, -3], high: [20, 30, 17], inside: [[-18, -28, -3], [18, 28, 14]], fill: 14 });
  const model = { trays: [tray("left"), tray("right")] };
  for (const side of [false, true]) {
    for (const half of ["left", "right"]) {
      for (let cut = 0; cut <= 1000; cut++) {
        Object.assign(state, { stage: "cast", axis: "2", cut, side });
        const [x, y, z, offset] = cutOf(model, half), at = -offset * z, asked = -14 + 28 * cut / 1000;
        assert.deepEqual([x, y, z], [0, 0, side ? -1 : 1]);
        assert.ok(Math.abs(at) > 0.04 && Math.abs(at - asked) < 0.051, `a cut asked for at ${asked} mm is at ${at} mm`);
      }
    }
  }
};

checkCuts();
const browser = await startBrowser();
try {
  for (const [width, height] of [[320, 640], [360, 740], [1280, 900]]) {
    for (const dark of [false, true]) {
      if (plan.heads.length > 1 && dark !== width < 1000) continue; // a large model is drawn slowly without a graphics card
      const tab = await openTab(browser, { width, height, dark }), what = `${width} x ${height}, ${dark ? "dark" : "light"}`;
      await tab.send("Page.navigate", { url });
      await tab.until("the model", `Number(document.getElementById("canvas")?.dataset.drawn) > 0`);
      const count = await checkFigures(tab);
      assert.ok(await tab.evaluate("document.documentElement.scrollWidth <= innerWidth"), `${what}: the page is wider than the screen`);
      const seen = [await tab.evaluate(look)];
      assert.ok(seen[0].colours > 200, `${what}: the model has ${seen[0].colours} colours`);
      if (pictures) writeFileSync(join(pictures, `page-${width}-${dark ? "dark" : "light"}.png`), await tab.picture());
      const then = async (step) => {
        const now = await tab.evaluate(look);
        assert.ok(seen.every((s) => s.sum !== now.sum), `${what}: ${step} changes nothing`);
        seen.push(now);
      };
      await tab.evaluate(`document.getElementById("canvas").focus()`);
      for (const key of ["ArrowLeft", "ArrowUp", "+"]) { await tab.key(key); await then(`the key ${key}`); }
      for (const [id, value] of [["open", 150], ["metal", 50], ["axis", 1], ["cut", 300]]) { await tab.evaluate(slide(id, value)); await then(`the control ${id}`); }
      // With a funnel each, cavities fill one after the other.
      const n = plan.layout?.runner ? 1 : plan.heads.length;
      await tab.until("the metal, in words", `document.getElementById("seen").textContent.includes("${n === 1 ? "50 % of the metal in" : `metal in cavity ${Math.floor(n / 2) + 1} of ${n}`}")`);
      for (const stage of ["pour", "print"]) {
        await tab.evaluate(`document.querySelector("input[value=${stage}]").click()`);
        await then(`the stage ${stage}`);
      }
      await tab.until("the spoken view", `/^The printed trays, cut open; seen from/.test(document.getElementById("seen").textContent)`);
      await checkScale(tab, what);
      if (width < 600) { // where fingers are what there is
        assert.equal(await tab.evaluate(`getComputedStyle(document.getElementById("canvas")).touchAction`), "pan-y", `${what}: the model keeps a finger from scrolling`);
        await tab.evaluate(`document.querySelector("input[value=cast]").click()`);
        assert.deepEqual(await tab.evaluate(slim), [], `${what}: too slim for a thumb`);
        await checkBench(tab, what);
      }
      assert.deepEqual(await nameless(tab), [], `${what}: controls without a name`);
      await checkTables(tab, height, what);
      assert.deepEqual(tab.faults, [], what);
      assert.deepEqual(tab.asked.filter((u) => u !== url && !u.startsWith(url + "#")), [], `${what}: asks the network`);
      await tab.close();
      console.log(`${what}: ${count} figures as in the plan; the model has ${seen[0].colours} colours and answers to keys and controls`);
    }
  }
  const none = `HTMLCanvasElement.prototype.getContext = () => null;`;
  for (const [what, options] of [["without WebGL", { before: none }], ["without scripts", { scripts: false }], ["printed", { print: true }]]) {
    const tab = await openTab(browser, { width: 800, height: 1000, ...options });
    await tab.send("Page.navigate", { url });
    await tab.until("the page", `document.readyState === "complete"`);
    const count = await checkFigures(tab);
    const shown = (id) => tab.evaluate(`document.getElementById("${id}").checkVisibility()`);
    assert.equal(await shown("viewer"), false, `${what}: an empty viewer is shown`);
    assert.equal(await shown("no-look"), what !== "printed", what);
    assert.equal(await shown("drawings"), true, `${what}: no drawings`);
    assert.deepEqual(tab.faults, [], what);
    if (pictures) writeFileSync(join(pictures, `page-${what.replaceAll(" ", "-")}.png`), await tab.picture());
    await tab.close();
    console.log(`${what}: ${count} figures and the drawings`);
  }
} finally {
  await browser.stop();
}
