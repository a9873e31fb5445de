/* What the present step says, in fields: each is sent when it is left, and while one types in it. What is typed and was not taken stays as it was typed. */

import { make, takeDecimalComma, write } from "../common/dom.js";
import * as own from "./own-question.js";
import { now, soon } from "./soon.js";

const LARGEST = 5_000_000; // bytes of a picture

const ASKS = { none: "none", own: "a question of your own" };
const OF_BEGUN = { "": "", written: " (begun)", aside: " (kept)" };
const OF_A_KIND = "kind "; // and its name

let socket;
let notify;
let box;
let step = null; // as the bench told it
let typed = new Map(); // by step and field, what was typed and not yet taken
const inputs = {};

export function start(theBox, theSocket, theNotify) {
  [box, socket, notify] = [theBox, theSocket, theNotify];
  box.append(
    line("title", "Title", { maxlength: 80 }),
    area("text", "Text (a line that begins with - is an item of a list)", 5),
    picture(),
    line("shows", "What the picture shows, for anyone who cannot see it", { maxlength: 1500 }),
    line("caption", "Caption, for the class", { maxlength: 120 }),
    line("minutes", "Minutes planned", { type: "number", min: 0, max: 600, step: "any", inputmode: "decimal" }),
    area("notes", "Notes, for the speaker alone", 4),
    tick("answers", "Answers shown: the arrows and figures that give them away"),
    tick("hold", "Held still at first, till Run is pressed"),
    tick("go_on", "Keeps moving from the step before; only the settings change"),
    make("div", { class: "typed" }, make("label", { for: "step-asks" }, "Question to the class"), asks(),
      make("p", { class: "refused", role: "status" }), make("p", { class: "no-votes" }),
      make("p", { class: "put" }), make("div", { class: "group others" }, other("before", "\u2212", "The one before"), other("next", "+", "Another question of this kind"))),
    numbered(), which(),
    tick("vote", "The class votes, talks, and votes again (N leads through it)"),
    own.build(socket.request.own));
}

/** Show what the step says; another step's fields take the place of this one's. */
export function show(here) {
  const same = step !== null && step.number === here.number;
  for (const [name, value] of Object.entries(here)) {
    if (same && step[name] !== value) typed.delete(key(here.number, name)); // it was taken, or changed elsewhere
  }
  const asked = !same || step.asks !== here.asks || step.begun !== here.begun || inputs.asks.value !== "own", ticked = same && isBeingWritten() && inputs.vote.checked;
  step = here;
  box.classList.toggle("of-a-page", here.page);
  for (const [name, input] of Object.entries(inputs)) {
    if (name === "asks" || (input === document.activeElement && same)) continue; // what is asked may be chosen and not whole yet
    if (name === "vote" && ticked) continue;
    if (name === "numbered" && same && isFree()) continue; // ticked before a question is chosen
    if (input.type === "checkbox") input.checked = here[name];
    else input.value = typed.get(key(here.number, name)) ?? (name === "minutes" ? here.minutes || "" : here[name]);
  }
  offerKinds();
  inputs.asks.namedItem("asks-own").textContent = ASKS.own + OF_BEGUN[here.begun];
  if (asked) inputs.asks.value = here.begun === "written" ? "own" : here.asks === "kind" ? OF_A_KIND + here.kind : here.asks;
  showAsks();
  write(box.querySelector(".refused"), here.refused);
  write(box.querySelector(".put"), here.put);
  box.querySelector(".others").hidden = here.asks !== "kind" && !here.numbered;
  if (ticked && here.asks === "own") socket.request.change(here.number, "vote", true); // before it was whole
  own.show(here.number, here.own, here.begun !== "");
  const image = box.querySelector(".picture img");
  image.hidden = !here.picture;
  box.querySelector(".picture [type=file]").hidden = Boolean(here.picture); // it would say that no file was chosen
  if (here.picture) image.setAttribute("src", here.picture);
  box.querySelector(".picture [data-prepare=no-picture]").hidden = !here.picture;
}

const key = (number, name) => `${number} ${name}`;

/* The kinds of the step's demonstration, its own question first; a page has none. */
function offerKinds() {
  const newest = JSON.stringify(step.kinds), { asks } = inputs, chosen = asks.value;
  if (asks.dataset.kinds === newest) return;
  asks.dataset.kinds = newest;
  for (const option of [...asks.options]) if (!(option.value in ASKS)) option.remove();
  asks.options[0].after(...step.kinds.map(({ name, words }, place) => place
    ? make("option", { value: OF_A_KIND + name }, words)
    : make("option", { value: "scene" }, words)));
  asks.value = chosen;
}

/* Only a question of the demonstration can bring a set-up. */
function showAsks() {
  const { asks, vote } = inputs, kind = step.kinds.find(({ name }) => asks.value === OF_A_KIND + name);
  own.reveal(asks.value === "own");
  inputs.numbered.parentElement.hidden = step.page || asks.value === "own";
  inputs.number_asked.parentElement.hidden = !step.numbered;
  vote.disabled = asks.value === "none" || Boolean(kind && !kind.choices); // there is nothing to vote on
  vote.checked &&= !vote.disabled;
  write(box.querySelector(".no-votes"), kind && !kind.choices ? "A figure: the class says it aloud, and it is typed here. No votes on it." : "");
}

/* A question of one's own that is not whole yet, so that the step has none. */
const isBeingWritten = () => inputs.asks.value === "own" && step.asks === "none";

const isFree = () => step.asks === "none" && inputs.asks.value === "none";

function field(name, input, words) {
  inputs[name] = input;
  const writing = (typing) => {
    const { number } = step, { value } = input, bad = input.validity.badInput;
    return [key(number, name), () => send(number, name, bad ? "?" : value, typing)];
  };
  input.addEventListener("input", () => {
    typed.set(key(step.number, name), input.value);
    soon(...writing(true));
  });
  input.addEventListener("change", () => now(...writing(false)));
  return make("div", { class: `typed for-${name}` }, make("label", { for: input.id }, words), input);
}

function send(number, name, value, typing) {
  if (name !== "minutes") return socket.request.change(number, name, value, typing);
  if (value !== "?") return socket.request.change(number, name, value === "" ? null : Number(value), typing);
  if (!typing) notify("The minutes planned take a number from 0 to 600.");
  return true;
}

function line(name, words, more) {
  const input = make("input", { id: `step-${name}`, autocomplete: "off", ...more });
  if (name === "minutes") takeDecimalComma(input);
  return field(name, input, words);
}

const area = (name, words, rows) => field(name, make("textarea", { id: `step-${name}`, rows }), words);

function tick(name, words) {
  const box = make("input", { type: "checkbox", id: `step-${name}`, onchange: () => {
    if (name !== "vote" || !isBeingWritten()) socket.request.change(step.number, name, box.checked);
  } });
  inputs[name] = box;
  return make("label", { class: `tick for-${name}` }, box, " ", words);
}

function asks() {
  const select = make("select", { id: "step-asks", onchange: () => {
    const kind = select.value.startsWith(OF_A_KIND) ? select.value.slice(OF_A_KIND.length) : "";
    if (inputs.numbered.checked && (kind || select.value === "scene")) socket.request.change(step.number, "numbered", kind || "scene");
    else if (kind) socket.request.change(step.number, "kind", kind);
    else if (select.value !== "own" || step.begun) socket.request.change(step.number, "question", select.value);
    showAsks();
  } }, ...Object.entries(ASKS).map(([value, words]) => make("option", { value, id: `asks-${value}` }, words)));
  inputs.asks = select;
  return select;
}

const other = (which, sign, words) => make("button", {
  type: "button", "data-prepare": which, "aria-label": words, title: words, onclick: () => socket.request.change(step.number, "another", which),
}, sign);

/* The question is about the set-up of the step, if it is not ticked that it brings another. */
function numbered() {
  const box = inputs.numbered = make("input", { type: "checkbox", id: "step-numbered", onchange: () => {
    if (step.asks === "none") return; // till one is chosen
    if (box.checked) socket.request.change(step.number, "numbered", step.kind || "scene");
    else socket.request.change(step.number, "number", null);
  } });
  return make("label", { class: "tick for-numbered" }, box, " The question brings a set-up of its own, in place of this one");
}

function which() {
  const input = inputs.number_asked = make("input", {
    type: "number", id: "step-number_asked", min: 1, max: 9999, step: 1, inputmode: "numeric",
    onchange: () => socket.request.change(step.number, "number", input.validity.badInput || input.value === "" ? 0 : input.valueAsNumber),
  });
  return make("div", { class: "typed" }, make("label", { for: input.id }, "Question number, 1 to 9999: each brings another set-up"), input);
}

function picture() {
  const file = make("input", { type: "file", id: "step-picture", accept: "image/png,image/jpeg", onchange: () => upload(file) });
  return make("div", { class: "typed picture" },
    make("label", { for: "step-picture" }, "Picture (PNG or JPEG, up to 5 MB)"), file, make("img", { alt: "", hidden: true }),
    make("button", { type: "button", "data-prepare": "no-picture", onclick: () => socket.request.change(step.number, "picture", "") },
      "Take the picture away"));
}

async function upload(input) {
  const [file] = input.files, { number } = step;
  if (!file) return;
  if (file.size > LARGEST) return notify(`A picture has at most 5 MB, this one ${(file.size / 1e6).toFixed(1)} MB.`);
  try {
    const answer = await fetch(`upload?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
    const said = await answer.text();
    if (answer.ok) socket.request.change(number, "picture", said);
    else notify(said);
  } catch {
    notify("The picture did not reach the bench; try it again.");
  }
  input.value = "";
}
