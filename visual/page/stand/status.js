/* How the exhibit goes, for whoever looks after it. */

import { byId, make } from "../common/dom.js";
import { createSocket } from "../common/socket.js";

const socket = createSocket();
socket.on("status", ({ lines, wrong }) => {
  byId("wrong").replaceChildren(...wrong.map((sentence) => make("li", {}, sentence)));
  byId("lines").replaceChildren(...lines.flatMap(([words, value]) => [make("dt", {}, words), make("dd", {}, value)]));
});
socket.watch((connected) => (byId("away").hidden = connected));
socket.connect();

window.bench = { socket }; // for tests and the console
