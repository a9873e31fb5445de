/* A calculation beside the scene: its topic, its inputs, and its lines, each of which can be put on the board. The inputs are the
scene's own until something is entered by hand; nothing is worked out here. */

import * as board from "./board.js";
import { byId, make, write } from "../common/dom.js";
import { lettered } from "../common/subscripts.js";

let request;
let working = null; // as the bench told it
let entered = {}; // what was entered by hand, by name
let built = "";
let lineByLine = false;
let reached = 1; // lines that are filled in

/** `oneByOne`: whether its lines are filled in one by one, for somebody who works it through. */
export function start(socket, oneByOne = false) {
  [request, lineByLine] = [socket.request, oneByOne];
  const fold = byId("workings");
  fold.append(
    make("div", { class: "control list" }, make("label", { for: "workings-topic" }, "Calculation"),
      make("select", { id: "workings-topic", onchange: (event) => open(event.target.value) })),
    make("div", { class: "inputs" }),
    make("button", { type: "button", class: "own", hidden: true, onclick: () => open(working.topic) }, "Take the given figures again"),
    make("p", { class: "wrong", role: "status" }),
    make("ol", { class: "lines" }),
    make("button", { type: "button", class: "on", hidden: true, onclick: fillIn }, "Next line"),
    make("p", { class: "remark" }));
  fold.addEventListener("toggle", () => {
    if (!working || fold.open === Boolean(working.topic)) return;
    open(fold.open ? (working.topics.find((topic) => topic.here) || working.topics[0]).name : "");
  });
  socket.on("working", show);
  board.watch(markLines);
}

/** Open a calculation with the figures of the scene, or of the question that it works through, and its first line. */
export function open(topic) {
  work(topic, {});
}

function work(topic, inputs) {
  [entered, reached] = [inputs, 1];
  request.work(topic, new URLSearchParams(inputs).toString());
}

/* The next line; the button goes with the last. */
function fillIn() {
  reached += 1;
  buildLines(working.lines);
  byId("workings").querySelector(`.lines li:nth-child(${reached})`).scrollIntoView({ block: "nearest" });
}

function show(newest) {
  working = newest;
  const fold = byId("workings"), { topic, topics, inputs, lines } = working;
  fold.open = Boolean(topic);
  offer(topics);
  byId("workings-topic").value = topic;
  if (!working.entered) entered = {};
  buildInputs(inputs);
  for (const { name, value } of inputs) fill(fold.querySelector(`[data-input="${name}"]`), value);
  fold.querySelector(".own").hidden = !working.entered;
  write(fold.querySelector(".wrong"), working.wrong);
  fold.querySelector(".wrong").hidden = !working.wrong;
  write(fold.querySelector(".remark"), working.remark);
  buildLines(lines);
  board.showWorkings(topic, lines);
}

/* Those of the scene come first. */
function offer(topics) {
  const list = byId("workings-topic"), plan = JSON.stringify(topics);
  if (list.dataset.plan === plan) return;
  list.dataset.plan = plan;
  const options = (here) => topics.filter((topic) => topic.here === here)
    .map(({ name, words }) => make("option", { value: name }, words[0].toUpperCase() + words.slice(1)));
  const [own, others] = [options(true), options(false)];
  list.replaceChildren(...(own.length ? [make("optgroup", { label: "Of this scene" }, ...own)] : []), make("optgroup", { label: "Others" }, ...others));
}

function buildInputs(inputs) {
  const plan = JSON.stringify([working.topic, inputs.map(({ name }) => name)]);
  if (built === plan) return;
  built = plan;
  byId("workings").querySelector(".inputs").replaceChildren(...inputs.map(({ name, words, unit, choices }) => {
    const id = `workings-${name}`, told = { id, "data-input": name, onchange: (event) => enter(name, event.target.value) };
    const field = choices.length
      ? make("select", told, ...["", ...choices].map((choice) => make("option", { value: choice }, choice || "not given")))
      : make("input", { type: "text", inputmode: "decimal", autocomplete: "off", ...told });
    return make("div", { class: "control" }, make("label", { for: id }, words), make("span", { class: "entry" }, field, make("span", { class: "unit" }, unit)));
  }));
}

function enter(name, value) {
  work(working.topic, { ...entered, [name]: value });
}

/* What somebody is writing stays as it is. */
function fill(field, value) {
  if (field !== document.activeElement || field.matches("select")) field.value = value;
}

function buildLines(all) {
  const list = byId("workings").querySelector(".lines"), lines = lineByLine ? all.slice(0, reached) : all;
  for (const [part, hidden] of [[".on", lines.length === all.length], [".remark", lines.length < all.length]]) byId("workings").querySelector(part).hidden = hidden;
  while (list.children.length > lines.length) list.lastChild.remove();
  while (list.children.length < lines.length) {
    const place = list.children.length;
    list.append(make("li", {}, make("button", { type: "button", title: "Write it on the board", onclick: () => board.open("workings", place) },
      ...["words", "symbols", "numbers", "result"].map((part) => make("span", { "data-part": part })))));
  }
  lines.forEach((line, place) => {
    for (const span of list.children[place].querySelectorAll("span")) {
      lettered(span, line[span.dataset.part]);
      span.hidden = !line[span.dataset.part];
    }
  });
  markLines();
}

function markLines() {
  [...byId("workings").querySelectorAll(".lines button")].forEach((button, place) => (
    button.setAttribute("aria-pressed", String(board.has("workings", place)))));
}
