// The jobs of the desk's folder: which there are, opening, starting and copying
// one. It stands behind desk.js and shares its scope.
const jobs = { open: "", file: null }; // the job that is open, by its name; a head that was dropped

const showJobs = async (shown) => {
  byId("jobs").hidden = !shown;
  byId("jobs-show").setAttribute("aria-expanded", String(shown));
  byId("jobs-wrong").textContent = "";
  if (shown) await listJobs();
};

const listJobs = async () => {
  const a = (await ask("jobs")).list;
  if (!a.jobs) { byId("jobs-wrong").textContent = a.message || "The desk does not answer."; return; }
  byId("jobs-folder").textContent = `In ${a.folder}`;
  byId("jobs-list").replaceChildren(...a.jobs.map((j) => {
    const line = make("li"), button = make("button", "", j.title ? `${j.title} (${j.name})` : j.name);
    button.type = "button";
    if (j.open) button.setAttribute("aria-current", "true");
    button.addEventListener("click", () => (j.open ? showJobs(false) : openJob("open", { name: j.name })));
    line.append(button);
    return line;
  }));
  byId("jobs-news").textContent = a.message || (a.jobs.length === 0 ? "No jobs here yet." : a.all ? "" : "There are too many files here to list all jobs.");
};

// taken shows the job that an order has opened, or why it has not.
const taken = (a) => {
  if (!a.form) { byId("jobs-wrong").textContent = (a.message || "The desk does not answer.").replace(/^./, (c) => c.toUpperCase()) + "."; return; }
  takeForm(a.form);
  showProposed(a.proposed);
  for (const id of ["start", "copy"]) byId(id).reset();
  jobs.file = null;
  showJobs(false);
  document.querySelector("h1").focus();
};

const openJob = (name, order) => inTurn(async () => taken(await ask(name, order)));

const startJob = () => {
  const name = byId("start-name").value.trim(), file = byId("start-head").files[0] || jobs.file;
  if (!file) { openJob("start", { name }); return; }
  inTurn(async () => {
    note(`Looking at ${file.name}`);
    taken(await sendFile("start-with?which=" + encodeURIComponent(`${name}/${file.name}`), file));
  });
};

// nameAfter proposes a job's name by its head's file.
const nameAfter = (file) => {
  jobs.file = file;
  if (byId("start-name").value === "") byId("start-name").value = file.name.replace(/\.[^.]*$/, "");
  byId("start-name").focus();
};

// jobShown hears of every form that is shown.
const jobShown = (next) => {
  document.body.classList.remove("nojob");
  jobs.open = next.file;
};

// noJob shows the jobs when none is open.
const noJob = () => {
  document.body.classList.add("nojob");
  jobs.open = "";
  note("No job is open yet.");
  showJobs(true);
};

const beginJobs = () => {
  byId("jobs-show").addEventListener("click", async () => {
    const shown = byId("jobs").hidden;
    await showJobs(shown);
    if (shown) byId("jobs-title").focus();
  });
  document.addEventListener("keydown", (e) => {
    if (e.key !== "Escape" || jobs.open === "" || byId("jobs").hidden) return;
    showJobs(false);
    byId("jobs-show").focus();
  });
  byId("start").addEventListener("submit", (e) => { e.preventDefault(); startJob(); });
  byId("start-head").addEventListener("change", () => { if (byId("start-head").files[0]) nameAfter(byId("start-head").files[0]); });
  byId("copy").addEventListener("submit", (e) => { e.preventDefault(); openJob("copy", { name: jobs.open, as: byId("copy-name").value.trim() }); });
};

beginJobs();
