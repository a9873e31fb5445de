/* Turning and zooming the picture by keys, while it has the focus. */

const TURN = 0.12; // radians a press
const NEARER = 0.85; // of what is seen, a press

/** `given()` restores the bench's view, `turned()` is called after every change by a key. */
export function start(surface, { turn, zoom }, given, turned = () => {}) {
  const does = {
    arrowleft: () => turn(-TURN, 0),
    arrowright: () => turn(TURN, 0),
    arrowup: () => turn(0, -TURN),
    arrowdown: () => turn(0, TURN),
    "+": () => zoom(NEARER),
    "=": () => zoom(NEARER), // the same key without Shift
    "-": () => zoom(1 / NEARER),
    enter: given,
  };
  surface.addEventListener("keydown", (event) => {
    const action = does[event.key.toLowerCase()];
    if (!action || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    action();
    turned();
  });
}
