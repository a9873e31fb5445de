/* A trainee's page in a marked test: a name, then one question after the other, each with its set-up in three dimensions.

An answer that was sent and not yet confirmed is remembered in this tab, and sent again when the program comes back; the program
counts it once. */

import { betweenPictures } from "../common/at-rest.js";
import { byId, make, timeLeft, write } from "../common/dom.js";
import * as looks from "../common/looks.js";
import * as panel from "../panels/panel.js";
import * as plot from "../panels/plot.js";
import { createSocket } from "../common/socket.js";
import * as turned from "../picture/turned.js";
import { coverWhileWaiting } from "../common/waiting.js";
import { tellWhyNotLetIn } from "./why-not.js";

const SENT = "thumbwise-sent";

const socket = createSocket(betweenPictures());
let question = null;
let sitting = null;
let chosen = null; // before it is sent
let ends = null; // when the time is over, by this page's clock

looks.start();
panel.startReading(socket);
plot.start(socket);
turned.start(socket);
socket.on("question", (newest) => {
  question = newest;
  document.documentElement.classList.toggle("covered", question.covers);
  chosen = null;
  show();
});
socket.on("given", (settings) => byId("given").replaceChildren(...settings.map(({ words, value, unit }) =>
  make("div", {}, make("dt", {}, words), make("dd", {}, `${value} ${unit}`)))));
socket.on("sitting", (newest) => {
  sitting = newest;
  ends = sitting.seconds === null ? null : performance.now() + 1000 * sitting.seconds;
  const sent = unconfirmed();
  if (sent && !sitting.refused) socket.request.answer(sent.choice, sent.place);
  else forget();
  show();
});
setInterval(showTime, 500);
byId("begin").addEventListener("submit", (event) => {
  event.preventDefault();
  socket.request.begin(byId("name").value);
});
byId("hand-in").addEventListener("click", () => {
  const rest = sitting.count - sitting.place + 1;
  write(byId("sure-words"), rest === 1 ? "One question is not answered. Hand in?" : `${rest} questions are not answered. Hand in?`);
  byId("sure").showModal();
});
byId("sure").addEventListener("close", () => byId("sure").returnValue === "yes" && socket.request.enough());
coverWhileWaiting(socket);
socket.watch(tellWhyNotLetIn);
socket.connect();

window.bench = { socket }; // for tests and the console

/* The answer on its way to the question that waits, if there is one: { name, place, choice }. */
function unconfirmed() {
  try {
    const sent = JSON.parse(sessionStorage.getItem(SENT));
    return sent && sitting && !sitting.ended && sent.name === sitting.name && sent.place === sitting.place ? sent : null;
  } catch {
    return null;
  }
}

function forget() {
  sessionStorage.removeItem(SENT);
}

function send() {
  if (chosen === null || unconfirmed()) return;
  sessionStorage.setItem(SENT, JSON.stringify({ name: sitting.name, place: sitting.place, choice: chosen }));
  socket.request.answer(chosen, sitting.place);
  show();
}

function show() {
  if (sitting === null) return;
  const asked = sitting.name !== null && !sitting.ended;
  byId("board").hidden = !asked;
  byId("door").hidden = asked;
  if (!asked) return showDoor();
  write(byId("place"), `Question ${sitting.place} of ${sitting.count}`);
  write(byId("who"), sitting.name);
  showTime();
  showQuestion();
}

function showDoor() {
  const { count, minutes, ended, another, name, refused } = sitting;
  const length = `${count} question${count === 1 ? "" : "s"}, ${minutes === null ? "no time limit" : `${minutes} minutes`}.`;
  write(byId("door-head"), ended ? "The test is over" : "A test");
  write(byId("door-words"), ended ? `Your answers have arrived, ${name}. Thank you.${another ? ` For whoever comes next: ${length}` : ""}` : length);
  byId("begin").hidden = !another;
  write(byId("refused"), refused);
  if (ended) byId("name").value = "";
}

function showQuestion() {
  if (question === null) return;
  const sent = unconfirmed();
  const mine = sent ? sent.choice : chosen;
  const focused = document.activeElement && document.activeElement.dataset.choice;
  byId("question").replaceChildren(
    make("h2", { id: "question-words" }, question.text),
    question.answered === "typed" ? figure(mine, sent) : choices(mine, sent),
    ...(sitting.refused ? [make("p", { class: "note refused", id: "answer-refused" }, sitting.refused)] : []),
    make("div", { class: "foot" },
      make("span", {}, sent ? "Sending\u2026" : chosen !== null ? "You can still change it." : question.answered === "typed" ? "" : "Choose one."),
      make("span", { class: "then" },
        make("button", { type: "button", id: "answer", class: "main", disabled: chosen === null || Boolean(sent), onclick: send },
          sitting.place === sitting.count ? "Answer and hand in" : "Answer"))));
  if (focused) byId("question").querySelector(`[data-choice="${CSS.escape(focused)}"]`)?.focus();
}

function choices(mine, sent) {
  return make("ol", { class: "answers" }, ...question.choices.map(({ value, words }, place) => make("li", {},
    make("button", { type: "button", "data-choice": value, "aria-pressed": String(value === mine), disabled: Boolean(sent), onclick: () => choose(value) },
      make("b", { "aria-hidden": "true" }, place + 1), " ", make("span", {}, words)))));
}

/* A figure with its unit; what cannot be read as one is told, and stays to be corrected. */
function figure(mine, sent) {
  const input = make("input", {
    type: "text", id: "figure", autocomplete: "off", enterkeyhint: "send", size: 12, maxlength: 40, value: mine, disabled: Boolean(sent),
    ...(sitting.refused ? { "aria-invalid": "true", "aria-describedby": "answer-refused" } : {}),
    oninput: () => {
      chosen = input.value.trim() || null;
      byId("answer").disabled = chosen === null;
    },
  });
  const submit = (event) => {
    event.preventDefault();
    send();
  };
  return make("form", { class: "typed", onsubmit: submit }, make("label", { for: "figure" }, "A figure with its unit"), input);
}

function choose(value) {
  chosen = value;
  showQuestion();
}

/* The time that is left; with its end the answer that is chosen goes off. */
function showTime() {
  if (ends === null) return write(byId("left"), "");
  const seconds = Math.max(0, Math.ceil((ends - performance.now()) / 1000));
  write(byId("left"), timeLeft(seconds));
  if (seconds === 0) {
    ends = null;
    send();
  }
}
