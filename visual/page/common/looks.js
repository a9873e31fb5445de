/* Light or dark, text size, and whatever else this browser remembers of the user's preferences. */

const SIZES = 3;
const root = document.documentElement;
const dark = matchMedia("(prefers-color-scheme: dark)");

/** What was remembered under `name`, or null. */
export function remembered(name) {
  try {
    return localStorage.getItem(`thumbwise-${name}`);
  } catch {
    return null; // a browser that keeps nothing is no reason to show nothing
  }
}

/** Remember a text under `name`. */
export function remember(name, value) {
  try {
    localStorage.setItem(`thumbwise-${name}`, value);
  } catch {
    /* then it holds until the page is closed */
  }
}

function show() {
  const theme = remembered("theme");
  root.dataset.theme = theme === "dark" || theme === "light" ? theme : dark.matches ? "dark" : "light";
  root.dataset.text = String(Math.min(SIZES, Math.max(1, Number(remembered("text")) || 1)));
  document.dispatchEvent(new Event("looks"));
}

/** Put on what was remembered; afterwards `looks` events on the document tell of every change. */
export function start() {
  show();
  dark.addEventListener("change", show);
}

export function otherTheme() {
  change("theme", root.dataset.theme === "dark" ? "light" : "dark");
}

export function larger() {
  change("text", String((Number(root.dataset.text) % SIZES) + 1));
}

function change(name, value) {
  remember(name, value);
  root.dataset[name] = value;
  document.dispatchEvent(new Event("looks"));
}
