/* The page of who holds a marked test: where trainees come in, and who has begun and ended. Nothing of their screens. */

import { byId, make, write } from "../common/dom.js";
import * as looks from "../common/looks.js";
import { draw } from "../common/code.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";

const socket = createSocket();

looks.start();
socket.on("share", ({ addresses, code }) => {
  draw(byId("code"), code);
  write(byId("address"), addresses.length ? addresses.join(" or ") : new URL("sit/", document.baseURI).href);
});
socket.on("notice", ({ text }) => write(byId("notice"), text));
socket.on("test", ({ topics, questions, minutes, file, trainees }) => {
  const limit = minutes === null ? "no time limit" : `${minutes} minutes`;
  write(byId("terms"), `${questions} question${questions === 1 ? "" : "s"} to each, ${limit}, from: ${topics.join("; ")}.`);
  write(byId("file"), file);
  const ended = trainees.filter((trainee) => trainee.ended).length;
  write(byId("counted"), `${trainees.length} begun, ${ended} ended`);
  byId("trainees").replaceChildren(...trainees.map(row));
});

function row({ name, begun, ended, readmitted }) {
  const again = readmitted ? "types the name again to go on"
    : make("button", { type: "button", title: `${name} goes on on another device`, onclick: () => socket.request.readmit(name) }, "Let in again");
  return make("tr", {}, make("td", {}, name), make("td", {}, begun), make("td", {}, ended), make("td", {}, ended ? "" : again));
}

coverWhileWaiting(socket);
socket.connect();

window.bench = { socket }; // for tests and the console
