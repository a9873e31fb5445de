/* Messages on the socket, both ways: their names and fields, and the small functions that send them and hand them on. What each
is for stands in host/messages/, which has the same ones. */

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
/** @typedef {{ do: "answer", choice: string, place?: number|null }} Answer */
/** @typedef {{ do: "draw", x: number, y: number, z: number, to_x: number, to_y: number, to_z: number }} Draw */
/** @typedef {{ do: "reveal" }} Reveal */
/** @typedef {{ do: "enough" }} CloseQuestion */
/** @typedef {{ do: "view", name: string }} Look */
/** @typedef {{ do: "tally", large?: boolean }} ShowTally */
/** @typedef {{ do: "again" }} VoteAgain */
/** @typedef {{ do: "work", topic: string, inputs?: string }} Work */
/** @typedef {{ do: "clock" }} StartClock */
/** @typedef {{ do: "prepare", on: boolean }} Prepare */
/** @typedef {{ do: "add", page?: boolean }} AddStep */
/** @typedef {{ do: "arrange", number: number, how: string }} ArrangeStep */
/** @typedef {{ do: "change", number: number, name: string, value: Scalar, typing?: boolean }} ChangeStep */
/** @typedef {{ do: "own", number: number, text: string, choices: string, right: number, reason: string, typing?: boolean }} AskOwn */
/** @typedef {{ do: "title", title: string, typing?: boolean }} NameLesson */
/** @typedef {{ do: "undo", again?: boolean }} Undo */
/** @typedef {{ do: "touch", again?: boolean }} Touch */
/** @typedef {{ do: "try", number: number }} Try */
/** @typedef {{ do: "turn", speed: number }} Turn */
/** @typedef {{ do: "speak", language: string }} Speak */
/** @typedef {{ do: "begin", name: string }} Begin */
/** @typedef {{ do: "readmit", name: string }} Readmit */
/** @typedef {{ do: "end", name?: string|null }} EndSitting */
/** @typedef {{ do: "mock", questions: number, minutes: number }} BeginMock */

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
 *  controls: Control[], views: ReadyView[], arrows: ArrowKey[], chart: ChartAxes|null, questions: ChoiceWords[] }} Scene */
/** @typedef {{ symbol: string, words: string, value: string, unit: string, formula: string, first: boolean }} Reading */
/** @typedef {{ name: string, words: string, here: boolean }} WorkingTopic */
/** @typedef {{ name: string, words: string, unit: string, value: string, choices: string[] }} WorkingInput */
/** @typedef {{ words: string, symbols: string, numbers: string, result: string }} BoardLine */
/** @typedef {{ topic: string, topics: WorkingTopic[], title: string, inputs: WorkingInput[], entered: boolean, lines: BoardLine[],
 *  remark: string, wrong: string }} Working */
/** @typedef {{ running: boolean, slowness: string, answers_shown: boolean, held: string }} BenchState */
/** @typedef {{ right: number, asked: number }} Score */
/** @typedef {{ letter: string, at: number[] }} ArrowFoot */
/** @typedef {{ text: string, choices: ChoiceWords[], answered: string, arrow: ArrowFoot|null, kind: string, covers: boolean, seed: number|null, tried: string|null,
 *  given: string|null, right: boolean|null, answer: string|null, reason: string|null, works: string|null, note: string, score: Score }} Question */
/** @typedef {{ text: string, serial: number }} Notice */
/** @typedef {{ forward: number[], subject: number[][][] }} UprightView */
/** @typedef {{ name: string, forward: number[], up: number[], subject: number[][][], upright: UprightView|null, directions:
 *  [string, number[]][], letters: string[] }} View */
/** @typedef {{ words: string, unit: string, ticks: number[] }} Axis */
/** @typedef {{ name: string, colour: string, points: ((number|null)[])[] }} Curve */
/** @typedef {{ x: Axis, y: Axis, lines: Curve[] }} Plot */
/** @typedef {{ name: string, colour: string, x: number, y: number|null }} Mark */
/** @typedef {{ round: number, following: number, answered: number, counts: Object<string, number>|null, before: Object<string,
 *  number>|null, vote: number, large: boolean, closed: boolean }} Tally */
/** @typedef {{ round: number, choice: string|null, refused: string }} Vote */
/** @typedef {{ words: string, does: string, more: boolean }} TryButton */
/** @typedef {{ serial: number, place: number, stops: number, caption: string, longest: number, speed: string, tries: TryButton[],
 *  answers: ChoiceWords[], slow: boolean, left: number|null, asleep: boolean, words: Object<string, string>, language: string,
 *  languages: ChoiceWords[] }} Exhibit */
/** @typedef {{ lines: [string, string][], wrong: string[] }} Status */
/** @typedef {{ size: number, path: string }} Code */
/** @typedef {{ addresses: string[], code: Code|null }} Share */
/** @typedef {{ title: string, text: string, picture: string, shows: string }} OwnPage */
/** @typedef {{ number: number, count: number, caption: string, title: string, page: OwnPage|null }} LessonStep */
/** @typedef {{ number: number, words: string, scene: string, asks: string, minutes: number }} PreparedStep */
/** @typedef {{ text: string, choices: string, right: number, reason: string }} PreparedQuestion */
/** @typedef {{ name: string, words: string, choices: boolean }} PreparedKind */
/** @typedef {{ number: number, page: boolean, caption: string, notes: string, minutes: number, hold: boolean, go_on: boolean, answers:
 *  boolean, asks: string, kinds: PreparedKind[], kind: string, numbered: boolean, number_asked: number, vote: boolean, own: PreparedQuestion|null, put: string, begun: string, refused: string, title: string, text: string, picture: string, shows: string }} PreparedFields */
/** @typedef {{ open: boolean, file: string, title: string, wrong: string, steps: PreparedStep[], here: PreparedFields|null, can_undo:
 *  boolean, can_redo: boolean }} Preparing */
/** @typedef {{ caption: string, scene: string, asks: boolean }} NextStep */
/** @typedef {{ words: string, accepted: string, reason: string }} RightAnswer */
/** @typedef {{ notes: string, next: NextStep|null, answer: RightAnswer|null, counts: Object<string, number>, before: Object<string,
 *  number>|null, onward: string }} Prompt */
/** @typedef {{ runs: boolean, lesson: number, step: number, lesson_planned: number, planned_steps: number, step_planned: number }} Clock */
/** @typedef {{ words: string, value: string, unit: string }} Given */
/** @typedef {{ name: string|null, place: number, count: number, minutes: number|null, seconds: number|null, ended:
 *  boolean, another: boolean, refused: string }} Sitting */
/** @typedef {{ question: string, given: string, answer: string, right: boolean, reason: string }} MockAnswer */
/** @typedef {{ place: number, count: number, seconds: number, over: boolean, right: number|null, result: string, put:
 *  MockAnswer[], mistakes: string[] }} MockTest */
/** @typedef {{ name: string, begun: string, ended: string, readmitted: boolean, here: boolean }} Trainee */
/** @typedef {{ topics: string[], questions: number, minutes: number|null, file: string, trainees: Trainee[] }} MarkedTest */
/** @typedef {{ clear: boolean, points: ((number|null)[])[] }} ChartPoints */
/** @typedef {{ cmds?: Object<string, any>[], attrs?: string[], fresh?: boolean }} Stream */
/** @typedef {{ title: string, right: number, asked: number, known: number, coming_back: number, kinds: number }} ProgressTopic */
/** @typedef {{ name: string, by_week: number[] }} ProgressMistake */
/** @typedef {{ weeks: string[], shares: Score[], topics: ProgressTopic[], mistakes: ProgressMistake[] }} Progress */
/** @typedef {{ stream?: Stream, names?: Object<string, number>, run?: string, lesson?: SceneTitle[], scene?: Scene,
 *  settings?: Object<string, Scalar>, readings?: Reading[], working?: Working, scales?: Object<string, string>, bench?: BenchState, question?:
 *  Question|null, says?: string, notice?: Notice, address?: string, view?: View, picks?: Pick[], to_press?: string, plot?: Plot|null, marks?:
 *  Mark[], chart?: ChartPoints, tally?: Tally, vote?: Vote, share?: Share, exhibit?: Exhibit, logo?: string, status?: Status, step?: LessonStep, preparing?:
 *  Preparing, prompt?: Prompt, clock?: Clock, progress?: Progress, given?: Given[], sitting?: Sitting, test?: MarkedTest, mock?: MockTest|null, alive?:
 *  boolean }} Published */

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
    answer: (choice, place) => send({ do: "answer", choice, place }),
    draw: (x, y, z, to_x, to_y, to_z) => send({ do: "draw", x, y, z, to_x, to_y, to_z }),
    reveal: () => send({ do: "reveal" }),
    enough: () => send({ do: "enough" }),
    view: (name) => send({ do: "view", name }),
    tally: (large) => send({ do: "tally", large }),
    again: () => send({ do: "again" }),
    work: (topic, inputs) => send({ do: "work", topic, inputs }),
    clock: () => send({ do: "clock" }),
    prepare: (on) => send({ do: "prepare", on }),
    add: (page) => send({ do: "add", page }),
    arrange: (number, how) => send({ do: "arrange", number, how }),
    change: (number, name, value, typing = false) => send({ do: "change", number, name, value, typing }),
    own: (number, text, choices, right, reason, typing = false) => send({ do: "own", number, text, choices, right, reason, typing }),
    title: (title, typing = false) => send({ do: "title", title, typing }),
    undo: (again) => send({ do: "undo", again }),
    touch: (again) => send({ do: "touch", again }),
    try: (number) => send({ do: "try", number }),
    turn: (speed) => send({ do: "turn", speed }),
    speak: (language) => send({ do: "speak", language }),
    begin: (name) => send({ do: "begin", name }),
    readmit: (name) => send({ do: "readmit", name }),
    end: (name) => send({ do: "end", name }),
    mock: (questions, minutes) => send({ do: "mock", questions, minutes }),
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
