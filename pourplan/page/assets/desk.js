// The desk: a job as a form. What is typed goes to the engine key by key; the
// engine answers with the form of what the job's file then says. docs/desk.md is
// the protocol.
const make = (tag, name, text) => {
  const e = document.createElement(tag);
  if (name) e.className = name;
  if (text) e.textContent = text;
  return e;
};

let form = null; // of the job
const fields = new Map(); // by the keys' paths

const note = (text) => { byId("news").textContent = text; };

// Orders go one after the other: each names the text that the last one left.
let orders = Promise.resolve();
const inTurn = (what) => { orders = orders.then(what).catch((fault) => note("No answer from the desk: " + fault.message)); return orders; };

const readAnswer = async ({ status, blob }) => {
  const text = await blob.text();
  let said = {};
  try { said = JSON.parse(text); } catch { said = { message: text.trim() }; }
  return { status, ...said, list: said };
};

const ask = async (name, order) => readAnswer(await transport.ask(name,
  order === undefined ? undefined : JSON.stringify({ seen: form ? form.seen : "", ...order })));

const lookAtForm = () => inTurn(async () => {
  const a = await ask("form");
  if (a.form) takeForm(a.form);
  else if (a.status === 200) noJob();
  else note(a.message);
});

// change sends an order. What could not be done because the file has changed
// meanwhile is offered once more.
const change = (name, order, field) => inTurn(async () => {
  const was = form && form.file, a = await ask(name, order);
  if (a.status === 409 && a.form && a.form.file === was) offer(name, order, a.message);
  else if (a.status === 409) note(a.message);
  const still = field && field.input.value === order.text; // nothing else has been typed since
  if (a.form && a.status !== 422) takeForm(a.form, still ? field : null);
  if (still) refuse(field, a.status === 422 ? a.message : "");
  else if (!field && a.status === 422) note(a.message);
});

const offer = (name, order, message) => {
  const bar = byId("conflict");
  const what = order.path ? ` Not made: ${order.path} = ${order.text || "(left out)"}.` : "";
  bar.querySelector("p").textContent = `${message[0].toUpperCase()}${message.slice(1)}.${what}`;
  bar.hidden = false;
  byId("again").onclick = () => { bar.hidden = true; change(name, order, fields.get(order.path)); };
  byId("leave").onclick = () => { bar.hidden = true; };
};

const refuse = (field, message) => {
  field.tried = message;
  showWrong(field);
};

const showWrong = (field) => {
  const list = field.tried ? [field.tried] : field.key.problems || [];
  field.wrong.textContent = list.join("; ");
  field.row.classList.toggle("bad", list.length > 0);
  field.input.setAttribute("aria-invalid", String(list.length > 0));
};

// entry makes the control of a key.
const entry = (key) => {
  const words = key.words || (key.kind === "true or false" ? ["true", "false"] : null);
  if (!words) {
    const input = make("input");
    input.type = "text";
    input.spellcheck = false;
    if (key.kind === "number" || key.kind === "whole number") input.inputMode = "decimal";
    return input;
  }
  const input = make("select");
  input.append(new Option(key.default ? `(${key.default.replaceAll('"', "")})` : "(left out)", ""), ...words.map((w) => new Option(w, w)));
  return input;
};

const newField = (key, number) => {
  const row = make("div", "field"), input = entry(key), box = make("div", "entry");
  const label = make("label", "", key.name.replaceAll("_", " ")), wrong = make("p", "wrong"), more = make("div", "meaning");
  input.id = `key-${number}`;
  label.htmlFor = input.id;
  wrong.id = `wrong-${number}`;
  input.setAttribute("aria-describedby", wrong.id);
  box.append(input);
  if (key.offers) {
    const list = make("datalist");
    list.id = `offers-${number}`;
    list.append(...key.offers.map((o) => new Option(o)));
    input.setAttribute("list", list.id);
    box.append(list);
  }
  if (key.unit) box.append(make("span", "", key.unit));
  const why = make("button", "why", "?");
  why.type = "button";
  why.setAttribute("aria-label", `What ${key.path} means`);
  why.setAttribute("aria-expanded", "false");
  more.hidden = true;
  why.addEventListener("click", () => { more.hidden = !more.hidden; why.setAttribute("aria-expanded", String(!more.hidden)); });
  box.append(why);
  more.append(make("p", "", key.meaning[0].toUpperCase() + key.meaning.slice(1) + "."));
  const facts = [key.kind, key.limits, key.default && "left out: " + key.default].filter(Boolean).join("; ");
  more.append(make("p", "", facts + "."));
  row.append(label, box, wrong, more);
  const field = { key, row, input, wrong, tried: "" };
  let waiting = 0;
  const send = () => {
    clearTimeout(waiting);
    if (input.value !== field.key.text) change("set", { path: field.key.path, text: input.value }, field);
    else refuse(field, "");
  };
  input.addEventListener("change", send);
  input.addEventListener("keydown", (e) => { if (e.key === "Enter") { e.preventDefault(); send(); } });
  input.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => inTurn(async () => {
      const text = input.value, a = await ask("try", { path: field.key.path, text });
      if (input.value === text) refuse(field, a.status === 422 ? a.message : "");
    }), 150);
  });
  return field;
};

// takeForm shows a form. What is being typed stays.
const takeForm = (next, done) => {
  const shape = (f) => JSON.stringify(f.tables.map((t) => [t.path, t.fields.length]));
  const same = form && form.file === next.file && shape(form) === shape(next);
  form = next;
  if (!same) drawTables();
  for (const t of form.tables) {
    for (const key of t.fields) {
      const f = fields.get(key.path), typing = f.input === document.activeElement && f.input.value !== f.key.text && f !== done;
      f.key = key;
      if (!typing) { f.input.value = key.text; f.tried = ""; }
      f.input.placeholder = (key.default || "").replaceAll('"', "");
      f.row.classList.toggle("given", Boolean(key.given));
      showWrong(f);
    }
  }
  const known = new Set(fields.keys());
  byId("whole").replaceChildren(...form.problems.filter((p) => !known.has(p.path)).map((p) =>
    make("p", "", `${p.line ? "Line " + p.line + ": " : ""}${p.path ? p.path + ": " : ""}${p.message}.${p.hint ? " " + p.hint[0].toUpperCase() + p.hint.slice(1) + "." : ""}`)));
  byId("file").textContent = form.file;
  document.title = `${form.title || form.file}: desk`;
  document.querySelector("h1").textContent = form.title || "Desk";
  byId("undo").disabled = !form.undo;
  byId("redo").disabled = !form.redo;
  jobShown(form);
  sift();
};

const drawTables = () => {
  fields.clear();
  const list = form.tables.map((t) => {
    const s = make("section", "table"), h = make("h2", "", t.name ? t.name[0].toUpperCase() + t.name.slice(1) : "Job");
    s.append(h, make("p", "", t.meaning));
    for (const key of t.fields) {
      const f = newField(key, fields.size);
      fields.set(key.path, f);
      s.append(f.row);
    }
    return s;
  });
  byId("tables").replaceChildren(...list);
  byId("more").replaceChildren(...form.more.map((m) => new Option(`${m.name}: ${m.meaning}`, m.name)));
};

// sift hides what is not looked for. Keys that are given, and those with faults,
// are always there.
const sift = () => {
  const text = byId("find").value.trim().toLowerCase().replaceAll(" ", "_"), all = byId("all-keys").checked;
  for (const f of fields.values()) {
    const wanted = text ? f.key.path.toLowerCase().includes(text) : all || f.key.main || f.key.given || f.wrong.textContent !== "";
    f.row.hidden = !wanted;
    f.row.style.display = wanted ? "" : "none";
  }
  for (const s of document.querySelectorAll(".table")) s.hidden = ![...s.querySelectorAll(".field")].some((r) => !r.hidden);
};

const showFiles = async () => {
  const list = (await ask("files")).list;
  byId("built").hidden = list.length === 0 && byId("built-news").textContent === "";
  byId("files").replaceChildren(...list.map((f) => {
    const line = make("li"), get = make("button", "", f.name);
    get.type = "button";
    get.addEventListener("click", () => saveFile(f.name));
    line.append(get, ` ${(f.bytes / 1000).toFixed(1)} kB`);
    return line;
  }));
};

// saveFile lets the browser keep a file that was built.
const saveFile = async (name) => {
  const answer = await transport.ask("file?which=" + encodeURIComponent(name));
  if (answer.status !== 200) { note(await answer.blob.text()); return; }
  const link = make("a");
  link.href = URL.createObjectURL(answer.blob);
  link.download = name.split("/").pop();
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
};

const building = (on) => { byId("build").disabled = on; byId("stop").hidden = !on; };

const showSide = (mold) => {
  document.body.classList.toggle("mold", mold);
  byId("show-keys").setAttribute("aria-pressed", String(!mold));
  byId("show-mold").setAttribute("aria-pressed", String(mold));
};

// takeHead sends the file of a head, and shows how the engine thinks it lies.
const takeHead = (file) => inTurn(async () => {
  note(`Looking at ${file.name}`);
  const a = await sendFile("head?which=" + encodeURIComponent(file.name), file);
  if (a.form) takeForm(a.form);
  showProposed(a.proposed, a.message && `${file.name}: ${a.message}`);
});

// sendFile sends the bytes of a file.
const sendFile = async (name, file) => readAnswer(await transport.ask(name, file));

// showProposed shows what was read off a head, or why it was not.
const showProposed = (proposed, message) => {
  const list = byId("proposed");
  list.hidden = !message && !proposed;
  list.replaceChildren(...(message ? [make("li", "unsure", message)] : (proposed || []).map((p) =>
    make("li", p.trust === "not sure" ? "unsure" : "", `${p.key} = ${p.value}, ${p.trust}: ${p.why}`))));
};

const beginDesk = () => {
  const drop = document.querySelector(".drop");
  byId("head").addEventListener("change", () => { if (byId("head").files[0]) takeHead(byId("head").files[0]); });
  for (const kind of ["dragenter", "dragover"]) document.addEventListener(kind, (e) => { e.preventDefault(); drop.classList.add("over"); });
  for (const kind of ["dragleave", "drop"]) document.addEventListener(kind, (e) => { e.preventDefault(); drop.classList.remove("over"); });
  document.addEventListener("drop", (e) => {
    const file = e.dataTransfer.files[0];
    if (file) (byId("jobs").hidden ? takeHead : nameAfter)(file); // for a new job while the jobs are shown
  });
  byId("keys").addEventListener("submit", (e) => e.preventDefault());
  byId("undo").addEventListener("click", () => change("undo", {}));
  byId("redo").addEventListener("click", () => change("redo", {}));
  byId("add").addEventListener("click", () => change("add", { table: byId("more").value }));
  byId("find").addEventListener("input", sift);
  byId("all-keys").addEventListener("change", sift);
  byId("show-keys").addEventListener("click", () => showSide(false));
  byId("show-mold").addEventListener("click", () => showSide(true));
  byId("build").addEventListener("click", () => inTurn(async () => {
    const a = await ask("build", {});
    if (a.status === 202) building(true);
    else note(a.message);
  }));
  byId("stop").addEventListener("click", () => inTurn(() => ask("stop", {})));
  Object.assign(hears, {
    form: lookAtForm,
    open: lookAtForm,
    built: (told) => {
      const text = JSON.parse(told), on = text.startsWith("Building");
      building(on);
      byId("built").hidden = false;
      byId("built-news").textContent = text;
      if (!on) showFiles();
    },
    end: () => note("The desk has ended, or is being started again. What you type now is not kept."),
  });
  showFiles();
};

beginDesk();
