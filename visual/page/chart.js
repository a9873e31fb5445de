/* A strip chart of what the scene records. Plotly is fetched when the first scene with a chart comes. */

import { atMostEvery, byId } from "./dom.js";

const DRAW_EVERY = 125; // ms
const MOST_POINTS = 3000;

let plan = null; // scene.chart
let points = [];
let span = 1; // half the height, in the chart's unit
let plotly = null;

export function start(socket) {
  const draw = atMostEvery(DRAW_EVERY, () => drawNow());
  socket.on("scene", (scene) => {
    if (JSON.stringify(scene.chart) === JSON.stringify(plan)) return;
    plan = scene.chart;
    points = [];
    span = 0;
    byId("chart").hidden = !plan;
    if (plan) byId("chart").setAttribute("aria-label", `Chart of ${plan.words} in ${plan.unit} over ${plan.seconds} seconds`);
    draw();
  });
  socket.on("chart", ({ clear, points: newest }) => {
    if (clear) points = [];
    if (clear) span = 0;
    points.push(...(newest || []));
    forget();
    draw();
  });
  document.addEventListener("looks", draw);
  new ResizeObserver(draw).observe(byId("chart"));
  document.addEventListener("visibilitychange", draw);
}

function forget() {
  if (!points.length || !plan) return;
  const oldest = points[points.length - 1][0] - plan.seconds;
  let gone = points.findIndex((point) => point[0] >= oldest);
  gone = Math.max(gone - 1, points.length - MOST_POINTS, 0); // one before the edge, so that the line reaches it
  if (gone > 0) points.splice(0, gone);
}

function fetchPlotly() {
  plotly ??= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = "vpython/plotly.min.js";
    script.onload = () => resolve(window.Plotly);
    script.onerror = () => reject(new Error("plotly.min.js did not come"));
    document.head.append(script);
  });
  return plotly;
}

async function drawNow() {
  if (!plan || document.hidden) return;
  const library = await fetchPlotly();
  const box = byId("chart");
  if (!plan || !box.clientWidth || !box.clientHeight) return;
  const style = getComputedStyle(document.documentElement);
  const colour = (name) => style.getPropertyValue(name).trim();
  const text = parseFloat(style.fontSize);
  const last = points.length ? points[points.length - 1][0] : 0;
  const first = points.length ? points[0][0] : 0;
  const left = Math.max(last - plan.seconds, Math.min(first, last));
  const axis = {
    color: colour("--soft"), gridcolor: colour("--line"), linecolor: colour("--line"), tickfont: { size: 0.78 * text },
    fixedrange: true, zeroline: false,
  };
  const side = Math.round(4.2 * text);
  library.react(box,
    plan.series.map((series, place) => ({
      type: "scatter", mode: "lines", name: series.name, hoverinfo: "skip",
      x: points.map((point) => point[0]), y: points.map((point) => point[place + 1]),
      line: { color: series.colour, width: Math.max(2, text / 7), shape: "linear", simplify: true },
    })),
    {
      width: box.clientWidth, height: box.clientHeight, autosize: false,
      margin: { l: side, r: Math.round(text), t: Math.round(1.7 * text), b: Math.round(1.6 * text) },
      paper_bgcolor: "rgba(0,0,0,0)", plot_bgcolor: colour("--sheet"),
      font: { family: style.fontFamily, color: colour("--ink"), size: 0.85 * text },
      showlegend: plan.series.length > 1,
      legend: { orientation: "h", x: 1, xanchor: "right", y: 1.02, yanchor: "bottom", bgcolor: "rgba(0,0,0,0)" },
      annotations: [
        { text: `${plan.words} (${plan.unit})`, xref: "paper", yref: "paper", x: 0, y: 1, xanchor: "left", yanchor: "bottom",
          showarrow: false, font: { size: 0.9 * text, color: colour("--ink") } },
        { text: "s", xref: "paper", yref: "paper", x: 1, y: 0, xanchor: "left", yanchor: "top", xshift: 2, showarrow: false,
          font: { size: 0.78 * text, color: colour("--soft") } },
      ],
      xaxis: { ...axis, range: [left, left + plan.seconds], nticks: 7 },
      yaxis: { ...axis, range: [-span0(), span0()], nticks: 5, zeroline: true, zerolinecolor: colour("--soft"), zerolinewidth: 2 },
    },
    { staticPlot: true, displayModeBar: false });
}

/* The height grows at once and shrinks only when most of it stands empty, so that the scale is not restless. */
function span0() {
  let most = 0;
  for (const point of points) for (let place = 1; place < point.length; place++) most = Math.max(most, Math.abs(point[place]));
  if (most > span || most < 0.3 * span || span === 0) span = niceAbove(most);
  return span;
}

function niceAbove(value) {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value * 1.05));
  return [1, 1.5, 2, 3, 5, 7.5, 10].find((part) => part * power >= value * 1.05) * power;
}
