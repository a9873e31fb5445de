/* The cover over the page while the bench is away: after a short delay, until the first picture is back. */

import { byId } from "./dom.js";

const PATIENCE = 400; // ms before the page says that it waits: a short break is not worth mentioning

/** Cover the board of this page whenever `socket` has lost the bench. */
export function coverWhileWaiting(socket) {
  let patience = setTimeout(cover, PATIENCE);
  let focused = null;
  socket.watch((connected) => {
    clearTimeout(patience);
    if (!connected) {
      patience = setTimeout(cover, PATIENCE);
      return;
    }
    byId("waiting").hidden = true;
    byId("board").inert = false;
    document.body.classList.remove("blank");
    if (focused && focused.isConnected) focused.focus();
    focused = null;
  });

  function cover() {
    focused = document.activeElement;
    byId("waiting").hidden = false;
    byId("board").inert = true; // nobody would hear what is pressed
  }
}
