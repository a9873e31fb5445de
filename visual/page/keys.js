/* Single keys for what is done while talking, and the list of them. */

import { byId, make } from "./dom.js";

const LIST = [
  ["Space", "run or hold"],
  ["S or .", "one step"],
  ["0 or Home", "back to the start"],
  ["C", "reverse the current"],
  ["F", "reverse the field"],
  ["Q", "ask the class, or another question"],
  ["W", "which way, in this set-up? say so before it happens"],
  ["1 to 9", "answer the question"],
  ["A", "hide or show the arrows that give the answer away"],
  ["N or Page Down", "next principle, in a lesson the next step"],
  ["P or Page Up", "previous principle or step"],
  ["V", "look from the next side"],
  ["\u2190 \u2191 \u2192 \u2193", "turn the picture, once Tab has led to it"],
  ["+ or \u2212", "bring it nearer, or further away"],
  ["Enter", "put its view back"],
  ["O", "only the picture, over the whole page, then all the rest again"],
  ["L", "larger text, then back"],
  ["D", "dark or light"],
  ["K or ?", "this list"],
  ["Escape", "close a list or a notice, bring back what O put away"],
];

const OF_THE_PICTURE = new Set(["\u2190 \u2191 \u2192 \u2193", "+ or \u2212", "Enter", "O"]);

const ACTION = {
  " ": "run", s: "step", ".": "step", 0: "restart", home: "restart", c: "current", f: "field",
  q: "ask", w: "predict", a: "answers", n: "next", pagedown: "next", p: "previous", pageup: "previous",
  v: "view", o: "whole", l: "text", d: "theme", k: "keys", "?": "keys",
};

const ONCE = new Set([" ", "c", "f", "q", "w", "a", "n", "p", "o", "l", "d", "k", "?", "pagedown", "pageup"]); // not when held down

/** One more key, after `start`: what it does in a few words, its `action` by name. */
export function learn(key, words, action) {
  ACTION[key.toLowerCase()] = action;
  ONCE.add(key.toLowerCase());
  byId("keys").querySelector("dl").append(listed([key, words]));
}

/** `actions` by name, `answer(place)` for the digits, `dismiss()` for Escape. `picture` says whether there is one. */
export function start(actions, answer, dismiss, picture = true) {
  byId("keys").querySelector("dl").append(...LIST.filter(([key]) => picture || !OF_THE_PICTURE.has(key)).map(listed));
  let pointed = false;
  document.addEventListener("pointerdown", () => (pointed = true), true);
  document.addEventListener("keydown", () => (pointed = false), true);

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing || event.defaultPrevented) return;
    const key = event.key.toLowerCase();
    if (isTheElements(event.target, key)) return;
    if (key === "escape") return dismiss();
    if (byId("keys").open && ACTION[key] !== "keys") return;
    if (event.repeat && ONCE.has(key)) return;
    if (/^[1-9]$/.test(key)) answer(Number(key) - 1);
    else if (actions[ACTION[key]]) actions[ACTION[key]]();
    else return;
    event.preventDefault();
  });

  /* Who points at buttons wants Space to run and hold, not to press the last button again. */
  const letGo = (event) => {
    const element = event.target.closest("button, select, input[type=radio], input[type=checkbox]");
    if (pointed && element && !element.closest("dialog")) element.blur();
  };
  document.addEventListener("click", (event) => event.detail > 0 && !event.target.closest("select") && letGo(event));
  document.addEventListener("change", letGo);
}

const listed = ([key, words]) => make("div", {}, make("dt", {}, ...caps(key)), make("dd", {}, words));

const caps = (keys) => keys.split(/( or | to )/).map((part) => (/^ /.test(part) ? part : make("kbd", {}, part)));

/* Keys that the focused element needs for itself. */
function isTheElements(element, key) {
  if (!(element instanceof Element)) return false;
  const written = "textarea, select, [contenteditable], input:not([type=range], [type=radio], [type=checkbox])";
  if (element.matches(written)) return true;
  if (key === " ") return element.matches("button, a, summary, input[type=radio], input[type=checkbox]");
  // a slider worked by keyboard keeps its Home; the page keys are a presenter's remote control, wherever the focus is
  if (key === "home") return element.matches("input[type=range]:focus-visible");
  return false;
}
