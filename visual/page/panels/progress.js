/* A student's progress: what was right by week and by topic, and which mistakes were made. It has no picture. */

import { byId, make } from "../common/dom.js";
import * as looks from "../common/looks.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";

const socket = createSocket();

looks.start();
coverWhileWaiting(socket);
socket.on("progress", show);
socket.connect();

window.bench = { socket }; // for tests and the console

function show({ weeks, shares, topics, mistakes }) {
  byId("none").hidden = topics.length > 0;
  for (const section of document.querySelectorAll("section")) section.hidden = !topics.length;
  fill("weeks", ["Week", "Right"], weeks.map((week, place) => [week, `${shares[place].right} of ${shares[place].asked}`]));
  fill("topics", ["Topic", "Right", "Kinds known", "To come back"],
    topics.map(({ title, right, asked, known, kinds, coming_back }) =>
      [title, `${right} of ${asked}`, `${known} of ${kinds}`, coming_back]));
  fill("mistakes", ["Mistake", ...weeks], mistakes.map(({ name, by_week }) => [name, ...by_week]));
  byId("mistakes").closest("section").hidden = !mistakes.length;
}

function fill(id, heads, rows) {
  byId(id).replaceChildren(
    make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
    make("tbody", {}, ...rows.map(([first, ...rest]) =>
      make("tr", {}, make("th", { scope: "row" }, first), ...rest.map((cell) => make("td", {}, cell))))));
}
