/* The text round the picture: scenes in order, principle, readings, caution, key to the arrows. */

import { chip } from "../common/colours.js";
import { atMostEvery, byId, make, unbroken, write } from "../common/dom.js";
import { remember, remembered } from "../common/looks.js";
import * as board from "./board.js";
import { lettered, symbolOf } from "../common/subscripts.js";
import * as speech from "../common/speech.js";

const TEXT_EVERY = 100; // ms: text that changes faster cannot be read

let lesson = [];
let scene = null;
let onPage = false; // of the instructor's own, which covers the scene
let widest = { digits: 0, letters: 0 }; // of the readings, in characters

/** All the words, with the strip that leads through the lesson. */
export function start(socket) {
  startReading(socket);
  socket.on("lesson", (newest) => {
    lesson = newest;
    buildLesson(socket);
    showPlace();
  });
  socket.on("scene", showPlace);
  socket.on("step", ({ page }) => {
    onPage = page !== null;
    showPlace();
  });
  byId("previous").addEventListener("click", () => socket.request.previous());
  byId("next").addEventListener("click", () => socket.request.next());
  new ResizeObserver(fitLesson).observe(byId("lesson").parentElement);
}

/** The words that are only read. */
export function startReading(socket) {
  socket.on("scene", (newest) => {
    scene = newest;
    showScene();
  });
  socket.on("readings", atMostEvery(() => TEXT_EVERY, showReadings));
  // the principle answers most questions, so it is hidden while one waits
  socket.on("question", (question) => { byId("principle").hidden = question !== null && question.given === null; });
  socket.on("scales", atMostEvery(() => TEXT_EVERY, showScales));
  board.start(socket);
  const more = byId("more-readings");
  more.open = remembered("readings") === "all";
  more.addEventListener("toggle", () => remember("readings", more.open ? "all" : "first"));
  speech.start(socket);
}

function buildLesson(socket) {
  byId("lesson").replaceChildren(...lesson.map(({ name, title }, place) =>
    make("li", {},
      make("button", {
        type: "button", "data-name": name, title, "aria-label": `${place + 1} ${title}`,
        onclick: () => socket.request.scene(name),
      }, make("span", { class: "place" }, place + 1), make("span", { class: "words" }, title)))));
}

function showPlace() {
  if (!scene || !lesson.length) return;
  const place = lesson.findIndex((stop) => stop.name === scene.name);
  write(byId("number"), place < 0 ? "" : String(place + 1));
  for (const button of byId("lesson").querySelectorAll("button")) {
    if (button.dataset.name === scene.name && !onPage) button.setAttribute("aria-current", "step");
    else button.removeAttribute("aria-current");
  }
  byId("previous").disabled = place <= 0;
  byId("next").disabled = place < 0 || place === lesson.length - 1;
  fitLesson();
}

/* The strip shows titles if all of them fit, otherwise only numbers. */
function fitLesson() {
  const list = byId("lesson");
  list.classList.remove("numbers");
  list.classList.toggle("numbers", list.scrollWidth > list.clientWidth + 1);
  const current = list.querySelector("[aria-current]");
  if (current) list.scrollLeft = current.offsetLeft - list.clientWidth / 2;
}

function showScene() {
  document.title = `${scene.title} \u2013 Thumbwise`;
  write(byId("title"), scene.title);
  write(byId("principle"), scene.principle);
  byId("caution").hidden = !scene.caution;
  write(byId("caution").querySelector("p"), scene.caution || "");
  byId("key").hidden = !scene.arrows.length;
  byId("key").querySelector("ul").replaceChildren(...scene.arrows.map(({ letter, words, colour }) => {
    return make("li", { "data-letter": letter }, chip(letter, colour), make("span", {}, words, make("small", {})));
  }));
  byId("leaves-out").hidden = !scene.leaves_out.length;
  byId("leaves-out").querySelector("ul").replaceChildren(...scene.leaves_out.map((sentence) => make("li", {}, sentence)));
  for (const line of rows()) line.remove();
}

function showScales(scales) {
  for (const item of byId("key").querySelectorAll("li")) {
    write(item.querySelector("small"), scales[item.dataset.letter] || "");
  }
}

/* Rows stay and only their text changes; a column or a formula may grow but never shrinks, so nothing jumps. */
function showReadings(readings) {
  const list = byId("readings"), more = byId("more-readings"), inSight = readings.filter((reading) => reading.first).length;
  const plan = [inSight, ...readings.map((reading) => reading.symbol)].join();
  list.parentElement.hidden = !readings.length;
  if (rows().length !== readings.length || list.dataset.plan !== plan) {
    list.dataset.plan = plan;
    const made = readings.map(row);
    list.replaceChildren(...made.slice(0, inSight));
    more.querySelector("dl").replaceChildren(...made.slice(inSight));
    more.hidden = inSight === made.length;
    widest = { digits: 0, letters: 0 };
    list.parentElement.removeAttribute("style");
  }
  const all = rows();
  readings.forEach((reading, place) => fill(all[place], reading, list.parentElement));
  keepRoom(all.map((line) => line.querySelector(".formula")));
  board.showReadings(readings);
}

const rows = () => [...document.querySelectorAll(".readings dl > div")];

function row(_, place) {
  return make("div", {},
    make("dt", {}, make("button", { type: "button", title: "Write it on the board", onclick: () => board.open("readings", place) },
      make("i", {}), make("span", {}))),
    make("dd", { class: "value" }, make("b", {}), make("span", { class: "unit" })),
    make("dd", { class: "formula" }));
}

function fill(line, reading, section) {
  lettered(line.querySelector("i"), symbolOf(reading));
  write(line.querySelector("dt span"), reading.words);
  const value = line.querySelector("b");
  const isFigure = /^[-+\u2212]?\d[\d.,\u202f]*$/.test(reading.value);
  write(value, reading.value);
  value.classList.toggle("said", !isFigure); // a direction is read in words
  write(line.querySelector(".unit"), reading.unit);
  if (isFigure) widen(section, "digits", reading.value.length);
  if (isFigure) widen(section, "letters", Math.min(reading.unit.length, 6));
  showFormula(line.querySelector(".formula"), reading.formula || "");
}

function widen(list, column, length) {
  if (length <= widest[column]) return;
  widest[column] = length;
  list.style.setProperty(`--${column}`, length);
}

function showFormula(line, formula) {
  lettered(line, unbroken(formula).replace(/\bN m\b/g, "N\u00a0m")); // one unit, on one line
  line.hidden = !formula;
}

/* A formula longer than it ever was may need more lines. All are measured together: the page is laid out once, not for each. */
function keepRoom(lines) {
  const grown = lines.filter((line) => line.textContent.length > Number(line.dataset.letters || 0));
  for (const line of grown) {
    line.dataset.letters = line.textContent.length;
    line.style.minHeight = "";
  }
  const heights = grown.map((line) => line.offsetHeight / parseFloat(getComputedStyle(line).fontSize));
  grown.forEach((line, place) => (line.style.minHeight = `${heights[place]}em`));
}
