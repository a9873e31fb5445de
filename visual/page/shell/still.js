/* One picture for a file: drawn at the size given after the # of the address, and handed to the program. */

import * as looks from "../common/looks.js";
import * as picture from "../picture/picture.js";
import { createSocket } from "../common/socket.js";

const SETTLED = 6; // pictures after the first, in which VPython puts everything in its place

const [width, height] = location.hash.slice(1).split("x").map(Number);
const socket = createSocket();
const place = document.getElementById("picture");
place.style.width = `${width}px`;
place.style.height = `${height}px`;

looks.start();
picture.start(place, socket);
let drawn = 0;
window.picture.onDrawn(async () => {
  if (!socket.told.view || !socket.told.names) return;
  drawn += 1;
  if (drawn < SETTLED) window.picture.redraw();
  if (drawn === SETTLED) await fetch("delivery", { method: "POST", body: await picture.taken() });
});
socket.connect();
