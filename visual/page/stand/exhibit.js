/* The exhibit's page: the picture, one sentence, a few big buttons at the bottom, and no way out. */

import { chip } from "../common/colours.js";
import { atMostEvery, byId, make, write, writeSentence } from "../common/dom.js";
import { keepVisitorsHere } from "../common/here.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";
import * as letters from "../picture/letters.js";
import * as picks from "../picture/picks.js";
import * as picture from "../picture/picture.js";
import * as buttons from "./buttons.js";
import { answerTouches } from "./touches.js";
import * as wheel from "./wheel.js";

const CAPTION_EVERY = 900; // ms: a sentence with changing figures must stay readable
const TOUCH_EVERY = 2000; // ms between reports that somebody is still turning the picture
const BACK_AFTER = 3000; // ms after a finger has let go of the picture
const SHOWN_EVERY = 1000; // ms between reports to the surrounding frame that all is well
const MOST_LETTERS = 3;

const socket = createSocket();
let serial = null;
let shown = false;
let key = ""; // of the arrows, as it stands there
let said = ""; // the newest caption
let there = ""; // the buttons that belong to it
let touched = true; // since the caption changed last

document.documentElement.dataset.theme = "light"; // the same on every stand
picture.forPassersBy();
keepVisitorsHere();
answerTouches(socket);
socket.on("view", (view) => letters.showAtMost(view.letters.length ? MOST_LETTERS : 0));
buttons.start(byId("touch"), socket.request);
const writeCaption = atMostEvery(() => CAPTION_EVERY, (caption) => writeSentence(byId("caption"), caption));
socket.on("exhibit", (exhibit) => {
  const { words, place, left, asleep } = exhibit;
  say(exhibit);
  document.body.classList.toggle("attracts", place < 0);
  document.body.classList.toggle("silent", !exhibit.caption);
  byId("picture").setAttribute("aria-label", words.picture);
  picks.call(words.picture);
  byId("touch").setAttribute("aria-label", words.buttons);
  byId("night").hidden = !asleep;
  write(byId("pace"), exhibit.slow && place >= 0 ? words.slow : "");
  write(byId("speed"), exhibit.speed);
  write(byId("wait"), words.wait);
  showKey();
  countDown(left, words.still_there);
  buttons.show(exhibit);
  wheel.show(exhibit);
  if (serial !== null && serial !== exhibit.serial) picture.resetView(); // whoever turned it has gone, or gone on
  serial = exhibit.serial;
});
socket.on("logo", (logo) => {
  byId("logo").hidden = !logo;
  if (logo) byId("logo").src = logo;
});
socket.on("picks", (parts) => byId("picture").setAttribute("role", parts.length ? "group" : "img")); // what is in an image is not told
socket.on("scene", showKey);
socket.on("view", showKey);
picture.start(byId("picture"), socket);
picks.start(byId("picture"), socket);
wheel.start(byId("picture"), socket.request);
for (const place of ["picture", "night"]) byId(place).addEventListener("pointerdown", () => socket.request.touch());
const stillTouched = atMostEvery(() => TOUCH_EVERY, () => socket.request.touch(true));
byId("picture").addEventListener("pointermove", (event) => event.buttons && stillTouched());
byId("picture").addEventListener("wheel", stillTouched);
byId("picture").addEventListener("click", ({ detail }) => detail || socket.request.touch()); // by a key, on a part
let letGo = 0;
byId("picture").addEventListener("pointerdown", () => clearTimeout(letGo));
for (const end of ["pointerup", "pointercancel", "wheel"]) {
  byId("picture").addEventListener(end, () => { clearTimeout(letGo); letGo = setTimeout(picture.swingBack, BACK_AFTER); });
}
coverWhileWaiting(socket);
let missed = false; // a touch while the page was covered, in sleep too: it counts as soon as somebody hears of it
byId("waiting").addEventListener("pointerdown", () => (missed = true));
socket.watch((connected) => {
  shown = connected;
  if (connected && missed) socket.request.touch();
  missed = false;
});
setInterval(() => shown && parent !== window && tellFrame(), SHOWN_EVERY);
for (const event of ["pointerdown", "keydown"]) window.addEventListener(event, () => (touched = true), true);
for (const event of ["error", "unhandledrejection"]) window.addEventListener(event, (happened) => happened.preventDefault());
socket.connect();

window.bench = { socket }; // for tests and the console

/* At once and together with its buttons, unless it changes by itself; never in another language than the page around it. Where nothing is said, those who do not see
   the picture are told that there is one. */
function say({ caption: words, longest, language, serial: stop, tries, answers, words: { picture: unsaid } }) {
  const root = document.documentElement, caption = words || unsaid;
  const buttonsNow = JSON.stringify([stop, tries, answers]), together = touched || buttonsNow !== there || language !== root.lang;
  if (caption !== said) writeCaption(caption);
  if (together) writeSentence(byId("caption"), caption);
  if (caption !== said) touched = false;
  [said, there] = [caption, buttonsNow];
  write(byId("room"), longest);
  // what is long is smaller; at one stop all that is said is of one size, unless it is longer than that
  byId("caption").parentElement.style.setProperty("--long", Math.max(1, longest.length, caption.length));
  root.lang = language;
}

function tellFrame() {
  parent.postMessage({ shown: byId("wait").textContent, language: document.documentElement.lang }, "*");
}

/* Of the arrows only those whose letter may be seen, for those who read English: that is what the scenes speak. */
function showKey() {
  const { scene, view, exhibit } = socket.told;
  if (!scene || !view || !exhibit) return;
  const letters = exhibit.language.split("-")[0] === "en" ? view.letters.slice(0, MOST_LETTERS) : [];
  const seen = scene.arrows.filter(({ letter }) => letters.includes(letter));
  const now = JSON.stringify(seen);
  if (now === key) return;
  key = now;
  byId("arrows").replaceChildren(...seen.map(({ letter, words, colour }) => make("li", {}, chip(letter, colour), make("span", {}, words))));
}

function countDown(left, words) {
  const sign = byId("left");
  sign.hidden = left === null;
  write(sign.querySelector("b"), left === null ? "" : String(left));
  write(sign.querySelector("span"), left === null ? "" : words); // read aloud when it comes
}
