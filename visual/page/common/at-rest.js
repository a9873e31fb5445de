/* For anyone who has asked the system for reduced motion: nothing moves until they run it. */

const less = matchMedia("(prefers-reduced-motion: reduce)");

/** Milliseconds between pictures for followers who asked for reduced motion; otherwise 0. */
export const betweenPictures = () => (less.matches ? 1000 : 0);

/** Pause the bench where it would start by itself: on opening, after an answer, at a lesson's next step. */
export function start(socket) {
  const hold = () => less.matches && socket.request.run(false);
  let followed = runThatThisTabFollowed();
  let waited = false;
  let step = null;
  socket.on("run", (run) => {
    if (run !== followed) hold(); // a page loaded again, a line that came back: as it was left
    followed = run;
  });
  socket.on("question", (question) => {
    if (waited && question !== null && question.given !== null) hold();
    waited = question !== null && question.given === null;
  });
  socket.on("step", ({ number }) => {
    if (step !== null && number !== step) hold();
    step = number;
  });
}

function runThatThisTabFollowed() {
  try {
    return sessionStorage.getItem("run");
  } catch {
    return null;
  }
}
