/* Where the browser cannot draw the picture, one sentence in its place says so and what to do; the rest of the page goes on. */
import { make } from "../common/dom.js";

const NO_WEBGL = "This browser cannot draw the picture: it has no WebGL 2. Switch hardware acceleration on in its settings, or open this " +
  "address in another browser; Chromium draws without a graphics card when it is started with --enable-unsafe-swiftshader.";
const EMPTY = "This browser says that it draws the picture, and nothing is to be seen: its graphics driver is at fault. Open this address in " +
  "another browser, or update the driver.";
const GRID = 24; // places across and down that are looked at

let place = null;

/** The sentence where there is no WebGL 2; whether there is. */
export function start(element) {
  place = element;
  if (window.picture.quality.software === null) tell(NO_WEBGL);
}

/** Look at a few pixels of what was just drawn on `canvas`; where nothing but the ground is there, say so. Called once. */
export function look(canvas) {
  const gl = canvas.getContext("webgl2"), seen = new Set(), pixel = new Uint8Array(4);
  if (!gl || gl.isContextLost()) return;
  for (let row = 0; row < GRID; row++) {
    for (let column = 0; column < GRID; column++) {
      const [x, y] = [(column + 0.5) * canvas.width / GRID, (row + 0.5) * canvas.height / GRID].map(Math.floor);
      gl.readPixels(x, y, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      seen.add(pixel.join(" "));
      if (seen.size > 2) return;
    }
  }
  tell(EMPTY);
}

function tell(sentence) {
  if (!place.querySelector(".no-picture")) place.append(make("p", { class: "no-picture", role: "status" }, sentence));
}
