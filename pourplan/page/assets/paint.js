// Draws the model with WebGL 2. What a plane cuts open is closed by counting
// back and front faces in the stencil and painting the plane where they differ.
const compile = (gl, vertex, fragment) => {
  const program = gl.createProgram();
  for (const [type, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
    const shader = gl.createShader(type);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error("shader: " + gl.getProgramInfoLog(program));
  const at = {};
  for (let i = gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS); i-- > 0;) {
    const name = gl.getActiveUniform(program, i).name.replace("[0]", "");
    at[name] = gl.getUniformLocation(program, name);
  }
  return { program, at };
};

// colours are the page's own, so that the legend is true in light and dark.
const colours = () => {
  const css = getComputedStyle(document.documentElement), out = {};
  for (const name of ["tray-left", "tray-right", "rubber-left", "rubber-right", "metal", "molten", "wire", "plane", "empty", "air", "stand"]) {
    const hex = Number.parseInt(css.getPropertyValue("--" + name).trim().slice(1), 16);
    out[name] = [hex >> 16 & 255, hex >> 8 & 255, hex & 255].map((x) => x / 255);
  }
  return out;
};

const newPainter = (canvas) => {
  const gl = canvas.getContext("webgl2", { antialias: true, stencil: true, alpha: false });
  if (!gl) return null;
  const skin = compile(gl, skinVertex, skinFragment), flat = compile(gl, planeVertex, planeFragment);
  const square = gl.createBuffer(), squareArray = gl.createVertexArray();
  gl.bindVertexArray(squareArray);
  gl.bindBuffer(gl.ARRAY_BUFFER, square);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 12, 0);
  return { gl, skin, flat, square, squareArray, loaded: [], colours: colours() };
};

// upload hands the meshes of a model over, and lets go of the last one's.
const upload = (painter, model) => {
  unload(painter, painter.loaded);
  painter.loaded = hand(painter, [...model.trays, ...model.metal, ...model.wires]);
};

const unload = ({ gl }, list) => {
  for (const old of list) { gl.deleteBuffer(old.buffer); gl.deleteVertexArray(old.array); }
};

// hand gives meshes to the graphics processor and lists what to let go of.
const hand = ({ gl }, meshes) => {
  const loaded = [];
  for (const m of meshes) {
    const buffer = gl.createBuffer(), array = gl.createVertexArray();
    gl.bindVertexArray(array);
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, m.corners, gl.STATIC_DRAW);
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 16, 0);
    gl.enableVertexAttribArray(1);
    gl.vertexAttribPointer(1, 3, gl.BYTE, true, 16, 12);
    m.corners = null;
    loaded.push({ buffer, array });
    m.array = array;
  }
  return loaded;
};

// solidsOf lists what is shown: each solid with the runs of corners that make
// it, where it stands, its cut and its colours.
const solidsOf = (model, hue) => {
  if (sceneNow()) return sceneNow().solids(hue);
  const list = [], none = [0, 0, 0];
  const ink = (c) => c.map((x) => x * 0.68);
  for (const tray of model.trays) {
    const [outer, inner, top] = tray.runs, sign = signOf(tray.half);
    const cut = cutOf(model, tray.half);
    if (state.stage !== "cast") {
      const colour = hue["tray-" + tray.half];
      list.push({ name: "tray", pose: halfPose(model, tray.half), cut, colour, line: ink(colour), hatch: -1, pitch: 1.1, shine: 0.10,
        draws: [{ array: tray.array, from: outer[0], count: outer[1] + inner[1], sign, at: [none], facing: 1 }] });
    }
    if (state.stage !== "print") {
      const colour = hue["rubber-" + tray.half];
      list.push({ name: "rubber", pose: rubberPose(model, tray.half), cut, colour, line: ink(colour), hatch: 1, pitch: 2.8, shine: 0.05, into: sign[2], shallow: -0.36,
        clear: state.stage === "cast" && state.clear,
        draws: [
          { array: tray.array, from: inner[0], count: inner[1], sign, at: [none], facing: -1 },
          { array: tray.array, from: top[0], count: top[1], sign, at: [none], facing: 1 },
        ] });
    }
  }
  if (state.stage !== "cast") return list;
  // Castings and wires stay in the right half when the mold is opened.
  const cut = cutOf(model, "right"), pose = halfPose(model, "right");
  const drawn = (body, at) => ({ array: body.array, from: 0, count: body.count, sign: [1, 1, 1], at, facing: 1 });
  if (model.wires.length) list.push({ name: "wire", pose, cut, colour: hue.wire, line: hue.wire, hatch: 0, pitch: 1, shine: 0.5, draws: model.wires.map((b) => drawn(b, b.at)) });
  for (const { castings, level, heat, rising } of fillings(model)) {
    list.push({ name: "metal", pose, cut, colour: hue.metal, line: hue.metal, hatch: 0, pitch: 1, shine: 0.55, shallow: 0.5, kind: 1, level, heat, rising,
      draws: castings.map(({ body, by }) => drawn(body, [by])) });
  }
  return list;
};

const setShared = (painter, program, model, camera, glow) => {
  const { gl, colours: hue } = painter, { at } = program, n = sceneNow() ? 0 : Math.min(model.pockets.length, most.pockets);
  gl.useProgram(program.program);
  gl.uniformMatrix4fv(at.sight, false, camera.sight);
  gl.uniform1f(at.glow, glow);
  gl.uniform3fv(at.hot, hue.molten);
  gl.uniform3fv(at.air, hue.air);
  gl.uniform1i(at.pockets, n);
  if (n === 0) return;
  const shown = model.pockets.slice(0, n);
  gl.uniform3fv(at.low, shown.flatMap((p) => [p.low[0] - 0.3, p.low[1] - 0.3, p.low[2] - 0.3]));
  gl.uniform3fv(at.high, shown.flatMap((p) => [p.high[0] + 0.3, p.high[1] + 0.3, p.high[2] + 0.3]));
  gl.uniform1fv(at.spill, shown.map((p) => p.spill));
};

const setCut = (gl, at, cut) => {
  gl.uniform1i(at.hasCut, cut ? 1 : 0);
  gl.uniform4fv(at.cut, cut ?? [0, 0, 0, 0]);
};

const setLevel = (gl, at, { level = 0, heat = 0 }) => {
  gl.uniform1f(at.level, level);
  gl.uniform1f(at.heat, heat);
};

// drawSkin draws a solid's facets with what is set.
const drawSkin = (gl, at, solid) => {
  gl.uniformMatrix4fv(at.half_, false, solid.pose);
  for (const d of solid.draws) {
    gl.bindVertexArray(d.array);
    gl.frontFace(d.facing > 0 ? gl.CCW : gl.CW);
    gl.uniform3fv(at.sign_, d.sign);
    gl.uniform1f(at.facing, d.facing);
    for (const move of d.at) {
      gl.uniform3fv(at.move, move);
      gl.drawArrays(gl.TRIANGLES, d.from, d.count);
    }
  }
  gl.frontFace(gl.CCW);
};

const drawSurface = (painter, solid, alpha) => {
  const { gl, skin: { at } } = painter;
  gl.uniform3fv(at.colour, solid.colour);
  gl.uniform1f(at.alpha, alpha);
  gl.uniform1f(at.shine, solid.shine);
  gl.uniform1f(at.into, solid.into ?? 0);
  gl.uniform1f(at.shallow, solid.shallow ?? 0);
  gl.uniform1i(at.kind, solid.kind ?? 0);
  setLevel(gl, at, solid);
  setCut(gl, at, solid.cut);
  drawSkin(gl, at, solid);
};

// fillPlane paints a plane where it is inside a solid.
const fillPlane = (painter, solid, plane, kind, size) => {
  const { gl, skin, flat } = painter;
  gl.useProgram(skin.program);
  gl.uniform1i(skin.at.kind, 0);
  setCut(gl, skin.at, plane);
  gl.enable(gl.STENCIL_TEST);
  gl.clear(gl.STENCIL_BUFFER_BIT);
  gl.colorMask(false, false, false, false);
  gl.depthMask(false);
  gl.disable(gl.DEPTH_TEST);
  gl.disable(gl.CULL_FACE);
  gl.stencilFunc(gl.ALWAYS, 0, 255);
  gl.stencilOpSeparate(gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
  gl.stencilOpSeparate(gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
  drawSkin(gl, skin.at, solid);
  gl.colorMask(true, true, true, true);
  gl.depthMask(true);
  gl.enable(gl.DEPTH_TEST);
  gl.stencilFunc(gl.NOTEQUAL, 0, 255);
  gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);

  const { at } = flat, n = plane.slice(0, 3), foot = scaled(n, -plane[3]);
  const across = unit(cross(n, Math.abs(n[1]) > 0.5 ? [0, 0, 1] : [0, 1, 0])), along = cross(n, across);
  gl.useProgram(flat.program);
  gl.uniformMatrix4fv(at.half_, false, solid.pose);
  gl.uniform3fv(at.colour, solid.colour);
  gl.uniform3fv(at.line, solid.line);
  gl.uniform3fv(at.none, painter.colours.empty);
  gl.uniform3fv(at.across, across);
  gl.uniform3fv(at.along, along);
  gl.uniform1f(at.pitch, solid.pitch);
  gl.uniform1f(at.hatch, solid.hatch);
  gl.uniform1i(at.kind, kind);
  setLevel(gl, at, solid);
  setCut(gl, at, solid.cut);
  const corner = (a, b) => add(foot, add(scaled(across, a * size), scaled(along, b * size)));
  gl.bindVertexArray(painter.squareArray);
  gl.bindBuffer(gl.ARRAY_BUFFER, painter.square);
  gl.bufferData(gl.ARRAY_BUFFER, new Float32Array([corner(-1, -1), corner(1, -1), corner(-1, 1), corner(1, 1)].flat()), gl.DYNAMIC_DRAW);
  gl.drawArrays(gl.TRIANGLE_STRIP, 0, 4);
  gl.disable(gl.STENCIL_TEST);
};

// paint draws one picture; glow is how brightly trapped air is lit, 0 to 1.
const paint = (painter, model, camera, glow) => {
  const { gl, colours: hue } = painter;
  gl.viewport(0, 0, gl.canvas.width, gl.canvas.height);
  gl.clearColor(...hue.stand, 1);
  gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
  gl.enable(gl.DEPTH_TEST);
  gl.enable(gl.CULL_FACE);
  gl.depthFunc(gl.LEQUAL);
  gl.disable(gl.BLEND);
  const solids = solidsOf(model, hue);
  setShared(painter, painter.flat, model, camera, glow);
  setShared(painter, painter.skin, model, camera, glow);
  const { at } = painter.skin;
  gl.uniform3fv(at.eye, camera.eye);
  gl.uniform3fv(at.light, unit(add(scaled(camera.right, -0.5), add(scaled(camera.up, 0.75), scaled(camera.back, 0.65)))));
  gl.uniform3fv(at.fill_, unit(add(scaled(camera.right, 0.8), add(scaled(camera.up, 0.1), scaled(camera.back, 0.5)))));
  for (const s of solids) if (!s.clear) drawSurface(painter, s, 1);
  const size = 2 * extent(model).radius + 60;
  for (const s of solids) if (s.cut) fillPlane(painter, s, s.cut, s.kind ?? 0, size);
  for (const s of solids) if (s.rising) fillPlane(painter, s, [0, 1, 0, -s.level], 2, size);
  const clear = solids.filter((s) => s.clear);
  if (clear.length === 0) return;
  gl.useProgram(painter.skin.program);
  gl.enable(gl.CULL_FACE);
  gl.enable(gl.BLEND);
  gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
  gl.depthMask(false);
  for (const side of [gl.FRONT, gl.BACK]) {
    gl.cullFace(side);
    for (const s of clear) drawSurface(painter, s, s.alpha ?? 0.2);
  }
  gl.cullFace(gl.BACK);
  gl.depthMask(true);
};
