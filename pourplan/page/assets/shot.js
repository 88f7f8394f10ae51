// The computed shot, cut along the parting plane: how warm, and how solid, over time.
const shotBytes = (base64) => Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));

// Ramps from cold to hot, and from melt to solid: [at, red, green, blue].
const shotRamps = {
  warm: [[0, 24, 32, 74], [0.25, 84, 39, 143], [0.5, 178, 52, 96], [0.75, 240, 116, 40], [1, 255, 232, 150]],
  solid: [[0, 255, 154, 46], [0.65, 226, 196, 140], [1, 96, 108, 124]],
};

const rampAt = (ramp, x) => {
  let i = 1;
  while (i < ramp.length - 1 && x > ramp[i][0]) i++;
  const [a, b] = [ramp[i - 1], ramp[i]], t = Math.min(1, Math.max(0, (x - a[0]) / (b[0] - a[0])));
  return [1, 2, 3].map((k) => Math.round(a[k] + t * (b[k] - a[k])));
};

const showShot = () => {
  const data = byId("shot-data");
  if (!data) return;
  const shot = JSON.parse(data.textContent), cells = shot.nx * shot.ny;
  const warm = shotBytes(shot.warm), mask = shotBytes(shot.metal), solid = shotBytes(shot.solid);
  const order = [];
  for (let i = 0; i < cells; i++) if (mask[i >> 3] & (1 << (i % 8))) order.push(i);
  const cut = byId("shot-cut"), time = byId("shot-time"), ramp = byId("shot-ramp");
  [cut.width, cut.height] = [shot.nx, shot.ny];
  const paper = cut.getContext("2d"), strip = ramp.getContext("2d");
  const drawn = paper !== null && strip !== null; // else the words say what there is
  cut.hidden = ramp.hidden = !drawn;
  time.max = shot.times.length - 1;
  const degrees = (c) => `${Math.round(c)} °C`;
  const draw = () => {
    const t = Number(time.value), shows = document.querySelector('[name="shot-shows"]:checked').value;
    const image = drawn ? paper.createImageData(shot.nx, shot.ny) : null;
    const put = (i, colour) => image?.data.set([...colour, 255], 4 * i);
    let hottest = 0, share = 0;
    for (let i = 0; i < cells; i++) {
      const x = warm[t * cells + i] / 255;
      put(i, shows === "warm" ? rampAt(shotRamps.warm, x) : [0, 0, 0].map(() => Math.round(70 + 40 * x)));
      hottest = Math.max(hottest, x);
    }
    order.forEach((i, k) => {
      const s = solid[t * order.length + k] / 250;
      share += s / order.length;
      if (shows === "solid") put(i, rampAt(shotRamps.solid, s));
    });
    if (drawn) paper.putImageData(image, 0, 0);
    const ends = byId("shot-ends").children;
    for (let i = 0; drawn && i < 256; i++) {
      strip.fillStyle = `rgb(${rampAt(shotRamps[shows], i / 255)})`;
      strip.fillRect(i, 0, 1, 1);
    }
    [ends[0].textContent, ends[1].textContent] = shows === "warm" ? [degrees(shot.low), degrees(shot.high)] : ["melt", "solid"];
    byId("shot-says").textContent = `${shot.times[t]} s: hottest ${degrees(shot.low + hottest * (shot.high - shot.low))}, ${Math.round(100 * share)} % of the metal here solid`;
  };
  time.addEventListener("input", draw);
  for (const choice of document.querySelectorAll('[name="shot-shows"]')) choice.addEventListener("change", draw);
  byId("freezing").hidden = false;
  draw();
};
