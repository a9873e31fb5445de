/* The question to the class: put, answered, explained. */

import { byId, make, write } from "../common/dom.js";
import { remember, remembered } from "../common/looks.js";

let question = null;
let figure = false; // one was sent from its field, and is neither taken nor refused yet
let socket, ask, foot;

/** `another()` asks the next question; `ownFoot(question)`: what stands below it, in place of the instructor's buttons. */
export function start(theSocket, another = () => theSocket.request.ask(), ownFoot = instructorsFoot) {
  [socket, ask, foot] = [theSocket, another, ownFoot];
  socket.on("question", (newest) => {
    if (JSON.stringify(newest) === JSON.stringify(question)) return;
    question = newest;
    show();
  });
}

/** Whether a question waits for its answer. */
export const isOpen = () => question !== null && question.given === null;

/** Answer with the choice at `place` (0, 1, ...), where there is one and the question waits. */
export function answer(place) {
  if (isOpen() && question.choices[place]) socket.request.answer(question.choices[place].value);
}

/** Show at the field why the figure typed there was not taken; whether that is what the sentence tells. */
export function refuses(sentence) {
  if (!figure || !sentence) return false;
  figure = false;
  write(byId("figure-refused"), sentence);
  byId("figure").setAttribute("aria-invalid", "true");
  byId("figure").focus();
  return true;
}

/** Close it; its set-up stays. Whether there was one. */
export function close() {
  if (question === null) return false;
  socket.request.enough();
  return true;
}

/** Show it, as it stands. */
export function show() {
  const card = byId("question");
  const hadFocus = card.contains(document.activeElement);
  card.hidden = question === null;
  figure = false;
  document.documentElement.classList.toggle("covered", Boolean(question && question.covers));
  if (question === null) return card.replaceChildren();
  card.classList.toggle("answered", !isOpen());
  const parts = isOpen() ? waysToAnswer() : verdict(), note = question.note ? [make("p", { class: "note" }, question.note)] : [];
  card.replaceChildren(
    make("h2", { id: "question-words", tabindex: -1, onkeydown: onward }, question.text),
    ...(isOpen() ? [...note, ...parts] : [...parts, ...note]), // what is said of a first try is read before the second
    foot(question));
  byId("column").scrollTop = 0;
  if (hadFocus) (card.querySelector("input") || byId("question-words")).focus(); // a ring round an answer would look as if it were chosen
}

/* The focus stays here, so that what is told is read from its beginning; Enter then does what the main button does. */
function onward(event) {
  const main = byId("question").querySelector(".foot button.main");
  if (event.key === "Enter" && !event.repeat && !isOpen() && main) main.click();
}

function waysToAnswer() {
  if (question.answered === "typed") return [field()];
  const inPicture = { pressed: "Or press it in the picture.", drawn: `Or draw ${question.arrow?.letter} in the picture, from the ring.` };
  return [choices(), ...(question.answered in inPicture ? [make("p", { class: "note" }, inPicture[question.answered])] : [])];
}

/* A figure with its unit; what cannot be read as one is told by the bench, and stays to be corrected. */
function field() {
  const input = make("input", {
    type: "text", id: "figure", autocomplete: "off", enterkeyhint: "send", size: 12, maxlength: 40, "aria-describedby": "figure-refused",
  });
  return make("form", {
    class: "typed",
    onsubmit: (event) => {
      event.preventDefault();
      figure = Boolean(input.value.trim());
      if (figure) socket.request.answer(input.value);
    },
  }, make("label", { for: "figure" }, "A figure with its unit"), input, make("button", { type: "submit" }, "Answer"),
  make("p", { class: "note", id: "figure-refused", role: "alert" }));
}

function choices() {
  const short = question.choices.every((choice) => choice.words.length <= 18);
  return make("ol", { class: short ? "answers short" : "answers" },
    ...question.choices.map((choice, place) =>
      make("li", { class: choice.value === question.tried ? "false" : "" }, make("button", {
        type: "button", "data-choice": choice.value, disabled: choice.value === question.tried, onclick: () => answer(place),
      }, ...numbered(choice, place), make("span", {}, choice.words)))));
}

/* The key that answers it; the one that was tried is marked in its place. */
function numbered({ value }, place) {
  if (value === question.tried) return [make("b", { "aria-hidden": "true" }, "\u2717"), " "];
  return place < 9 ? [make("b", {}, place + 1), " "] : [];
}

const wordsOf = (value) => (question.choices.find((choice) => choice.value === value) || { words: String(value) }).words;

function verdict() {
  const parts = [];
  if (question.right !== null) { // null: shown without anyone answering
    parts.push(make("p", { class: question.right ? "verdict right" : "verdict wrong" },
      make("b", { "aria-hidden": "true" }, question.right ? "\u2713" : "\u2717"),
      make("span", {},
        question.right ? "Right: " : "Wrong: ", make("strong", {}, wordsOf(question.given)))));
  }
  if (!question.right) {
    parts.push(make("p", { class: "correct" }, "Answer: ", make("strong", {}, question.answer)));
  }
  if (question.reason) parts.push(make("p", { class: "reason" }, question.reason));
  return parts;
}

/* A score is kept only where somebody wants to see one. */
function count() {
  remember("count", remembered("count") === "on" ? "off" : "on");
  show();
}

function instructorsFoot() {
  const { right, asked } = question.score;
  const counts = remembered("count") === "on";
  const buttons = isOpen()
    ? [make("button", { type: "button", onclick: () => socket.request.reveal() }, "Show the answer"),
      make("button", { type: "button", onclick: () => socket.request.enough() }, "Close")]
    : [make("button", { type: "button", "aria-pressed": String(counts), title: "How many were right at this bench", onclick: count }, "Keep score"),
      make("button", { type: "button", class: socket.told.step ? "" : "main", onclick: () => ask() }, "Next question"), // a lesson goes on with N
      make("button", { type: "button", onclick: () => socket.request.enough() }, "Close")];
  return make("div", { class: "foot" },
    make("span", {}, counts && asked ? `${right} of ${asked} right \u00b7 ` : "",
      question.seed === null ? "" : `question no. ${question.seed}`),
    make("span", { class: "then" }, ...buttons));
}
