/* The letters on things: the page's own text over the picture, each moving with the thing it names.

   VPython writes them on a second sheet as large as the picture, anew in every frame; a browser without a graphics card
   spends more on that sheet than on the picture itself. Here VPython only tells when they are due and where its camera is.
   Those that the scene names first are shown, at most eight; where each stands is worked out in places.js. */
import { make } from "../common/dom.js";
import { meetsBox } from "./hit.js";
import { places } from "./places.js";
import { lineOf } from "./stream.js";

const MOST = 8; // letters at once, unless all are asked for
const PADDING = [0.22, 0.16]; // sideways and upward, in its own height: as in style.css
const LINE = 1.05; // height of a line of it
const TIP = 4; // pixels round the tip of an arrow that no letter may cover
const RETURNS = 12; // rounds for which there must have been room, before a letter that had none comes back

let sheet = null; // the element that holds them
let canvas = null; // VPython's
let camera = null; // VPython's, as of the last round
let factor = 1; // of the size the bench asks for
let round = 0, settled = -1;
let first = []; // what is shown first, by text or role
let subject = []; // boxes round what is looked at, each by its least and greatest corner
let all = false;
let most = MOST;
let inTheWay = () => []; // boxes of what lies over the picture
let alsoClear = () => []; // and of what moves in it with what it belongs to
const written = new Map(); // by VPython's label: its element and what was last put there
const pen = document.createElement("canvas").getContext("2d"); // measures text without laying out the page
let family = ""; // of the letters' font

/** Take over the letters of VPython's `its`, and show them over the picture in `place`; `over()` tells what lies over it. */
export function takeOver(its, place, over) {
  canvas = its;
  inTheWay = over;
  sheet = make("div", { class: "letters", "aria-hidden": "true" });
  place.append(sheet);
  window.label.prototype.__update = function (_, eye) { take(this, eye); }; // VPython would write on its pen
  canvas.overlay_context = { clearRect: () => (round += 1) }; // what VPython does first in every round
  canvas.__overlay_element.style.display = "none";
}

/** Keep the letters off the boxes that `boxes()` tells too. */
export function keepOff(boxes) {
  alsoClear = boxes;
}

/** Write them `by` times as large as the bench asks for. */
export function enlarge(by) {
  factor = by;
  again();
}

/** Show those of these texts and roles first, in this order; those that stand aside keep off these boxes. */
export function showFirst(names, boxes) {
  first = names || [];
  subject = boxes;
  forget();
}

/** Show no more than so many of the first. */
export function showAtMost(number) {
  most = number;
}

/** Show all there are, or only the first few again; whether all are shown now. */
export function showAll(on = !all) {
  all = on;
  forget();
  window.picture.redraw();
  return all;
}

/** Find every letter its place anew, as if nothing had been shown before. */
export function forget() {
  for (const at of written.values()) Object.assign(at, { was: null, waits: 0, shown: false });
  again();
}

function again() {
  settled = -1;
  if (canvas) canvas.__overlay_objects.__changed = true;
}

/** After a round: give each letter its place, and take away those that the round left out. */
export function settle() {
  if (settled === round) return;
  settled = round;
  const due = [];
  for (const [label, at] of written) {
    if (at.round === round) due.push(at);
    else if (at.element.isConnected && !canvas.__overlay_objects.objects.includes(label)) remove(label, at);
    else put(at, null);
  }
  const [wanted, left] = chosen(due);
  for (const at of left) Object.assign(at, { was: null, waits: 0, shown: false }), put(at, null);
  const tips = due.flatMap((at) => (at.role === "hand" ? at.own : at.own.slice(-1).map(({ to }) => ({ from: to, to, radius: TIP }))));
  const found = places(wanted, {
    room: { left: 0, top: 0, right: canvas.width, bottom: canvas.height }, taken: [...inTheWay(), ...alsoClear()], tips, covered,
    most: all ? Infinity : most, crowded: all,
  });
  wanted.forEach((at, index) => put(at, held(at, found[index])));
}

function covered(place) {
  const { from, along } = sightThrough(place);
  return subject.some(([low, high]) => meetsBox({ low, high }, from, along));
}

/* A letter that had no room comes back only when there has been some for a while. */
function held(at, place) {
  const begins = at.was === null && at.waits === 0;
  if (!place) at.waits = RETURNS;
  else if (!at.shown && !begins && at.waits > 0) at.waits -= 1;
  const shows = place && (begins || at.shown || at.waits === 0);
  at.was = place ? place.choice : null;
  return shows ? place : null;
}

/* Those to be shown, the most important first, and the others. */
function chosen(due) {
  const left = new Set(due), wanted = [];
  const take = (at) => { wanted.push(at); left.delete(at); };
  for (const name of first) {
    if (name === "hand") [...left].filter((at) => at.role === name).forEach(take);
    else {
      const found = [...left].find((at) => at.role ? at.role === name : at.text === name || at.text.split(/[ :]/)[0] === name);
      if (found) take(found);
    }
  }
  if (all || !first.length) [...left].forEach(take);
  return [wanted, left];
}

/** Where a place on the bench is in the picture, in the page's pixels; null behind the eye or before the first picture. */
export function onScreen([x, y, z]) {
  return camera && projected({ x, y, z });
}

/** The line of sight through a place in the picture, in the page's pixels: from the eye along a direction; null before the first picture. */
export function sightThrough([x, y]) {
  if (!camera) return null;
  const { forward, right, above } = directions(), metre = scaleAtDepth(1);
  const [sideways, upward] = [(x - canvas.width / 2) / metre, (canvas.height / 2 - y) / metre];
  return { from: camera.pos, along: forward.map((part, k) => part + sideways * right[k] + upward * above[k]) };
}

function take(label, eye) {
  camera = eye;
  const place = projected(label.pos);
  if (!place || !label.text) return;
  const at = written.get(label) || began(label);
  at.round = round;
  if (at.text !== label.text) at.element.textContent = at.text = label.text; // of several lines if it has so many
  const look = `${label.height} ${factor} ${html(label.color)} ${label.opacity > 0 ? html(label.background) : "transparent"}`;
  if (at.look !== look) dress(at, label, look);
  [at.x, at.y] = place;
  const size = `${at.text} ${at.size}`;
  if (at.measured !== size) measure(at, size);
  at.own = at.named.map(line).filter(Boolean);
}

function dress(at, label, look) {
  at.look = look;
  at.size = label.height * factor;
  const style = at.element.style, patched = label.opacity > 0;
  style.fontSize = `${at.size}px`;
  style.color = html(label.color);
  style.background = patched ? html(label.background) : "transparent";
  at.leader.style.background = html(patched ? label.background : label.color);
}

function measure(at, size) {
  at.measured = size;
  family ||= getComputedStyle(sheet).fontFamily; // asked for once: each time the page would work out all its styles
  pen.font = `${at.size}px ${family}`;
  const lines = at.text.split("\n");
  at.width = Math.max(...lines.map((line) => pen.measureText(line).width)) + 2 * PADDING[0] * at.size;
  at.height = (LINE * lines.length + 2 * PADDING[1]) * at.size;
}

function line(named) {
  const found = lineOf(named);
  if (!found) return null;
  const from = projected(found.from), to = projected(found.to);
  return from && to ? { from, to, radius: found.radius * scaleAt(found.to) } : null;
}

/* Put a letter where `place` says, with a line to what it names if that is not beside it; nowhere for null. */
function put(at, place) {
  at.shown = Boolean(place);
  at.element.hidden = !place;
  if (!place) at.leader.hidden = true;
  if (!place) return;
  const fine = window.devicePixelRatio || 1; // whole pixels of the screen: between them letters are blurred
  const [x, y] = [place.x, place.y].map((part) => Math.round(part * fine) / fine);
  if (at.px !== x || at.py !== y) {
    [at.px, at.py] = [x, y];
    at.element.style.transform = `translate(${x}px, ${y}px) translate(-50%, -50%)`;
  }
  lead(at, place);
}

function lead(at, { choice }) {
  const [x, y] = target(at);
  const away = Math.hypot(x - at.px, y - at.py);
  const outside = x < 0 || y < 0 || x > canvas.width || y > canvas.height;
  at.leader.hidden = choice === 0 || away < at.height || outside;
  at.points = at.leader.hidden ? null : [at.px, at.py, x, y];
  if (at.points) at.leader.style.transform = `translate(${at.px}px, ${at.py}px) rotate(${Math.atan2(y - at.py, x - at.px)}rad) scaleX(${away})`;
}

/* Where a letter points: the end of what it names. */
const target = (at) => (at.own.length ? at.own[at.own.length - 1].to : [at.x, at.y]);

function began(label) {
  const element = make("span", {}), leader = make("i", { hidden: true });
  sheet.prepend(leader); // under all letters
  sheet.append(element);
  const at = {
    element, leader, role: label.role || "", named: label.named || [], own: [], was: null, waits: 0, shown: false, points: null,
  };
  written.set(label, at);
  return at;
}

function remove(label, at) {
  at.element.remove();
  at.leader.remove();
  written.delete(label);
}

/** Draw those that are shown on a plain 2-D sheet over the same picture, `finer` times as fine as the page's pixels. */
export function drawOn(sheetPen, finer) {
  sheetPen.setTransform(finer, 0, 0, finer, 0, 0);
  sheetPen.textAlign = "center";
  sheetPen.textBaseline = "middle";
  for (const { points, lineColour } of shown()) {
    if (!points) continue;
    sheetPen.strokeStyle = lineColour;
    sheetPen.lineWidth = 2;
    sheetPen.beginPath();
    sheetPen.moveTo(points[0], points[1]);
    sheetPen.lineTo(points[2], points[3]);
    sheetPen.stroke();
  }
  for (const { text, x, y, box, looks } of shown()) {
    sheetPen.fillStyle = looks.backgroundColor;
    sheetPen.beginPath();
    sheetPen.roundRect(box.x, box.y, box.width, box.height, parseFloat(looks.borderTopLeftRadius) || 0);
    sheetPen.fill();
    sheetPen.font = `${looks.fontWeight} ${looks.fontSize} ${looks.fontFamily}`;
    sheetPen.fillStyle = looks.color;
    const lines = text.split("\n"), high = LINE * parseFloat(looks.fontSize);
    lines.forEach((line, k) => sheetPen.fillText(line, x, y + (k - (lines.length - 1) / 2) * high));
  }
}

/** Where the letters are, what they say, what they name and how they look, in the page's pixels from the picture's corner. */
export function shown() {
  const corner = sheet.getBoundingClientRect();
  return [...written.values()].filter((at) => at.shown).map((at) => {
    const { left, top, width, height } = at.element.getBoundingClientRect();
    return {
      text: at.text, role: at.role, x: at.px, y: at.py, own: at.own, points: at.points, lineColour: at.leader.style.background,
      anchor: [at.x, at.y], box: { x: left - corner.left, y: top - corner.top, width, height }, looks: getComputedStyle(at.element),
    };
  });
}

/* From the eye's plane to the page's pixels; null behind the eye. */
function projected(pos) {
  const { right, above, away, depth } = seen(pos);
  if (depth < camera.zNear || depth > camera.zFar) return null;
  const scale = scaleAt(pos);
  return [canvas.width / 2 + scale * dot(away, right), canvas.height / 2 - scale * dot(away, above)];
}

/* How many of the page's pixels a metre is there. */
const scaleAt = (pos) => scaleAtDepth(seen(pos).depth);
const scaleAtDepth = (depth) => (camera.distance * Math.min(canvas.width, canvas.height)) / (depth * 2 * canvas.range);

function seen(pos) {
  const { forward, right, above } = directions(), from = camera.pos;
  const away = [pos.x - from[0], pos.y - from[1], pos.z - from[2]];
  return { right, above, away, depth: dot(away, forward) };
}

function directions() {
  const [from, to, up] = [camera.pos, camera.target, camera.up];
  const forward = unit([to[0] - from[0], to[1] - from[1], to[2] - from[2]]);
  const right = unit(cross(forward, up));
  return { forward, right, above: cross(right, forward) };
}

const html = (colour) => `rgb(${[colour.x, colour.y, colour.z].map((part) => Math.round(255 * part)).join(" ")})`;
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((part) => part / Math.hypot(...a));
