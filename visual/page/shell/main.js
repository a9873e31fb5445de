/* Puts the page together. */

import * as atRest from "../common/at-rest.js";
import * as bar from "../panels/bar.js";
import * as chart from "../panels/chart.js";
import * as controls from "../panels/controls.js";
import { byId } from "../common/dom.js";
import * as drawnArrow from "../picture/drawn-arrow.js";
import * as focus from "../common/focus.js";
import * as keys from "../common/keys.js";
import * as lesson from "./lesson.js";
import * as lookRound from "../picture/look-round.js";
import * as looks from "../common/looks.js";
import * as notice from "../panels/notice.js";
import * as panel from "../panels/panel.js";
import * as picks from "../picture/picks.js";
import * as picture from "../picture/picture.js";
import * as prepare from "../prepare/prepare.js";
import * as plot from "../panels/plot.js";
import * as question from "../panels/question.js";
import { createSocket, followAddress } from "../common/socket.js";
import * as tally from "../panels/tally.js";
import * as workings from "../panels/workings.js";
import { coverWhileWaiting } from "../common/waiting.js";
import * as whole from "../common/whole.js";

const socket = createSocket();

looks.start();
panel.start(socket);
workings.start(socket);
controls.start(socket, notice.notify);
question.start(socket, () => bar.actions.ask());
tally.start(socket);
bar.start(socket, looks, picture);
chart.start(socket);
lesson.start(socket, notice.notify);
prepare.start(socket, notice.notify);
plot.start(socket);
keys.start(bar.actions, question.answer, dismiss);
picture.start(byId("picture"), socket);
picks.start(byId("picture"), socket);
drawnArrow.start(byId("picture"), socket);
lookRound.start(byId("picture"), picture, picture.resetView);
focus.keep(byId("picture"));
atRest.start(socket);
notice.start(socket, question.refuses);
followAddress(socket);

/* Escape puts away one thing at a time; a list closes itself. */
function dismiss() {
  if (document.querySelector("dialog[open]")) return;
  if (!notice.close() && !whole.leave()) question.close();
}

coverWhileWaiting(socket);
socket.connect();

window.bench = { socket, actions: bar.actions }; // for tests and the console
