/* The lesson being made: its steps in a list, what can be done with them, and below it what the present step says. Everything goes to
   the bench, which changes the lesson and its file; nothing is kept here but what is being typed. */

import { actions } from "../panels/bar.js";
import { byId, make, sign, write } from "../common/dom.js";
import { learn } from "../common/keys.js";
import * as fields from "./fields.js";
import { now, soon, start as writeSoon } from "./soon.js";

let socket;
let preparing = null; // as the bench told it
let listed = "";
let scenes; // the demonstrations, one of which stands on the bench where no page covers it
const buttons = {};

/** Nothing without a lesson in a file of one's own. `notify` shows a sentence. */
export function start(theSocket, notify) {
  socket = theSocket;
  socket.on("preparing", (newest) => {
    if (!preparing) build(notify);
    preparing = newest;
    show();
  });
  for (const told of ["step", "scene"]) socket.on(told, () => preparing && showWhatCanBeAdded());
}

function build(notify) {
  const { request } = socket;
  actions.prepare = () => request.prepare(!preparing.open);
  document.body.classList.add("own-lesson");
  learn("E", "prepare: change the lesson, and back", "prepare");
  buttons.prepare = make("button", {
    type: "button", class: "bare", "data-do": "prepare", title: "Prepare the lesson (E)", "aria-label": "Prepare the lesson",
    "aria-keyshortcuts": "E", onclick: actions.prepare,
  }, sign("prepare"));
  byId("page").prepend(buttons.prepare);
  const title = make("input", { id: "lesson-title", maxlength: 80, autocomplete: "off" });
  const titled = (typing, { value } = title) => ["title", () => request.title(value, typing)];
  title.addEventListener("input", () => soon(...titled(true)));
  title.addEventListener("change", () => now(...titled(false)));
  writeSoon(socket);
  scenes = make("select", { id: "prepare-scene", onchange: () => scenes.value && request.scene(scenes.value) },
    make("option", { value: "" }, "choose one, then set it up"),
    ...socket.told.lesson.map((scene) => make("option", { value: scene.name }, scene.title)));
  byId("prepare").append(
    make("div", { class: "prepare-stays" }, // in sight: where one sets something up, and what follows on it
      make("div", { class: "prepare-top" }, make("h2", { id: "prepare-head" }, "Prepare the lesson"),
        group("Changes", button("undo", "Undo", () => request.undo(false)), button("redo", "Redo", () => request.undo(true)))),
      make("div", { class: "typed" }, make("label", { for: "prepare-scene" }, "Demonstration on the bench"), scenes),
      group("Add a step",
        button("add", "Add this set-up", () => request.add(false), "main"), button("page", "Add a page", () => request.add(true)),
        make("p", { class: "standing", role: "status" }))),
    make("div", { class: "typed" }, make("label", { for: "lesson-title" }, "Title of the lesson"), title),
    make("p", { class: "kept", role: "status" }),
    make("ol", { class: "steps", "aria-label": "Steps" }),
    make("p", { class: "planned" }),
    make("h3", { id: "prepare-here" }),
    group("This step",
      button("up", "Move up", () => arrange("up")), button("down", "Move down", () => arrange("down")),
      button("copy", "Copy", () => arrange("copy")), button("remove", "Take out", () => arrange("remove")),
      button("set-up", "Use the present set-up", () => arrange("set-up"))),
    make("div", { class: "fields", role: "group", "aria-labelledby": "prepare-here" }));
  fields.start(byId("prepare").querySelector(".fields"), socket, notify);
}

const arrange = (how) => socket.request.arrange(preparing.here.number, how);

const group = (words, ...members) => make("div", { class: "group", role: "group", "aria-label": words }, ...members);

function button(name, words, onclick, look = "") {
  return (buttons[name] = make("button", { type: "button", class: look, "data-prepare": name, onclick }, words));
}

function show() {
  const { open, file, title, wrong, steps, here, can_undo: canUndo, can_redo: canRedo } = preparing;
  document.body.classList.toggle("preparing", open);
  byId("prepare").hidden = !open;
  buttons.prepare.setAttribute("aria-pressed", String(open));
  if (!open) return;
  const kept = byId("prepare").querySelector(".kept");
  kept.classList.toggle("wrong", Boolean(wrong));
  write(kept, wrong || `Every change is kept in ${file}`);
  if (document.activeElement !== byId("lesson-title")) byId("lesson-title").value = title;
  const place = steps.findIndex(({ number }) => number === here.number);
  showSteps(steps, here.number);
  const minutes = steps.reduce((sum, step) => sum + step.minutes, 0), some = steps.filter((step) => step.minutes).length;
  write(byId("prepare").querySelector(".planned"), minutes ? `Planned: ${Number(minutes.toFixed(2))} min, for ${some} of ${steps.length} steps` : "");
  write(byId("prepare-here"), `Step ${place + 1}: ${here.page ? "a page" : steps[place].scene}`);
  for (const [name, off] of Object.entries({
    undo: !canUndo, redo: !canRedo, up: place === 0, down: place === steps.length - 1, remove: steps.length === 1,
  })) buttons[name].disabled = off;
  buttons["set-up"].hidden = here.page;
  showWhatCanBeAdded();
  fields.show(here);
}

/* A page covers the bench: then there is no set-up to be seen. */
function showWhatCanBeAdded() {
  const covered = Boolean(socket.told.step && socket.told.step.page);
  buttons.add.disabled = buttons["set-up"].disabled = covered;
  scenes.value = covered ? "" : socket.told.scene.name;
  const shown = preparing.open && preparing.steps.find(({ number }) => number === preparing.here.number).scene;
  const another = preparing.open && !covered && shown !== socket.told.scene.title;
  byId("prepare").querySelector(".fields").inert = another; // they are those of the step, not of what stands on the bench
  write(byId("prepare").querySelector(".standing"), another ? "What stands on the bench is not yet a step: set it up, then add it." : "");
}

/* The list is built again only when something in it has changed, and the focus stays on its step. */
function showSteps(steps, number) {
  const newest = JSON.stringify([steps, number]);
  if (newest === listed) return;
  listed = newest;
  const list = byId("prepare").querySelector(".steps");
  const focused = list.contains(document.activeElement) ? document.activeElement.dataset.number : null;
  list.replaceChildren(...steps.map((step, place) => make("li", {},
    make("button", {
      type: "button", "data-number": step.number, "aria-current": step.number === number ? "step" : null,
      onclick: () => socket.request.arrange(step.number, "show"),
    },
    make("b", {}, place + 1), " ", make("span", { class: "words" }, step.words || step.scene),
    make("small", {}, [step.words && step.scene || !step.scene && "page", step.asks && `asks ${step.asks}`, step.minutes && `${step.minutes} min`].filter(Boolean).join(" \u00b7 "))))));
  if (focused) list.querySelector(`[data-number="${focused}"]`)?.focus();
  const here = list.querySelector("[aria-current]").parentElement; // the list alone is scrolled, not what is being written below it
  list.scrollTop = Math.max(here.offsetTop + here.offsetHeight - list.clientHeight, Math.min(list.scrollTop, here.offsetTop));
}
