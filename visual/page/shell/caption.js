/* The caption of a lesson's step below the picture, or a page of one's own in its place, and the place in the lesson; hidden without
   a lesson. */

import { make, write, writeSentence } from "../common/dom.js";
import * as ownPage from "./own-page.js";

export function start(socket) {
  const words = make("p", { class: "words", "aria-live": "polite" });
  const place = make("p", { class: "place" });
  const track = make("i", { class: "track", "aria-hidden": "true" });
  const strip = make("div", { id: "caption", class: "step-caption", hidden: true }, track, place, words);
  document.querySelector(".view").after(strip);
  let number = null;
  socket.on("step", (newest) => {
    if (number !== null && newest.number !== number) window.scrollTo(0, 0); // on a telephone a new step is seen from its top
    number = newest.number;
    strip.hidden = false;
    writeSentence(words, newest.caption);
    write(place, `Step ${newest.number} of ${newest.count}`);
    ownPage.show(newest.page);
    track.style.setProperty("--done", newest.number / newest.count);
  });
}
