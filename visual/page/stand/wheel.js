/* A machine that is turned with a finger: round its shaft, as one turns a wheel. */

import { make } from "../common/dom.js";
import { onScreen } from "../picture/letters.js";

const EVERY = 80; // ms between reports of how fast it is turned
const NEAREST = 20; // px from the shaft: nearer, and a finger's way says little about the angle
const SHAFT = [0, 0, 0];
const RIM = [0, 0.105, 0]; // m: where the sign passes, round the machine

let request, sheet, sign;
let finger = null; // { angle, turned, since } while one is down

export function start(place, requests) {
  request = requests;
  sign = make("i", { "aria-hidden": "true" });
  sheet = make("div", { class: "wheel", hidden: true }, sign);
  place.append(sheet);
  sheet.addEventListener("pointerdown", take);
  sheet.addEventListener("pointermove", follow);
  for (const end of ["pointerup", "pointercancel"]) sheet.addEventListener(end, (event) => { report(event); finger = null; });
  window.picture.onDrawn(settle);
}

/** Lie over the picture at a stop whose machine may be turned. */
export function show({ tries, answers }) {
  sheet.hidden = answers.length > 0 || !tries.some(({ does }) => does === "turn");
  settle();
}

/* The sign that it may be turned stands round the shaft. */
function settle() {
  const at = !sheet.hidden && onScreen(SHAFT);
  if (!at) return;
  const rim = onScreen(RIM), wide = 2 * Math.hypot(rim[0] - at[0], rim[1] - at[1]);
  sign.style.transform = `translate(${at[0]}px, ${at[1]}px) translate(-50%, -50%)`;
  sign.style.width = sign.style.height = `${Math.round(wide)}px`;
}

function take(event) {
  event.stopPropagation(); // or it would turn the eye
  sheet.setPointerCapture(event.pointerId);
  finger = { angle: angleOf(event), turned: 0, since: event.timeStamp };
  request.touch();
}

function follow(event) {
  event.stopPropagation();
  if (!finger) return;
  const angle = angleOf(event);
  if (angle !== null && finger.angle !== null) finger.turned += Math.atan2(Math.sin(angle - finger.angle), Math.cos(angle - finger.angle));
  finger.angle = angle;
  if (event.timeStamp - finger.since >= EVERY) report(event);
}

/* How fast it was turned since the last report, in revolutions a second; downward in the picture is upward in an angle, so that
   clockwise is positive. */
function report({ timeStamp }) {
  if (!finger || timeStamp <= finger.since) return;
  request.turn((1000 * finger.turned) / (2 * Math.PI) / (timeStamp - finger.since));
  Object.assign(finger, { turned: 0, since: timeStamp });
}

function angleOf({ clientX, clientY }) {
  const corner = sheet.getBoundingClientRect(), shaft = onScreen(SHAFT);
  if (!shaft) return null;
  const [x, y] = [clientX - corner.left - shaft[0], clientY - corner.top - shaft[1]];
  return Math.hypot(x, y) < NEAREST ? null : Math.atan2(y, x);
}
