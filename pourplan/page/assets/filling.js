// How far metal has come: cavities with a funnel each are poured one after the
// other, from the left; under one funnel they fill together. A ladle gives the
// same metal in the same time, so that it rises slowly where a cavity is wide.
const riseSteps = 64;

// riseOf lists what share of the metal of some castings is below each of evenly
// spaced heights. The area of a level is what the facets below it, seen from
// above, do not close.
const riseOf = (castings, low, high) => {
  const area = new Float64Array(riseSteps), step = (high - low) / riseSteps;
  for (const { body, by } of castings) {
    const p = new Float32Array(body.corners);
    for (let i = 0; i < p.length; i += 12) {
      const ux = p[i + 4] - p[i], uz = p[i + 6] - p[i + 2], vx = p[i + 8] - p[i], vz = p[i + 10] - p[i + 2];
      const y = (p[i + 1] + p[i + 5] + p[i + 9]) / 3 + by[1], at = Math.floor((y - low) / step);
      if (at < riseSteps) area[Math.max(at, 0)] -= (uz * vx - ux * vz) / 2;
    }
  }
  const below = [0];
  let open = 0;
  for (const a of area) {
    open += a;
    below.push(below[below.length - 1] + Math.max(open, 0));
  }
  const all = below[riseSteps] || 1;
  return { low, step, below: below.map((v) => v / all) };
};

// heightAt is where the level is when a share of all has run in.
const heightAt = ({ low, step, below }, share) => {
  const i = Math.max(1, below.findIndex((v) => v >= share)), gain = below[i] - below[i - 1];
  return low + step * (i - 1 + (gain > 0 ? (share - below[i - 1]) / gain : 1));
};

// addPours tells a model what is poured one after the other.
const addPours = (model) => {
  const castings = model.metal.flatMap((body) => body.at.map((by) => ({ body, by })));
  const left = ({ body, by }) => body.low[0] + by[0];
  castings.sort((a, b) => left(a) - left(b) || b.by[1] - a.by[1]);
  const lowest = (list) => Math.min(...list.map(({ body, by }) => body.low[1] + by[1]));
  const pours = (model.runner ? [castings] : castings.map((c) => [c])).filter((list) => list.length > 0);
  return { ...model, pours: pours.map((list) => ({ list, rise: riseOf(list, lowest(list), model.top) })) };
};

// fillings sorts the castings by what they hold: each group has its level and
// how hot it is to look at.
const fillings = (model) => {
  const at = state.level / 100 * model.pours.length, now = Math.min(Math.floor(at), model.pours.length);
  const castings = (pours) => pours.flatMap((p) => p.list), groups = [];
  if (now > 0) groups.push({ castings: castings(model.pours.slice(0, now)), level: model.top + 1, heat: 0 });
  const pour = model.pours[now];
  if (pour && at > now) groups.push({ castings: pour.list, level: heightAt(pour.rise, at - now), heat: 1, rising: true });
  const empty = model.pours.slice(at > now ? now + 1 : now);
  if (empty.length > 0) groups.push({ castings: castings(empty), level: model.bottom - 1, heat: 0 });
  return groups;
};

// filled says in words how far metal has come.
const filledText = (model) => {
  const n = model.pours.length, at = state.level / 100 * n;
  if (state.level >= 100) return "full of metal";
  if (state.level <= 0) return "empty of metal";
  return n === 1 ? `${Math.round(state.level)} % of the metal in` : `metal in cavity ${Math.min(n, Math.floor(at) + 1)} of ${n}`;
};
