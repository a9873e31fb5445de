/* VPython brings Plotly along; it is fetched, in a page that is one file unpacked, when the
first scene that draws a curve comes. */

let library = null;

/** Plotly, or null where it could not be fetched (the next call tries again). */
export function fetchPlotly() {
  library ??= new Promise((resolve) => {
    const script = document.createElement("script");
    script.onload = () => resolve(window.Plotly);
    script.onerror = () => {
      library = null;
      resolve(null);
    };
    Promise.resolve(window.film ? window.film.later() : "vpython/plotly.min.js").then((address) => {
      script.src = address;
      document.head.append(script);
    });
  });
  return library;
}

/** The page's own letters and colours, whichever theme and size it has now: `colour(name)`, `text` in pixels, `family`. */
export function look() {
  const style = getComputedStyle(document.documentElement);
  return {
    colour: (name) => style.getPropertyValue(name).trim(), text: parseFloat(style.fontSize), family: style.fontFamily,
  };
}

/** What every axis looks like. */
export function axisLook({ colour, text }) {
  return {
    color: colour("--soft"), gridcolor: colour("--line"), linecolor: colour("--line"), tickfont: { size: 0.78 * text },
    fixedrange: true, zeroline: false,
  };
}

/** How the named curve at `place` is broken, in pixels drawn and left out: without colours they are told apart by it. */
export function dashesOf(place) {
  return [[], [10, 5], [2, 4], [12, 4, 2, 4], [18, 6]][place % 5];
}

/** The same for Plotly. */
export const plotlyDash = (place) => dashesOf(place).map((part) => `${part}px`).join(",") || "solid";

/** Room above the axes in pixels: for the name of the upward axis, and where it is narrow for the legend above that. */
export const roomAbove = (text, forLegend = 0) => Math.round(forLegend + 1.7 * text);

/** Room below them, for figures and the name of the other axis. */
export const roomBelow = (text) => Math.round(2.6 * text);

/** Where the name of the upward axis stands: above it. */
export const upwardName = (words, { text }) => ({
  text: words, xref: "paper", yref: "paper", showarrow: false, x: 0, xanchor: "left", y: 1, yanchor: "bottom", font: { size: 0.9 * text },
});

/** Where the name of the other axis stands: below its end. */
export const onwardName = (words, { text }) => ({
  text: words, xref: "paper", yref: "paper", showarrow: false, x: 1, xanchor: "right", y: 0, yanchor: "top", yshift: -1.25 * text,
  font: { size: 0.9 * text },
});

/** The round number that `value` and a little more stay below. */
export function niceAbove(value) {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value * 1.05));
  return [1, 1.5, 2, 3, 5, 7.5, 10].find((part) => part * power >= value * 1.05) * power;
}
