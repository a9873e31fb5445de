"""The bench in the browser: one port, one loop, no threads.

`server` runs the bench and updates the pages, `pages` answers the browsers, `endpoints` says what a page may do, `doors` decides
who is let in, `connections` how many may wait, `viewers` keeps what each open page has still to be sent, `messages`
parses what a page sends, `bridge` holds all knowledge of VPython's private names.

The protocol on the socket
--------------------------
Every message is one JSON object; from a page it is flat, with nothing in brackets. From the bench, each key *replaces*
its earlier value, so a page that joins late needs only the newest value of every key (`stream`
and `chart` accumulate):

    stream    VPython's objects: commands, attributes, names (see bridge.py and page/picture/stream.js)
    lesson    [{name, title}]                                the scenes in order
    scene     {name, title, principle, caution, narration,
               controls: [{name, words, unit, kind, role, default, only_with, low, high, step, choices: [{value, words}]}],
                    kind: "number" | "choice" | "switch";  role: "current" | "field" | "" (what a reversing key takes)
                    only_with: null | [name, value]: shown only while that other control has that value
               views: [{name, words}], arrows: [{letter, words, colour}], (slowness is in `bench`)
               chart: null | {words, unit, seconds, series: [{name, colour}]}}
    settings  {control name: value}
    readings  [{symbol, words, value, unit, formula}]        all text, ready to show
    scales    {letter: "10 mm is 0.05 N"}                    how long the arrows are
    bench     {running, slowness, answers_shown, held}       held: why it is paused although running, or ""
    question  null | {text, choices: [{value, words}], seed, given, right, answer, reason, note, score: {right, asked}}
                                                             note: a sentence, or ""
                                                             given, right, answer, reason: null until answered
    names     {name: number of the object that is drawn}, for tests and tools
    run       a word that is new each time the program starts
    says      one sentence that describes the present state, for screen-reader users
    notice    {text, serial}                                 something went wrong or is worth telling; serial counts up
    address   "scene=...&current=..."                        the query of the page's URL
    view      {name, forward, up, centre, range}             where the eye is: vectors and metres
    plot      null | {x: {words, unit}, y: {words, unit}, lines: [{name, colour, points: [[x, y], ...]}]}
    marks     [{name, colour, x, y}]                         where on the plot things are now; y null: a vertical line at x
    tally     {round, following, answered, counts}           the class's answers: how many follow, how many have answered,
                                                             counts: null | {choice: how many}; round counts questions
    exhibit   {title, caption, visited, reverse: [{what, words}]}   on a stand; reverse: what a visitor may reverse
    share     {addresses: [text]}                            where others on the network may follow
    step      {number, count, caption, title}                of a lesson
    prompt    {notes, next: null | {caption, scene, asks}, answer: null | {words, reason}}   for the speaker alone
    clock     {lesson, step}                                 seconds, for the speaker alone
    alive     true                                           the answer to {do: "alive"}
    chart     {clear: bool, points: [[seconds, y, ...], ...]}

From the page, `do` says what is wanted:

    {do: "ready"}                       the last message is on screen, send the next
    {do: "open", address: "scene=...", run}   the page was opened at this address; run: the run of the program that it
                                        followed there before, so that it must not bring that address back, or null
    {do: "scene", name}  {do: "next"}  {do: "previous"}
    {do: "set", name, value}            one control
    {do: "reverse", what}               "current" | "field"
    {do: "run", on}  {do: "step"}  {do: "restart"}
    {do: "answers", shown}              show or hide the arrows that give the answer away
    {do: "ask"}  {do: "ask", seed}      put a question, at random or the one of that seed
    {do: "ask", present: true}          put the question about the set-up that is there; its seed is null
    {do: "answer", choice}  {do: "enough"}
    {do: "view", name}
    {do: "tally"}                       show how the class answers while the question still waits
    {do: "reveal"}                      show the answer though nobody gave one
    {do: "clock"}                       in a lesson: it begins now
    {do: "alive"}                       a ping, answered once all earlier messages are handled

A page's role is that of its endpoint (`endpoints.Endpoint`, `viewer.role`). "bench" may send all of this, and so may
"speaker", a lesson's second page. "still" is drawn once and posts its picture. "visitor"
uses an exhibit and may send next, reverse, ask (without a seed), answer, enough, and {do: "touch"}. "class" follows
on the network, may send {do: "answer", choice}, and alone receives the reply:

    vote      {round, choice, refused}                       choice: what counts for this visitor in the tally's round, or
                                                             null; refused: why the last answer does not count, or ""
"""
