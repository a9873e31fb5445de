// VPython's objects on the page: its own handlers take its own commands; `mesh` is ours (see host/bridge.py).
// Beside those in drawing/, letters.js and picture.js the only file that knows VPython's private names on this side.
/* global glowObjs, decode, handler, events, compound, vec */

const meshes = new Map();
let count = 0;
let names = {};

/* Whole numbers as the bench packs them: see solids.py. A plain loop here too. */
function unpacked(text, Kind) {
  const signs = atob(text), bytes = new Uint8Array(signs.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = signs.charCodeAt(i);
  return new Kind(bytes.buffer);
}

/* So many `parts` times `unit`, begun again where they are at their end. Plain loops: a scene has hundreds of thousands. */
function scaled(parts, unit, count) {
  const all = new Float32Array(count);
  for (let i = 0, from = 0; i < count; i++, from++) {
    if (from === parts.length) from = 0;
    all[i] = parts[from] * unit;
  }
  return all;
}

function buildMesh(command) {
  const canvas = glowObjs[command.canvas];
  if (!canvas.__renderer) canvas.__activate(); // VPython waits for the first object of its own kind
  let model = meshes.get(command.like === undefined ? command.idx : command.like);
  if (command.mesh !== undefined) {
    const { unit } = command.mesh;
    const pos = unpacked(command.mesh.pos, Int16Array), normal = unpacked(command.mesh.normal, Int8Array);
    const color = unpacked(command.mesh.color, Uint8Array), index = Array.from(unpacked(command.mesh.index, Uint16Array));
    const points = pos.length / 3;
    model = {
      pos: scaled(pos, unit, 3 * points),
      normal: scaled(normal, 0.01, 3 * points),
      color: scaled(color, 0.01, 3 * points),
      index,
      opacity: new Float32Array(points).fill(1),
      shininess: new Float32Array(points).fill(1),
      emissive: new Float32Array(points),
      texpos: new Float32Array(2 * points),
      bumpaxis: scaled([1, 0, 0], 1, 3 * points),
      model_transparent: false,
      __mesh_id: "thumbwise" + (++count),
    };
    canvas.__renderer.add_model(model, false);
  }
  meshes.set(command.idx, model);
  const made = compound([], { __cloning: model, canvas, visible: true });
  made.size = vec(1, 1, 1);
  made.axis = vec(1, 0, 0);
  made.up = vec(0, 1, 0);
  made.pos = vec(0, 0, 0);
  if (command.shininess !== undefined) made.shininess = command.shininess;
  if (command.color !== undefined) made.color = vec(...command.color);
  made.pickable = false;
  if (command.visible === false) made.visible = false;
  made.idx = command.idx;
  glowObjs[command.idx] = made;
}

export function apply(message) {
  if (message.fresh && glowObjs.length > 0) {
    // the bench has started anew, or forgot this page: begin anew as well, which also frees what was drawn
    window.location.reload();
    return false;
  }
  const plain = [], named = [];
  for (const command of message.cmds || []) {
    if (command.lines !== undefined) {
      const { idx, role, lines } = command;
      named.push([idx, { role, named: lines }]); // VPython's own handlers know neither, and take the number away
      delete command.role;
      delete command.lines;
    }
    if (command.cmd !== "mesh") {
      plain.push(command);
      continue;
    }
    if (plain.length) handler(decode({ cmds: plain.splice(0) }));
    buildMesh(command);
  }
  // Axis and up come as they shall be: VPython would carry each along when the other turns, and where the two lie half
  // a turn apart it would turn the axis round.
  window.__adjustupaxis = false;
  try {
    handler(decode({ cmds: plain, attrs: message.attrs || [] }));
  } finally {
    window.__adjustupaxis = true;
  }
  for (const [index, names] of named) Object.assign(glowObjs[index], names);
  events.length = 0; // VPython collects what its own server would be told
  return true;
}

export function rename(all) { names = all; }

export function canvas() { return glowObjs[0]; }

/** A line of a drawn thing, given in its own lengths, on the bench: from, to and half its thickness; null while it is hidden. */
export function lineOf([index, start, end, radius]) {
  const { pos, axis, up, size, visible } = glowObjs[index] || {};
  if (!visible) return null;
  const x = axis.norm(), y = up.norm(), z = x.cross(y);
  const place = ([a, b, c]) => pos.add(x.multiply(a * size.x)).add(y.multiply(b * size.y)).add(z.multiply(c * size.z));
  return { from: place(start), to: place(end), radius: radius * size.y };
}

/** Where a drawn thing is, the numbers counted from its own origin added; null while it is hidden. */
export function placeOn(index, [x, y, z]) {
  const { pos, visible } = glowObjs[index] || {};
  return visible ? [pos.x + x, pos.y + y, pos.z + z] : null;
}

/** Every mesh in sight: its number, its place, its three axes and what it is stretched by along them, and its shape. */
export function surfaces() {
  const plain = (v) => [v.x, v.y, v.z];
  return [...meshes].filter(([index]) => glowObjs[index].visible).map(([index, shape]) => {
    const { pos, axis, up, size } = glowObjs[index];
    const x = axis.norm(), y = up.norm();
    return { index, at: plain(pos), axes: [x, y, x.cross(y)].map(plain), size: plain(size), shape };
  });
}

/* The shape of what VPython draws with that data; undefined where it is none of ours. */
window.picture.shapeOf = (data) => [...meshes].find(([index]) => glowObjs[index].__data === data)?.[1];

// What is drawn under a name, for tests and tools: plain numbers.
export function drawn(name) {
  const object = glowObjs[names[name]];
  if (object === undefined) return null;
  const plain = (v) => (v ? [v.x, v.y, v.z] : null);
  return {
    pos: plain(object.pos), axis: plain(object.axis), up: plain(object.up), size: plain(object.size),
    color: plain(object.color), visible: object.visible, text: object.text,
  };
}

export function drawnNames() { return Object.keys(names); }
export function objectCount() { return glowObjs.length; }
