/* A mock test: how long it shall be, how far it has come, and at its end what was right. */

import { byId, make, timeLeft, write } from "../common/dom.js";

let socket;
let mock = null; // as the bench tells it

/** `changed()` is called when one begins or ends. */
export function start(theSocket, changed) {
  socket = theSocket;
  byId("mock-open").addEventListener("click", () => (sits() ? ask("mock-end") : ask("mock-begin")));
  closed("mock-begin", () => socket.request.mock(Number(byId("mock-questions").value), Number(byId("mock-minutes").value)));
  closed("mock-end", () => socket.request.enough());
  socket.on("mock", (newest) => {
    const before = phase();
    mock = newest;
    show();
    if (phase() !== before) changed();
  });
}

/** Whether one is going on. */
export const sits = () => mock !== null && !mock.over;

const phase = () => (mock === null ? "none" : mock.over ? "over" : "sits");

function ask(id) {
  if (!byId(id).open) byId(id).showModal();
}

function closed(id, confirmed) {
  byId(id).addEventListener("close", () => {
    if (byId(id).returnValue === "yes") confirmed();
    byId(id).returnValue = "";
  });
}

function show() {
  write(byId("mock-open"), sits() ? "End the test" : "Mock test");
  byId("sitting").hidden = !sits();
  if (sits()) {
    write(byId("place"), `Question ${mock.place} of ${mock.count}`);
    write(byId("left"), timeLeft(mock.seconds));
  }
  const card = byId("result"), hadFocus = card.contains(document.activeElement);
  card.hidden = phase() !== "over";
  if (card.hidden) return card.replaceChildren();
  if (card.hasChildNodes()) return; // it is told once
  card.replaceChildren(
    make("h2", { id: "result-head" }, `${mock.right} of ${mock.count} right${mock.unanswered ? `, ${mock.unanswered} not answered` : ""}`),
    ...mock.missed.map(({ question, given, answer, reason }) => make("div", { class: "missed" },
      make("p", {}, question), make("p", {}, "Wrong: ", make("strong", {}, given)), make("p", {}, "Answer: ", make("strong", {}, answer)),
      make("p", { class: "reason" }, reason))),
    ...(mock.mistakes.length ? [make("p", {}, `Mistakes: ${mock.mistakes.join(", ")}.`)] : []),
    make("div", { class: "foot" }, make("span", { class: "then" },
      make("button", { type: "button", class: "main", onclick: () => socket.request.ask() }, "Go on practising"))));
  if (!hadFocus && document.activeElement === document.body) card.querySelector("button").focus({ preventScroll: true });
}
