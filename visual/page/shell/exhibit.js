/* The exhibit's page: no panels, a large caption, a few big buttons, and no way out. */

import { chip } from "../common/colours.js";
import { atMostEvery, byId, make, write } from "../common/dom.js";
import { keepVisitorsHere } from "../common/here.js";
import * as picture from "../picture/picture.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";

const CAPTION_EVERY = 900; // ms: a sentence with changing figures must stay readable
const TOUCH_EVERY = 2000; // ms between reports that somebody is turning the picture
const SHOWN_EVERY = 1000; // ms between reports to the surrounding frame that all is well

const socket = createSocket();
const buttons = {};
let question = null;
let visited = false;
let shown = false;

document.documentElement.dataset.theme = "light"; // the same on every stand
keepVisitorsHere();
buildButtons();
showQuestion();
const writeCaption = atMostEvery(() => CAPTION_EVERY, (words) => {
  if (byId("caption").textContent === words) return;
  write(byId("caption"), words);
  fitWords();
});
socket.on("exhibit", (exhibit) => {
  write(byId("title"), exhibit.title);
  writeCaption(exhibit.caption);
  showReversing(exhibit.reverse);
  if (visited && !exhibit.visited) picture.resetView(); // the visitor who turned it has gone
  visited = exhibit.visited;
  byId("touch").classList.toggle("free", !visited);
});
socket.on("scene", ({ arrows }) => byId("arrows").replaceChildren(...arrows.map(({ letter, words, colour }) =>
  make("li", {}, chip(letter, colour), make("span", {}, words)))));
socket.on("bench", (bench) => write(byId("pace"), bench.slowness === "real time" ? "" : bench.slowness));
socket.on("question", (newest) => {
  if (JSON.stringify(newest) === JSON.stringify(question)) return;
  question = newest;
  showQuestion();
});
picture.start(byId("picture"), socket);
window.addEventListener("resize", fitWords);
fitWords();
const touched = atMostEvery(() => TOUCH_EVERY, () => socket.request.touch());
for (const event of ["pointerdown", "wheel"]) byId("picture").addEventListener(event, touched);
byId("picture").addEventListener("pointermove", (event) => event.buttons && touched());
coverWhileWaiting(socket);
socket.watch((connected) => (shown = connected));
setInterval(() => shown && parent !== window && parent.postMessage("shown", "*"), SHOWN_EVERY);
for (const event of ["error", "unhandledrejection"]) window.addEventListener(event, (happened) => happened.preventDefault());
socket.connect();

window.bench = { socket }; // for tests and the console

/* The longest sentences get smaller type so that they fit. */
function fitInto(box) {
  for (const size of [1, 0.92, 0.84, 0.76, 0.68, 0.6, 0.5]) {
    box.style.setProperty("--shrunk", size);
    if (box.scrollHeight <= box.clientHeight) break;
  }
}

function fitWords() {
  fitInto(byId("caption").parentElement);
  if (question !== null) fitInto(byId("question"));
}

function buildButtons() {
  const big = (words, onclick) => make("button", { type: "button", onclick }, words);
  const { request } = socket;
  buttons.current = big("", () => request.reverse("current"));
  buttons.field = big("", () => request.reverse("field"));
  buttons.ask = big("A question", () => request.ask());
  buttons.enough = big("Done", request.enough);
  buttons.next = big("Next", request.next);
  byId("touch").append(make("p", {}, "Touch the screen: turn the picture or press a button"), ...Object.values(buttons));
}

function showReversing(reversible) {
  for (const what of ["current", "field"]) {
    const words = (reversible.find((one) => one.what === what) || {}).words;
    buttons[what].hidden = !words || question !== null;
    if (words) write(buttons[what], words);
  }
}

function showQuestion() {
  const card = byId("question");
  card.hidden = question === null;
  buttons.ask.hidden = question !== null && question.given === null;
  write(buttons.ask, question === null ? "A question" : "Next question");
  buttons.enough.hidden = question === null;
  if (socket.told.exhibit) showReversing(socket.told.exhibit.reverse);
  if (question === null) return card.replaceChildren();
  card.replaceChildren(make("h2", { id: "question-words" }, question.text), ...(question.given === null ? choices() : verdict()));
  fitWords();
}

function choices() {
  return [make("div", { class: "answers" }, ...question.choices.map(({ value, words }) =>
    make("button", { type: "button", "data-choice": value, onclick: () => socket.request.answer(value) }, words)))];
}

function verdict() {
  const words = (value) => question.choices.find((choice) => choice.value === value).words;
  return [
    make("p", { class: question.right ? "verdict right" : "verdict wrong" },
      make("b", { "aria-hidden": "true" }, question.right ? "\u2713" : "\u2717"),
      make("span", {}, question.right ? `Right: ${words(question.given)}` : `You said: ${words(question.given)}`)),
    ...(question.right ? [] : [make("p", { class: "correct" }, "Answer: ", make("strong", {}, question.answer))]),
    make("p", { class: "reason" }, question.reason || ""),
  ];
}
