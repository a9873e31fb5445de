/* Contrast between colours, as defined by WCAG 2. Colours are "#rrggbb". */

import { make } from "./dom.js";

/** 1 (the same) to 21 (black and white). */
export function contrast(one, other) {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

/** An arrow's letter on its colour, in black or white, whichever is easier to read. */
export function chip(letter, colour) {
  const made = make("b", { class: "chip" }, letter);
  made.style.background = colour;
  made.style.color = ["#ffffff", "#000000"].sort((a, b) => contrast(b, colour) - contrast(a, colour))[0];
  return made;
}

function luminance(colour) {
  const [r, g, b] = [1, 3, 5].map((place) => {
    const part = parseInt(colour.slice(place, place + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
