// What the graphics processor does. Places are in mold coordinates, mm; `half`
// takes them to the world as the mold stands on the screen.
const most = { pockets: 24 };

const skinVertex = `#version 300 es
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
uniform mat4 sight, half_;
uniform vec3 sign_, move;
uniform float facing;
out vec3 mold, world, outward;
out float level_; // 1 where the skin lies as the parting plane does
void main() {
  mold = at * sign_ + move;
  level_ = abs(normal.z);
  vec4 w = half_ * vec4(mold, 1.0);
  world = w.xyz;
  outward = mat3(half_) * (normal * sign_) * facing;
  gl_Position = sight * w;
}`;

const filled = `
uniform vec4 cut;
uniform bool hasCut;
uniform float level;
uniform int pockets;
uniform vec3 low[${most.pockets}], high[${most.pockets}];
uniform float spill[${most.pockets}];
// trapped tells whether a place is in air that the metal has closed off.
bool trapped(vec3 p) {
  for (int i = 0; i < ${most.pockets}; i++) {
    if (i >= pockets) break;
    if (p.y > spill[i] - 0.05 && level > spill[i] - 0.05 && all(greaterThan(p, low[i])) && all(lessThan(p, high[i]))) return true;
  }
  return false;
}`;

const skinFragment = `#version 300 es
precision highp float;
in vec3 mold, world, outward;
in float level_;
uniform vec3 eye, light, fill_, colour, hot, air;
uniform float alpha, shine, glow, heat;
uniform float into, shallow; // the way from the parting plane along z, 0: either; how much lighter near it
uniform int kind; // 0: solid, 1: metal up to its level
${filled}
out vec4 paint;
void main() {
  if (hasCut && dot(cut.xyz, mold) + cut.w > 0.0) discard;
  vec3 base = colour;
  float lit = 0.0;
  if (kind == 1) {
    bool held = trapped(mold);
    if (!held && mold.y > level) discard;
    if (held) { base = air; lit = glow; }
    else base = mix(colour, hot, smoothstep(level - 9.0, level, mold.y) * heat);
  }
  vec3 n = normalize(outward), to = normalize(eye - world);
  float main_ = max(dot(n, light), 0.0), second = max(dot(n, fill_), 0.0);
  float sky = 0.5 + 0.5 * n.y;
  vec3 shade = base * (0.40 + 0.18 * sky + 0.46 * main_ + 0.20 * second);
  vec3 mirror = normalize(light + to);
  shade += shine * pow(max(dot(n, mirror), 0.0), 42.0);
  float rim = pow(1.0 - max(dot(n, to), 0.0), 3.0);
  shade *= 1.0 - 0.25 * rim;
  // A shallow channel faces as the plane does: it shows only by being darker or lighter.
  float deep = into == 0.0 ? abs(mold.z) : into * mold.z;
  shade *= 1.0 + shallow * level_ * smoothstep(0.01, 0.08, deep) * (1.0 - smoothstep(0.6, 1.5, deep));
  paint = vec4(mix(shade, base, lit), alpha);
}`;

const planeVertex = `#version 300 es
layout(location = 0) in vec3 at;
uniform mat4 sight, half_;
out vec3 mold;
void main() {
  mold = at;
  gl_Position = sight * half_ * vec4(at, 1.0);
}`;

const planeFragment = `#version 300 es
precision highp float;
in vec3 mold;
uniform vec3 colour, line, hot, air, none, across, along;
uniform float pitch, glow, hatch, heat;
uniform int kind; // 0: solid, 1: metal up to its level and empty above, 2: the metal's level
${filled}
out vec4 paint;
void main() {
  vec3 base = colour;
  float lines = hatch;
  if (kind == 1) {
    lines = 0.0;
    if (trapped(mold)) base = mix(none, air, 0.55 + 0.45 * glow);
    else if (mold.y > level) base = none;
    else base = mix(colour, hot, smoothstep(level - 9.0, level, mold.y) * heat);
  }
  if (kind == 2) {
    if (hasCut && dot(cut.xyz, mold) + cut.w > 0.0) discard;
    if (trapped(mold)) discard;
    base = hot;
  }
  if (lines != 0.0) {
    float s = (dot(mold, across) + lines * dot(mold, along)) / pitch;
    float w = fwidth(s);
    float d = abs(fract(s) - 0.5);
    base = mix(base, line, 1.0 - smoothstep(0.10, 0.10 + 1.5 * w, d));
  }
  paint = vec4(base, 1.0);
}`;
