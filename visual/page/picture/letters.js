/* The letters on things: the page's own text over the picture, each moving with the thing it names.

   VPython writes them on a second sheet as large as the picture, anew in every frame; a browser without a graphics card
   spends more on that sheet than on the picture itself. Here VPython only tells when they are due and where its camera is. */
import { make } from "../common/dom.js";

let sheet = null; // the element that holds them
let canvas = null; // VPython's
let camera = null; // VPython's, as of the last round
let factor = 1; // of the size the bench asks for
let round = 0;
const written = new Map(); // by VPython's label: its element and what was last put there

/** Take over the letters of VPython's `its`, and show them over the picture in `place`. */
export function takeOver(its, place) {
  canvas = its;
  sheet = make("div", { class: "letters", "aria-hidden": "true" });
  place.append(sheet);
  window.label.prototype.__update = function (pen, eye) { write(this, eye); }; // VPython would write on its pen
  canvas.overlay_context = { clearRect: () => (round += 1) }; // what VPython does first in every round
  canvas.__overlay_element.style.display = "none";
}

/** Write them `by` times as large as the bench asks for. */
export function enlarge(by) {
  factor = by;
  if (canvas) canvas.__overlay_objects.__changed = true;
}

/** Take away those that the last round left out. */
export function settle() {
  for (const [label, at] of written) {
    if (at.round === round || at.hidden) continue;
    at.element.hidden = at.hidden = true;
    if (!canvas.__overlay_objects.objects.includes(label)) {
      at.element.remove();
      written.delete(label);
    }
  }
}

/** Draw those that are shown on a plain 2-D sheet over the same picture, `finer` times as fine as the page's pixels. */
export function drawOn(pen, finer) {
  pen.setTransform(finer, 0, 0, finer, 0, 0);
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  for (const { text, x, y, box, looks } of shown()) {
    pen.fillStyle = looks.backgroundColor;
    pen.beginPath();
    pen.roundRect(box.x, box.y, box.width, box.height, parseFloat(looks.borderTopLeftRadius) || 0);
    pen.fill();
    pen.font = `${looks.fontWeight} ${looks.fontSize} ${looks.fontFamily}`;
    pen.fillStyle = looks.color;
    pen.fillText(text, x, y);
  }
}

/** Where the letters are, what they say and how they look, in the page's pixels from the picture's corner. */
export function shown() {
  const corner = sheet.getBoundingClientRect();
  return [...written.values()].filter((at) => !at.hidden).map(({ element, x, y, text }) => {
    const { left, top, width, height } = element.getBoundingClientRect();
    return { text, x, y, box: { x: left - corner.left, y: top - corner.top, width, height }, looks: getComputedStyle(element) };
  });
}

/** Where a place on the bench is in the picture, in the page's pixels; null behind the eye or before the first picture. */
export function onScreen([x, y, z]) {
  return camera && projected({ x, y, z });
}

function write(label, eye) {
  camera = eye;
  const place = projected(label.pos);
  if (!place) return;
  const at = written.get(label) || began(label);
  at.round = round;
  if (at.hidden) at.element.hidden = at.hidden = false;
  if (at.text !== label.text) at.element.textContent = at.text = label.text;
  const look = `${label.height} ${factor} ${html(label.color)} ${label.opacity > 0 ? html(label.background) : "transparent"}`;
  if (at.look !== look) {
    at.look = look;
    const style = at.element.style;
    style.fontSize = `${label.height * factor}px`;
    style.color = html(label.color);
    style.background = label.opacity > 0 ? html(label.background) : "transparent";
  }
  const fine = window.devicePixelRatio || 1; // whole pixels of the screen: between them letters are blurred
  const [x, y] = place.map((part) => Math.round(part * fine) / fine);
  if (at.x !== x || at.y !== y) {
    [at.x, at.y] = [x, y];
    at.element.style.transform = `translate(${x}px, ${y}px) translate(-50%, -50%)`;
  }
}

function began(label) {
  const element = make("span", {});
  sheet.append(element);
  const at = { element, hidden: false };
  written.set(label, at);
  return at;
}

/* From the eye's plane to the page's pixels; null behind the eye. */
function projected(pos) {
  const [from, to, up] = [camera.pos, camera.target, camera.up];
  const forward = unit([to[0] - from[0], to[1] - from[1], to[2] - from[2]]);
  const right = unit(cross(forward, up));
  const above = cross(right, forward);
  const away = [pos.x - from[0], pos.y - from[1], pos.z - from[2]];
  const depth = dot(away, forward);
  if (depth < camera.zNear || depth > camera.zFar) return null;
  const shorter = Math.min(canvas.width, canvas.height);
  const scale = (camera.distance * shorter) / (depth * 2 * canvas.range);
  return [canvas.width / 2 + scale * dot(away, right), canvas.height / 2 - scale * dot(away, above)];
}

const html = (colour) => `rgb(${[colour.x, colour.y, colour.z].map((part) => Math.round(255 * part)).join(" ")})`;
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((part) => part / Math.hypot(...a));
