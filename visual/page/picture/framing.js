/* Where the camera stands so that the subject fills the picture: worked out for whatever shape the picture has. */

export const HALF_ANGLE = Math.PI / 14; // of what is seen from bottom to top
const TURNS = 12; // of the reckoning below; after half as many nothing changes that could be seen

/** Centre and range, as VPython counts them, for a subject seen along `forward`, and how high it is for its width.

    subject        boxes that hold it, each by the corners with its least and its greatest x, y and z
    width, height  of the picture, in pixels
    clear          pixels to leave free at each side: { left, top, right, bottom } */
export function framed(subject, forward, { width, height }, clear) {
  const perUnit = height / (2 * Math.tan(HALF_ANGLE)); // pixels a metre, one metre away
  const [ahead, right, above] = axes(forward);
  const corners = subject.flatMap(cornersOf);
  const [least, most] = [Math.min, Math.max].map((of) => [0, 1, 2].map((axis) => of(...corners.map((corner) => corner[axis]))));
  let centre = least.map((part, axis) => (part + most[axis]) / 2);
  let distance = 4 * Math.max(...least.map((part, axis) => most[axis] - part));
  let shape = 1;
  for (let turn = 0; turn < TURNS; turn++) {
    const seen = corners.map((corner) => {
      const from = corner.map((part, axis) => part - centre[axis]);
      const depth = Math.max(distance + dot(from, ahead), 0.05 * distance);
      return [(perUnit * dot(from, right)) / depth, (-perUnit * dot(from, above)) / depth];
    });
    const [xs, ys] = [0, 1].map((axis) => seen.map((point) => point[axis]));
    const [left, rightmost, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const room = [width - clear.left - clear.right, height - clear.top - clear.bottom];
    const aside = ((left + rightmost) / 2 - (clear.left - clear.right) / 2) * (distance / perUnit);
    const down = ((top + bottom) / 2 - (clear.top - clear.bottom) / 2) * (distance / perUnit);
    centre = centre.map((part, axis) => part + aside * right[axis] - down * above[axis]);
    shape = (bottom - top) / (rightmost - left);
    distance *= Math.max((rightmost - left) / room[0], (bottom - top) / room[1]);
  }
  return { centre, shape, range: (distance * Math.tan(HALF_ANGLE) * Math.min(width, height)) / height }; // half of the shorter side
}

/** Whether a subject framed so comes under one of the boxes { left, top, right, bottom }. */
export function comesUnder(subject, forward, { width, height }, { centre, range }, boxes) {
  const [ahead, right, above] = axes(forward), perUnit = height / (2 * Math.tan(HALF_ANGLE));
  const distance = (range * height) / (Math.min(width, height) * Math.tan(HALF_ANGLE));
  return subject.some((part) => {
    const places = cornersOf(part).map((corner) => {
      const from = corner.map((value, axis) => value - centre[axis]);
      const scale = perUnit / (distance + dot(from, ahead));
      return [width / 2 + scale * dot(from, right), height / 2 - scale * dot(from, above)];
    });
    const [xs, ys] = [0, 1].map((axis) => places.map((place) => place[axis]));
    return boxes.some((box) => Math.min(...xs) < box.right && Math.max(...xs) > box.left && Math.min(...ys) < box.bottom && Math.max(...ys) > box.top);
  });
}

const cornersOf = (box) => [0, 1, 2, 3, 4, 5, 6, 7].map((one) => [0, 1, 2].map((axis) => box[(one >> axis) & 1][axis]));

/* Ahead, to the right and upward, as the camera stands: y is up. */
function axes(forward) {
  const ahead = unit(forward), right = unit(cross(ahead, [0, 1, 0]));
  return [ahead, right, cross(right, ahead)];
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((part) => part / Math.hypot(...a));
