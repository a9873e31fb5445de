/* The picture of one who looks on: turned by hand, with a button that gives the view back that it came with. */

import { byId } from "../common/dom.js";
import * as focus from "../common/focus.js";
import * as lookRound from "./look-round.js";
import * as picture from "./picture.js";

export function start(socket) {
  const mark = () => (byId("as-shown").hidden = !picture.hasMoved());
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
