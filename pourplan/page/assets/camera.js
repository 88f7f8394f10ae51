// The eye goes round what is shown, upright, at a distance that takes all of it
// in; zoom and shift are on top of that.
const viewAngle = 28 * Math.PI / 180;

const setViews = {
  slant: [24, 18], front: [0, 0], back: [180, 0], left: [-90, 0], right: [90, 0], top: [0, 89], below: [0, -89],
};
// Trays on a bench are looked into from above.
const slantOf = () => sceneNow() ? [-30, 20] : state.stage === "cast" ? [24, 18] : [0, 56];

const eyeOf = (ball, aspect, target) => {
  const yaw = state.yaw * Math.PI / 180, pitch = state.pitch * Math.PI / 180;
  const back = [Math.sin(yaw) * Math.cos(pitch), Math.sin(pitch), Math.cos(yaw) * Math.cos(pitch)];
  const right = [Math.cos(yaw), 0, -Math.sin(yaw)], up = cross(back, right);
  const far = fitting(ball, right, up, back, aspect) / state.zoom;
  const eye = add(target, scaled(back, far));
  const size = ball.radius + Math.hypot(...sub(target, ball.centre));
  const near = Math.max(far - size * 1.3, far / 60);
  return { eye, right, up, back, far, sight: multiply(perspective(viewAngle, aspect, near, far + size * 1.6), sightFrom(eye, right, up, back)) };
};

// fitting is the distance from the middle at which all corners just are in view.
const fitting = (ball, right, up, back, aspect) => {
  const tall = Math.tan(viewAngle / 2) * 0.95;
  let far = 0;
  for (const corner of ball.corners) {
    const c = sub(corner, ball.centre);
    far = Math.max(far, dot(c, back) + Math.max(Math.abs(dot(c, up)) / tall, Math.abs(dot(c, right)) / (tall * aspect)));
  }
  return far;
};

const turnBy = (yaw, pitch) => {
  state.yaw = ((state.yaw + yaw + 540) % 360) - 180;
  state.pitch = clamp(state.pitch + pitch, -89, 89);
};

const zoomBy = (k) => { state.zoom = clamp(state.zoom * k, 0.5, 14); };

// glide takes some numbers of the state to where they shall be, at once when
// motion is not wanted.
let gliding = 0;
const glide = (to, redraw) => {
  cancelAnimationFrame(gliding);
  const from = {};
  for (const key in to) from[key] = state[key];
  if ("yaw" in to) from.yaw = to.yaw + ((from.yaw - to.yaw + 540) % 360) - 180;
  const begin = performance.now(), long = calm() ? 0 : 420;
  const step = () => {
    const x = long ? clamp((performance.now() - begin) / long, 0, 1) : 1, s = x * x * (3 - 2 * x);
    for (const key in to) {
      const a = from[key], b = to[key];
      state[key] = Array.isArray(b) ? b.map((v, k) => a[k] + (v - a[k]) * s) : a + (b - a) * s;
    }
    redraw();
    if (x < 1) gliding = requestAnimationFrame(step);
  };
  step();
};
