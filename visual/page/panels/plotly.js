/* VPython brings Plotly along; it is fetched when the first scene that draws a curve comes. */

let library = null;

/** Plotly, or null where it could not be fetched (the next call tries again). */
export function fetchPlotly() {
  library ??= new Promise((resolve) => {
    const script = document.createElement("script");
    script.src = "vpython/plotly.min.js";
    script.onload = () => resolve(window.Plotly);
    script.onerror = () => {
      library = null;
      resolve(null);
    };
    document.head.append(script);
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

/** Where the name of the upward axis stands: above it, or, where a legend needs that room, in the plot's corner. */
export function upwardName(words, { colour, text }, width, hasLegend) {
  const inside = hasLegend && width < 36 * text;
  return {
    text: words, xref: "paper", yref: "paper", showarrow: false, x: 0, xanchor: "left", y: 1, yanchor: inside ? "top" : "bottom",
    bgcolor: inside ? colour("--sheet") : "rgba(0,0,0,0)", font: { size: 0.9 * text },
  };
}

/** The round number that `value` and a little more stay below. */
export function niceAbove(value) {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value * 1.05));
  return [1, 1.5, 2, 3, 5, 7.5, 10].find((part) => part * power >= value * 1.05) * power;
}
