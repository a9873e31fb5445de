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
  const seen = Boolean(question && question.choices.length && tally && (tally.following || tally.answered));
  const newest = JSON.stringify([seen, question && question.choices, question && question.given, question && question.answer, tally]);
  if (newest === drawn) return;
  drawn = newest;
  section.hidden = !seen;
  large.hidden = !seen || !tally.large || !tally.counts;
  section.replaceChildren(...(seen ? [head("h2"), ...(tally.counts && large.hidden ? bars() : []), make("div", { class: "then" }, ...buttons(socket))] : []));
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

/** How often an answer was given; of two votes both. */
export const counted = ({ before, counts }, value) => before ? `${before[value]} \u2192 ${counts[value]}` : counts[value];

/* Each answer with its bar, as long as its share of the class; of two votes two, the first one pale. The right one is marked once it is told. */
function bars() {
  const { counts, before } = tally;
  const bar = (kind, of, value) => {
    const made = make("i", { class: kind, "aria-hidden": "true" });
    made.style.width = `${(100 * of[value]) / Math.max(1, Object.values(of).reduce((sum, count) => sum + count, 0))}%`;
    return made;
  };
  return [
    ...(before ? [make("p", { class: "note" }, "First vote, then second.")] : []),
    make("ol", {}, ...question.choices.map(({ value, words }) => make("li", { "data-choice": value },
      make("span", {}, words === question.answer ? "\u2713 " : "", words),
      make("b", {}, counted(tally, value)),
      ...(before ? [bar("before", before, value)] : []), bar("now", counts, value)))),
  ];
}
