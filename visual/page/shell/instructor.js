/* The page of who holds a marked test: where trainees come in, and who has begun and ended. Nothing of their screens. */

import { byId, make, write } from "../common/dom.js";
import * as looks from "../common/looks.js";
import { draw } from "../common/code.js";
import { createSocket } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";

const socket = createSocket();
let whom = null; // the test of whom is handed in once that is sure; null: everybody's

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
  byId("end-all").hidden = ended === trainees.length;
  const focused = document.activeElement.dataset.button;
  byId("trainees").replaceChildren(...trainees.map(row));
  if (focused) document.querySelector(`[data-button="${CSS.escape(focused)}"]`)?.focus();
});
byId("end-all").addEventListener("click", () => makeSure(null));
byId("sure").addEventListener("close", () => byId("sure").returnValue === "yes" && socket.request.end(whom));

function makeSure(name) {
  whom = name;
  write(byId("sure-words"), `Hand in for ${name ?? "everybody who has not ended"}? Nothing more can be answered then.`);
  byId("sure").returnValue = "";
  byId("sure").showModal();
}

function row({ name, begun, ended, readmitted, here }) {
  const button = (words, onclick) => make("button", { type: "button", "data-button": `${words} ${name}`, "aria-label": `${words}: ${name}`, onclick }, words);
  const ways = [
    readmitted ? "types the name again on another device" : button("Let in on another device", () => socket.request.readmit(name)), " ",
    button("Hand in for them", () => makeSure(name)),
  ];
  return make("tr", {}, make("td", {}, name), make("td", {}, begun), make("td", {}, ended || (here ? "" : "page closed")), make("td", {}, ...(ended ? [] : ways)));
}

coverWhileWaiting(socket);
socket.connect();

window.bench = { socket }; // for tests and the console
