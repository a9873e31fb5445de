/* Curves that change with the settings only, and on them marks that move with the scene.

Plotly draws axes and curves once for a setting. The marks lie above on a sheet of their own, so that moving them costs
next to nothing; both reckon with the same margins and ranges. */

import { contrast } from "../common/colours.js";
import { atMostEvery, byId, make, write } from "../common/dom.js";
import { axisLook, dashesOf, fetchPlotly, look, niceAbove, onwardName, plotlyDash, roomAbove, roomBelow, upwardName } from "./plotly.js";

const DRAW_EVERY = 125; // ms
const SHARE = 0.15; // of a slow machine's time, while a slider is drawn along
const FAINT = 2; // contrast below which a curve gets an edge, as WCAG 2 reckons contrast

const pen = document.createElement("canvas").getContext("2d"); // to measure words

let plan = null; // what the bench told as `plot`
let marks = [];
let frame = null; // of the curves as drawn: margins, size and ranges
let cost = 0;

export function start(socket) {
  const draw = atMostEvery(() => Math.min(1000, Math.max(DRAW_EVERY, cost / SHARE)), drawCurves);
  socket.on("plot", (newest) => {
    plan = newest;
    byId("plot").hidden = !plan;
    if (!plan) return void (frame = null); // marks that come before the next curves wait for them
    byId("plot").classList.toggle("empty", isEmpty()); // its room stays, its axes would be of nothing
    sayWhy();
    draw();
  });
  const sayWhy = () => {
    byId("plot").dataset.why = plan && isEmpty() ? awaited(socket.told.question) : "";
    byId("plot").setAttribute("aria-label", byId("plot").dataset.why || (plan ? said() : ""));
  };
  socket.on("question", sayWhy);
  socket.on("marks", (newest) => {
    marks = newest || [];
    if (frame) drawMarks();
    else if (plan) draw();
  });
  document.addEventListener("looks", draw);
  new ResizeObserver(draw).observe(byId("plot"));
  document.addEventListener("visibilitychange", draw);
}

const isEmpty = () => !plan.lines.some(({ points }) => points.length);

/** Why there are no curves yet, in a sentence, while this question waits. */
export const awaited = (question) => (question && (question.given ?? null) === null ? "The curves come with the answer." : "");

function said() {
  const names = plan.lines.map((line) => line.name).filter(Boolean).join(", ");
  return `Curves${names ? ` of ${names}` : ""}: ${titled(plan.y)} against ${titled(plan.x)}`;
}

const titled = ({ words, unit }) => (unit ? `${words} (${unit})` : words);

async function drawCurves() {
  if (!plan || document.hidden) return;
  const library = await fetchPlotly();
  const box = byId("plot");
  if (!library || !plan || !box.clientWidth || !box.clientHeight) return;
  const begun = performance.now();
  const looks = look();
  showLegend(looks.colour("--sheet"));
  frame = framed(box, looks);
  library.react(box.querySelector(".curves"), curves(looks), layout(looks), { staticPlot: true, displayModeBar: false });
  drawMarks();
  cost = performance.now() - begun;
}

/* Room for the legend, where it has none beside the name of the upward axis. */
function aboveTheName(box, { text, family }, left) {
  const legend = box.querySelector(".legend");
  pen.font = `${0.9 * text}px ${family}`;
  return legend.children.length && left + pen.measureText(titled(plan.y)).width + text > legend.offsetLeft ? legend.offsetHeight : 0;
}

/* Margins in pixels, ranges in the units of the axes, the colour of the ground. */
function framed(box, looks) {
  const { text, colour } = looks;
  const [xs, ys] = [0, 1].map((axis) => plan.lines.flatMap((line) => line.points.map((point) => point[axis])));
  const least = Math.min(0, ...ys), most = Math.max(0, ...ys);
  const left = Math.round(4.2 * text);
  return {
    width: box.clientWidth, height: box.clientHeight, ground: colour("--sheet"),
    left, right: Math.round(1.4 * text), top: roomAbove(text, aboveTheName(box, looks, left)), bottom: roomBelow(text),
    x: [Math.min(...xs), Math.max(...xs)],
    y: [least < 0 ? -niceAbove(-least) : 0, most > 0 ? niceAbove(most) : 0],
  };
}

const named = () => plan.lines.filter((line) => line.name);

/* A curve that would be lost on its ground, such as black at night, is drawn on a broader one in the second ink. */
function curves({ colour }) {
  return plan.lines.flatMap((line) => {
    const trace = {
      type: "scatter", mode: "lines", hoverinfo: "skip", name: line.name,
      x: line.points.map((point) => point[0]), y: line.points.map((point) => point[1]),
    };
    const dash = line.name ? plotlyDash(named().indexOf(line)) : "solid";
    const curve = { ...trace, line: { color: line.colour, width: 2.5, dash } };
    return isFaint(line.colour, frame.ground) ? [{ ...trace, line: { color: colour("--soft"), width: 5.5, dash } }, curve] : [curve];
  });
}

function layout(looks) {
  const { colour, text, family } = looks;
  const { width, height, left, right, top, bottom } = frame;
  const axis = axisLook(looks);
  return {
    width, height, autosize: false, margin: { l: left, r: right, t: top, b: bottom },
    paper_bgcolor: "rgba(0,0,0,0)", plot_bgcolor: colour("--sheet"),
    font: { family, color: colour("--ink"), size: 0.85 * text }, showlegend: false,
    annotations: [upwardName(titled(plan.y), looks), onwardName(titled(plan.x), looks)],
    xaxis: { ...axis, range: frame.x, ...ticks(plan.x, Math.max(3, Math.min(13, Math.round(width / 60)))) },
    yaxis: { ...axis, range: frame.y, nticks: 5, zeroline: true, zerolinecolor: colour("--soft"), zerolinewidth: 2 },
  };
}

/* Angles are read in parts of a turn. */
function ticks({ unit, ticks: named }, most) {
  if (named.length) return { tickmode: "array", tickvals: named };
  if (unit !== "\u00b0") return { nticks: most };
  const span = frame.x[1] - frame.x[0];
  return { tick0: 0, dtick: [10, 15, 30, 60, 90, 180].find((part) => span / part < most) || 360 };
}

function showLegend(ground) {
  const lines = named();
  byId("plot").querySelector(".legend").replaceChildren(...(lines.length < 2 ? [] : lines.map((line, place) => {
    const swatch = make("i", { class: isFaint(line.colour, ground) ? "edged" : null });
    swatch.style.background = broken(line.colour, dashesOf(place));
    return make("span", {}, swatch, line.name);
  })));
}

function broken(colour, dashes) {
  if (!dashes.length) return colour;
  let end = 0;
  const parts = dashes.map((part, place) => `${place % 2 ? "transparent" : colour} ${end}px ${(end += part)}px`);
  return `repeating-linear-gradient(90deg, ${parts.join(", ")})`;
}

function drawMarks() {
  const sheet = byId("plot").querySelector(".marks");
  while (sheet.children.length > marks.length) sheet.lastChild.remove();
  while (sheet.children.length < marks.length) {
    sheet.append(make("div", { class: "told" }, make("i", {}), make("span", {})));
  }
  marks.forEach((mark, place) => placeMark(sheet.children[place], mark));
}

/* Each mark is a small sheet of its own: moved, it is not painted anew, nor are the curves below. */
function placeMark(box, mark) {
  const [sign, name] = box.children;
  const across = mark.y === null;
  const { left, right, top, bottom, width, height } = frame;
  const x = onScale(mark.x, frame.x, left, width - right);
  const y = across ? top : onScale(mark.y, frame.y, height - bottom, top);
  const told = mark.name && !plan.lines.some((curve) => curve.name === mark.name) ? mark.name : "";
  Object.assign(box.dataset, { name: mark.name, x, y });
  box.style.transform = `translate(${x}px, ${y}px)`;
  box.className = ["told", across ? "across" : "point", x > width - right - 0.25 * (width - left - right) ? "from-right" : "",
    !across && y < top + 22 ? "below" : "", !across && isFaint(mark.colour, frame.ground) ? "edged" : ""].join(" ");
  sign.style.background = mark.colour;
  sign.style.height = across ? `${height - top - bottom}px` : "";
  write(name, told);
}

/* A value beyond the range lies at its end. */
function onScale(value, [low, high], from, to) {
  const share = high > low ? (value - low) / (high - low) : 0.5;
  return Math.round(10 * (from + Math.min(1, Math.max(0, share)) * (to - from))) / 10;
}

const isFaint = (colour, ground) => contrast(colour, ground) < FAINT;
