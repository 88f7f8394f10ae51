// Orders to the engine: what is typed, pointed at and pressed goes there key by key,
// and the engine answers with the form of what the job's file then says.
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

