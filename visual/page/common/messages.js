/* Messages on the socket, both ways: their names and fields, and the small functions that send them and hand them on. What each
is for stands in host/messages.py, which has the same ones. */

/** @typedef {string|number|boolean|null} Scalar */

// from a page

/** @typedef {{ do: "ready" }} Ready */
/** @typedef {{ do: "alive" }} Alive */
/** @typedef {{ do: "open", address: string, run?: string|null }} Open */
/** @typedef {{ do: "scene", name: string }} ShowScene */
/** @typedef {{ do: "next" }} Next */
/** @typedef {{ do: "previous" }} Previous */
/** @typedef {{ do: "set", name: string, value: Scalar }} SetControl */
/** @typedef {{ do: "reverse", what: string }} Reverse */
/** @typedef {{ do: "join", first: string, second: string }} Join */
/** @typedef {{ do: "press", name: string }} Press */
/** @typedef {{ do: "run", on: boolean }} Run */
/** @typedef {{ do: "step" }} OneStep */
/** @typedef {{ do: "restart" }} Restart */
/** @typedef {{ do: "answers", shown: boolean }} ShowAnswers */
/** @typedef {{ do: "ask", seed?: Scalar, present?: boolean, kind?: string }} Ask */
/** @typedef {{ do: "answer", choice: string }} Answer */
/** @typedef {{ do: "reveal" }} Reveal */
/** @typedef {{ do: "enough" }} CloseQuestion */
/** @typedef {{ do: "view", name: string }} Look */
/** @typedef {{ do: "tally" }} ShowTally */
/** @typedef {{ do: "work", topic: string, inputs?: string }} Work */
/** @typedef {{ do: "clock" }} StartClock */
/** @typedef {{ do: "touch", again?: boolean }} Touch */
/** @typedef {{ do: "try", number: number }} Try */
/** @typedef {{ do: "turn", speed: number }} Turn */
/** @typedef {{ do: "speak", language: string }} Speak */

// from the bench

/** @typedef {{ name: string, title: string }} SceneTitle */
/** @typedef {{ value: string, words: string }} ChoiceWords */
/** @typedef {{ name: string, words: string, unit: string, kind: string, role: string, default: Scalar, only_with:
 *  Scalar[]|null, low?: number, high?: number, step?: number, choices?: ChoiceWords[], other?: string }} Control */
/** @typedef {{ words: string, axis: number[] }} Direction */
/** @typedef {{ name: string, words: string, forward: number[], up: number[], directions: Direction[] }} ReadyView */
/** @typedef {{ letter: string, words: string, colour: string, unit: string }} ArrowKey */
/** @typedef {{ name: string, words: string, at: number[]|null, alone: boolean, on: number|null }} Pick */
/** @typedef {{ name: string, colour: string }} Series */
/** @typedef {{ words: string, unit: string, series: Series[] }} ChartBelow */
/** @typedef {{ words: string, unit: string, seconds: number, series: Series[], below: ChartBelow|null }} ChartAxes */
/** @typedef {{ name: string, title: string, principle: string, caution: string, leaves_out: string[], narration: string,
 *  controls: Control[], views: ReadyView[], arrows: ArrowKey[], chart: ChartAxes|null }} Scene */
/** @typedef {{ symbol: string, words: string, value: string, unit: string, formula: string, first: boolean }} Reading */
/** @typedef {{ name: string, words: string, here: boolean }} WorkingTopic */
/** @typedef {{ name: string, words: string, unit: string, value: string, choices: string[] }} WorkingInput */
/** @typedef {{ words: string, symbols: string, numbers: string, result: string }} BoardLine */
/** @typedef {{ topic: string, topics: WorkingTopic[], title: string, inputs: WorkingInput[], entered: boolean, lines: BoardLine[],
 *  remark: string, wrong: string }} Working */
/** @typedef {{ running: boolean, slowness: string, answers_shown: boolean, held: string }} BenchState */
/** @typedef {{ right: number, asked: number }} Score */
/** @typedef {{ text: string, choices: ChoiceWords[], answered: string, kind: string, covers: boolean, seed: number|null, tried: string|null,
 *  given: string|null, right: boolean|null, answer: string|null, reason: string|null, note: string, score: Score }} Question */
/** @typedef {{ text: string, serial: number }} Notice */
/** @typedef {{ name: string, forward: number[], up: number[], subject: number[][][], directions: [string, number[]][],
 *  letters: string[] }} View */
/** @typedef {{ words: string, unit: string, ticks: number[] }} Axis */
/** @typedef {{ name: string, colour: string, points: ((number|null)[])[] }} Curve */
/** @typedef {{ x: Axis, y: Axis, lines: Curve[] }} Plot */
/** @typedef {{ name: string, colour: string, x: number, y: number|null }} Mark */
/** @typedef {{ round: number, following: number, answered: number, counts: Object<string, number>|null }} Tally */
/** @typedef {{ round: number, choice: string|null, refused: string }} Vote */
/** @typedef {{ words: string, does: string }} TryButton */
/** @typedef {{ serial: number, place: number, stops: number, title: string, caption: string, spoken: string, tries: TryButton[],
 *  answers: ChoiceWords[], slow: boolean, left: number|null, asleep: boolean, words: Object<string, string>, language: string,
 *  languages: ChoiceWords[] }} Exhibit */
/** @typedef {{ lines: [string, string][], wrong: string[] }} Status */
/** @typedef {{ addresses: string[] }} Share */
/** @typedef {{ number: number, count: number, caption: string, title: string }} LessonStep */
/** @typedef {{ caption: string, scene: string, asks: boolean }} NextStep */
/** @typedef {{ words: string, reason: string }} RightAnswer */
/** @typedef {{ notes: string, next: NextStep|null, answer: RightAnswer|null }} Prompt */
/** @typedef {{ lesson: number, step: number }} Clock */
/** @typedef {{ clear: boolean, points: ((number|null)[])[] }} ChartPoints */
/** @typedef {{ cmds?: Object<string, any>[], attrs?: string[], fresh?: boolean }} Stream */
/** @typedef {{ stream?: Stream, names?: Object<string, number>, run?: string, lesson?: SceneTitle[], scene?: Scene,
 *  settings?: Object<string, Scalar>, readings?: Reading[], working?: Working, scales?: Object<string, string>, bench?: BenchState, question?:
 *  Question|null, says?: string, notice?: Notice, address?: string, view?: View, picks?: Pick[], to_press?: string, plot?: Plot|null, marks?:
 *  Mark[], chart?: ChartPoints, tally?: Tally, vote?: Vote, share?: Share, exhibit?: Exhibit, logo?: string, status?: Status, step?: LessonStep, prompt?: Prompt, clock?:
 *  Clock, alive?: boolean }} Published */

const FIRST = ["lesson", "scene", "settings", "bench", "stream"]; // the others build on these

/** The requests, each a function that sends it: true, or false when nobody listens.
 * @param {(message: object) => boolean} send */
export function requestsOver(send) {
  return {
    ready: () => send({ do: "ready" }),
    alive: () => send({ do: "alive" }),
    open: (address, run) => send({ do: "open", address, run }),
    scene: (name) => send({ do: "scene", name }),
    next: () => send({ do: "next" }),
    previous: () => send({ do: "previous" }),
    set: (name, value) => send({ do: "set", name, value }),
    reverse: (what) => send({ do: "reverse", what }),
    join: (first, second) => send({ do: "join", first, second }),
    press: (name) => send({ do: "press", name }),
    run: (on) => send({ do: "run", on }),
    step: () => send({ do: "step" }),
    restart: () => send({ do: "restart" }),
    answers: (shown) => send({ do: "answers", shown }),
    ask: (fields = {}) => send({ do: "ask", ...fields }),
    answer: (choice) => send({ do: "answer", choice }),
    reveal: () => send({ do: "reveal" }),
    enough: () => send({ do: "enough" }),
    view: (name) => send({ do: "view", name }),
    tally: () => send({ do: "tally" }),
    work: (topic, inputs) => send({ do: "work", topic, inputs }),
    clock: () => send({ do: "clock" }),
    touch: (again) => send({ do: "touch", again }),
    try: (number) => send({ do: "try", number }),
    turn: (speed) => send({ do: "turn", speed }),
    speak: (language) => send({ do: "speak", language }),
  };
}

/** Hands what the bench publishes to those who listen, and keeps the newest of every key in `told`. */
export function createDispatcher() {
  const listeners = new Map();
  /** @type {Published} */
  const told = {};

  function hand(key, value) {
    told[key] = value;
    for (const listener of listeners.get(key) || []) {
      try {
        listener(value);
      } catch (error) {
        console.error(`what came as "${key}" could not be shown`, error); // the bench must still get its answer
      }
    }
  }

  return {
    told,
    hand,
    /** Call `listener(value)` whenever the bench publishes something under `key`.
     * @template {keyof Published} K @param {K} key @param {(value: Published[K]) => void} listener */
    on(key, listener) {
      if (!listeners.has(key)) listeners.set(key, []);
      listeners.get(key).push(listener);
    },
    /** Hand on all of one message. @param {Published} message */
    handAll(message) {
      const order = (key) => (FIRST.includes(key) ? FIRST.indexOf(key) : FIRST.length);
      for (const key of Object.keys(message).sort((a, b) => order(a) - order(b))) hand(key, message[key]);
    },
  };
}
