/* Symbols with a subscript, which plain text writes behind a low line: "n_s", "R_lamp". */

/** The text in runs, [words, whether it stands low], one after the other. */
export const runsOf = (text) => text.split(/(_\p{L}[\p{L}\d]*|_\d+)/u).filter(Boolean).map((part) => (part.startsWith("_") ? [part.slice(1), true] : [part, false]));

/** The symbol of a reading with what stands behind it, a phase or a number, as its subscript: "U V" is "U_V". */
export const symbolOf = ({ symbol }) => symbol.replace(/(?<=[\p{L}\d]) (?=[\p{L}\d]+$)/u, "_");

/** Put the text into `element` with its subscripts, touching the page only when it differs. */
export function lettered(element, text) {
  if (element.dataset.text === text) return;
  element.dataset.text = text;
  element.replaceChildren(...runsOf(text).map(([words, low]) => {
    if (!low) return words;
    const sub = document.createElement("sub");
    sub.textContent = words;
    return sub;
  }));
}
