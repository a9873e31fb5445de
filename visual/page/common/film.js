/* In place of the line to the bench, in a page without one: plays what a bench has told, from the file that the page is.

It has what socket.js has, and `film` beside it: which step is shown, how far it has run, and whether it waits for an answer.
*/
import { isNone, judge } from "../one_file/judge.js";
import { createDispatcher, requestsOver } from "./messages.js";

export const memory = { follow() {}, knownRun: () => null };

const { rate, steps, unpacked } = window.film;
const KEY = /^\D+\d+\D/; // of an attribute: the object and what of it, before the value

export function createSocket() {
  const { told, on, hand, handAll } = createDispatcher();
  const watchers = [], listeners = [];
  const brought = new Map(); // by the number of a step, the things that came with it: their scene, and what hides them
  let reel = null;
  let number = -1;
  let wanted = -1; // the step asked for last: it may still be unpacking
  let place = 0; // how many pictures after the beginning of the step
  let waits = false; // for an answer
  let tried = null; // the first answer, if it was wrong and there is a second try: { choice, words, note }
  let given = null; // the last one: { words, right, told }
  let playing = false;
  let due = 0; // when the next picture is, in ms
  let unpacking = Promise.resolve();
  let wrong = ""; // why the step asked for last cannot be shown

  const film = {
    steps,
    get number() { return number; },
    get place() { return place; },
    get length() { return reel === null ? 0 : reel.pictures.length; },
    get waits() { return waits; },
    get tried() { return tried; },
    get given() { return given; },
    get playing() { return playing; },
    get wrong() { return wrong; },
    on: (listener) => listeners.push(listener),
    go, seek, play, hold, reveal,
  };
  const changed = () => listeners.forEach((listener) => listener());

  /* One after the other: each brings the shapes that those before it have not brought. */
  function go(step) {
    wanted = Math.max(0, Math.min(steps.length - 1, step));
    unpacking = unpacking.then(() => show(wanted)).then(() => { wrong = ""; }, tellWrong).then(changed);
    return unpacking;
  }

  function tellWrong(error) {
    console.error("this step cannot be shown", error);
    wrong = `Step ${wanted + 1} is damaged in this file and cannot be shown: copy or download the file again.`;
    if (reel === null) window.tellDamaged(); // nothing can be shown
  }

  async function show(step) {
    if (step === number && reel !== null) return;
    const cmds = [], newly = [];
    for (let earlier = 0; earlier <= step; earlier++) {
      if (!steps[earlier].shapes || brought.has(earlier)) continue;
      const { shapes, scene, hides } = await unpacked(`shapes-${earlier}`);
      cmds.push(...shapes);
      newly.push([earlier, { scene, hides }]);
    }
    reel = await unpacked(`reel-${step}`); // from here on nothing can fail
    for (const [earlier, things] of newly) brought.set(earlier, things);
    number = step;
    place = 0;
    waits = steps[step].asks;
    tried = given = null;
    playing = !waits && !steps[step].holds;
    const away = [...brought.values()].flatMap(({ scene, hides }) => (scene === reel.scene ? [] : hides));
    const begin = { vote: null, ...reel.begin, stream: { cmds, attrs: [...away, ...reel.begin.stream.attrs] } };
    tell(begin);
    due = performance.now() + 1000 / rate;
  }

  function tell(message) {
    socket.arrivedAt = performance.now();
    const { bench, tally, question } = message;
    handAll({
      ...message, ...(given && question && { question: { ...question, reason: `${given.told} ${question.reason}`.trim() } }),
      ...(bench && { bench: { ...bench, running: playing } }), ...(tally && { tally: { ...tally, counts: null, before: null } }),
    });
    for (const watcher of watchers) watcher(true);
  }

  const tellWhetherItRuns = () => hand("bench", { ...told.bench, running: playing });

  /* All that has changed up to a picture, in one message. */
  function seek(picture) {
    if (reel === null || waits) return;
    const last = Math.max(steps[number].asks ? 1 : 0, Math.min(reel.pictures.length, picture)); // its first picture brings the answer
    const messages = last >= place ? reel.pictures.slice(place, last) : [reel.begin, ...reel.pictures.slice(0, last)];
    const attrs = new Map(), points = [];
    let clear = false, all = {};
    for (const { stream, chart, ...rest } of messages) {
      all = { ...all, ...rest };
      for (const text of (stream && stream.attrs) || []) attrs.set((KEY.exec(text) || [text])[0], text);
      if (chart && chart.clear) [clear, points.length] = [true, 0];
      if (chart) points.push(...chart.points);
    }
    place = last;
    if (messages.length) tell({ ...all, stream: { attrs: [...attrs.values()] }, ...(clear || points.length ? { chart: { clear, points } } : {}) });
    due = performance.now() + 1000 / rate;
    changed();
  }

  function play() {
    if (reel === null || waits) return;
    if (place >= reel.pictures.length) seek(0);
    playing = true;
    due = performance.now();
    tellWhetherItRuns();
    changed();
  }

  function hold() {
    playing = false;
    tellWhetherItRuns();
    changed();
  }

  /* The answer to the question that waits, given or not. */
  function reveal() {
    if (!waits) return;
    waits = false;
    if (!steps[number].stays) return play();
    seek(1); // a figure of that instant was asked for
    hold();
  }

  /* As in practice a wrong one may be tried once more, before the answer is shown. */
  function answer(choice) {
    if (!waits || (tried && choice === tried.choice)) return false;
    const { judged } = steps[number], { round } = told.tally, verdict = judge(told.question, judged, choice);
    if (verdict && !verdict.right && judged.again && !tried) {
      tried = { choice, words: verdict.words, note: `Wrong: ${verdict.words}. ${verdict.told} ${judged.again}`.replace(/ +/g, " ") };
      hand("vote", { round, choice: null, refused: "" });
    } else {
      given = verdict;
      hand("vote", { round, choice: verdict && choice, refused: verdict ? "" : isNone(judged) });
      if (verdict) reveal();
    }
    changed();
    return true;
  }

  function frame(now) {
    requestAnimationFrame(frame);
    if (!playing || reel === null || now < due) return;
    const late = Math.min(10, Math.floor((now - due) * rate / 1000)); // a slow machine leaves pictures out
    seek(place + 1 + late);
    if (place >= reel.pictures.length) hold();
  }

  const socket = {
    arrivedAt: 0,
    told,
    on,
    request: requestsOver((message) => message.do === "answer" && answer(message.choice)),
    watch: (watcher) => watchers.push(watcher),
    send: (message) => message.do === "answer" && answer(message.choice),
    connect() {
      go(Math.max(0, Number(new URLSearchParams(location.hash.slice(1)).get("step") || 1) - 1));
      requestAnimationFrame(frame);
    },
    drop() {},
    film,
  };
  return socket;
}
