/* One formula on the board, for the back row: in symbols, with this moment's numbers, and the result. What is written comes from a
   reading or from a line of the workings, so from the same instant as the picture; nothing is worked out here. */

import { byId, make, sign } from "../common/dom.js";
import { lettered, symbolOf } from "../common/subscripts.js";

const LINES = 17; // the picture with the board is so many letters high at most
const ROWS = { words: "what", symbols: "in-symbols", numbers: "numbers", result: "result" };

const lists = { readings: [], workings: [] }; // what may be written: { key, words, symbols, numbers, result }
const watchers = [];
let chosen = null; // { list, key } of what is on the board
let last = { list: "readings", place: 0 }; // its place, or that of what was there last

/** Make the board below the picture; it is empty and away until something is written on it. */
export function start(socket) {
  if (!byId("board-strip")) return;
  byId("board-strip").append(
    ...Object.values(ROWS).map((kind) => make("p", { class: kind })),
    make("div", { class: "turn" },
      turn("previous", "Previous line", -1), turn("next", "Next line", 1),
      make("button", { type: "button", "aria-label": "Wipe the board", onclick: close }, "\u00d7")));
  socket.on("scene", () => {
    last = { list: "readings", place: 0 };
    close();
  });
  const watch = new ResizeObserver(size);
  for (const box of [document.querySelector(".view"), byId("board-strip")]) watch.observe(box);
}

const turn = (symbol, words, steps) => make("button", {
  type: "button", "data-turn": symbol, "aria-label": words, title: words,
  onclick: () => lists.workings[last.place + steps] && put("workings", last.place + steps),
}, sign(symbol));

/** Write what has that place in "readings" or "workings" on the board; what is there already is wiped off. */
export function open(list, place) {
  if (!lists[list][place] || !byId("board-strip")) return;
  if (isOn(list, lists[list][place])) close();
  else put(list, place);
}

function put(list, place) {
  [chosen, last] = [{ list, key: lists[list][place].key }, { list, place }];
  write();
  lay(true);
}

/** Open it with what was there last, or wipe it. */
export function change() {
  if (chosen) return close();
  const list = lists[last.list].length ? last.list : "readings";
  open(list, last.place < lists[list].length ? last.place : 0);
}

export function close() {
  chosen = null;
  if (byId("board-strip")) lay(false);
}

/** The readings have changed: what is on the board changes with them. */
export function showReadings(readings) {
  show("readings", readings.map((reading) => ({ key: `${reading.symbol} ${reading.words}`, ...written(reading) })));
}

/** The same of the lines of the calculation `topic`. */
export function showWorkings(topic, lines) {
  show("workings", lines.map((line, place) => ({ key: `${topic} ${place}`, ...line })));
}

function show(list, newest) {
  lists[list] = newest;
  if (chosen?.list === list) write();
}

/* A reading whose words change with a setting keeps its place. */
function write() {
  const { list, key } = chosen, all = lists[list];
  const line = all.find((each) => each.key === key) || (list === "readings" && all[last.place]);
  if (!line) return close();
  for (const [part, kind] of Object.entries(ROWS)) {
    const row = byId("board-strip").querySelector(`.${kind}`);
    lettered(row, line[part]);
    row.hidden = !line[part];
  }
  byId("board-strip").classList.toggle("of-workings", list === "workings");
  byId("board-strip").querySelector('[data-turn="previous"]').disabled = last.place === 0;
  byId("board-strip").querySelector('[data-turn="next"]').disabled = last.place >= all.length - 1;
}

/** What stands on the board, row by row, [kind, text]; empty while it is away. */
export function lines() {
  return chosen ? [...byId("board-strip").querySelectorAll("p:not([hidden])")].map((row) => [row.className, row.dataset.text]) : [];
}

/** Whether the line at that place is on the board. */
export const has = (list, place) => Boolean(lists[list][place]) && isOn(list, lists[list][place]);

/** Call `listener` whenever something else stands on the board. */
export const watch = (listener) => watchers.push(listener);

/** A reading as it is written on a board. Its formula reads "symbol = symbols = numbers = result" where it has one. */
export function written(reading) {
  const { symbol, words, value, unit, formula } = reading;
  const parts = (formula || "").split(" = ");
  const stands = parts.length > 2 || (parts.length === 2 && parts[0] === symbol);
  const result = [symbol && `${symbolOf(reading)} =`, value, unit].filter(Boolean).join(" ").replace(/ \u00b0$/, "\u00b0");
  if (!stands) return { words: formula ? `${words}: ${formula}` : words, symbols: "", numbers: "", result };
  const [left, symbols, ...rest] = parts;
  const numbers = rest.length > 1 ? rest.slice(0, -1) : rest; // the last is the result, which the reading has as well
  return { words, symbols: `${left} = ${symbols}`, numbers: numbers.map((part) => `= ${part}`).join(" "), result };
}

const isOn = (list, { key }) => chosen !== null && chosen.list === list && chosen.key === key;

function lay(on) {
  byId("board-strip").hidden = !on;
  document.querySelector(".view").classList.toggle("with-board", on);
  const button = document.querySelector('[data-do="board"]');
  if (button) button.setAttribute("aria-pressed", String(on));
  size();
  for (const listener of watchers) listener();
}

/* The letters are sized by the whole picture, and the picture has what the board leaves. */
function size() {
  const view = document.querySelector(".view"), strip = byId("board-strip");
  strip.style.fontSize = `${view.clientHeight / LINES}px`;
  view.style.setProperty("--board", strip.hidden ? "0px" : `${strip.offsetHeight}px`);
}
