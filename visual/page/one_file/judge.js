/* Judges an answer in a file that has no bench: by the choices, or by a figure that is read here as the bench reads it
   (scenes/scene/typed.py). What is told of a wrong one was put into the file when it was made. */

const NUMBER = /^[-+]?(\d+(\.\d*)?|\.\d+)(e[-+]?\d+)?/i;

/** Of the answer `given` to `question`: what it is in words, whether it is right, and what is told of it; null if it is none. */
export function judge(question, { figure, told: sentences }, given) {
  if (!figure) {
    const choice = question.choices.find(({ value }) => value === given);
    return choice && { words: choice.words, right: !(given in sentences), told: sentences[given] || "" };
  }
  const size = read(figure, given);
  if (size === null) return null;
  const [low, high] = figure.bounds;
  const near = (wanted) => Math.abs(size - wanted) <= figure.tolerance * Math.max(Math.abs(size), Math.abs(wanted)) + 1e-12;
  const given_by = new Set(sentences.filter(([wrong]) => near(wrong)).map(([, sentence]) => sentence));
  const words = `${Number(size.toPrecision(4))} ${figure.unit}`.replace("-", "\u2212").trim();
  return { words, right: low - 1e-9 * Math.abs(low) <= size && size <= high + 1e-9 * Math.abs(high), told: given_by.size === 1 ? [...given_by][0] : "" };
}

/** Why an answer was not taken. */
export const isNone = ({ figure }) => (figure.unit ? "Write a figure with its unit, such as 12 kg." : "Write a figure, without a unit.");

/** A figure as somebody writes it, in its own unit; null if it is none, has no unit or one of something else. */
export function read({ unit, spellings, prefixes }, given) {
  const plain = given.replace(/\u2212/g, "-").trim()
    .replace(/(\d)[ ,'\u202f](?=\d{3}(?!\d))/g, "$1").replace(/(\d),(?=\d)/g, "$1.")
    .replace(/^(about|approx\.?|approximately|=|~|it is|in slot|slot)\s*/i, "");
  const found = NUMBER.exec(plain);
  if (!found) return null;
  const written = plain.slice(found[0].length).trim().replace(/\.$/, "").replace(/(^|\s+)(per|a)\s+/gi, "/").replace(/ /g, "")
    .replace(/^(nano|micro|milli|kilo|mega)/i, (word) => ({ nano: "n", micro: "\u00b5", milli: "m", kilo: "k", mega: "M" })[word.toLowerCase()])
    .replace(/\u03bc/g, "\u00b5").replace(/\/minutes?$|\/mins$/i, "/min").replace(/\/sec(ond)?s?$/i, "/s").replace(/\/(metre|meter)s?$/i, "/m");
  if (!unit) return written ? null : Number(found[0]);
  const prefix = Object.keys(prefixes).find((one) => written.startsWith(one) && spellings.includes(written.slice(one.length).toLowerCase()));
  return prefix === undefined ? null : Number(found[0]) * prefixes[prefix];
}
