/* A page of the instructor's own in place of the picture: its title, its text and its picture. */

import { byId, make } from "../common/dom.js";

let shown = "null"; // the page as it is shown

/** Show that page, or with null the bench again. */
export function show(page) {
  const newest = JSON.stringify(page);
  if (newest === shown) return;
  shown = newest;
  document.body.classList.toggle("on-a-page", page !== null);
  byId("own-page")?.remove();
  if (page === null) return;
  const { title, text, picture, shows } = page;
  document.querySelector(".view").append(make("article", { id: "own-page", class: picture ? "own-page with-picture" : "own-page", tabindex: 0 },
    ...(title ? [make("h1", {}, title)] : []),
    ...(text ? [make("div", { class: "text" }, ...written(text))] : []),
    ...(picture ? [make("img", { src: picture, alt: shows || title })] : [])));
}

/* Each line a paragraph; lines that begin with a dash are a list. */
function written(text) {
  const blocks = [];
  for (const line of text.split("\n").map((one) => one.trim()).filter(Boolean)) {
    const item = /^[-\u2013\u2022*] +(.*)$/.exec(line);
    const last = blocks[blocks.length - 1];
    if (!item) blocks.push(make("p", {}, line));
    else if (last && last.matches("ul")) last.append(make("li", {}, item[1]));
    else blocks.push(make("ul", {}, make("li", {}, item[1])));
  }
  return blocks;
}
