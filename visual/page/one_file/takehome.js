/* A lesson in one file: the follower's page, whose line to the bench is a film, with what is needed to run it to and fro. */

import "../shell/follow.js";
import { byId, make, write } from "../common/dom.js";
import * as board from "../panels/board.js";

const { film, told, request } = window.bench.socket;

const choose = make("select", { "aria-label": "Step", onchange: () => film.go(Number(choose.value)) },
  ...film.steps.map(({ caption, asks }, place) => make("option", { value: place }, `${place + 1}. ${asks ? "Question: " : ""}${caption}`)));
const run = make("button", { type: "button", class: "main", onclick: runOrHold });
const slider = make("input", { type: "range", min: 0, step: 1, "aria-label": "Seconds into this step", oninput: () => look(slider.valueAsNumber) });
const seconds = make("span", { class: "seconds", "aria-hidden": "true" }); // the slider says them
const buttons = {
  previous: button("Previous step", "P", () => film.go(film.number - 1)),
  back: button("One picture back", ",", () => look(film.place - 1)),
  on: button("One picture on", ".", () => look(film.place + 1)),
  next: button("Next step", "N", () => film.go(film.number + 1)),
};
const damaged = make("p", { class: "damaged", role: "alert" });
const help = make("details", { class: "film-help" }, make("summary", {}, "How to turn the picture, and keys"), make("dl", {}, ...[
  ["Drag the picture", "turn it; wheel or two fingers: nearer or farther; a double press: as at first"],
  ["N, P", "next and previous step"], ["Space", "run and hold"], [", and .", "one picture back, one on"], ["1 to 9", "answer the question"],
  ["B, or press a reading", "its formula large on the board"],
].flatMap(([keys, words]) => [make("dt", {}, keys), make("dd", {}, words)])));
const made = make("p", { class: "made" }, window.film.made);

byId("as-shown").textContent = "Back to the first view";
document.querySelector(".title").append(make("p", { class: "film-title" }, window.film.title), help);
byId("caption").after(make("nav", { class: "bar film-bar", "aria-label": "Steps and pictures" },
  make("div", { class: "group" }, buttons.previous, choose, buttons.next),
  make("div", { class: "group playing" }, run, buttons.back, slider, buttons.on, seconds),
  damaged));
byId("column").append(made);
film.on(show);
document.addEventListener("keydown", press);
show();

function button(words, key, onclick) {
  return make("button", { type: "button", onclick, "aria-keyshortcuts": key, title: `${words} (${key})` }, words);
}

function runOrHold() {
  if (film.waits) film.reveal();
  else if (film.playing) film.hold();
  else film.play();
}

function look(picture) {
  film.hold();
  film.seek(picture);
}

const KEYS = {
  " ": runOrHold, ",": () => look(film.place - 1), ".": () => look(film.place + 1),
  n: () => film.go(film.number + 1), p: () => film.go(film.number - 1),
  pagedown: () => film.go(film.number + 1), pageup: () => film.go(film.number - 1),
  b: board.change,
};

function press(event) {
  if (event.ctrlKey || event.altKey || event.metaKey || /^(SELECT|INPUT|TEXTAREA)$/.test(event.target.tagName)) return;
  const key = event.key.toLowerCase();
  if (key === " " && event.target.tagName === "BUTTON") return; // it is pressed itself
  if (film.waits && /^[1-9]$/.test(key)) {
    const chosen = told.question.choices[key - 1];
    if (chosen) request.answer(chosen.value);
  } else if (KEYS[key]) KEYS[key]();
  else return;
  event.preventDefault();
}

function show() {
  if (film.number < 0) return;
  document.title = window.film.title; // not that of the scene
  write(damaged, film.wrong);
  choose.value = film.number;
  write(run, film.waits ? "Show the answer" : film.playing ? "Hold" : film.place >= film.length ? "Run again" : "Run");
  run.hidden = Boolean(told.step && told.step.page) && !film.waits;
  slider.max = film.length;
  slider.value = film.place;
  for (const one of [slider, buttons.back, buttons.on]) one.disabled = film.waits;
  write(seconds, `${(film.place / window.film.rate).toFixed(1)} s`);
  slider.setAttribute("aria-valuetext", `${seconds.textContent} of ${(film.length / window.film.rate).toFixed(1)} s`);
  buttons.previous.disabled = film.number === 0;
  buttons.next.disabled = film.number === film.steps.length - 1;
}
