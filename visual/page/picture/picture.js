// The room the 3-D picture has, the eye that looks at it, and how finely it is drawn.
import { comesUnder, framed, HALF_ANGLE } from "./framing.js";
import * as letters from "./letters.js";
import * as noPicture from "./no-picture.js";
import { withWords } from "./sheet.js";
import * as stream from "./stream.js";
import * as triad from "./triad.js";

const SLOW = 1000 / 31, QUICK = 1000 / 34.5; // ms between frames: draw coarser above, finer below
const BUSY = 45; // ms after a frame within which the bench has told what is next, while it runs
const ENOUGH = 1920 * 1080; // pixels: a picture with no more of them is never drawn coarser than the page
const AT_REST = 400; // ms without a change, after which the picture is drawn once more, finer
const FINER = 2; // than the page, at rest: the edges are smooth
const ACROSS = 0.6, LITTLE = 1.12; // of the picture's width: where the buttons below take less of it, only a little is given for being clear of them
const FARTHER = 1.3; // times as far away, at most: farther, and the subject fills too little of the picture
const MARGIN = 0.035; // of the picture's shorter side, beside the subject

let element, line, eye = null, moved = false;
let wanted = null, given = null; // the view as the bench tells it, and as it is for this shape of picture

export function start(place, socket) {
  element = place;
  triad.start(place);
  noPicture.start(place);
  line = socket;
  window.__context = { glowscript_container: window.$("#glowscript") };
  window.Jupyter_VPython = "vpython/";
  socket.on("names", stream.rename);
  socket.on("stream", (message) => {
    const first = stream.canvas() === undefined;
    if (!stream.apply(message)) return;
    stir();
    if (first) prepare();
    window.picture.redraw();
    if (!document.hidden) queueMicrotask(window.picture.drawNow); // in the same frame as all else that came with it
  });
  socket.on("view", (view) => {
    wanted = view;
    triad.name(view.directions);
    takeView();
  });
  window.picture.onDrawn(letters.settle);
  window.picture.onDrawn(lookOnce);
  window.picture.onDrawn(watch);
  window.picture.onDrawn(shoot);
  handle(element);
  new ResizeObserver(fit).observe(element);
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", ground);
  new MutationObserver(() => { ground(); fit(); }).observe(document.documentElement, { attributes: true });
}

const upright = () => element.clientHeight > element.clientWidth;

function takeView() {
  given = wanted.upright && upright() ? { ...wanted, ...wanted.upright } : wanted;
  letters.showFirst(given.letters, given.subject);
  resetView();
}

function prepare() {
  const canvas = stream.canvas();
  canvas.userspin = canvas.userzoom = canvas.userpan = false;
  canvas.autoscale = false;
  canvas.resizable = false;
  canvas.fov = 2 * HALF_ANGLE;
  canvas.__canvas_element.addEventListener("webglcontextlost", () => {
    window.setTimeout(() => window.location.reload(), 400);
  });
  letters.takeOver(canvas, element, overThePicture);
  fit();
  ground();
  resetView();
}

// The colour behind everything is the page's own.
function ground() {
  const canvas = stream.canvas();
  if (!canvas) return;
  const probe = getComputedStyle(element).backgroundColor.match(/[\d.]+/g).map(Number);
  canvas.background = window.vec(probe[0] / 255, probe[1] / 255, probe[2] / 255);
  const light = (probe[0] + probe[1] + probe[2]) / 765;
  canvas.ambient = window.vec(1, 1, 1).multiply(0.28 + 0.12 * light);
  window.picture.redraw();
}

function fit() {
  const canvas = stream.canvas();
  if (!canvas) return;
  const width = Math.max(64, Math.floor(element.clientWidth)), height = Math.max(64, Math.floor(element.clientHeight));
  canvas.width = width;
  canvas.height = height;
  const scale = window.picture.quality.scale, buffer = canvas.__canvas_element;
  buffer.width = Math.round(width * scale);
  buffer.height = Math.round(height * scale);
  buffer.style.width = width + "px";
  buffer.style.height = height + "px";
  letters.enlarge(lettersFor(width, height));
  over = null;
  if (wanted && wanted.upright && upright() === (given === wanted)) takeView();
  else look();
  window.picture.drawNow(true); // a buffer of a new size is empty: not a frame of that may be seen
}

/* The buttons and signs that lie over the picture, in its own pixels; looked up again when one of them has changed. */
let over = null;
const watching = new ResizeObserver(() => {
  over = null;
  letters.forget();
  look();
});
function overThePicture() {
  if (over) return over;
  const corner = element.getBoundingClientRect();
  const signs = [...element.parentElement.children].filter((one) => one !== element);
  for (const one of signs) watching.observe(one);
  over = signs.map((one) => one.getBoundingClientRect()).filter(({ width, height }) => width * height > 0)
    .map(({ left, top, right, bottom }) => ({ left: left - corner.left, top: top - corner.top, right: right - corner.left, bottom: bottom - corner.top }));
  return over;
}

/* The letters grow with the page's own text, on a large picture with the picture, and are smaller on a telephone. */
function lettersFor(width, height) {
  const text = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
  return Math.max(text, Math.min(width / 1100, height / 700)) * Math.max(0.65, Math.min(1, width / 560));
}

// The first picture with something in it is looked at: some drivers draw nothing and report no error.
let pictures = 0;
function lookOnce() {
  if (++pictures === 5) noPicture.look(stream.canvas().__canvas_element);
}

// While the picture moves, the time between frames tells what this machine can fill.
let last = 0, arrived = 0, times = [];
function watch(now) {
  const between = now - last, waited = line.arrivedAt - last, told = line.arrivedAt !== arrived;
  if (!told || resting) return; // turned by hand, or the same once more
  last = now;
  arrived = line.arrivedAt;
  if (waited > BUSY) return; // nothing was to be drawn in between
  times.push(between);
  if (times.length < 15) return;
  const typical = times.sort((a, b) => a - b).slice(0, 14).reduce((sum, time) => sum + time) / 14; // but for the longest
  times = [];
  const quality = window.picture.quality;
  const finest = quality.finest();
  let scale = quality.scale;
  const coarsest = Math.min(1, finest, Math.sqrt(ENOUGH / (element.clientWidth * element.clientHeight)));
  if (typical > SLOW) scale = Math.max(coarsest, scale * (typical > 1.4 * SLOW ? 0.7 : 0.88));
  else if (typical < QUICK) scale = Math.min(finest, scale * 1.06);
  if (Math.abs(scale - quality.scale) > 0.02) { quality.scale = scale; fit(); }
}

// What moves is drawn as finely as there is time for; what has come to rest is drawn once more, finer, until it moves again.
let resting = 0, restTimer = 0; // how fine the picture was before it came to rest; 0 while it moves
function stir() {
  window.clearTimeout(restTimer);
  restTimer = window.setTimeout(rest, AT_REST);
  if (!resting) return;
  window.picture.quality.scale = resting;
  resting = 0;
  queueMicrotask(fit); // once a chart or a curve that came with it has its room: the observer sees no size that is the old one again
}

function rest() {
  const quality = window.picture.quality;
  if (shot || resting || !eye || document.hidden) return;
  resting = quality.scale;
  quality.scale = Math.max(quality.scale, FINER * (window.devicePixelRatio || 1));
  fit();
}

export function resetView() {
  if (!given) return;
  window.cancelAnimationFrame(swinging);
  eye = readyEye();
  moved = false;
  triad.hide();
  look();
}

function readyEye() {
  const forward = norm(given.forward);
  return {
    aside: [0, 0, 0], zoom: 1,
    turn: Math.atan2(forward[0], -forward[2]), tilt: Math.asin(Math.max(-1, Math.min(1, forward[1]))),
  };
}

const SWINGS = 0.12; // of what is left, with each frame
let swinging = 0;

/** Go back to the ready view as something hung does, unless it is turned anew. */
export function swingBack() {
  if (!moved) return;
  const ready = readyEye(), around = Math.atan2(Math.sin(ready.turn - eye.turn), Math.cos(ready.turn - eye.turn));
  if (Math.abs(around) + Math.abs(ready.tilt - eye.tilt) + Math.abs(1 - eye.zoom) < 0.01) return resetView();
  eye = {
    aside: eye.aside.map((part) => part * (1 - SWINGS)), zoom: eye.zoom + SWINGS * (1 - eye.zoom),
    turn: eye.turn + SWINGS * around, tilt: eye.tilt + SWINGS * (ready.tilt - eye.tilt),
  };
  stir();
  look();
  swinging = window.requestAnimationFrame(swingBack);
}

function look() {
  const canvas = stream.canvas();
  if (!canvas || !eye) return;
  const c = Math.cos(eye.tilt);
  canvas.up = window.vec(0, 1, 0);
  canvas.forward = window.vec(c * Math.sin(eye.turn), Math.sin(eye.tilt), -c * Math.cos(eye.turn));
  const { centre, range, shape } = framing(canvas);
  element.parentElement.style.setProperty("--shape", shape.toFixed(2)); // a narrow page gives the picture no more height than it fills
  canvas.center = window.vec(...centre.map((part, axis) => part + eye.aside[axis]));
  canvas.range = range * eye.zoom;
  window.picture.redraw();
}

/* The subject as large as the picture; where it would come under the buttons above, all of it below them, and above those below or to
   their left, as it is larger, unless that makes it small. */
function framing(canvas) {
  const margin = MARGIN * Math.min(canvas.width, canvas.height), over = overThePicture();
  const clear = { left: margin, right: margin, bottom: margin, top: margin };
  const above = over.filter(({ bottom }) => bottom < canvas.height / 2), below = over.filter(({ top }) => top > canvas.height / 2);
  const alone = framed(given.subject, given.forward, canvas, clear);
  let frame = alone;
  const comesUnderOne = (of) => comesUnder(given.subject, given.forward, canvas, frame, of);
  if (comesUnderOne(above)) {
    clear.top = belowThese(above);
    frame = framed(given.subject, given.forward, canvas, clear);
  }
  if (!comesUnderOne(below)) return frame;
  const bottom = canvas.height - Math.min(...below.map(({ top }) => top - 4));
  let lifted = framed(given.subject, given.forward, canvas, { ...clear, bottom });
  if (comesUnder(given.subject, given.forward, canvas, lifted, above)) { // lifted, it may come where it was clear before
    lifted = framed(given.subject, given.forward, canvas, { ...clear, top: belowThese(above), bottom });
  }
  const leftmost = Math.min(...below.filter(({ right }) => right > canvas.width / 2).map(({ left }) => left - 4), canvas.width - margin);
  const beside = framed(given.subject, given.forward, canvas, { ...clear, right: canvas.width - leftmost });
  const isLarger = beside.range < lifted.range && !comesUnder(given.subject, given.forward, canvas, beside, over);
  const found = isLarger ? beside : lifted;
  const wide = below.reduce((sum, { left, right }) => sum + right - left, 0) > ACROSS * canvas.width;
  return found.range < (wide ? farther : Math.min(farther, LITTLE)) * alone.range ? found : frame;
}

const belowThese = (above) => Math.max(...above.map(({ bottom }) => bottom + 4));

export const TURNED = 0.008; // rad for each pixel that it is dragged

function handle(surface) {
  const touches = new Map();
  surface.style.touchAction = "none";
  surface.addEventListener("pointerdown", (event) => {
    surface.setPointerCapture(event.pointerId);
    window.cancelAnimationFrame(swinging);
    touches.set(event.pointerId, [event.clientX, event.clientY]);
  });
  surface.addEventListener("pointermove", (event) => {
    if (!touches.has(event.pointerId) || !eye) return;
    const [x, y] = touches.get(event.pointerId), before = spread(touches);
    touches.set(event.pointerId, [event.clientX, event.clientY]);
    if (touches.size === 2) {
      const after = spread(touches);
      if (before > 0 && after > 0) zoom(before / after);
    } else if (event.shiftKey || event.buttons === 4) {
      shift(event.clientX - x, event.clientY - y);
    } else {
      turn((event.clientX - x) * TURNED, (event.clientY - y) * TURNED);
    }
  });
  for (const end of ["pointerup", "pointercancel"]) {
    surface.addEventListener(end, (event) => touches.delete(event.pointerId));
  }
  surface.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(event.deltaY * 0.001));
  }, { passive: false });
  surface.addEventListener("dblclick", resetView);
}

let fromBelow = 1.5, farther = FARTHER; // rad, as far as one may look up at the bench; and as said there

/** For passers-by: turned by hand, the picture is seen from above the bench only, which would hide what stands on it; and what is spoken
    of lies under no button. */
export function forPassersBy() {
  fromBelow = 0;
  farther = Infinity;
}

export function turn(sideways, upward) {
  if (!eye) return; // before the first view
  stir();
  eye.turn += sideways;
  eye.tilt = Math.max(-1.5, Math.min(fromBelow, eye.tilt - upward));
  moved = true;
  triad.show(eye.turn, eye.tilt);
  look();
}

export function zoom(factor) {
  if (!eye) return;
  stir();
  eye.zoom = Math.max(1 / 8, Math.min(4, eye.zoom * factor));
  moved = true;
  look();
}

function shift(x, y) {
  stir();
  const step = 2 * stream.canvas().range / Math.max(200, element.clientHeight);
  eye.aside[0] -= x * step * Math.cos(eye.turn);
  eye.aside[2] -= x * step * Math.sin(eye.turn);
  eye.aside[1] += y * step;
  moved = true;
  look();
}

/** Show all letters there are, or only the most important again; whether all are shown now. */
export const allLetters = () => letters.showAll();

export function hasMoved() { return moved; }

let shot = null; // the picture that somebody waits for

const JPEG_QUALITY = 0.85; // a PNG has none

/** The picture as it is, with its letters, as fine as this screen is: a PNG, or a file of another kind. */
export function taken(kind = "image/png") {
  if (!stream.canvas()) return Promise.resolve(null);
  if (shot) return shot.promise;
  stir();
  const quality = window.picture.quality, usual = quality.scale;
  quality.scale = window.devicePixelRatio || 1;
  fit();
  shot = { kind, frames: 2, after: () => { quality.scale = usual; fit(); } };
  shot.promise = new Promise((done) => (shot.done = done));
  window.picture.redraw();
  return shot.promise;
}

// Right after a frame was drawn it can still be read.
function shoot() {
  if (!shot || --shot.frames > 0) return;
  const { kind, done, after } = shot, buffer = stream.canvas().__canvas_element;
  shot = null;
  const sheet = document.createElement("canvas");
  sheet.width = buffer.width;
  sheet.height = buffer.height;
  const pen = sheet.getContext("2d");
  pen.drawImage(buffer, 0, 0);
  letters.drawOn(pen, buffer.width / element.clientWidth);
  after();
  sheet.toBlob(done, kind, JPEG_QUALITY);
}

/** Save the picture as a file; `words`: with caption, board and chart, as far as the page shows them. */
export async function savePicture(name = "thumbwise", words = false) {
  const alone = await taken();
  if (!alone) return;
  const png = words ? await withWords(alone, window.devicePixelRatio || 1) : alone;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(png);
  link.download = `${name}.png`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function spread(touches) {
  const [a, b] = [...touches.values()];
  return b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
}

function norm(v) {
  const length = Math.hypot(...v);
  return v.map((part) => part / length);
}
