// At the bench: steps to tick, timers, the screen kept on, castings to note. What is
// ticked stays when the page is loaded again, in the browser alone.
const shelf = {
  name: () => `bench ${document.title} ${byId("scale")?.dataset.planned ?? ""}`,
  read: () => { try { return JSON.parse(localStorage.getItem(shelf.name())) ?? {}; } catch { return {}; } },
  write: (all) => { try { localStorage.setItem(shelf.name(), JSON.stringify(all)); } catch { /* a browser that keeps nothing */ } },
  set: (key, value) => { const all = shelf.read(); if (value === undefined) delete all[key]; else all[key] = value; shelf.write(all); },
};

const clock = (s) => {
  const whole = Math.max(0, Math.ceil(s)), two = (n) => String(n).padStart(2, "0");
  const hours = Math.floor(whole / 3600), rest = `${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
  return hours ? `${hours}:${rest}` : rest;
};

// call sounds and shakes where the browser can: hands are full and eyes elsewhere.
const call = () => {
  navigator.vibrate?.([300, 150, 300]);
  try {
    const sound = new AudioContext(), tone = sound.createOscillator();
    tone.connect(sound.destination);
    tone.start();
    tone.stop(sound.currentTime + 0.6);
    tone.onended = () => sound.close();
  } catch { /* no sound */ }
};

const showTimer = (timer) => {
  const begun = shelf.read()[`timer ${timer.dataset.timer}`], [button, out] = timer.children;
  button.textContent = begun ? "Stop" : timer.dataset.start;
  if (!begun) { out.textContent = ""; timer.classList.remove("over"); return; }
  const left = Number(timer.dataset.seconds) - (Date.now() - begun) / 1000, over = left <= 0;
  out.textContent = over ? `Time is up, ${clock(-left)} ago` : `${clock(left)} left`;
  if (over && !timer.classList.contains("over") && left > -5) call();
  timer.classList.toggle("over", over);
};

let ticking = 0;
const listenTimers = () => {
  const timers = [...document.querySelectorAll(".timer")];
  for (const timer of timers) {
    timer.hidden = false;
    const button = timer.querySelector("button");
    timer.dataset.start = button.textContent;
    button.addEventListener("click", () => {
      const key = `timer ${timer.dataset.timer}`;
      shelf.set(key, shelf.read()[key] ? undefined : Date.now());
      showTimer(timer);
    });
    showTimer(timer);
  }
  clearInterval(ticking);
  ticking = setInterval(() => { for (const timer of timers) showTimer(timer); }, 500);
};

const listenTicks = () => {
  const all = shelf.read();
  for (const box of document.querySelectorAll("[data-tick]")) {
    const key = `tick ${box.dataset.tick}`;
    box.checked = Boolean(all[key]);
    box.addEventListener("change", () => shelf.set(key, box.checked || undefined));
  }
};

// The lock of the screen goes when the page is hidden, and is asked for again.
let lock = null;
const keepOn = async () => {
  if (!byId("awake")?.checked || document.visibilityState !== "visible") return;
  try { lock = await navigator.wakeLock.request("screen"); } catch { byId("awake").checked = false; }
};
document.addEventListener("visibilitychange", keepOn);

const listenAwake = () => {
  byId("awake").closest("label").hidden = !navigator.wakeLock;
  byId("awake").closest("p").hidden = false;
  byId("awake").addEventListener("change", () => { if (byId("awake").checked) keepOn(); else lock?.release(); });
  byId("afresh").addEventListener("click", () => {
    const noted = shelf.read().castings;
    shelf.write(noted ? { castings: noted } : {});
    listenTicks();
    for (const timer of document.querySelectorAll(".timer")) showTimer(timer);
  });
};

// A casting is noted as the account takes it.
const readWeights = (text) => text.trim().split(/[\s;]+/).filter(Boolean).map(readGrams);
const lineOf = (c) => `--shots ${c.shots} --weights "${c.weights.join(" ")}"`;

const listenCastings = () => {
  const form = byId("castings"), out = form.querySelector("output");
  const list = () => shelf.read().castings ?? [];
  const show = () => byId("noted").replaceChildren(...list().map((c, i) => {
    const line = document.createElement("li"), away = document.createElement("button");
    away.type = "button";
    away.textContent = "Remove";
    away.setAttribute("aria-label", `Remove casting ${i + 1}`);
    away.addEventListener("click", () => { shelf.set("castings", list().filter((_, k) => k !== i)); show(); });
    line.append(`${c.shots} ${c.shots === 1 ? "shot" : "shots"}: ${c.weights.join(", ")} g `, away);
    return line;
  }));
  form.hidden = false;
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    const weights = readWeights(byId("weights").value), shots = Number(byId("poured").value.trim() || 1);
    if (!weights.length || weights.some((g) => !(g > 0))) { out.textContent = "Type weights in g with a space between them, such as 14.2 14.1"; return; }
    if (!Number.isInteger(shots) || shots < 1) { out.textContent = "Times poured must be a whole number from 1"; return; }
    shelf.set("castings", [...list(), { shots, weights }]);
    out.textContent = "Noted.";
    byId("weights").value = byId("poured").value = "";
    show();
  });
  const text = () => list().map(lineOf).join("\n") + "\n";
  byId("copy").addEventListener("click", async () => {
    try { await navigator.clipboard.writeText(text()); out.textContent = "Copied."; } catch { out.textContent = "This browser does not let a page copy: save the list."; }
  });
  byId("keep").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text()], { type: "text/plain" }));
    link.download = "castings.txt";
    link.click();
    URL.revokeObjectURL(link.href);
  });
  show();
};

const listenBench = () => {
  if (!byId("work")) return;
  listenTicks();
  listenTimers();
  listenAwake();
  listenCastings();
};
