// Unpacks a mesh and gives each corner a normal: where facets meet at less than
// the crease they are shaded as one surface.
const crease = Math.cos(38 * Math.PI / 180);

const bytesOf = (base64) => {
  const text = atob(base64), out = new Uint8Array(text.length);
  for (let i = 0; i < out.length; i++) out[i] = text.charCodeAt(i);
  return out.buffer;
};

const unpack = (m, blob) => {
  const steps = new Uint16Array(blob, m.offset, 3 * m.vertices);
  const points = new Float32Array(3 * m.vertices);
  for (let k = 0; k < 3; k++) {
    const low = m.low[k], step = (m.high[k] - low) / 65535;
    for (let i = k; i < points.length; i += 3) points[i] = low + steps[i] * step;
  }
  const from = m.offset + Math.ceil(6 * m.vertices / 4) * 4;
  const indices = m.wide ? new Uint32Array(blob, from, m.indices) : new Uint16Array(blob, from, m.indices);
  return { points, indices };
};

// corners writes three corners a facet, 16 bytes each: place, then normal.
const corners = ({ points, indices }) => {
  const facets = indices.length / 3, vertices = points.length / 3;
  const area = new Float32Array(3 * facets), flat = new Float32Array(3 * facets);
  const start = new Uint32Array(vertices + 2);
  for (let t = 0; t < facets; t++) {
    const a = 3 * indices[3 * t], b = 3 * indices[3 * t + 1], c = 3 * indices[3 * t + 2];
    const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
    const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx, long = Math.hypot(x, y, z) || 1;
    area.set([x, y, z], 3 * t);
    flat.set([x / long, y / long, z / long], 3 * t);
    for (let k = 0; k < 3; k++) start[indices[3 * t + k] + 2]++;
  }
  for (let i = 2; i < start.length; i++) start[i] += start[i - 1];
  const around = new Uint32Array(indices.length);
  for (let i = 0; i < indices.length; i++) around[start[indices[i] + 1]++] = Math.floor(i / 3);
  const out = new ArrayBuffer(16 * indices.length), places = new Float32Array(out), normals = new Int8Array(out);
  for (let i = 0; i < indices.length; i++) {
    const v = indices[i], t = 3 * Math.floor(i / 3);
    const fx = flat[t], fy = flat[t + 1], fz = flat[t + 2];
    let x = 0, y = 0, z = 0;
    for (let k = start[v]; k < start[v + 1]; k++) {
      const u = 3 * around[k];
      if (flat[u] * fx + flat[u + 1] * fy + flat[u + 2] * fz < crease) continue;
      x += area[u]; y += area[u + 1]; z += area[u + 2];
    }
    const long = Math.hypot(x, y, z);
    if (long > 0) { x /= long; y /= long; z /= long; } else { x = fx; y = fy; z = fz; }
    places[4 * i] = points[3 * v]; places[4 * i + 1] = points[3 * v + 1]; places[4 * i + 2] = points[3 * v + 2];
    normals[16 * i + 12] = 127 * x; normals[16 * i + 13] = 127 * y; normals[16 * i + 14] = 127 * z;
  }
  return out;
};
