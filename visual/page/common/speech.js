/* What the picture shows, for a screen reader: one sentence that follows the state, not every frame. */

import { atMostEvery, byId, write } from "./dom.js";

const PAUSE = 1500; // ms between sentences, and how long figures must have stood before they are spoken

/** Speak what the bench `says`: at once if the words change, and if only figures change, once they settle. */
export function start(socket) {
  let spoken = "";
  let newest = "";
  let last = -Infinity; // when something was spoken
  let timer = 0;
  let changed = false; // the set-up: then what was said before is no longer so
  const describe = atMostEvery(() => PAUSE, (sentence) => write(byId("state"), sentence)); // read when the picture gets the focus
  socket.on("settings", () => (changed = true));
  socket.on("says", (sentence) => {
    if (sentence === newest) return;
    newest = sentence || "";
    describe(newest);
    if (changed) write(byId("state"), newest);
    changed = false;
    clearTimeout(timer);
    if (newest === spoken) return;
    const since = performance.now() - last;
    timer = setTimeout(speak, wordsOf(newest) === wordsOf(spoken) ? PAUSE : Math.max(0, PAUSE - since));
  });

  function speak() {
    spoken = newest;
    last = performance.now();
    write(byId("says"), spoken);
  }
}

const wordsOf = (sentence) => sentence.replace(/[\d.,\u2212]+/g, "");
