/* For who has asked the system for less motion: what moves does so because somebody ran it, never by itself. */

const less = matchMedia("(prefers-reduced-motion: reduce)");

/** Milliseconds from picture to picture for who asked for less motion and cannot hold the bench; else 0. */
export const betweenPictures = () => (less.matches ? 1000 : 0);

/** Hold the bench where it would begin to run without being asked: opened, a question answered, a lesson's next step. */
export function start(socket) {
  const hold = () => less.matches && socket.send({ do: "run", on: false });
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
