/* What a kiosk's browser opens: a frame round the exhibit that outlives it.

The exhibit says every second that it is shown. When it falls silent, because the program is gone, because the browser
put a page of its own in its place, or because what drew it broke down, the frame covers it and opens it anew as soon as the
program answers. */

import { keepVisitorsHere } from "../common/here.js";

const COVER_AFTER = 2500; // ms of silence
const ANEW_AFTER = 15000; // ms of silence: a slow machine may take that long to the first picture
const LOOK_EVERY = 500; // ms

let frame = null;
let heard = -Infinity;
let opened = -Infinity;
let asking = false;

window.addEventListener("message", (event) => {
  if (!frame || event.source !== frame.contentWindow || !event.data || event.data.shown === undefined) return;
  heard = performance.now();
  document.querySelector("#cover p").textContent = event.data.shown;
  document.documentElement.lang = event.data.language;
});

setInterval(look, LOOK_EVERY);
keepVisitorsHere();
look();

function look() {
  const now = performance.now();
  document.getElementById("cover").hidden = now - heard < COVER_AFTER;
  if (now - Math.max(heard, opened) > ANEW_AFTER) openAnew();
}

async function openAnew() {
  if (asking) return;
  asking = true;
  try {
    if ((await fetch("exhibit", { cache: "no-store" })).ok) {
      const newest = document.createElement("iframe"); // a new one: nothing is left to go back to
      newest.src = "exhibit";
      newest.title = "Thumbwise"; // a name, in whatever language the tour is
      if (frame) frame.remove();
      document.body.prepend(newest);
      frame = newest;
      opened = performance.now();
    }
  } catch { /* the program is not there: it is asked again */ }
  asking = false;
}
