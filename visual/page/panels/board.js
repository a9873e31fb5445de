/* One formula on the board, for the back row: in symbols, with this moment's numbers, and the result. What is written comes from a
   reading, so from the same instant as the picture; nothing is worked out here. */

import { byId, make, write } from "../common/dom.js";

const LINES = 17; // the picture with the board is so many letters high at most

let readings = [];
let chosen = null; // symbol and words of the reading on the board
let last = 0; // its place, or the one that was there last

/** Make the board below the picture; it is empty and away until a reading is opened. */
export function start(socket) {
  if (!byId("board-strip")) return;
  byId("board-strip").append(
    make("p", { class: "what" }), make("p", { class: "in-symbols" }), make("p", { class: "numbers" }), make("p", { class: "result" }),
    make("button", { type: "button", "aria-label": "Wipe the board", onclick: close }, "\u00d7"));
  socket.on("scene", () => { last = 0; close(); });
  const watch = new ResizeObserver(size);
  for (const box of [document.querySelector(".view"), byId("board-strip")]) watch.observe(box);
}

/** Write the reading at that place on the board; the one that is there already is wiped off. */
export function open(place) {
  const reading = readings[place];
  if (!reading || !byId("board-strip")) return;
  if (isIt(reading)) return close();
  [chosen, last] = [{ symbol: reading.symbol, words: reading.words }, place];
  show(readings);
  lay(true);
}

/** Open it with the reading that was there last, or wipe it. */
export function change() {
  if (chosen) close();
  else open(last < readings.length ? last : 0);
}

export function close() {
  chosen = null;
  if (byId("board-strip")) lay(false);
}

/** The readings have changed: what is on the board changes with them. */
export function show(newest) {
  readings = newest;
  if (!chosen) return;
  const reading = readings.find(isIt) || readings[last];
  if (!reading) return close();
  const { words, symbols, numbers, result } = written(reading);
  for (const [name, text] of Object.entries({ what: words, "in-symbols": symbols, numbers, result })) {
    const line = byId("board-strip").querySelector(`.${name}`);
    write(line, text);
    line.hidden = !text;
  }
}

/** What stands on the board, line by line; empty while it is away. */
export function lines() {
  return chosen ? [...byId("board-strip").querySelectorAll("p:not([hidden])")].map((line) => [line.className, line.textContent]) : [];
}

/** A reading as it is written on a board. Its formula reads "symbol = symbols = numbers = result" where it has one. */
export function written({ symbol, words, value, unit, formula }) {
  const parts = (formula || "").split(" = ");
  const stands = parts.length > 2 || (parts.length === 2 && parts[0] === symbol);
  const result = [symbol && `${symbol} =`, value, unit].filter(Boolean).join(" ").replace(/ \u00b0$/, "\u00b0");
  if (!stands) return { words: formula ? `${words}: ${formula}` : words, symbols: "", numbers: "", result };
  const [left, symbols, ...rest] = parts;
  const numbers = rest.length > 1 ? rest.slice(0, -1) : rest; // the last is the result, which the reading has as well
  return { words, symbols: `${left} = ${symbols}`, numbers: numbers.map((part) => `= ${part}`).join(" "), result };
}

const isIt = (reading) => chosen !== null && reading.symbol === chosen.symbol && reading.words === chosen.words;

function lay(on) {
  byId("board-strip").hidden = !on;
  document.querySelector(".view").classList.toggle("with-board", on);
  const button = document.querySelector('[data-do="board"]');
  if (button) button.setAttribute("aria-pressed", String(on));
  size();
}

/* The letters are sized by the whole picture, and the picture has what the board leaves. */
function size() {
  const view = document.querySelector(".view"), strip = byId("board-strip");
  strip.style.fontSize = `${view.clientHeight / LINES}px`;
  view.style.setProperty("--board", strip.hidden ? "0px" : `${strip.offsetHeight}px`);
}
