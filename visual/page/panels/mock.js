/* A mock test: how long it shall be, how far it has come, and at its end what was right. */

import { byId, make, timeLeft, write } from "../common/dom.js";

let socket;
let mock = null; // as the bench tells it
let begun = false; // whoever has begun one is to be led to its first question

/** `changed()` is called when one begins or ends. */
export function start(theSocket, changed) {
  socket = theSocket;
  byId("mock-open").addEventListener("click", () => (sits() ? ask("mock-end") : ask("mock-begin")));
  closed("mock-begin", () => {
    begun = true;
    socket.request.mock(Number(byId("mock-questions").value), Number(byId("mock-minutes").value));
  });
  closed("mock-end", () => socket.request.enough());
  socket.on("mock", (newest) => {
    const before = phase();
    mock = newest;
    show();
    if (phase() !== before) changed();
    lead();
  });
  socket.on("question", lead);
}

/** Whether one is going on. */
export const sits = () => mock !== null && !mock.over;

const phase = () => (mock === null ? "none" : mock.over ? "over" : "sits");

/* To the first question: the dialog has given the focus back to the button that opened it, and that ends the test now. And from the last
   question, which is gone, to the result. */
function lead() {
  const first = byId("figure") || byId("question-words");
  if (begun && sits() && first) {
    begun = false;
    first.focus({ preventScroll: true });
  }
  if (phase() === "over" && document.activeElement === document.body) byId("result").querySelector("button").focus({ preventScroll: true });
}

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
  document.documentElement.classList.toggle("over", phase() === "over"); // the last question's machine has nothing to do with the result
  write(byId("mock-open"), sits() ? "End the test" : "Mock test");
  byId("sitting").hidden = !sits();
  if (sits()) {
    write(byId("place"), `Question ${mock.place} of ${mock.count}`);
    write(byId("left"), timeLeft(mock.seconds));
  }
  const card = byId("result");
  card.hidden = phase() !== "over";
  byId("column").setAttribute("role", card.hidden ? "complementary" : "main"); // then it is all there is
  if (card.hidden) return card.replaceChildren();
  if (card.hasChildNodes()) return; // it is told once
  card.replaceChildren(
    make("h1", { id: "result-head" }, mock.result),
    ...mock.put.map(({ question, given, answer, right, reason }) => make("div", { class: "put" },
      make("p", {}, question),
      make("p", {}, ...(given ? [right ? "\u2713 Right: " : "\u2717 Wrong: ", make("strong", {}, given)] : ["Not answered"])),
      ...(right ? [] : [make("p", {}, "Answer: ", make("strong", {}, answer))]),
      make("p", { class: "reason" }, reason))),
    ...(mock.mistakes.length ? [make("p", {}, `Mistakes: ${mock.mistakes.join(", ")}.`)] : []),
    make("div", { class: "foot" }, make("span", { class: "then" },
      make("button", { type: "button", class: "main", onclick: () => socket.request.ask() }, "Go on practising"))));
}
