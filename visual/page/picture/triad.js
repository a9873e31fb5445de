/* Three small arrows that name the bench's directions while the picture is turned by hand: the words of the ready view keep
   their meaning, whichever way one looks. */

const SVG = "http://www.w3.org/2000/svg";
const SIZE = 132, LONG = 38, EDGE = 2; // the page's pixels

let drawing = null, named = []; // the words with their directions on the bench

export function start(place) {
  drawing = document.createElementNS(SVG, "svg");
  drawing.setAttribute("class", "triad");
  drawing.setAttribute("aria-hidden", "true"); // screen-reader users do not need it
  hide();
  place.append(drawing);
}

/** `directions`: pairs of words and a unit vector; both ways along each axis. */
export function name(directions) {
  named = directions || [];
}

export function hide() {
  drawing.style.display = "none";
}

/** Show it as seen with the camera turned by `turn` to the right and tilted by `tilt`, radians. */
export function show(turn, tilt) {
  const [c, s] = [Math.cos(turn), Math.sin(turn)], [ct, st] = [Math.cos(tilt), Math.sin(tilt)];
  const forward = [ct * s, st, -ct * c], right = [c, 0, s], up = [-st * s, ct, st * c];
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  // of each pair the arrow that comes toward the eye hides nothing; the farther ones are drawn first
  const arrows = named
    .map(([words, axis]) => ({ words, x: LONG * dot(axis, right), y: -LONG * dot(axis, up), near: -dot(axis, forward) }))
    .sort((a, b) => a.near - b.near).slice(named.length / 2);
  drawing.replaceChildren(...arrows.flatMap(drawn));
  drawing.style.display = "";
  const left = Math.min(-SIZE / 2, ...[...drawing.querySelectorAll("text")].map((text) => text.getBBox().x - EDGE)); // no word is cut off
  drawing.setAttribute("viewBox", `${left} ${-SIZE / 2} ${SIZE} ${SIZE}`);
}

function drawn({ words, x, y }) {
  const line = document.createElementNS(SVG, "line"), text = document.createElementNS(SVG, "text");
  for (const [name, value] of Object.entries({ x1: 0, y1: 0, x2: x, y2: y })) line.setAttribute(name, value);
  const length = Math.hypot(x, y) || 1, beyond = Math.max(length + 10, 14);
  text.setAttribute("x", (x / length) * beyond);
  text.setAttribute("y", (y / length) * beyond + 4);
  text.setAttribute("text-anchor", x > 6 ? "start" : x < -6 ? "end" : "middle");
  text.textContent = words;
  return [line, text];
}
