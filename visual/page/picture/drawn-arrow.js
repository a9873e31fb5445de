/* An answer that is drawn: an arrow, dragged from a ring in the picture and released where it ends. With the arrow keys it is turned, and
   Enter answers with it. The bench is told both lines of sight and compares them with its vectors. */
import { make } from "../common/dom.js";
import { keepOff, onScreen, sightThrough } from "./letters.js";

const SVG = "http://www.w3.org/2000/svg";
const SHORTEST = 20; // px that a pointer must move: less is a slip
const LONG = 110; // px, of an arrow that is turned by keys
const STEP = Math.PI / 12; // rad for each press of a key
const HEAD = 16; // px
const RING = 23; // px, its radius

let line, sheet, ring, path;
let asked = null; // { letter, at }
let foot = null; // where the ring is, px
let tip = null; // from the ring to the tip, px
let dragged = false, turned = 0; // by a pointer; rad counter-clockwise from the right, by keys

/** Lay what is needed over the picture in `place`. */
export function start(place, socket) {
  line = socket;
  ring = make("button", { type: "button" });
  path = document.createElementNS(SVG, "path");
  const drawing = document.createElementNS(SVG, "svg");
  drawing.setAttribute("aria-hidden", "true");
  drawing.append(path);
  sheet = make("div", { class: "drawn-arrow", hidden: true }, ring);
  sheet.prepend(drawing);
  place.append(sheet);
  drag();
  keepOff(() => asked && foot ? [{ left: foot[0] - RING, right: foot[0] + RING, top: foot[1] - RING, bottom: foot[1] + RING }] : []);
  ring.addEventListener("keydown", key);
  ring.addEventListener("blur", () => stretch(null));
  socket.on("question", (question) => ask(question && question.arrow));
  window.picture.onDrawn(follow);
}

function ask(wanted) {
  if (JSON.stringify(wanted) === JSON.stringify(asked)) return;
  asked = wanted;
  sheet.hidden = !asked;
  stretch(null);
  if (!asked) return;
  ring.textContent = asked.letter;
  ring.setAttribute("aria-label", `Draw the arrow ${asked.letter}: drag it from here, or turn it with the arrow keys and press Enter`);
  ring.title = `Draw the arrow ${asked.letter} from here`;
  window.picture.redraw();
}

function follow() {
  if (!asked) return;
  foot = onScreen(asked.at);
  ring.hidden = !foot;
  if (foot) ring.style.transform = `translate(${Math.round(foot[0])}px, ${Math.round(foot[1])}px) translate(-50%, -50%)`;
  stretch(tip);
}

function stretch(to) {
  tip = to;
  if (!tip || !foot) return path.setAttribute("d", "");
  const [x, y] = [foot[0] + tip[0], foot[1] + tip[1]], along = Math.atan2(tip[1], tip[0]);
  const barb = (turn) => `${x - HEAD * Math.cos(along + turn)} ${y - HEAD * Math.sin(along + turn)}`;
  path.setAttribute("d", `M${foot[0]} ${foot[1]} L${x} ${y} M${barb(0.45)} L${x} ${y} L${barb(-0.45)}`);
}

function release() {
  if (!foot || !tip) return;
  const from = sightThrough(foot), to = sightThrough([foot[0] + tip[0], foot[1] + tip[1]]);
  if (from && to) line.request.draw(...from.along, ...to.along);
}

function drag() {
  let from = null;
  const end = () => { from = null; dragged = false; stretch(null); };
  ring.addEventListener("pointerdown", (event) => {
    event.stopPropagation(); // the picture does not turn
    from = [event.clientX, event.clientY];
    ring.setPointerCapture(event.pointerId);
  });
  ring.addEventListener("pointermove", (event) => {
    if (!from) return;
    const moved = [event.clientX - from[0], event.clientY - from[1]];
    dragged ||= Math.hypot(...moved) > SHORTEST;
    if (dragged) stretch(moved);
  });
  ring.addEventListener("pointerup", () => {
    if (dragged) release();
    end();
  });
  ring.addEventListener("pointercancel", end);
}

const TURNS = { ArrowLeft: 1, ArrowUp: 1, ArrowRight: -1, ArrowDown: -1 };

function key(event) {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.key in TURNS) {
    turned = tip ? turned + TURNS[event.key] * STEP : 0;
    stretch([LONG * Math.cos(turned), -LONG * Math.sin(turned)]);
  } else if (event.key === "Enter" || event.key === " ") release();
  else if (event.key === "Escape" && tip) stretch(null);
  else return;
  event.preventDefault();
  event.stopPropagation(); // elsewhere in the picture they do something else
}
