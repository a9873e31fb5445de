/* Which drawn surface is the first along a line of sight. */
import { surfaces } from "./stream.js";

const boxes = new WeakMap(); // by shape: its least and greatest corner

/** The number of the drawn thing that is met first along a line from `from` in the direction `along`; null where there is none. */
export function firstAlong({ from, along }) {
  let nearest = Infinity, first = null;
  for (const { index, at, axes, size, shape } of surfaces()) {
    const own = (vector) => axes.map((axis, k) => dot(vector, axis) / size[k]); // as the shape was drawn: no length changes its share of the way
    const start = own(minus(from, at)), direction = own(along);
    if (!meetsBox(boxOf(shape), start, direction)) continue;
    const far = farTo(shape, start, direction);
    if (far < nearest) [nearest, first] = [far, index];
  }
  return first;
}

function boxOf(shape) {
  if (!boxes.has(shape)) {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    shape.pos.forEach((part, k) => {
      low[k % 3] = Math.min(low[k % 3], part);
      high[k % 3] = Math.max(high[k % 3], part);
    });
    boxes.set(shape, { low, high });
  }
  return boxes.get(shape);
}

/** Whether a line from `from` in the direction `along` goes through a box along the axes. */
export function meetsBox({ low, high }, from, along) {
  let [start, end] = [0, Infinity];
  for (let k = 0; k < 3; k++) {
    const [near, far] = [(low[k] - from[k]) / along[k], (high[k] - from[k]) / along[k]];
    start = Math.max(start, Math.min(near, far));
    end = Math.min(end, Math.max(near, far));
  }
  return start <= end;
}

/* The least share of `along` at which a triangle is met, by Moeller and Trumbore; Infinity where none is. */
function farTo({ pos, index }, from, along) {
  let nearest = Infinity;
  const corner = (k) => [pos[3 * k], pos[3 * k + 1], pos[3 * k + 2]];
  for (let k = 0; k < index.length; k += 3) {
    const first = corner(index[k]), u = minus(corner(index[k + 1]), first), v = minus(corner(index[k + 2]), first);
    const across = cross(along, v), volume = dot(u, across);
    if (volume === 0) continue;
    const off = minus(from, first), one = dot(off, across) / volume;
    if (one < 0 || one > 1) continue;
    const turned = cross(off, u), other = dot(along, turned) / volume;
    if (other < 0 || one + other > 1) continue;
    const far = dot(v, turned) / volume;
    if (far > 0 && far < nearest) nearest = far;
  }
  return nearest;
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
