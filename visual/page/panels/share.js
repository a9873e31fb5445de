/* The address at which others come in, with its code to scan. */

import { draw } from "../common/code.js";
import { byId, write } from "../common/dom.js";

export function start(socket) {
  socket.on("share", ({ addresses, code }) => {
    byId("share").hidden = !addresses.length;
    write(byId("share").querySelector("b"), addresses.map((address) => address.replace("http://", "")).join(" or "));
    for (const svg of document.querySelectorAll("svg.code")) draw(svg, code);
    write(byId("way-in-address"), addresses[0] || "");
  });
  byId("scan").addEventListener("click", () => byId("way-in").showModal());
}
