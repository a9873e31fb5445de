/* A touch is answered at once, whatever it asks for: a ring spreads from the finger. */

import { make } from "../common/dom.js";

const LASTS = 600; // ms

export function answerTouches() {
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
}
