/* The class's answers, below the question: how many, then how many of each. And the address to follow at. */

import { byId, make, write } from "../common/dom.js";

let question = null;
let tally = null;
let drawn = "";

export function start(socket) {
  socket.on("share", ({ addresses }) => {
    byId("share").hidden = !addresses.length;
    write(byId("share").querySelector("b"), addresses.map((address) => address.replace("http://", "")).join(" or "));
  });
  socket.on("question", (newest) => {
    question = newest;
    show(socket);
  });
  socket.on("tally", (newest) => {
    tally = newest;
    write(byId("share").querySelector("span"), tally.following === 1 ? "(1 follows)" : `(${tally.following} follow)`);
    show(socket);
  });
}

function show(socket) {
  const section = byId("tally");
  const seen = Boolean(question && tally && (tally.following || tally.answered));
  const newest = JSON.stringify([seen, question && question.choices, tally]);
  if (newest === drawn) return;
  drawn = newest;
  section.hidden = !seen;
  if (!seen) return section.replaceChildren();
  const most = Math.max(1, ...Object.values(tally.counts || {}));
  section.replaceChildren(
    make("h2", {}, `The class: ${tally.answered} of ${Math.max(tally.following, tally.answered)} answered`),
    tally.counts
      ? make("ol", {}, ...question.choices.map(({ value, words }) => {
        const bar = make("i", { "aria-hidden": "true" });
        bar.style.width = `${(100 * tally.counts[value]) / most}%`;
        return make("li", { "data-choice": value }, make("span", {}, words), make("b", {}, tally.counts[value]), bar);
      }))
      : make("button", { type: "button", onclick: () => socket.request.tally() }, "Show answers so far"));
}
