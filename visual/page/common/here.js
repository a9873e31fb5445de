/* A page on a stand that a visitor cannot leave, change or mark, as far as a page can prevent it. */

const FOR_BUTTONS = new Set(["Tab", "Enter", " "]);
const NEVER = ["contextmenu", "selectstart", "dragstart", "dragover", "drop", "gesturestart", "auxclick", "copy", "cut", "paste"];

export function keepVisitorsHere() {
  for (const event of NEVER) document.addEventListener(event, (happened) => happened.preventDefault());
  // keys that reload, search, zoom, print, go back or show the browser's own pages
  window.addEventListener("keydown", (pressed) => {
    const plain = !pressed.ctrlKey && !pressed.altKey && !pressed.metaKey;
    if (!plain || !FOR_BUTTONS.has(pressed.key)) {
      pressed.preventDefault();
      pressed.stopImmediatePropagation();
    }
  }, true);
  window.addEventListener("wheel", (turned) => turned.ctrlKey && turned.preventDefault(), { passive: false });
  window.addEventListener("touchmove", (moved) => moved.touches.length > 1 && moved.preventDefault(), { passive: false });
  window.open = () => null;
}
