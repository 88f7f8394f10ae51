// The desk: the job beside its mold. docs/desk.md is the protocol.
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
  document.body.classList.remove("still"); // which shows what needs no script
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
  byId("save-all").addEventListener("click", saveAll);
  byId("stop").addEventListener("click", () => inTurn(() => ask("stop", {})));
  begins.push(listenTools);
  Object.assign(hears, {
    form: lookAtForm,
    lying: () => { lying.turn = lying.turn.then(takeLying).catch((fault) => note(String(fault))); },
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
