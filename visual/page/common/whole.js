/* Picture only, over the whole page, for the back row. A lesson's caption and a question stay beside it. */

/** Put the rest away, or bring it back. */
export function change() {
  show(!document.body.classList.contains("whole"));
}

/** Bring the rest back. */
export function leave() {
  show(false);
}

function show(whole) {
  document.body.classList.toggle("whole", whole);
  document.querySelector('[data-do="whole"]').setAttribute("aria-pressed", String(whole));
}
