/* A page that lost its connection may find its place taken: a socket is not told why it is refused, so the page asks. */

import { byId, write } from "../common/dom.js";

const ASK_EVERY = 3000; // ms, while there is no line
const ENDED = "Nothing is shown at this address any more. Ask for the new one.";
let asking = 0;

/** A watcher of the line: while it is gone, say why this page is not let in, if that is the reason. */
export function tellWhyNotLetIn(connected) {
  clearInterval(asking);
  write(byId("why-not"), "");
  byId("why-not").previousElementSibling.hidden = false;
  if (connected) return;
  asking = setInterval(async () => {
    try {
      const asked = await fetch(location.href, { cache: "no-store" });
      byId("why-not").previousElementSibling.hidden = asked.status === 404;
      const why = asked.status === 404 ? ENDED : asked.status >= 400 ? (await asked.text()).trim().replace(/^\d+: /, "") : "";
      write(byId("why-not"), why && why[0].toUpperCase() + why.slice(1));
    } catch { /* the bench itself is gone */ }
  }, ASK_EVERY);
}
