// At the scale: part B for the A that is in the cup.

// readGrams reads a mass in g with a decimal point or comma; NaN for anything
// that can be read in two ways, such as 1,000.5 or 1.000,5.
const readGrams = (text) => {
  const number = text.trim().replace(/\s*g$/i, "");
  return /^\d+([.,]\d*)?$|^[.,]\d+$/.test(number) ? Number.parseFloat(number.replace(",", ".")) : Number.NaN;
};

// far is how far from every planned A, as a share of it, a mass is asked about.
const far = 0.2;

const listenScale = () => {
  const form = byId("scale");
  if (!form) return;
  form.hidden = false;
  const { a, b, step } = form.dataset, planned = form.dataset.planned.split(" ").map(Number);
  const out = form.querySelector("output"), sure = form.querySelector("button");
  const digits = (String(step).split(".")[1] ?? "").length, shown = (g) => `${g.toFixed(digits)} g`;
  const answer = (certain) => {
    const text = byId("scale-a").value, g = readGrams(text);
    const odd = g > 0 && planned.every((p) => Math.abs(g - p) > far * p) && !certain;
    sure.hidden = !odd;
    if (text.trim() === "") out.textContent = "";
    else if (!(g > 0)) out.textContent = "Type grams, such as " + shown(planned[0]);
    else if (odd) out.textContent = `The plan says ${planned.map(shown).join(" or ")} of A. Is it ${g} g?`;
    else out.textContent = `takes B ${shown(Math.round(g * b / a / step) * step)}`;
  };
  const both = () => {
    const out = byId("scale-b").nextElementSibling, g = readGrams(byId("scale-a").value), has = readGrams(byId("scale-b").value);
    if (byId("scale-b").value.trim() === "") { out.textContent = ""; return; }
    if (!(g > 0)) { out.textContent = "Type the A in the cup first"; return; }
    if (!(has >= 0)) { out.textContent = "Type grams, such as " + shown(g * b / a); return; }
    const lacks = g * b / a - has, more = lacks < 0 ? has * a / b - g : 0, whole = g + more, least = Math.min(...planned);
    const ok = Math.abs(lacks) <= step / 2 + 1e-9;
    const todo = ok ? "Right: mix" : lacks > 0 ? `add B ${shown(lacks)}` : `too much B: add A ${shown(more)}`;
    const short = least - whole;
    out.textContent = todo + (short > step ? `. Not enough for a half: ${shown(short)} of A short` : "");
  };
  byId("scale-b").addEventListener("input", both);
  byId("scale-a").addEventListener("input", () => { answer(false); both(); });
  sure.addEventListener("click", () => { answer(true); byId("scale-a").focus(); });
  form.addEventListener("submit", (e) => { e.preventDefault(); answer(!sure.hidden); });
};
