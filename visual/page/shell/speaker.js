/* The speaker's window: notes, answer, what comes next, the clock, and the keys of the bench. It has no picture. */

import { byId, make, write, writeSentence } from "../common/dom.js";
import * as keys from "../common/keys.js";
import * as looks from "../common/looks.js";
import { createSocket, memory } from "../common/socket.js";
import { coverWhileWaiting } from "../common/waiting.js";

const LEAD = /^(\p{Lu}[\p{L}', -]{1,44}): (.+)$/u; // a line of the notes that says what it is
const CARE = /^(care|caution|safety|warning)$/i;

const socket = createSocket();
const told = socket.told;
const buttons = {};

const waits = () => Boolean(told.question && told.question.given === null);
const takes = (role) => Boolean(told.scene && told.scene.controls.some((control) => control.role === role));
const reverse = (what) => takes(what) && socket.request.reverse(what);

const actions = {
  next: () => socket.request.next(),
  previous: () => socket.request.previous(),
  run: () => socket.request.run(!told.bench.running),
  step: () => socket.request.step(),
  restart: () => socket.request.restart(),
  reveal: () => waits() && socket.request.reveal(),
  answers: () => socket.request.answers(!told.bench.answers_shown),
  ask: () => socket.request.ask(),
  predict: () => socket.request.ask({ present: true }),
  current: () => reverse("current"),
  field: () => reverse("field"),
  view: nextView,
  clock: () => socket.request.clock(),
  text: looks.larger,
  theme: looks.otherTheme,
  keys: () => (byId("keys").open ? byId("keys").close() : byId("keys").showModal()),
};

looks.start();
build();
keys.start(actions, answer, () => write(byId("notice"), ""), false);
socket.on("run", (run) => memory.follow("run", run));
socket.on("step", showStep);
socket.on("scene", showScene);
socket.on("prompt", showPrompt);
socket.on("question", showQuestion);
socket.on("tally", showQuestion);
socket.on("bench", showBench);
socket.on("notice", ({ text }) => write(byId("notice"), text));
socket.on("clock", showClock);
setInterval(showTimeOfDay, 1000);
showTimeOfDay();
coverWhileWaiting(socket);
socket.connect();

window.bench = { socket }; // for tests and the console

function build() {
  const button = (name, words, key, look = "") => {
    buttons[name] = make("button", {
      type: "button", class: look, "data-do": name, "aria-keyshortcuts": key || false, onclick: () => actions[name](),
    }, make("span", { class: "words" }, words), ...(key ? [make("kbd", { "aria-hidden": "true" }, key)] : []));
    return buttons[name];
  };
  const group = (words, ...members) => make("div", { class: "group", role: "group", "aria-label": words }, ...members);
  byId("buttons").append(
    group("The lesson", button("previous", "Previous", "P"), button("next", "Next", "N", "main")),
    group("The bench", button("run", "Hold", "Space"), button("restart", "Restart", "0"), button("ask", "Ask the class", "Q")),
    group("This window", button("clock", "Start clock"), button("keys", "Keys", "K")));
}

/* A digit answers for the class, as on the bench. */
function answer(place) {
  if (waits() && told.question.choices[place]) socket.request.answer(told.question.choices[place].value);
}

function nextView() {
  if (!told.scene || !told.view || !told.scene.views.length) return;
  const { views } = told.scene;
  const place = views.findIndex(({ name }) => name === told.view.name);
  socket.request.view(views[(place + 1) % views.length].name);
}

function showScene() {
  write(byId("scene"), told.step && told.step.page ? "A page" : told.scene.title);
}

function showStep(step) {
  write(byId("place"), `Step ${step.number} of ${step.count}`);
  writeSentence(byId("words"), step.caption || (step.page ? step.page.title : ""));
  showScene();
  document.title = `Step ${step.number}: the speaker's window \u2013 Thumbwise`;
  buttons.previous.disabled = step.number === 1;
  for (const name of ["run", "restart", "ask"]) buttons[name].disabled = Boolean(step.page);
  showWayOn();
  showClock();
}

function showPrompt({ notes, next }) {
  const lines = notes.split("\n").map((line) => line.trim()).filter(Boolean);
  byId("notes").parentElement.hidden = !lines.length;
  byId("notes").replaceChildren(...lines.map(noted));
  byId("notes").parentElement.hidden = !lines.length;
  writeSentence(byId("coming"), next ? next.caption || "(no caption)" : "End of the lesson.");
  const parts = next ? [next.scene && `Change of scene: ${next.scene}`, next.asks && "It asks a question."] : [];
  write(byId("coming-scene"), parts.filter(Boolean).join(". "));
  showQuestion();
}

function noted(line) {
  const [, lead, rest] = LEAD.exec(line) || [null, null, line];
  if (!lead) return make("p", {}, line);
  return make("p", { class: CARE.test(lead) ? "care" : "" }, make("b", {}, `${lead}: `), rest);
}

/* The answer, before the class sees it. */
function showQuestion() {
  const { question = null, prompt, tally } = told;
  const answer = prompt && prompt.answer;
  const card = byId("question");
  card.hidden = question === null || !answer;
  showWayOn();
  if (card.hidden) return card.replaceChildren();
  const { counts, before } = prompt;
  const head = waits() ? "The question is open. Answer, not yet shown to the class:" : "Answer, shown to the class:";
  card.replaceChildren(
    make("h2", { id: "question-words" }, question.text),
    make("ol", {}, ...question.choices.map(({ value, words }, place) =>
      make("li", { class: words === answer.words ? "true" : "" }, make("b", {}, place + 1), words,
        before ? ` (${before[value]} \u2192 ${counts[value]})` : counts[value] ? ` (${counts[value]})` : ""))), // before the class sees them
    make("p", {}, head, " ", make("strong", {}, answer.words), answer.accepted ? `; accept ${answer.accepted}` : ""),
    make("p", { class: "reason" }, answer.reason),
    ...(question.choices.length && tally && tally.following ? [make("p", { class: "note" }, `${tally.answered} of ${tally.following} followers have answered${
      tally.answered && !tally.counts ? "; how, the class does not see yet" : ""}.`)] : []));
}

function showWayOn() {
  const { step } = told;
  write(buttons.next.querySelector(".words"), told.prompt ? told.prompt.onward : "Next");
  buttons.next.disabled = Boolean(step && step.number === step.count && !waits());
}

function showClock() {
  const { clock, step } = told;
  if (!clock || !step) return; // the other of both is still to come
  const some = clock.planned_steps;
  showTaken("lesson", clock.lesson, clock.lesson_planned, some < step.count ? ` for ${some} of ${step.count} steps` : "");
  showTaken("step", clock.step, clock.step_planned);
  write(byId("clock-waits"), clock.runs ? "" : "The clock starts when you go on, or when you press \u201cStart clock\u201d.");
  write(buttons.clock.querySelector(".words"), clock.runs ? "Restart clock" : "Start clock");
}

function showBench(bench) {
  write(buttons.run.querySelector(".words"), bench.running ? "Hold" : "Run");
}

/* The time taken, and beside it what was planned, if anything was. */
function showTaken(what, taken, planned, forWhat = "") {
  write(byId(`in-${what}`), lasted(taken));
  write(byId(`${what}-planned`), planned ? `of ${lasted(planned)} planned${forWhat}` : "");
  byId(`in-${what}`).parentElement.classList.toggle("over", planned > 0 && taken > planned);
}

function showTimeOfDay() {
  write(byId("now"), new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" }));
}

function lasted(seconds) {
  const two = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor(seconds / 60) % 60;
  return (hours ? `${hours}:${two(minutes)}` : minutes) + `:${two(seconds % 60)}`;
}
