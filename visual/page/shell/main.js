/* Puts the page together. */

import * as atRest from "../common/at-rest.js";
import * as bar from "../panels/bar.js";
import * as chart from "../panels/chart.js";
import * as controls from "../panels/controls.js";
import { byId, make } from "../common/dom.js";
import * as drawnArrow from "../picture/drawn-arrow.js";
import * as focus from "../common/focus.js";
import * as keys from "../common/keys.js";
import * as lesson from "./lesson.js";
import * as lookRound from "../picture/look-round.js";
import * as looks from "../common/looks.js";
import * as panel from "../panels/panel.js";
import * as picks from "../picture/picks.js";
import * as picture from "../picture/picture.js";
import * as prepare from "../prepare/prepare.js";
import * as plot from "../panels/plot.js";
import * as question from "../panels/question.js";
import { createSocket, memory } from "../common/socket.js";
import * as tally from "../panels/tally.js";
import * as workings from "../panels/workings.js";
import { coverWhileWaiting } from "../common/waiting.js";
import * as whole from "../common/whole.js";

const socket = createSocket();

looks.start();
panel.start(socket);
workings.start(socket);
controls.start(socket, notify);
question.start(socket, () => bar.actions.ask());
tally.start(socket);
bar.start(socket, looks, picture);
chart.start(socket);
lesson.start(socket, notify);
prepare.start(socket, notify);
plot.start(socket);
keys.start(bar.actions, question.answer, dismiss);
picture.start(byId("picture"), socket);
picks.start(byId("picture"), socket);
drawnArrow.start(byId("picture"), socket);
lookRound.start(byId("picture"), picture, picture.resetView);
focus.keep(byId("picture"));
atRest.start(socket);

let lastNotice = "";
socket.on("notice", (notice) => {
  const newest = JSON.stringify(notice);
  if (newest === lastNotice) return; // repeated after a reconnection
  lastNotice = newest;
  const sentence = notice ? notice.text : "";
  if (!question.refuses(sentence)) notify(sentence);
});

socket.on("run", (run) => memory.follow("run", run));

socket.on("address", (address) => {
  memory.follow("address", address);
  if (location.search.replace("?", "") !== address) history.replaceState(null, "", address ? `?${address}` : location.pathname);
});

/* Escape puts away one thing at a time; a list closes itself. */
function dismiss() {
  if (document.querySelector("dialog[open]")) return;
  if (byId("notice").hasChildNodes()) notify("");
  else if (!whole.leave()) question.close();
}

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
