/* Single keys for use while talking, the list of them, and the switch that turns letters, figures and signs off as keys:
anyone who talks to the computer, or hits keys by mistake, must be able to do without them (WCAG 2.1.4). */

import { byId, make } from "./dom.js";
import { remember, remembered } from "./looks.js";

const LIST = [
  ["Space", "run or pause"],
  ["S or .", "one step"],
  ["0 or Home", "back to the start"],
  ["C", "reverse the current"],
  ["F", "reverse the field"],
  ["Q", "ask the class; again for another question"],
  ["G", "choose the kind of question that Q asks; Enter asks it"],
  ["W", "predict: which way, in this set-up?"],
  ["1 to 9", "answer the question"],
  ["R", "show the answer to the question"],
  ["A", "hide or show the answers"],
  ["N or Page Down", "next scene; in a lesson, next step"],
  ["P or Page Up", "previous scene or step"],
  ["V", "next view"],
  ["\u2190 \u2191 \u2192 \u2193", "turn the picture, when it has the focus (Tab)"],
  ["+ or \u2212", "zoom in or out"],
  ["Enter", "reset the view"],
  ["M", "all letters in the picture, or the most important"],
  ["B", "the board: one formula large, and wipe it"],
  ["O", "picture only, and back"],
  ["L", "larger text, and back"],
  ["D", "dark or light page"],
  ["K or ?", "this list"],
  ["Escape", "close a list or a notice, leave picture only, close a question"],
];

const OF_THE_PICTURE = new Set(["\u2190 \u2191 \u2192 \u2193", "+ or \u2212", "Enter", "M", "B", "O"]);

const ACTION = {
  " ": "run", s: "step", ".": "step", 0: "restart", home: "restart", c: "current", f: "field",
  q: "ask", g: "kind", w: "predict", r: "reveal", a: "answers", n: "next", pagedown: "next", p: "previous", pageup: "previous",
  v: "view", o: "whole", m: "letters", b: "board", l: "text", d: "theme", k: "keys", "?": "keys",
};

const ONCE = new Set([" ", "c", "f", "q", "g", "w", "r", "a", "n", "p", "o", "m", "b", "l", "d", "k", "?", "pagedown", "pageup"]); // not when held down

const isCharacter = (key) => key.length === 1 && key !== " ";

let single = true; // letters, figures and signs work

/** Add a key after `start`: what it does in a few words, and its `action` by name. */
export function learn(key, words, action) {
  ACTION[key.toLowerCase()] = action;
  ONCE.add(key.toLowerCase());
  byId("keys").querySelector("dl").append(listed([key, words]));
}

/** `actions` by name, `answer(place)` for the digits, `dismiss()` for Escape. `picture` says whether there is one. The list has those
keys that do something here. */
export function start(actions, answer, dismiss, picture = true) {
  const works = (keys) => {
    const name = ACTION[keys === "Space" ? " " : keys.split(" ")[0].toLowerCase()];
    return !name || name in actions;
  };
  byId("keys").querySelector("dl").append(...LIST.filter(([key]) => works(key) && (picture || !OF_THE_PICTURE.has(key))).map(listed));
  buildSwitch();
  let pointed = false;
  document.addEventListener("pointerdown", () => (pointed = true), true);
  document.addEventListener("keydown", () => (pointed = false), true);

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing || event.defaultPrevented) return;
    const key = event.key.toLowerCase();
    if (isTheElements(event.target, key)) return;
    if (key === "escape") return dismiss();
    if (!single && isCharacter(key)) return;
    if (byId("keys").open && ACTION[key] !== "keys") return;
    if (event.repeat && ONCE.has(key)) return;
    if (/^[1-9]$/.test(key)) answer(Number(key) - 1);
    else if (actions[ACTION[key]]) actions[ACTION[key]]();
    else return;
    event.preventDefault();
  });

  /* For mouse users Space runs and pauses; it does not press the last button again. What is being filled in keeps its place. */
  const letGo = (event) => {
    const element = event.target.closest("button, select, input[type=radio], input[type=checkbox]");
    if (pointed && element && !element.closest("dialog, #prepare :is(select, input)")) element.blur();
  };
  document.addEventListener("click", (event) => event.detail > 0 && !event.target.closest("select") && letGo(event));
  document.addEventListener("change", letGo);
}

/* In the list itself, which a button opens too, so it can be found without letter keys. */
function buildSwitch() {
  const box = make("input", { type: "checkbox", onchange: () => {
    remember("keys", box.checked ? "on" : "off");
    put();
  } });
  byId("keys").querySelector("form").before(make("p", { class: "single" },
    make("label", {}, box, " Letters, figures and signs work as keys"),
    make("span", {}, "With this off, only Space, Home, Page Up, Page Down and Escape work, and the keys of whatever has the focus.")));
  const put = () => {
    single = box.checked;
    document.documentElement.dataset.keys = single ? "on" : "off"; // buttons show no key that does not work
    for (const element of document.querySelectorAll("[aria-keyshortcuts], [data-keyshortcuts]")) announce(element);
  };
  const recall = () => {
    box.checked = remembered("keys") !== "off";
    put();
  };
  window.addEventListener("storage", recall); // another tab of this browser
  recall();
}

/* An element's announced keys; the picture's work only while it has the focus, so they stay. */
function announce(element) {
  if (element.id === "picture") return;
  element.dataset.keyshortcuts ??= element.getAttribute("aria-keyshortcuts");
  const keys = element.dataset.keyshortcuts.split(" ").filter((key) => single || !isCharacter(key)).join(" ");
  if (keys) element.setAttribute("aria-keyshortcuts", keys);
  else element.removeAttribute("aria-keyshortcuts");
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
