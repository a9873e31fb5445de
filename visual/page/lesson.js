/* The caption of the lesson's step at the foot of the picture, and where in the lesson one is. */

import { byId, make, write } from "./dom.js";

let caption = null;

export function start(socket) {
  socket.on("step", (step) => {
    if (!caption) {
      caption = { words: make("span", {}), place: make("span", { class: "place" }) };
      byId("pace").before(make("p", { class: "caption", "aria-live": "polite" }, caption.place, caption.words));
      document.body.classList.add("lesson-given");
    }
    write(caption.words, step.caption);
    write(caption.place, `${step.number} / ${step.count}`);
    // a lesson goes on beyond the scene at either end
    byId("previous").disabled = step.number === 1;
    byId("next").disabled = step.number === step.count;
  });
}
