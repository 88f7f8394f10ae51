// At the scale: part B for the A that is in the cup.
const listenScale = () => {
  const form = byId("scale");
  if (!form) return;
  form.hidden = false;
  const { a, b, step } = form.dataset, out = form.querySelector("output");
  const digits = (String(step).split(".")[1] ?? "").length;
  byId("scale-a").addEventListener("input", (e) => {
    const g = Number.parseFloat(e.target.value);
    out.textContent = g > 0 ? `takes B ${(Math.round(g * b / a / step) * step).toFixed(digits)} g` : "";
  });
  form.addEventListener("submit", (e) => e.preventDefault());
};
