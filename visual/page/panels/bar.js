/* The instructor's buttons: below and on the picture and beside the lesson, and the reason for a pause. */

import * as board from "./board.js";
import * as question from "./question.js";
import { byId, make, sign, write } from "../common/dom.js";
import * as whole from "../common/whole.js";

let socket;
let looks;
let picture;
let scene = null;
let bench = { running: false, answers_shown: true, held: "" };
let view = null;
const buttons = {};
let menu = null; // of the kinds of question: which one is asked next

/** Every action by name; the keys call the same ones. */
export const actions = {
  run: () => socket.request.run(!bench.running),
  step: () => socket.request.step(),
  restart: () => socket.request.restart(),
  current: () => takes("current") && socket.request.reverse("current"),
  field: () => takes("field") && socket.request.reverse("field"),
  answers: () => socket.request.answers(!bench.answers_shown),
  ask: () => socket.request.ask(menu.value ? { kind: menu.value } : {}),
  kind: openMenu,
  predict: () => socket.request.ask({ present: true }),
  reveal: () => question.isOpen() && socket.request.reveal(),
  next: () => socket.request.next(),
  previous: () => socket.request.previous(),
  view: nextView,
  letters: () => buttons.letters.setAttribute("aria-pressed", String(picture.allLetters())),
  board: () => board.change(),
  save: () => picture.savePicture(scene ? `thumbwise-${scene.name}` : undefined, buttons.with.getAttribute("aria-pressed") === "true"),
  with: () => buttons.with.setAttribute("aria-pressed", String(buttons.with.getAttribute("aria-pressed") !== "true")),
  whole: () => whole.change(),
  text: () => looks.larger(),
  theme: () => looks.otherTheme(),
  keys: () => (byId("keys").open ? byId("keys").close() : byId("keys").showModal()),
};

export function start(theSocket, theLooks, thePicture) {
  [socket, looks, picture] = [theSocket, theLooks, thePicture];
  build();
  socket.on("scene", (newest) => {
    scene = newest;
    buttons.current.hidden = !takes("current");
    buttons.field.hidden = !takes("field");
    buildViews();
    fillMenu();
    showBench();
  });
  socket.on("bench", (newest) => {
    bench = newest;
    showBench();
  });
  socket.on("view", (newest) => {
    view = newest.name;
    showView();
  });
}

const takes = (role) => Boolean(scene && scene.controls.some((control) => control.role === role));

function build() {
  const group = (words, ...members) => make("div", { class: "group", role: "group", "aria-label": words }, ...members);
  byId("bar").append(
    group("Time",
      button("run", "run", "Run", "Space", "Space"), button("step", "step", "Step", "S", "S ."),
      button("restart", "start", "Restart", "0", "0 Home")),
    group("Reverse",
      button("current", "reverse", "Reverse current", "C"), button("field", "reverse", "Reverse field", "F")),
    group("The class",
      button("ask", "ask", "Ask the class", "Q"), buildMenu(), button("predict", "predict", "Predict this set-up", "W"),
      button("answers", "arrow", "Hide answers", "A")));
  byId("image").append(
    bare("letters", "letters", "All letters", "M"), bare("board", "board", "The board", "B"),
    bare("save", "save", "Save the picture"), bare("with", "with", "Save it with caption, board and chart"), bare("whole", "whole", "Picture only", "O"));
  byId("page").append(
    bare("text", "text", "Larger text", "L"), bare("theme", "theme", "Dark or light", "D"), bare("keys", "keys", "List of keys", "K", "K ?"));
  buttons.run.classList.add("main");
  for (const name of ["letters", "board", "with"]) buttons[name].setAttribute("aria-pressed", "false");
  shorten();
}

/* In narrow windows these show a short label: see style.css. */
function shorten() {
  for (const name of ["step", "restart", "predict"]) buttons[name].setAttribute("aria-label", buttons[name].querySelector(".words").textContent);
  buttons.predict.querySelector(".words").replaceChildren("Predict", make("span", { class: "more" }, " this set-up"));
}

/* Which kind of question is asked: chosen first, so that arrow keys may go through it, then asked. */
function buildMenu() {
  menu = make("select", {
    class: "kinds", "aria-label": "Kind of question", "aria-keyshortcuts": "G", onchange: nameKind,
    onkeydown: (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      menu.blur();
      actions.ask();
    },
  });
  return menu;
}

function fillMenu() {
  menu.replaceChildren(...scene.questions.map(({ value, words }, place) => make("option", { value: place ? value : "" }, words)));
  menu.hidden = scene.questions.length < 2;
  nameKind();
}

function nameKind() {
  menu.title = `Kind of question (G): ${menu.selectedOptions[0]?.textContent}`;
}

function openMenu() {
  menu.focus();
  if (menu.showPicker) menu.showPicker();
}

function button(name, symbol, words, key, shortcuts = key) {
  buttons[name] = make("button", {
    type: "button", "data-do": name, title: `${words} (${key})`, "aria-keyshortcuts": shortcuts,
    onclick: () => actions[name](),
  }, sign(symbol), make("span", { class: "words" }, words), make("kbd", { "aria-hidden": "true" }, key));
  return buttons[name];
}

function bare(name, symbol, words, key, shortcuts = key) {
  buttons[name] = make("button", {
    type: "button", class: "bare", "data-do": name, title: key ? `${words} (${key})` : words, "aria-label": words,
    "aria-keyshortcuts": shortcuts || null, onclick: () => actions[name](),
  }, sign(symbol));
  return buttons[name];
}

function label(name, symbol, words) {
  write(buttons[name].querySelector(".words"), words);
  buttons[name].title = `${words} (${buttons[name].querySelector("kbd").textContent})`;
  if (symbol) buttons[name].querySelector("use").setAttribute("href", `#sign-${symbol}`);
}

function showBench() {
  label("run", bench.running ? "hold" : "run", bench.running ? "Hold" : "Run");
  label("answers", null, bench.answers_shown ? "Hide answers" : "Show answers");
  byId("held").hidden = !bench.held;
  write(byId("held"), bench.held || "");
}

function buildViews() {
  byId("views").replaceChildren(...scene.views.map(({ name, words }) =>
    make("button", { type: "button", "data-view": name, onclick: () => look(name) }, words)));
  byId("views").hidden = scene.views.length < 2;
  showView();
}

function showView() {
  for (const choice of byId("views").children) choice.setAttribute("aria-pressed", String(choice.dataset.view === view));
}

/* Choosing the same view again resets a picture turned by hand. */
function look(name) {
  if (name === view) picture.resetView();
  else socket.request.view(name);
}

function nextView() {
  if (!scene || !scene.views.length) return;
  const place = scene.views.findIndex((choice) => choice.name === view);
  look(scene.views[(place + 1) % scene.views.length].name);
}
