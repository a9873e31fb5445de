/* The page on a stand: no panels, a large caption, a few big buttons; nothing a visitor does leads away from it. */

import { byId, make, write } from "./dom.js";

let shown = null;

export function start(socket) {
  socket.on("exhibit", (exhibit) => {
    if (!shown) build(socket);
    write(shown.title, exhibit.title);
    write(shown.caption, exhibit.caption);
    write(shown.invite, exhibit.visited ? "" : "Touch a button");
    for (const [role, button] of Object.entries(shown.reverse)) button.hidden = !exhibit.reverse.includes(role);
  });
}

function build(socket) {
  document.body.classList.add("exhibit");
  byId("waiting").querySelector("p, h2, strong, span").textContent = "One moment";
  const big = (words, message) => make("button", { type: "button", onclick: () => socket.send(message) }, words);
  shown = {
    title: make("h2", {}), caption: make("p", {}), invite: make("p", { class: "invite" }),
    reverse: { current: big("Reverse the current", { do: "reverse", what: "current" }), field: big("Reverse the field", { do: "reverse", what: "field" }) },
  };
  byId("picture").after(
    make("section", { class: "stand", "aria-live": "polite" }, shown.title, shown.caption),
    make("div", { class: "touch" }, shown.invite, ...Object.values(shown.reverse), big("Next", { do: "next" })));
  for (const event of ["contextmenu", "dragstart", "selectstart", "gesturestart"]) {
    document.addEventListener(event, (happened) => happened.preventDefault());
  }
  // keys that would reload, search, zoom or leave; those of the bench have nothing to do here either
  window.addEventListener("keydown", (pressed) => {
    if (!["Tab", "Enter", " "].includes(pressed.key)) {
      pressed.preventDefault();
      pressed.stopImmediatePropagation();
    }
  }, true);
  window.addEventListener("wheel", (turned) => turned.ctrlKey && turned.preventDefault(), { passive: false });
}
