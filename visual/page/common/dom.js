/* Making elements, and changing them only where something is different. */
/** The element whose id is `id`. */
export const byId = (id) => document.getElementById(id);

/** A new element: `attributes` as attributes (true: present, false or null: absent, `on...`: a listener). */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...(WORDED.has(tag) ? children.flatMap((child) => (typeof child === "string" ? together(child) : [child])) : children));
  return element;
}

const WORDED = new Set(["p", "h2", "span", "strong", "li", "dd", "td"]); // what may hold sentences
const FIGURES = /[-+\u2212]?\d[\d.,\u202f]* (?:%|°|Ω|r\/min|rev\/s|(?:degrees|hertz|volts|amperes|newtons)\b|[\u00b5mk]?(?:A|V|W|Hz|T|N m|N|Wb|J|m|s|Ω)(?![\w]))(?:\/\w+)?/;

/* A text whose figures are not parted from their units at the end of a line. */
function together(text) {
  const found = text.match(new RegExp(FIGURES, "g"));
  if (!found) return [text];
  const between = text.split(FIGURES);
  return between.flatMap((words, place) => (place < found.length ? [words, make("bdi", { class: "together" }, found[place])] : [words]));
}

/** The same as one text. */
export const unbroken = (text) => text.replace(new RegExp(FIGURES, "g"), (figures) => figures.replace(/ /g, "\u00a0"));

/** A sign from the sheet of symbols in index.html. */
export function sign(name) {
  const space = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(space, "svg");
  const use = document.createElementNS(space, "use");
  svg.setAttribute("aria-hidden", "true");
  use.setAttribute("href", `#sign-${name}`);
  svg.append(use);
  return svg;
}

/** Have a field of type number take a decimal comma as the point: a browser leaves the comma out, and 2,5 would be 25. */
export function takeDecimalComma(field) {
  field.addEventListener("beforeinput", (event) => {
    if (!event.data?.includes(",")) return;
    event.preventDefault();
    document.execCommand("insertText", false, event.data.replace(",", "."));
  });
}

/** Put `text` into `element`, touching the page only when it differs. */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** The same with no figure parted from its unit at a line's end. */
export function writeSentence(element, text) {
  if (element.textContent !== text) element.replaceChildren(...together(text));
}

/** Seconds as they are left, in minutes and seconds. */
export const timeLeft = (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")} left`;

const late = new Set(); // what is shown when its pause is over

/** Show now what still waits for its pause: for whoever reads the page by program. */
export const showLate = () => late.forEach((now) => now());

/** `show(value)` with a pause of at least `pause()` milliseconds in between, the last value always. */
export function atMostEvery(pause, show) {
  let last = -Infinity;
  let timer = 0;
  let value;
  const now = () => {
    clearTimeout(timer);
    timer = 0;
    late.delete(now);
    last = performance.now();
    show(value);
  };
  return (newest) => {
    value = newest;
    if (timer) return;
    const wait = last + pause() - performance.now();
    if (wait <= 0) now();
    else {
      timer = setTimeout(now, wait);
      late.add(now);
    }
  };
}

/** A figure as it is read by people: no more digits than `step` needs (six without one), a real minus sign. */
export function figure(value, step) {
  const digits = step ? Math.min(6, Math.max(0, decimals(step), decimals(value))) : undefined;
  const text = digits === undefined ? String(Number(value.toPrecision(6))) : value.toFixed(digits);
  return text.replace("-", "\u2212");
}

/** How many decimals a number is written with. */
export function decimals(number) {
  const [digits, exponent = "0"] = String(Number(number.toPrecision(6))).split("e");
  return Math.max(0, (digits.split(".")[1] || "").length - Number(exponent));
}
