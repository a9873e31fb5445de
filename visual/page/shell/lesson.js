/* A lesson: its steps in place of the scenes, and the button for the speaker's window. */

import { actions } from "../panels/bar.js";
import * as caption from "./caption.js";
import { byId, make, sign } from "../common/dom.js";
import { learn } from "../common/keys.js";

let step = null;
let speaker = null; // the speaker's window, when it was opened from here

/** The controls of a lesson; nothing without one. `notify` shows a sentence. */
export function start(socket, notify) {
  caption.start(socket);
  socket.on("step", (newest) => {
    if (!step) begin(socket, () => openSpeaker(notify));
    step = newest;
    showEnds();
  });
  socket.on("scene", showEnds);
}

function begin(socket, open) {
  actions.speaker = open;
  learn("T", "the speaker's window", "speaker");
  for (const [id, words, key] of [["previous", "Previous step", "P"], ["next", "Next step", "N"]]) {
    byId(id).title = `${words} (${key})`;
    byId(id).setAttribute("aria-label", words);
  }
  byId("page").prepend(make("button", {
    type: "button", class: "bare", "data-do": "speaker", title: "The speaker's window (T)",
    "aria-label": "The speaker's window", "aria-keyshortcuts": "T", onclick: open,
  }, sign("speaker")));
}

/* A lesson continues past a scene at either end, and where a page covers the bench none of its scenes is on. */
function showEnds() {
  if (!step) return;
  if (step.page) byId("lesson").querySelector("[aria-current]")?.removeAttribute("aria-current");
  byId("previous").disabled = step.number === 1;
  byId("next").disabled = step.number === step.count;
}

function openSpeaker(notify) {
  if (speaker && !speaker.closed) return speaker.focus();
  const address = new URL("speaker/", document.baseURI).href;
  speaker = window.open(address, "thumbwise-speaker", "popup,width=1000,height=720");
  if (!speaker) notify(`The browser blocked the new window. The speaker's window is at ${address}`);
}
