/* The buttons at the bottom: what may be tried at this stop, or the answers to choose from; the languages; the next stop and the one
before.

A button that stays is kept as it is, so that none loses the focus; one that does nothing more is grey, and in its place. */

import { make, write } from "../common/dom.js";

let request, nav, acts, tongues, back, next;
let told = "", here = "", rows = 0;

export function start(place, requests) {
  request = requests;
  nav = place;
  acts = make("div", { class: "acts" });
  tongues = make("div", { class: "tongues", role: "group" });
  back = make("button", { type: "button", class: "back", onclick: () => request.previous() });
  next = make("button", { type: "button", class: "next", onclick: () => request.next() });
  nav.append(acts, back, next, tongues);
  new ResizeObserver(makeRoom).observe(nav);
}

/* What is spoken of lies above them, however many rows they need: at one stop as many as they ever needed, so that the picture stays. */
function makeRoom() {
  const now = [here, innerWidth, innerHeight].join();
  rows = makeRoom.before === now ? Math.max(rows, nav.offsetHeight) : nav.offsetHeight;
  makeRoom.before = now;
  document.body.style.setProperty("--rows", `${rows}px`);
}

/** Show the buttons of what the exhibit says. */
export function show({ place, tries, answers, words, language, languages }) {
  const now = JSON.stringify([place, tries, answers, words, language]);
  if (now === told) return;
  told = now;
  here = `${place} ${language}`;
  const attracts = place < 0;
  lay(acts, attracts ? [[words.touch, () => request.touch(), "start"]] : answers.length ? answers.map(answer) : tries.map(attempt));
  lay(tongues, languages.length > 1 ? languages.map(({ value, words: name }) => [name, () => request.speak(value), value]) : []);
  for (const button of tongues.children) {
    button.lang = button.dataset.does;
    button.setAttribute("aria-pressed", String(button.dataset.does === language));
  }
  tongues.setAttribute("aria-label", words.languages);
  next.hidden = back.hidden = attracts;
  write(next, words.next);
  write(back, words.back);
  makeRoom();
}

const attempt = ({ words, does, more }, number) => [words, () => more && request.try(number), does, more];
const answer = ({ value, words }) => [words, () => request.answer(value), "answer"];

function lay(box, wanted) {
  while (box.children.length > wanted.length) box.lastChild.remove();
  wanted.forEach(([words, pressed, does, more = true], place) => {
    const button = box.children[place] || box.appendChild(make("button", { type: "button" }));
    write(button, words);
    button.dataset.does = does;
    button.onclick = pressed;
    button.setAttribute("aria-disabled", String(!more));
  });
}
