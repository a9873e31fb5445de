/* A question of the instructor's own: the bench keeps it as far as it is written, and puts it as soon as it is whole. */

import { make, write } from "../common/dom.js";
import { now, soon } from "./soon.js";

const inputs = {};
const typed = new Map(); // by the number of its step: a question that was not taken yet
let frame;
let number = null;
let told = "null"; // the question as the bench last told it

/** The fields; `send(number, text, choices, right, reason, typing)` is called with what is written, and returns whether it went. */
export function build(send) {
  const writing = (typing) => {
    const { text, choices, right, reason } = read(), its = number;
    return [`${its} own`, () => send(its, text, choices, right, reason, typing)];
  };
  const entry = (name, words, input) => {
    inputs[name] = input;
    input.addEventListener("input", () => {
      if (name === "choices") offer();
      typed.set(number, read());
      if (frame.querySelector(".needed").textContent) tellMissing();
      soon(...writing(true));
    });
    input.addEventListener("change", () => {
      if (frame.hidden) return; // another question is chosen: what was written has gone when it was left
      tellMissing();
      now(...writing(false));
    });
    return make("div", { class: "typed" }, make("label", { for: input.id }, words), input);
  };
  frame = make("fieldset", { class: "own-question", hidden: true },
    make("legend", {}, "Your question"),
    entry("text", "Question", make("textarea", { id: "own-text", rows: 2, maxlength: 300 })),
    entry("choices", "Choices, each on a line of its own", make("textarea", { id: "own-choices", rows: 4 })),
    entry("right", "The right one", make("select", { id: "own-right" })),
    make("p", { class: "needed", role: "status" }),
    entry("reason", "Reason, told with the answer", make("textarea", { id: "own-reason", rows: 2, maxlength: 600 })));
  return frame;
}

/** The question of the step with that number, which may only be `begun`; what was typed for it and not taken stands as it was typed. */
export function show(itsNumber, question, begun) {
  const newest = JSON.stringify(question);
  if (itsNumber === number && newest === told) return;
  if (itsNumber === number) typed.delete(number); // it was taken
  [number, told] = [itsNumber, newest];
  const { text, choices, right, reason } = typed.get(number) || question || { text: "", choices: "", right: 0, reason: "" };
  for (const [name, value] of Object.entries({ text, choices, reason })) {
    if (inputs[name] !== document.activeElement) inputs[name].value = value;
  }
  offer();
  inputs.right.value = right;
  if (begun) tellMissing();
  else write(frame.querySelector(".needed"), "");
}

/** Whether the fields are in sight. */
export function reveal(on) {
  frame.hidden = !on;
}

const lines = () => inputs.choices.value.split("\n").map((line) => line.trim()).filter(Boolean);

const read = () => ({ text: inputs.text.value, choices: inputs.choices.value, right: Number(inputs.right.value), reason: inputs.reason.value });

/* The right one is chosen from the lines as they stand. */
function offer() {
  const chosen = inputs.right.value;
  inputs.right.replaceChildren(make("option", { value: 0 }, "choose"),
    ...lines().map((words, place) => make("option", { value: place + 1 }, `${place + 1} ${words}`)));
  inputs.right.value = chosen;
  if (inputs.right.selectedIndex < 0) inputs.right.value = 0;
}

function tellMissing() {
  const { text, right } = read();
  const missing = [
    !text.trim() && "the question",
    lines().length < 2 && "two choices or more",
    right === 0 && "which of them is right",
  ].filter(Boolean);
  write(frame.querySelector(".needed"), missing.length ? `It is kept so far. Still needed: ${missing.join(", ")}.` : "");
}
