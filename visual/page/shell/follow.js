/* A follower's page: it shows what the bench shows, turns its own view, and answers the question. */

import { betweenPictures } from "../common/at-rest.js";
import * as caption from "./caption.js";
import * as chart from "../panels/chart.js";
import { byId, make, write } from "../common/dom.js";
import * as focus from "../common/focus.js";
import * as lookRound from "../picture/look-round.js";
import * as looks from "../common/looks.js";
import * as panel from "../panels/panel.js";
import * as picture from "../picture/picture.js";
import * as plot from "../panels/plot.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";
import { counted } from "../panels/tally.js";
import { tellWhyNotLetIn } from "./why-not.js";

const socket = createSocket(betweenPictures());
const { film } = socket; // in a file that is taken home, which judges answers itself

let question = null;
let tally = null;
let vote = null; // the bench's reply to this visitor's answer
let triedBefore = false; // whether a wrong answer stood there already
let sent = null; // the choice that is on its way to the bench

looks.start();
panel.startReading(socket);
caption.start(socket);
chart.start(socket);
plot.start(socket);
followTheView();
socket.on("question", (newest) => {
  if (JSON.stringify(newest) === JSON.stringify(question)) return;
  const answeredNow = question !== null && question.given === null && newest !== null && newest.given !== null;
  question = newest;
  show();
  if (answeredNow) byId("question").lastElementChild.scrollIntoView({ block: "nearest" }); // on a telephone it is below the choices
});
socket.on("tally", (newest) => {
  const shown = ({ round, counts }) => JSON.stringify([round, counts]);
  const changed = tally === null || shown(newest) !== shown(tally);
  if (tally && newest.round !== tally.round) sent = null;
  tally = newest;
  if (changed) show();
});
socket.on("vote", (newest) => {
  const again = Boolean(film && film.tried), first = again && !triedBefore;
  [vote, sent, triedBefore] = [newest, null, again];
  show();
  if (first) byId("question").lastElementChild.scrollIntoView({ block: "nearest" }); // what is told of it, as above
});
socket.on("bench", (bench) => {
  const { running, slowness } = bench;
  write(byId("pace"), running ? slowness : slowness === "real time" ? "stopped" : `stopped (${slowness})`);
});
coverWhileWaiting(socket);
socket.watch(tellWhyNotLetIn);
socket.connect();

window.bench = { socket }; // for tests and the console

/* The view follows the bench until turned by hand; then it stays, until another scene is shown or it is reset. */
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
  if (socket.request.answer(choice) && !film) {
    sent = choice;
    show();
  }
}

/* The answer the bench has accepted; one still being sent may be refused. */
const taken = () => (vote && tally && vote.round === tally.round ? vote.choice : null);

function show() {
  const card = byId("question");
  card.hidden = question === null;
  document.documentElement.classList.toggle("covered", Boolean(question && question.covers));
  if (question === null) return card.replaceChildren();
  const open = question.given === null;
  const focused = card.contains(document.activeElement) ? document.activeElement.dataset.choice : null;
  card.classList.toggle("answered", !open);
  const again = open && tally && tally.vote === 2 && !tally.closed && taken() === null && sent === null;
  const once = again ? [make("p", { class: "note" }, "The class votes again: choose once more.")] : [];
  const typed = question.answered === "typed", was = byId("figure") && byId("figure").value, typing = document.activeElement === byId("figure");
  card.replaceChildren(make("h2", { id: "question-words" }, question.text), ...once, ...(typed ? figure(open, was) : [choices(open)]),
    ...(open ? waiting() : verdict()));
  if (typing && open) byId("figure")?.focus();
  if (focused) card.querySelector(`[data-choice="${CSS.escape(focused)}"]`)?.focus();
}

/* A figure is answered at the bench; in a file that is taken home, here. */
function figure(open, was) {
  if (!open) return [];
  if (!film) return [make("p", { class: "note" }, "Work the figure out, and say it: it is answered at the bench.")];
  const input = make("input", { type: "text", id: "figure", autocomplete: "off", enterkeyhint: "send", size: 12, maxlength: 40, value: was || "" });
  return [make("form", { class: "typed", onsubmit: (event) => {
    event.preventDefault();
    if (input.value.trim()) socket.request.answer(input.value);
  } }, make("label", { for: "figure" }, "A figure with its unit"), input, make("button", { type: "submit" }, "Answer"))];
}

function choices(open) {
  return make("ol", { class: "answers" }, ...question.choices.map(({ value, words }, place) => {
    const mine = value === (sent === null ? taken() : sent);
    const right = !open && words === question.answer;
    const tried = Boolean(film && film.tried && film.tried.choice === value), wrong = tried || (film && !open && !right && mine);
    const count = tally && tally.counts ? make("span", { class: "count" }, counted(tally, value)) : "";
    const off = !open || Boolean(tally && tally.closed) || tried;
    return make("li", { class: right ? "true" : wrong ? "false" : "" },
      make("button", {
        type: "button", "data-choice": value, "aria-pressed": String(mine), disabled: off, onclick: () => answer(value),
      }, make("b", { "aria-hidden": "true" }, right ? "\u2713" : wrong ? "\u2717" : place + 1), " ", make("span", {}, words), count));
  }));
}

const placeOf = (value) => question.choices.findIndex((choice) => choice.value === value);

function waiting() {
  if (sent !== null) return [make("p", { class: "note" }, "Sending\u2026")];
  const refused = vote && tally && vote.round === tally.round && vote.refused ? [make("p", { class: "note refused" }, vote.refused)] : [];
  if (film && film.tried) return [...refused, make("p", { class: "note" }, film.tried.note)];
  if (question.answered === "typed") return refused;
  const mine = question.choices[placeOf(taken())];
  const standing = !mine
    ? (refused.length || (tally && tally.vote === 2) ? [] : [make("p", { class: "note" }, tally && tally.closed ? "This vote is over." : "Choose one.")])
    : [make("p", { class: "note" }, `Your answer: ${mine.words}. ${
        tally.closed ? "This vote is over." : "You can change it until the votes or the answer are shown."}`)];
  return [...refused, ...standing];
}

function verdict() {
  const mine = film ? film.given : question.choices[placeOf(taken())];
  const right = mine && (film ? mine.right : mine.words === question.answer);
  const parts = [];
  if (mine) {
    parts.push(make("p", { class: right ? "verdict right" : "verdict wrong" },
      make("b", { "aria-hidden": "true" }, right ? "\u2713" : "\u2717"),
      make("span", {}, right ? "Right: " : "Wrong: ", make("strong", {}, mine.words))));
  }
  if (film && film.tried && mine) parts.push(make("p", { class: "note" }, `Your first answer was: ${film.tried.words}.`));
  if (!right) parts.push(make("p", { class: "correct" }, "Answer: ", make("strong", {}, question.answer)));
  if (question.reason) parts.push(make("p", { class: "reason" }, question.reason));
  return parts;
}
