/* Picture only, over the whole page, for the back row. A lesson's caption and a question stay beside it. */

/** Put the rest away, or bring it back. */
export function change() {
  show(!document.body.classList.contains("whole"));
}

/** Bring the rest back. Whether it was away. */
export function leave() {
  const away = document.body.classList.contains("whole");
  show(false);
  return away;
}

function show(whole) {
  document.body.classList.toggle("whole", whole);
  document.querySelector('[data-do="whole"]').setAttribute("aria-pressed", String(whole));
}
