/* A strip chart of what the scene records. */

import { atMostEvery, byId } from "../common/dom.js";
import { awaited } from "./plot.js";
import { axisLook, fetchPlotly, look, niceAbove, onwardName, plotlyDash, roomAbove, roomBelow, upwardName } from "./plotly.js";

const DRAW_EVERY = 125; // ms
const SHARE = 0.04; // of a slow machine's time, for the chart; to paint it costs as much again, and the picture needs the rest
const MOST_POINTS = 3000;

let plan = null; // scene.chart
let points = [];
let ends = []; // of the upward axes, { low, high } in the charts' units
let cost = 0; // ms that the last drawing took

export function start(socket) {
  const draw = atMostEvery(() => Math.min(1000, Math.max(DRAW_EVERY, cost / SHARE)), drawNow);
  socket.on("scene", (scene) => {
    if (JSON.stringify(scene.chart) === JSON.stringify(plan)) return;
    plan = scene.chart;
    forgetAll();
    byId("chart").hidden = !plan;
    byId("chart").classList.toggle("two", Boolean(plan && plan.below));
    const words = plan ? `Chart of ${charts().map((each) => `${each.words} in ${each.unit}`).join(" and ")} over ${plan.seconds} seconds` : "";
    byId("chart").setAttribute("aria-label", words);
    draw();
  });
  const say = () => {
    const why = points.some(([, ...values]) => values.some((value) => value !== null)) ? "" : awaited(socket.told.question);
    byId("chart").dataset.why = why;
    byId("chart").classList.toggle("empty", Boolean(why)); // its room stays, a scale and a line at 0 would be of nothing
  };
  socket.on("question", say);
  socket.on("chart", ({ clear, points: newest }) => {
    if (clear) forgetAll();
    points.push(...(newest || []));
    forget();
    say();
    draw();
  });
  document.addEventListener("looks", draw);
  new ResizeObserver(draw).observe(byId("chart"));
  document.addEventListener("visibilitychange", draw);
}

function forgetAll() {
  points = [];
  ends = [];
}

/* The chart, and the second one if there is one: beside it where there is room, else below, with one axis of time for both. Each with
   the place of its first value in a point and its shares of the width and the height; `gap`: between them, for the name of the second. */
function charts(wide = true, gap = 0) {
  if (!plan.below) return [{ ...plan, first: 1, across: [0, 1], upward: [0, 1], axis: "", timed: true }];
  const second = { ...plan.below, first: 1 + plan.series.length, axis: "2" };
  return [
    { ...plan, first: 1, axis: "", timed: wide, ...(wide ? { across: [0, 0.47], upward: [0, 1] } : { across: [0, 1], upward: [(1 + gap) / 2, 1] }) },
    { ...second, timed: true, ...(wide ? { across: [0.55, 1], upward: [0, 1] } : { across: [0, 1], upward: [0, (1 - gap) / 2] }) },
  ];
}

function forget() {
  if (!points.length || !plan) return;
  const oldest = points[points.length - 1][0] - plan.seconds;
  let gone = points.findIndex((point) => point[0] >= oldest);
  gone = Math.max(gone - 1, points.length - MOST_POINTS, 0); // one before the edge, so that the line reaches it
  if (gone > 0) points.splice(0, gone);
}

async function drawNow() {
  if (!plan || document.hidden) return;
  const library = await fetchPlotly();
  const box = byId("chart");
  if (!library || !plan || !box.clientWidth || !box.clientHeight) return;
  const begun = performance.now();
  library.react(box, curves(), layout(box), { staticPlot: true, displayModeBar: false });
  cost = performance.now() - begun;
}

function curves() {
  const seconds = points.map((point) => point[0]);
  return charts().flatMap(({ series: lines, first, axis }) => lines.map((series, place) => ({
    type: "scatter", mode: "lines", name: series.name, hoverinfo: "skip", xaxis: `x${axis}`, yaxis: `y${axis}`, connectgaps: false,
    showlegend: lines.length > 1 && points.some((point) => point[first + place] !== null),
    x: seconds, y: points.map((point) => point[first + place]),
    line: { color: series.colour, width: 2.5, dash: plotlyDash(place), shape: "linear", simplify: true },
  })));
}

/* In the page's own colours and letters, whichever theme and size it has now. */
function layout(box) {
  const looks = look();
  const { colour, text, family } = looks;
  const [first, last] = points.length ? [points[0][0], points[points.length - 1][0]] : [0, 0];
  const left = Math.max(first, last - plan.seconds);
  const above = roomAbove(text, plan.series.length > 1 && box.clientWidth < 36 * text ? 1.5 * text : 0), high = box.clientHeight - above - roomBelow(text);
  const wide = box.clientWidth > 40 * text, shown = charts(wide, (1.9 * text) / high);
  const axis = axisLook(looks);
  const zero = { zeroline: true, zerolinecolor: colour("--soft"), zerolinewidth: 2 };
  const axes = Object.fromEntries(shown.flatMap(({ axis: number, across, upward, timed }, place) => {
    const { low, high } = endsOf(place);
    return [
      [`xaxis${number}`, { ...axis, range: [left, left + plan.seconds], nticks: shown.length > 1 && wide ? 4 : 7, domain: across, anchor: `y${number}`, showticklabels: timed }],
      [`yaxis${number}`, { ...axis, range: [low, high], nticks: Math.max(2, Math.min(wide ? 5 : 4, Math.floor(((upward[1] - upward[0]) * high) / (1.2 * text)))), domain: upward, anchor: `x${number}`, ...zero }],
    ];
  }));
  return {
    width: box.clientWidth, height: box.clientHeight, autosize: false,
    margin: { l: Math.round(4.2 * text), r: Math.round(1.4 * text), t: above, b: roomBelow(text) },
    paper_bgcolor: "rgba(0,0,0,0)", plot_bgcolor: colour("--sheet"),
    font: { family, color: colour("--ink"), size: 0.85 * text },
    showlegend: plan.series.length > 1,
    legend: { orientation: "h", x: shown[0].across[1], xanchor: "right", y: legendAt(above, high, text), yanchor: "bottom", bgcolor: "rgba(0,0,0,0)" },
    annotations: shown.flatMap(({ words, unit, series, across, upward, timed }) => [
      { ...upwardName(`${words}${series.length > 1 ? "" : named(series[0], words)} (${unit})`, looks), x: across[0], y: upward[1] },
      ...(timed ? [{ ...onwardName("time (s)", looks), x: across[1], y: upward[0] }] : []),
    ]),
    ...axes,
  };
}

/* A line that is alone in its chart is named with the axis, unless it is called the same. */
const named = ({ name }, words) => (name === words ? "" : ` ${name}`);

/* Above the names of the axes where it is narrow, else beside them, as a share of the height. */
const legendAt = (above, high, text) => 1 + Math.max(0, above - 1.7 * text) / high + 0.02;

/* The ends of an upward axis. It grows at once and shrinks only when most of it stands empty, so that it is not restless. */
function endsOf(place) {
  const { first, series } = charts()[place];
  let least = 0, most = 0;
  for (const point of points) {
    for (const value of point.slice(first, first + series.length)) [least, most] = [Math.min(least, value), Math.max(most, value)];
  }
  const before = ends[place], span = most - least;
  const fits = before && least >= before.low && most <= before.high && span >= 0.3 * (before.high - before.low);
  if (!fits) ends[place] = { low: least < -0.02 * span ? -niceAbove(-least) : 0, high: most > 0.02 * span || least === 0 ? niceAbove(most) : 0 };
  return ends[place];
}
