// The job as a form: every key with its field.
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
    const top = make("div", "tables-head");
    top.append(h);
    if (/\]$/.test(t.path)) {
      const away = make("button", "", "Remove");
      away.type = "button";
      away.setAttribute("aria-label", `Remove ${t.name}`);
      away.addEventListener("click", () => change("remove", { table: t.path }));
      top.append(away);
    }
    s.append(top, make("p", "", t.meaning));
    if (t.drawing) {
      const where = make("details");
      where.append(make("summary", "", "Where to measure"), make("pre", "drawn", t.drawing));
      s.append(where);
    }
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

