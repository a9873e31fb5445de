/* A lesson: the step's caption below the picture, where in the lesson one is, and the way to the speaker's window. */

import { actions } from "./bar.js";
import { byId, make, sign, write } from "./dom.js";
import { learn } from "./keys.js";

let step = null;
let speaker = null; // the speaker's window, when it was opened from here

/** The caption and all that leads through the lesson; nothing of it where no lesson is given. `notify` shows a sentence. */
export function start(socket, notify) {
  startCaption(socket);
  socket.on("step", (newest) => {
    if (!step) begin(socket, () => openSpeaker(notify));
    step = newest;
    showEnds();
  });
  socket.on("scene", showEnds);
}

/** The caption alone, on a page that only follows. */
export function startCaption(socket) {
  const words = make("p", { class: "words", "aria-live": "polite" });
  const place = make("p", { class: "place" });
  const track = make("i", { class: "track", "aria-hidden": "true" });
  const strip = make("div", { id: "caption", class: "step-caption", hidden: true }, track, place, words);
  document.querySelector(".view").after(strip);
  socket.on("step", (newest) => {
    strip.hidden = false;
    write(words, newest.caption);
    write(place, `Step ${newest.number} of ${newest.count}`);
    track.style.setProperty("--done", newest.number / newest.count);
  });
}

function begin(socket, open) {
  actions.reveal = () => socket.send({ do: "reveal" });
  actions.speaker = open;
  learn("R", "show the answer to the question", "reveal");
  learn("T", "the speaker's window", "speaker");
  for (const [id, words, key] of [["previous", "Previous step", "P"], ["next", "Next step", "N"]]) {
    byId(id).title = `${words} (${key})`;
    byId(id).setAttribute("aria-label", words);
  }
  byId("bar").lastElementChild.prepend(make("button", {
    type: "button", class: "bare", "data-do": "speaker", title: "The speaker's window (T)",
    "aria-label": "The speaker's window", "aria-keyshortcuts": "T", onclick: open,
  }, sign("speaker")));
}

/* A lesson goes on beyond the scene at either end. */
function showEnds() {
  if (!step) return;
  byId("previous").disabled = step.number === 1;
  byId("next").disabled = step.number === step.count;
}

function openSpeaker(notify) {
  if (speaker && !speaker.closed) return speaker.focus();
  const address = new URL("speaker/", document.baseURI).href;
  speaker = window.open(address, "thumbwise-speaker", "popup,width=1000,height=720");
  if (!speaker) notify(`The browser opens no window from here. The speaker's window is at ${address}`);
}
