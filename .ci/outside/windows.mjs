// Drives the desk of the Windows program under wine: a job started, copied and
// changed, names that Windows has none of, the desk killed and started again, a
// second start that finds the first.
//   node windows.mjs WINE HALFPOUR.EXE FOLDER
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";

const [wine, program, folder] = process.argv.slice(2);
const name = "Köder Größe 2";

const start = async (...args) => {
  const child = spawn(wine, [program, "desk", ...args], { cwd: folder, stdio: ["ignore", "pipe", "inherit"] });
  child.stdout.setEncoding("utf8");
  let said = "";
  while (!/http:\S+\/\s/.test(said)) said += (await once(child.stdout, "data", { signal: AbortSignal.timeout(60000) }))[0];
  child.stdout.resume();
  return { child, url: /http:\S+/.exec(said)[0] };
};
const asking = (url) => async (to, order, raw) => {
  const origin = new URL(url).origin;
  const answer = await fetch(url + to, order === undefined && !raw ? {} :
    { method: "POST", headers: { Origin: origin, "Content-Type": "application/octet-stream" }, body: raw ?? JSON.stringify(order) });
  return { status: answer.status, ...(await answer.json()) };
};

let desk = await start("Fächer mit Platz");
let ask = asking(desk.url);
try {
  for (const bad of ["CON", "aux.x", "a:b", "x.", "..\\x"]) assert.equal((await ask("start", { name: bad })).status, 422, bad);
  assert.equal((await ask("start", { name })).form.file, `${name}/job.toml`);
  assert.equal((await ask("start", { name: name.replace("Köder", "KÖDER") })).status, 422, "another case");
  let { form } = await ask("copy", { name: `${name}/job.toml`, as: "zwei ß" });
  assert.equal(form.file, `${name}/zwei ß.toml`);
  ({ form } = await ask("set", { seen: form.seen, path: "hook.wire", text: "0,9" }));
  const path = join(folder, "Fächer mit Platz", name, "zwei ß.toml"), text = readFileSync(path, "utf8");
  assert.match(text, /^wire = 0\.9 /m);
  const mesh = readFileSync(join(folder, "Fächer mit Platz", name, "head.stl"));
  const head = await ask("start-with?which=" + encodeURIComponent("Kopf/Mein Kopf.stl"), undefined, mesh);
  assert.equal(head.form?.file, "Kopf/job.toml", head.message);
  assert.ok(existsSync(join(folder, "Fächer mit Platz", "Kopf", "Mein Kopf.stl")));

  desk.child.kill("SIGKILL");
  await once(desk.child, "exit");
  desk = await start("Fächer mit Platz");
  ask = asking(desk.url);
  assert.deepEqual((await ask("jobs")).jobs.map((j) => j.name), ["Kopf/job.toml", `${name}/job.toml`, `${name}/zwei ß.toml`]);
  ({ form } = await ask("open", { name: `${name}/zwei ß.toml` }));
  assert.equal(readFileSync(path, "utf8"), text);
  assert.equal(form.tables.flatMap((t) => t.fields).find((f) => f.path === "hook.wire").text, "0.9");
} finally {
  desk.child.kill("SIGKILL");
}

const first = await start("--mine");
const second = await start("--mine");
assert.equal(second.url, first.url);
await once(second.child, "exit");
first.child.kill("SIGKILL");
await once(first.child, "exit");
const third = await start("--mine"); // the first has left a note, and is gone
assert.notEqual(third.url, first.url);
third.child.kill("SIGKILL");
console.log("the desk under wine: all steps passed");
