/* The connection to the bench: opens it, keeps it, restores it.

The bench sends the next message when the last one is on screen, so that it never runs ahead of what is seen. A message
is therefore applied in the frame that shows it; a page that is not visible has no frames and answers on a slow clock.
*/
import { createDispatcher, requestsOver } from "./messages.js";

const HIDDEN_PAGE = 300; // ms between answers of a page nobody sees
const STUCK_FRAME = 500; // ms: a covered window may be "visible" and yet get no frames
const PING = 2000; // ms between questions whether the line lives
const SILENCE = 15000; // ms without an answer: the line is dead though nobody closed it; a slow machine builds a scene for seconds
const LONGEST_PAUSE = 3000; // ms between attempts to connect
const LONGEST_ADDRESS = 4000; // characters: the bench takes fewer and says so; endless ones would break the line

/* A page that comes back to a bench that went on must not pull it back to where this page last saw it; one that was
opened at a bookmark, or finds the program started anew, must bring its address along. So the tab remembers which run
of the program it last followed, and to which address. */
export const memory = {
  follow(what, value) {
    try {
      sessionStorage.setItem(what, value);
    } catch { /* a browser that keeps nothing: then every page brings its address */ }
  },
  knownRun() {
    try {
      return sessionStorage.getItem("address") === location.search.replace(/^\?/, "") ? sessionStorage.getItem("run") : null;
    } catch {
      return null;
    }
  },
};

/** Keep the set-up and the run of the program in the address bar and in this tab's memory. */
export function followAddress(socket) {
  socket.on("run", (run) => memory.follow("run", run));
  socket.on("address", (address) => {
    memory.follow("address", address);
    if (location.search.replace("?", "") !== address) history.replaceState(null, "", address ? `?${address}` : location.pathname);
  });
}

/** A line to the bench, not yet open. With a `rest`, in milliseconds, the page shows no more than one picture in so long. */
export function createSocket(rest = 0) {
  const { told, on, hand, handAll } = createDispatcher();
  const request = requestsOver(send);
  const watchers = [];
  let line = null;
  let pause = 250;
  let retry = 0;
  let waiting = []; // messages that are not on screen yet
  let frame = 0;
  let clock = 0;
  let heard = 0;
  let asked = 0;
  let looked = 0;
  let shown = null; // what the watchers were last told
  let held = false; // nothing is shown now

  function connect() {
    clearTimeout(retry);
    retry = 0;
    const address = new URL("socket", document.baseURI);
    address.protocol = address.protocol.replace("http", "ws");
    address.search = address.hash = "";
    const mine = new WebSocket(address);
    line = mine;
    asked = 0;
    mine.onopen = () => request.open(location.search.replace(/^\?/, "").slice(0, LONGEST_ADDRESS), memory.knownRun());
    mine.onmessage = (event) => line === mine && receive(understood(event.data));
    mine.onclose = () => line === mine && lose();
  }

  function lose() {
    const old = line;
    line = null;
    waiting = [];
    if (old && old.readyState < WebSocket.CLOSING) old.close();
    tell(false);
    retry = setTimeout(connect, pause);
    pause = Math.min(pause * 1.7, LONGEST_PAUSE);
  }

  function tell(connected) {
    if (shown === connected) return;
    shown = connected;
    for (const watcher of watchers) watcher(connected);
  }

  function receive(message) {
    heard = performance.now();
    pause = 250;
    if ("alive" in message) return hand("alive", true);
    if (!waiting.length) socket.arrivedAt = heard;
    waiting.push(message);
    schedule();
  }

  /* What cannot be read is passed over; the bench still waits for its answer. */
  function understood(text) {
    try {
      const message = JSON.parse(text);
      if (message !== null && typeof message === "object") return message;
    } catch { /* it is told below */ }
    console.error("the bench sent something that is no message", String(text).slice(0, 200));
    return {};
  }

  function schedule() {
    if (held) return;
    if (!frame && !document.hidden) frame = requestAnimationFrame(apply);
    if (!clock) clock = setTimeout(apply, document.hidden ? HIDDEN_PAGE : STUCK_FRAME);
  }

  function unschedule() {
    cancelAnimationFrame(frame);
    clearTimeout(clock);
    frame = clock = 0;
  }

  function apply() {
    unschedule();
    const messages = waiting;
    waiting = [];
    for (const message of messages) {
      handAll(message);
      if (rest) setTimeout(request.ready, rest);
      else request.ready();
    }
    if (messages.length) tell(true);
  }

  function send(object) {
    if (!line || line.readyState !== WebSocket.OPEN) return false;
    line.send(JSON.stringify(object));
    return true;
  }

  /* A sleeping laptop or a pulled cable: no message comes, not even that the connection is closed. */
  function lookAfter() {
    const now = performance.now();
    const late = now - looked > 2 * PING; // this page itself stood still: give waiting messages their turn first
    looked = now;
    if (!line || line.readyState === WebSocket.CLOSED) return;
    if (asked && heard < asked) {
      if (!late && now - asked > SILENCE) lose();
      return;
    }
    asked = now;
    if (line.readyState === WebSocket.OPEN) request.alive();
  }

  setInterval(lookAfter, PING);
  document.addEventListener("visibilitychange", () => {
    if (waiting.length) apply();
  });
  window.addEventListener("online", () => retry && connect());

  const socket = {
    /** When that came which is shown now: milliseconds, as performance.now() has them. */
    arrivedAt: 0,
    told,
    on,
    request,
    /** Call `watcher(true)` when a message has been shown, `watcher(false)` when the connection has gone. */
    watch(watcher) {
      watchers.push(watcher);
    },
    /** Send an object as it is, for tests; false when nobody listens. */
    send,
    connect,
    /** Show nothing that comes, until the function that is returned is called. */
    holdBack() {
      unschedule();
      held = true;
      return () => {
        held = false;
        if (waiting.length) schedule();
      };
    },
    /** Drop the line as if the bench had gone; it comes back by itself. */
    drop: lose,
  };
  return socket;
}
