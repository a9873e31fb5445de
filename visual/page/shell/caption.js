/* The caption of a lesson's step below the picture, and the place in the lesson; hidden without a lesson. */

import { make, write } from "../common/dom.js";

export function start(socket) {
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
