/* One sentence over the picture, until it is closed. */

import { byId, make } from "../common/dom.js";

let last = "";

/** `told(sentence)`: whether it is told elsewhere. */
export function start(socket, told = () => false) {
  socket.on("notice", (notice) => {
    const newest = JSON.stringify(notice);
    if (newest === last) return; // repeated after a reconnection
    last = newest;
    const sentence = notice ? notice.text : "";
    if (!told(sentence)) notify(sentence);
  });
}

/** Show one sentence until it is closed; an empty one closes it. */
export function notify(sentence) {
  if (!sentence) return byId("notice").replaceChildren();
  byId("notice").replaceChildren(
    make("p", {}, sentence),
    make("button", { type: "button", "aria-label": "Close this notice", onclick: () => byId("notice").replaceChildren() },
      "\u00d7"));
}

/** Close it. Whether there was one. */
export function close() {
  const open = byId("notice").hasChildNodes();
  notify("");
  return open;
}
