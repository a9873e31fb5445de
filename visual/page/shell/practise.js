/* The page of one who practises: the picture, the question, the answer; the workings of what was asked, and a mock test. */

import * as atRest from "../common/at-rest.js";
import { byId, make, write } from "../common/dom.js";
import * as keys from "../common/keys.js";
import * as looks from "../common/looks.js";
import { createSocket, followAddress } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";
import * as board from "../panels/board.js";
import * as mock from "../panels/mock.js";
import * as notice from "../panels/notice.js";
import * as panel from "../panels/panel.js";
import * as plot from "../panels/plot.js";
import * as question from "../panels/question.js";
import * as share from "../panels/share.js";
import * as workings from "../panels/workings.js";
import * as drawnArrow from "../picture/drawn-arrow.js";
import * as picks from "../picture/picks.js";
import * as picture from "../picture/picture.js";
import * as turned from "../picture/turned.js";
import { tellWhyNotLetIn } from "./why-not.js";

const socket = createSocket();
const actions = {
  onward: next,
  run: () => socket.request.run(!socket.told.bench.running),
  reveal: () => question.isOpen() && !mock.sits() && socket.request.reveal(),
  letters: () => picture.allLetters(),
  board: () => board.change(),
  text: () => looks.larger(),
  theme: () => looks.otherTheme(),
  keys: () => (byId("keys").open ? byId("keys").close() : byId("keys").showModal()),
};

looks.start();
panel.startReading(socket);
plot.start(socket);
turned.start(socket);
picks.start(byId("picture"), socket);
drawnArrow.start(byId("picture"), socket);
question.start(socket, next, foot);
workings.start(socket, true);
mock.start(socket, question.show);
keys.start(actions, (place) => document.querySelector("dialog[open]") || question.answer(place), notice.close);
keys.learn("N", "next question", "onward");
notice.start(socket, question.refuses);
share.start(socket);
atRest.start(socket);
followAddress(socket);
socket.on("progress", () => (byId("progress").hidden = false)); // both are on this machine only
socket.on("lesson", () => (byId("own").hidden = false));
socket.on("question", () => (byId("workings").hidden = byId("run").hidden = question.isOpen()));
socket.on("bench", ({ running }) => write(byId("run"), running ? "Hold" : "Run")); // what moves by itself can be held
byId("run").addEventListener("click", actions.run);
byId("keys-open").addEventListener("click", actions.keys);
coverWhileWaiting(socket);
socket.watch(tellWhyNotLetIn);
socket.connect();

window.bench = { socket, actions }; // for tests and the console

/* What is open is answered first. */
function next() {
  if (!question.isOpen()) socket.request.ask();
}

function foot({ works }) {
  const buttons = question.isOpen()
    ? [!mock.sits() && button("Show the answer", actions.reveal)]
    : [works && button("Work it through", () => workings.open(works)), button("Next question", next, "main")];
  return make("div", { class: "foot" }, make("span", { class: "then" }, ...buttons.filter(Boolean)));
}

const button = (words, onclick, kind = "") => make("button", { type: "button", class: kind, onclick }, words);
