/* The picture of one who looks on: turned by hand, with a button that gives the view back that it came with. */

import { byId, write } from "../common/dom.js";
import * as focus from "../common/focus.js";
import * as lookRound from "./look-round.js";
import * as picture from "./picture.js";

export function start(socket) {
  const mark = () => {
    byId("as-shown").hidden = !picture.hasMoved();
    const { scene, view } = socket.told, from = scene && view && scene.views.find(({ name }) => name === view.name);
    byId("seen-from").hidden = !from || !from.words.endsWith(" end") || picture.hasMoved();
    if (from) write(byId("seen-from"), `Seen ${from.words}`);
  };
  const giveBack = () => {
    picture.resetView();
    mark();
  };
  picture.start(byId("picture"), socket);
  for (const event of ["pointermove", "wheel", "pointerup", "dblclick"]) byId("picture").addEventListener(event, mark);
  socket.on("view", mark);
  byId("as-shown").addEventListener("click", giveBack);
  lookRound.start(byId("picture"), picture, giveBack, mark);
  focus.keep(byId("picture"));
}
