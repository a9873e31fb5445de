/* The keyboard's place on the page is not lost when what had it goes away: a notice closed, a question over, another
   scene's controls. It goes back to where it was before, else to the picture. Who points at things has no such place. */

const REMEMBERED = 8;

/** Watch the whole page; `otherwise` gets the focus if nothing that had it before is left. */
export function keep(otherwise) {
  let been = []; // what the keyboard stood on, the last one last
  let due = 0;

  document.addEventListener("focusin", ({ target }) => {
    if (target.closest("dialog")) return; // a dialog gives the focus back by itself
    if (!target.matches(":focus-visible")) been = [];
    else been = [...been.filter((element) => element !== target), target].slice(-REMEMBERED);
  });

  function look() {
    due = 0;
    const now = document.activeElement;
    if ((now && now !== document.body) || !been.length) return;
    const wasTaken = !isThere(been[been.length - 1]);
    const place = been.reverse().find(isThere) || otherwise;
    been = [];
    if (wasTaken) place.focus({ preventScroll: true }); // else it was let go on purpose
  }

  const soon = () => (due = due || setTimeout(look));
  document.addEventListener("focusout", soon);
  new MutationObserver(soon).observe(document.body, {
    childList: true, subtree: true, attributes: true, attributeFilter: ["hidden", "disabled"],
  });
}

const isThere = (element) =>
  element.isConnected && !element.disabled && !element.closest("[inert]") && element.checkVisibility({ visibilityProperty: true });
