/* The page of who follows along: it shows what the bench shows, turns its own view, and answers the question. */

import { betweenPictures } from "./at-rest.js";
import * as caption from "./caption.js";
import * as chart from "./chart.js";
import { byId, make, write } from "./dom.js";
import * as focus from "./focus.js";
import * as lookRound from "./look-round.js";
import * as looks from "./looks.js";
import * as panel from "./panel.js";
import * as picture from "./picture.js";
import * as plot from "./plot.js";
import { createSocket } from "./socket.js";
import { coverWhileWaiting } from "./waiting.js";

const socket = createSocket(betweenPictures());
const voter = ownFigures();

let question = null;
let tally = null;
let said = null; // what was answered here
let round = null; // of the tally, that it was answered in

looks.start();
panel.startReading(socket);
caption.start(socket);
chart.start(socket);
plot.start(socket);
followTheView();
socket.on("question", (newest) => {
  if (JSON.stringify(newest) === JSON.stringify(question)) return;
  question = newest;
  show();
});
socket.on("tally", (newest) => {
  const counts = JSON.stringify(newest.counts) !== JSON.stringify(tally && tally.counts);
  tally = newest;
  if (round !== tally.round) {
    [round, said] = [tally.round, null];
    show();
  } else if (counts) show();
});
socket.on("bench", (bench) => {
  write(byId("pace"), [bench.running ? "" : "stopped", bench.slowness].filter(Boolean).join(", "));
});
coverWhileWaiting(socket);
socket.connect();

window.bench = { socket }; // for tests and for who opens the console

/* The view follows the bench until it is turned by hand; then it stays, until another scene is shown or it is given back. */
function followTheView() {
  let given = null; // the newest view of the bench
  let show = null;
  let scene = null;
  let own = false;
  const line = {
    ...socket,
    on: (key, listener) => {
      if (key !== "view") return socket.on(key, listener);
      show = listener;
      socket.on("view", (view) => {
        given = view;
        if (!own) show(view);
      });
    },
  };
  const mark = () => {
    own = picture.hasMoved();
    byId("as-shown").hidden = !own;
  };
  const giveBack = () => {
    own = false;
    if (given) show(given);
    mark();
  };
  socket.on("scene", (newest) => {
    if (scene !== null && newest.name !== scene) own = false; // the view that goes with it comes right behind
    scene = newest.name;
  });
  picture.start(byId("picture"), line);
  for (const event of ["pointermove", "wheel", "pointerup", "dblclick"]) byId("picture").addEventListener(event, mark);
  socket.on("view", mark);
  byId("as-shown").addEventListener("click", giveBack);
  lookRound.start(byId("picture"), picture, giveBack, mark);
  focus.keep(byId("picture"));
}

function answer(choice) {
  if (socket.send({ do: "answer", choice, voter })) {
    said = choice;
    show();
  }
}

function show() {
  const card = byId("question");
  card.hidden = question === null;
  if (question === null) return card.replaceChildren();
  const open = question.given === null;
  const focused = card.contains(document.activeElement) ? document.activeElement.dataset.choice : null;
  card.classList.toggle("answered", !open);
  card.replaceChildren(make("h2", { id: "question-words" }, question.text), choices(open), ...(open ? waiting() : verdict()));
  if (focused) card.querySelector(`[data-choice="${CSS.escape(focused)}"]`)?.focus();
}

function choices(open) {
  return make("ol", { class: "answers" }, ...question.choices.map(({ value, words }, place) => {
    const mine = value === said;
    const count = tally && tally.counts ? make("span", { class: "count" }, tally.counts[value] || 0) : "";
    return make("li", { class: !open && words === question.answer ? "true" : "" },
      make("button", {
        type: "button", "data-choice": value, "aria-pressed": String(mine), disabled: !open, onclick: () => answer(value),
      }, make("b", { "aria-hidden": "true" }, mine ? "\u2713" : place + 1), " ", make("span", {}, words), count));
  }));
}

function waiting() {
  return [make("p", { class: "note" }, said === null ? "Choose one." : "Taken. You may change it until the answer is shown.")];
}

function verdict() {
  const mine = question.choices.find((choice) => choice.value === said);
  const right = mine && mine.words === question.answer;
  const parts = [];
  if (mine) {
    parts.push(make("p", { class: right ? "verdict right" : "verdict wrong" },
      make("b", { "aria-hidden": "true" }, right ? "\u2713" : "\u2717"),
      make("span", {}, right ? "Right: " : "Wrong: ", make("strong", {}, mine.words))));
  }
  if (!right) parts.push(make("p", { class: "correct" }, "The answer: ", make("strong", {}, question.answer)));
  if (question.reason) parts.push(make("p", { class: "reason" }, question.reason));
  return parts;
}

/* One page answers once, also when it is loaded again; the figures say nothing of whose it is. */
function ownFigures() {
  const figures = [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  try {
    const kept = sessionStorage.getItem("voter") || figures;
    sessionStorage.setItem("voter", kept);
    return kept;
  } catch {
    return figures;
  }
}
