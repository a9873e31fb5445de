/* Pictures for a file: drawn at the size given after the # of the address, and handed to the program; one, or in a lesson one for each
   of its steps. For paper they are on white, and no higher than what is shown. */

import * as looks from "../common/looks.js";
import * as picture from "../picture/picture.js";
import { createSocket } from "../common/socket.js";

const SETTLED = 6; // pictures after the first, in which VPython puts everything in its place
const LETTERS = 0.09; // of the width, for letters above and below the subject

const asked = new URLSearchParams(location.hash.slice(1));
const [width, height] = ["width", "height"].map((side) => Number(asked.get(side)));
const forPaper = asked.get("kind") === "jpeg";
const socket = createSocket();
const place = document.getElementById("picture");
place.style.width = `${width}px`;
place.style.height = `${height}px`;
if (forPaper) place.style.background = "white";

looks.start();
picture.start(place, socket);
let drawn = 0;
let taken = 0; // the step whose picture was taken last
const step = () => (socket.told.step ? socket.told.step.number : 1);
window.picture.onDrawn(async () => {
  if (!socket.told.view || !socket.told.names || step() === taken) return;
  if (forPaper && drawn === 0) fit();
  drawn += 1;
  if (drawn < SETTLED) return void window.picture.redraw();
  drawn = 0;
  taken = step();
  await fetch("delivery", { method: "POST", body: await picture.taken(`image/${asked.get("kind")}`) });
});
socket.on("step", () => window.picture.redraw()); // it may look as the one before
socket.connect();

/* As high as the subject is for its width (picture.js). */
function fit() {
  const shape = Number(document.body.style.getPropertyValue("--shape")) + LETTERS;
  place.style.height = `${Math.round(Math.min(height, Math.max(height / 2, width * shape)))}px`;
}
