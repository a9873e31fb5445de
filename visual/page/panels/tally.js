/* The class's answers: below the question, and large over the picture where somebody wants that; of two votes both. */

import { byId, make, write } from "../common/dom.js";
import * as share from "./share.js";

let question = null;
let tally = null;
let drawn = "";

export function start(socket) {
  share.start(socket);
  socket.on("question", (newest) => {
    question = newest;
    show(socket);
  });
  socket.on("tally", (newest) => {
    tally = newest;
    write(byId("share").querySelector("span"), tally.following === 1 ? "(1 following)" : `(${tally.following} following)`);
    show(socket);
  });
}

function show(socket) {
  const section = byId("tally"), large = byId("tally-large");
  const seen = Boolean(question && tally && (tally.following || tally.answered));
  const newest = JSON.stringify([seen, question && question.choices, question && question.given, tally]);
  if (newest === drawn) return;
  drawn = newest;
  section.hidden = !seen;
  large.hidden = !seen || !tally.large || !tally.counts;
  section.replaceChildren(...(seen ? [head("h2"), ...(tally.counts ? bars() : []), make("div", { class: "then" }, ...buttons(socket))] : []));
  large.replaceChildren(...(large.hidden ? [] : [head("h2"), ...bars()]));
}

const head = (tag) => make(tag, {},
  `${tally.vote === 2 ? "The class, second vote" : "The class"}: ${tally.answered} of ${Math.max(tally.following, tally.answered)} answered`);

function buttons(socket) {
  const { counts, large, vote, answered } = tally, waits = question.given === null;
  const button = (words, onclick) => make("button", { type: "button", onclick }, words);
  return [
    ...(counts ? [] : [button("Show answers so far", () => socket.request.tally(false))]),
    button(large && counts ? "Off the picture" : "Large over the picture", () => socket.request.tally(!(large && counts))),
    ...(waits && vote === 1 && answered ? [button("Ask again", () => socket.request.again())] : []),
  ];
}

/* Each answer with its bar; of two votes two, the first one pale. */
function bars() {
  const { counts, before } = tally;
  const most = Math.max(1, ...Object.values(counts), ...Object.values(before || {}));
  const bar = (kind, count) => {
    const made = make("i", { class: kind, "aria-hidden": "true" });
    made.style.width = `${(100 * count) / most}%`;
    return made;
  };
  return [
    ...(before ? [make("p", { class: "note" }, "First vote, then second.")] : []),
    make("ol", {}, ...question.choices.map(({ value, words }) => make("li", { "data-choice": value },
      make("span", {}, words),
      make("b", {}, before ? `${before[value]} \u2192 ${counts[value]}` : counts[value]),
      ...(before ? [bar("before", before[value])] : []), bar("now", counts[value])))),
  ];
}
