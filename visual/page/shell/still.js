/* Pictures for a file: drawn at the size given after the # of the address, and handed to the program; one, or in a lesson one for each
   of its steps. */

import * as looks from "../common/looks.js";
import * as picture from "../picture/picture.js";
import { createSocket } from "../common/socket.js";

const SETTLED = 6; // pictures after the first, in which VPython puts everything in its place

const asked = new URLSearchParams(location.hash.slice(1));
const socket = createSocket();
const place = document.getElementById("picture");
place.style.width = `${asked.get("width")}px`;
place.style.height = `${asked.get("height")}px`;
if (asked.get("kind") === "jpeg") place.style.background = "white"; // for paper

looks.start();
picture.start(place, socket);
let drawn = 0;
let taken = 0; // the step whose picture was taken last
const step = () => (socket.told.step ? socket.told.step.number : 1);
window.picture.onDrawn(async () => {
  if (!socket.told.view || !socket.told.names || step() === taken) return;
  drawn += 1;
  if (drawn < SETTLED) return void window.picture.redraw();
  drawn = 0;
  taken = step();
  await fetch("delivery", { method: "POST", body: await picture.taken(`image/${asked.get("kind")}`) });
});
socket.on("step", () => window.picture.redraw()); // it may look as the one before
socket.connect();
