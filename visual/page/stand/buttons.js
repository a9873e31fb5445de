/* The buttons at the bottom: what may be tried at this stop, or the answers to choose from; the languages; and the next stop.

A button that stays is kept as it is, so that none loses the focus. */

import { make, write } from "../common/dom.js";

let request, nav, acts, tongues, next;
let told = "";

export function start(place, requests) {
  request = requests;
  nav = place;
  acts = make("div", { class: "acts" });
  tongues = make("div", { class: "tongues", role: "group" });
  next = make("button", { type: "button", class: "next", onclick: () => request.next() });
  nav.append(acts, next, tongues);
  // what is spoken of lies above them, however many rows they need
  new ResizeObserver(() => document.body.style.setProperty("--rows", `${nav.offsetHeight}px`)).observe(nav);
}

/** Show the buttons of what the exhibit says. */
export function show({ place, tries, answers, words, language, languages }) {
  const now = JSON.stringify([place, tries, answers, words, language]);
  if (now === told) return;
  told = now;
  const attracts = place < 0;
  lay(acts, attracts ? [[words.touch, () => request.touch(), "start"]] : answers.length ? answers.map(answer) : tries.map(attempt));
  lay(tongues, languages.length > 1 ? languages.map(({ value, words: name }) => [name, () => request.speak(value), value]) : []);
  for (const button of tongues.children) {
    button.lang = button.dataset.does;
    button.setAttribute("aria-pressed", String(button.dataset.does === language));
  }
  tongues.setAttribute("aria-label", words.languages);
  next.hidden = attracts;
  write(next, words.next);
}

const attempt = ({ words, does }, number) => [words, () => request.try(number), does];
const answer = ({ value, words }) => [words, () => request.answer(value), "answer"];

function lay(box, wanted) {
  while (box.children.length > wanted.length) box.lastChild.remove();
  wanted.forEach(([words, pressed, does], place) => {
    const button = box.children[place] || box.appendChild(make("button", { type: "button" }));
    write(button, words);
    button.dataset.does = does;
    button.onclick = pressed;
  });
}
