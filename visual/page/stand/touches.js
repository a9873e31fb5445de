/* A touch is answered at once, whatever it asks for: a ring spreads from the finger.

Without a graphics card a picture keeps the page for up to 60 ms. So after a touch no other is begun until the ring moves; but
between two touches, however quickly they come, there is a picture. */

import { make } from "../common/dom.js";

const LASTS = 600; // ms
const AT_MOST = 100; // ms that pictures wait for the ring

let socket, mayWait = true;

export function answerTouches(line) {
  socket = line;
  window.picture.onDrawn(() => (mayWait = true));
  window.addEventListener("pointerdown", ({ clientX, clientY }) => spread(clientX, clientY), true);
  window.addEventListener("keydown", ({ key, repeat }) => {
    if (repeat || (key !== "Enter" && key !== " ")) return;
    const { left, top, width, height } = document.activeElement.getBoundingClientRect();
    spread(left + width / 2, top + height / 2);
  }, true);
}

function spread(x, y) {
  const ring = make("i", { class: "touched", "aria-hidden": "true" });
  ring.style.left = `${x}px`;
  ring.style.top = `${y}px`;
  document.body.append(ring);
  setTimeout(() => ring.remove(), LASTS);
  if (mayWait) picturesWaitFor(ring);
}

function picturesWaitFor(ring) {
  mayWait = false;
  const goOn = [socket.holdBack(), window.picture.holdBack()];
  const moves = Promise.all(ring.getAnimations().map(({ ready }) => ready));
  Promise.race([moves, new Promise((late) => setTimeout(late, AT_MOST))]).finally(() => goOn.forEach((each) => each()));
}
