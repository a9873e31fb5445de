/* Puts the page together. */

import * as atRest from "./at-rest.js";
import * as bar from "./bar.js";
import * as chart from "./chart.js";
import * as controls from "./controls.js";
import { byId, make } from "./dom.js";
import * as focus from "./focus.js";
import * as keys from "./keys.js";
import * as lesson from "./lesson.js";
import * as lookRound from "./look-round.js";
import * as looks from "./looks.js";
import * as panel from "./panel.js";
import * as picture from "./picture.js";
import * as plot from "./plot.js";
import * as question from "./question.js";
import { createSocket, memory } from "./socket.js";
import * as tally from "./tally.js";
import { coverWhileWaiting } from "./waiting.js";
import * as whole from "./whole.js";

const socket = createSocket();

looks.start();
panel.start(socket);
controls.start(socket, notify);
question.start(socket);
tally.start(socket);
bar.start(socket, looks, picture);
chart.start(socket);
lesson.start(socket, notify);
plot.start(socket);
keys.start(bar.actions, question.answer, () => { notify(""); whole.leave(); });
picture.start(byId("picture"), socket);
lookRound.start(byId("picture"), picture, picture.resetView);
focus.keep(byId("picture"));
atRest.start(socket);

let lastNotice = "";
socket.on("notice", (notice) => {
  const newest = JSON.stringify(notice);
  if (newest === lastNotice) return; // repeated after a reconnection
  lastNotice = newest;
  notify(notice ? notice.text : "");
});

socket.on("run", (run) => memory.follow("run", run));

socket.on("address", (address) => {
  memory.follow("address", address);
  if (location.search !== `?${address}`) history.replaceState(null, "", `?${address}`);
});

/** Show one sentence until it is closed; an empty one closes it. */
function notify(sentence) {
  if (!sentence) return byId("notice").replaceChildren();
  byId("notice").replaceChildren(
    make("p", {}, sentence),
    make("button", { type: "button", "aria-label": "Close this notice", onclick: () => byId("notice").replaceChildren() },
      "\u00d7"));
}

coverWhileWaiting(socket);
socket.connect();

window.bench = { socket, actions: bar.actions }; // for tests and the console
