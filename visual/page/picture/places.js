/* Where each letter stands: at its own place if that is free, otherwise near by with a line to what it names, or nowhere.

   The letters come in order of importance, and each takes the best place that those before it have left. A letter stays
   where it was until another place is clearly better, so that nothing hops about while the scene turns. No state, no chance:
   the same letters before and now give the same places. All in the page's pixels. */

const APART = 3; // between two letters
const EDGE = 3; // to the picture's edge
const STAYS = 1.1; // of its height: so much nearer another place must be before a letter moves there
const ROUNDS = [1, 1.7, 2.6, 3.7, 5]; // how far out the places round a letter's own lie, in its own lengths
const SIDES = 12; // places on each round
const ACROSS = 7, DOWN = 25; // places for a letter that stands aside
const COVERS = 400; // px of way that it goes rather than cover one place of what is looked at

/* Sideways and upward of each place, in half a letter's width and height and so much more. */
const AROUND = [[0, 0], ...ROUNDS.flatMap((far) => Array.from({ length: SIDES }, (_, side) => {
  const angle = (2 * Math.PI * side) / SIDES;
  return [far * Math.cos(angle), far * Math.sin(angle)];
}))];

/** The place of each of `letters`, most important first: `{ x, y, choice }` or null where there is no room for it.

    letters  { x, y, width, height, own: lines of the thing it names, was: its last choice or null }; x, y is its middle
    room     { left, top, right, bottom }
    taken    boxes that nothing may cover: { left, top, right, bottom }
    tips     lines that no letter may cover: { from: [x, y], to: [x, y], radius }
    covered  whether a place [x, y] belongs to what is looked at: a letter with the role "aside" keeps off all of it
    most     how many at most
    crowded  whether a letter without room is put at its own place all the same */
export function places(letters, { room, taken, tips, covered, most, crowded = false }) {
  const filled = [...taken];
  let left = most;
  return letters.map((letter, index) => {
    if (left <= 0) return null;
    const others = letters.slice(index + 1);
    const found = letter.role === "aside" ? placeAside(letter, { room, filled, covered }) : bestPlace(letter, { room, filled, tips, others });
    const best = found || (crowded ? { ...middle(letter, [0, 0]), choice: 0 } : null);
    if (!best) return null;
    left -= 1;
    filled.push(box(letter, best));
    return best;
  });
}

function bestPlace(letter, surroundings) {
  if (!meet(box(letter, letter), surroundings.room, letter.height)) return null; // what it names is out of sight
  let best = null;
  AROUND.forEach((offset, choice) => {
    const at = middle(letter, offset);
    const away = Math.hypot(at.x - letter.x, at.y - letter.y);
    const staying = choice === letter.was ? STAYS * letter.height : 0;
    if (best && away - staying >= best.cost) return; // no cost is below the way
    const cost = away - staying + costOf(letter, at, surroundings);
    if (cost < (best ? best.cost : Infinity)) best = { ...at, choice, cost };
  });
  return best && { x: best.x, y: best.y, choice: best.choice };
}

/* Clear of what is looked at, as near to what it names as that allows. */
function placeAside(letter, { room, filled, covered }) {
  const [wide, high] = [room.right - room.left - letter.width - 2 * EDGE, room.bottom - room.top - letter.height - 2 * EDGE];
  let best = null;
  for (let choice = 0; choice < ACROSS * DOWN; choice++) {
    const x = room.left + EDGE + letter.width / 2 + (wide * (choice % ACROSS)) / (ACROSS - 1);
    const y = room.top + EDGE + letter.height / 2 + (high * Math.floor(choice / ACROSS)) / (DOWN - 1);
    const own = box(letter, { x, y });
    if (filled.some((other) => meet(own, other, APART))) continue;
    const staying = choice + 1 === letter.was ? STAYS * letter.height : 0;
    const away = Math.hypot(x - letter.x, y - letter.y) - staying;
    if (best && away >= best.cost) continue;
    const cost = away + COVERS * samples(own).filter(covered).length;
    if (!best || cost < best.cost) best = { x, y, choice: choice + 1, cost };
  }
  return best && { x: best.x, y: best.y, choice: best.choice };
}

/* Places spread over a box. */
const samples = ({ left, right, top, bottom }) => [0, 0.25, 0.5, 0.75, 1].flatMap((across) =>
  [0, 0.5, 1].map((down) => [left + across * (right - left), top + down * (bottom - top)]));

/* What a place costs beside the way to it; Infinity where it is not free. */
function costOf(letter, at, { room, filled, tips, others }) {
  const own = box(letter, at);
  if (own.left < room.left + EDGE || own.right > room.right - EDGE || own.top < room.top + EDGE || own.bottom > room.bottom - EDGE) return Infinity;
  if (filled.some((other) => meet(own, other, APART))) return Infinity;
  if (tips.some((tip) => covers(own, tip))) return Infinity;
  if (letter.own.some((line) => covers(own, line))) return Infinity;
  let cost = 0;
  for (const other of others) {
    if (inBox(own, other.x, other.y)) cost += letter.height; // where another has its own place
    for (const line of other.own) if (covers(own, line)) cost += 2.5 * letter.height;
  }
  return cost;
}

const middle = ({ x, y, width, height }, [sideways, upward]) =>
  ({ x: x + sideways * (0.5 * width + 0.45 * height), y: y - upward * 1.05 * height });

/** The box of a letter whose middle is at a place. */
export const box = ({ width, height }, { x, y }) => ({ left: x - width / 2, right: x + width / 2, top: y - height / 2, bottom: y + height / 2 });

/** Whether two boxes are nearer than `apart`. */
export const meet = (a, b, apart = 0) =>
  a.left < b.right + apart && b.left < a.right + apart && a.top < b.bottom + apart && b.top < a.bottom + apart;

const inBox = (a, x, y) => x > a.left && x < a.right && y > a.top && y < a.bottom;

/** Whether a box covers part of a line that is `radius` thick to either side. */
export function covers(a, { from, to, radius }) {
  const grown = { left: a.left - radius, right: a.right + radius, top: a.top - radius, bottom: a.bottom + radius };
  let [first, last] = [0, 1]; // the part of the line inside, between the box's sides
  for (const [axis, low, high] of [[0, grown.left, grown.right], [1, grown.top, grown.bottom]]) {
    const start = from[axis], run = to[axis] - start;
    if (Math.abs(run) < 1e-9) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const [near, far] = [(low - start) / run, (high - start) / run].sort((one, other) => one - other);
    [first, last] = [Math.max(first, near), Math.min(last, far)];
    if (first >= last) return false;
  }
  return true;
}
