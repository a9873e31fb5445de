/* Things in the picture that are pressed: real buttons over them, for mouse, touch, keys and screen readers.

   One that stands alone is pressed for itself, anywhere on the solid that it is on; of others two are pressed one after the other, or one
   is dragged to the other. What that does is the bench's to say. */
import { make, write } from "../common/dom.js";
import { firstAlong } from "./hit.js";
import { onScreen, sightThrough } from "./letters.js";
import { turn, TURNED } from "./picture.js";
import { placeOn } from "./stream.js";

const TO_JOIN = "In the picture: press two to join them or to take them apart", TO_PRESS = "In the picture: press a part";

const LARGEST = 46, SMALLEST = 24; // px across: WCAG 2.2, 2.5.8 asks for 24
const FAR = 8, SHARE = 0.012; // px that a pointer moves before it drags, and of a large screen's shorter side
const FEW = 6; // answers
const TURNS = 20; // of the reckoning that pushes buttons apart

let line, surface, sheet, rope, edge, toPress;
let picks = []; // { name, words, at, alone, on, button, x, y }; without a place, a button with its words at the edge
let told = "";
let answers = new Set(); // the names of those that answer the question that waits
let called = ""; // the buttons together, in other words than ours
let chosen = null; // the pick that waits for its second

/** Lay the buttons of each scene over the picture in `place`. */
export function start(place, socket) {
  line = socket;
  surface = place;
  pressBodies();
  rope = make("div", { class: "rope", hidden: true });
  sheet = make("div", { class: "picks", role: "group", "aria-label": TO_JOIN }, rope);
  edge = make("div", { class: "alone" });
  toPress = make("p", { class: "to-press", hidden: true, "aria-live": "polite" });
  place.append(sheet);
  place.after(toPress);
  socket.on("picks", lay);
  socket.on("to_press", (words) => {
    write(toPress, words);
    toPress.hidden = !words;
  });
  socket.on("question", (question) => { // what may be pressed for an answer is seen, unless it is everything there is
    const few = question && question.given === null && question.answered === "pressed" && question.choices.length <= FEW;
    answers = new Set(few ? question.choices.map(({ value }) => value) : []);
    ringAnswers();
  });
  socket.on("bench", ({ held }) => (edge.hidden = Boolean(held))); // while a question waits nothing is done with one press
  window.picture.onDrawn(follow);
  sheet.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && chosen) choose(null);
    else if (event.key !== "Enter" && event.key !== " ") return;
    event.stopPropagation(); // these press the button; elsewhere in the picture they do something else
  });
}

function lay(wanted) {
  if (JSON.stringify(wanted) === told) return;
  told = JSON.stringify(wanted);
  choose(null);
  const before = picks;
  picks = wanted.map((pick) => {
    const own = Object.assign(before.find(({ name }) => name === pick.name) || begun(), pick);
    own.button.setAttribute("aria-label", pick.words);
    own.button.title = pick.words;
    if (pick.alone) own.button.removeAttribute("aria-pressed"); // it does not stay pressed
    else own.button.setAttribute("aria-pressed", "false");
    own.button.textContent = pick.at ? "" : pick.words;
    return own;
  });
  const there = new Set(picks);
  for (const gone of before) if (!there.has(gone)) gone.button.remove();
  let neighbour = rope;
  for (const { button, at } of picks) { // none that stays is moved, or it would lose the focus
    if (!at && !edge.contains(button)) edge.append(button);
    if (!at) continue;
    if (!button.isConnected) neighbour.after(button);
    neighbour = button;
  }
  if (!edge.isConnected) sheet.append(edge);
  ringAnswers();
  sheet.setAttribute("aria-label", called || (picks.some(({ alone, at }) => alone && at) ? TO_PRESS : TO_JOIN));
  sheet.hidden = !picks.length;
  surface.style.cursor = "";
  window.picture.redraw();
}

/** Call all of them together by these words, as on a page in another language. */
export function call(words) {
  called = words;
  sheet.setAttribute("aria-label", words);
}

function ringAnswers() {
  for (const { name, button } of picks) button.classList.toggle("answer", answers.has(name));
}

function begun() {
  const own = { button: make("button", { type: "button", "aria-pressed": "false" }) };
  own.button.addEventListener("click", (event) => { if (!own.dragged || !event.detail) press(meant(own, event)); }); // a key drags nothing
  drag(own);
  return own;
}

/* A solid is pressed anywhere on it: what is in front there counts. Not by a click: VPython's picture lets none come of a touch. */
function pressBodies() {
  let from = null, looking = 0;
  surface.addEventListener("pointerdown", (event) => (from = event.isPrimary && event.button === 0 ? [event.clientX, event.clientY] : null));
  surface.addEventListener("pointercancel", () => (from = null));
  surface.addEventListener("pointerup", (event) => {
    if (!from || !event.isPrimary) return;
    const body = drags(from, event) ? null : inFront(placeIn(event));
    from = null;
    if (body) press(body);
  });
  surface.addEventListener("pointermove", (event) => {
    if (event.buttons || looking || !picks.some(({ on }) => on !== null)) return;
    looking = requestAnimationFrame(() => {
      looking = 0;
      surface.style.cursor = inFront(placeIn(event)) ? "pointer" : "";
    });
  });
}

const drags = (from, { clientX, clientY }) =>
  Math.hypot(clientX - from[0], clientY - from[1]) > Math.max(FAR, SHARE * Math.min(innerWidth, innerHeight));

function placeIn({ clientX, clientY }) {
  const corner = surface.getBoundingClientRect();
  return [clientX - corner.left, clientY - corner.top];
}

/* The pick whose solid is seen at a place in the picture. */
function inFront(place) {
  const sight = picks.some(({ alone, on }) => alone && on !== null) && sightThrough(place);
  const first = sight ? firstAlong(sight) : null;
  return first === null ? undefined : picks.find(({ alone, on }) => alone && on === first);
}

/* A button that lies over what hides its own solid gives way to what is in front. */
function meant(pick, event) {
  if (!event.detail || !pick.at || pick.on === null || inFront(pick.own) === pick) return pick; // by a key, or its solid is in sight
  return inFront(placeIn(event)) || pick;
}

function press(pick) {
  if (pick.alone) return line.request.press(pick.name);
  if (!chosen) return choose(pick);
  const first = chosen;
  choose(null);
  if (first !== pick) line.request.join(first.name, pick.name);
}

function choose(pick) {
  if (chosen) chosen.button.setAttribute("aria-pressed", "false");
  chosen = pick;
  if (chosen) chosen.button.setAttribute("aria-pressed", "true");
}

/* From one to another: a line follows the pointer, and the one where it is released is the second. Dragged from one that stands alone the
   picture turns, as from anywhere else. */
function drag(pick) {
  const { button } = pick;
  let from = null;
  button.addEventListener("pointerdown", (event) => {
    event.stopPropagation(); // the picture does not turn
    from = [event.clientX, event.clientY];
    pick.dragged = false;
    button.setPointerCapture(event.pointerId);
  });
  button.addEventListener("pointermove", (event) => {
    if (!from) return;
    pick.dragged ||= drags(from, event);
    if (!pick.dragged) return;
    if (!pick.alone) return stretch(pick, event.clientX, event.clientY);
    turn((event.clientX - from[0]) * TURNED, (event.clientY - from[1]) * TURNED);
    from = [event.clientX, event.clientY];
  });
  button.addEventListener("pointerup", (event) => {
    const under = document.elementFromPoint(event.clientX, event.clientY);
    const second = picks.find((each) => each.button === under);
    if (from && !pick.alone && pick.dragged && second && second !== pick) line.request.join(pick.name, second.name);
    from = null;
    rope.hidden = true;
  });
  button.addEventListener("pointercancel", () => { from = null; rope.hidden = true; });
}

function stretch(pick, clientX, clientY) {
  const corner = sheet.getBoundingClientRect();
  const [across, down] = [clientX - corner.left - pick.x, clientY - corner.top - pick.y];
  rope.hidden = false;
  rope.style.width = `${Math.hypot(across, down)}px`;
  rope.style.transform = `translate(${pick.x}px, ${pick.y}px) rotate(${Math.atan2(down, across)}rad)`;
}

function placeOf({ at, on }) {
  const place = on === null ? at : placeOn(on, at);
  return place && onScreen(place);
}

/* Push places apart, in place, until none is nearer to another than a button is wide: what is small on a telephone is still pressed. */
function spread(places) {
  for (let turn = 0; turn < TURNS; turn++) {
    let moved = false;
    places.forEach((one, k) => places.slice(k + 1).forEach((other) => {
      const away = [other[0] - one[0], other[1] - one[1]], far = Math.hypot(...away);
      if (far >= SMALLEST + 1) return;
      const along = far ? away.map((part) => part / far) : [0, 1];
      along.forEach((part, axis) => {
        one[axis] -= part * (SMALLEST + 1.5 - far) / 2;
        other[axis] += part * (SMALLEST + 1.5 - far) / 2;
      });
      moved = true;
    }));
    if (!moved) return;
  }
}

/* After each picture the buttons go where their things are; neighbours never overlap. */
function follow() {
  const inPicture = picks.filter(({ at }) => at);
  if (!inPicture.length) return;
  const places = inPicture.map((pick) => placeOf(pick));
  inPicture.forEach((pick, k) => (pick.own = places[k] && [...places[k]]));
  spread(places.filter((at, k) => at && inPicture[k].alone));
  let apart = LARGEST / 0.8;
  places.forEach((one, k) => places.slice(k + 1).forEach((other) => {
    if (one && other) apart = Math.min(apart, Math.hypot(one[0] - other[0], one[1] - other[1]));
  }));
  const size = Math.max(SMALLEST, Math.round(0.8 * apart));
  inPicture.forEach((pick, k) => {
    const at = places[k];
    pick.button.hidden = !at;
    if (!at) return;
    [pick.x, pick.y] = at.map(Math.round);
    const style = `width: ${size}px; height: ${size}px; transform: translate(${pick.x}px, ${pick.y}px) translate(-50%, -50%)`;
    if (pick.button.style.cssText !== style && pick.placed !== style) pick.button.style.cssText = pick.placed = style;
  });
}
