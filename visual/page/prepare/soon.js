/* What is typed goes to the bench a second after the last key, not only when its field is left; and at once where the page goes away. */

const PAUSE = 1000; // ms
const waiting = new Map(); // by what is typed: { write, timer }

/** Call `write()` a second after the last key in what has that name. It returns false where nobody listens, and is called again. */
export function soon(name, write) {
  clearTimeout(waiting.get(name)?.timer);
  waiting.set(name, { write, timer: setTimeout(() => writeNow(name), PAUSE) });
}

/** The same at once. */
export function now(name, write) {
  soon(name, write);
  writeNow(name);
}

function writeNow(name) {
  const { write, timer } = waiting.get(name);
  clearTimeout(timer);
  if (write() !== false) waiting.delete(name);
}

const writeAll = () => [...waiting.keys()].forEach(writeNow);

/** From now on nothing is lost with the page, nor while the line to the bench is gone. */
export function start(socket) {
  window.addEventListener("pagehide", writeAll);
  document.addEventListener("visibilitychange", () => document.hidden && writeAll());
  let connected = true;
  socket.watch((is) => {
    if (is && !connected) writeAll();
    connected = is;
  });
}
