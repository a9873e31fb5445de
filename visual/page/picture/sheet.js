/* The picture for a file with what stands round it: the lesson's caption, the board, the chart. */

import { lines } from "../panels/board.js";

const EDGE = 0.018; // of the width, round everything

/** The PNG `picture`, with caption, board and chart below it as far as the page shows them; `finer`: its pixels for one of the page's. */
export async function withWords(picture, finer) {
  const image = await createImageBitmap(picture), charts = await chartImages(finer);
  const style = getComputedStyle(document.documentElement), text = parseFloat(style.fontSize) * finer;
  const caption = document.querySelector("#caption:not([hidden]) .words");
  const blocks = [];
  if (caption) blocks.push({ rows: [[caption.textContent, "600", 1.6 * text, "#fffdf8"]] });
  const board = lines().map(([kind, words]) => [words, kind === "what" || kind === "numbers" ? "400" : "700",
    kind === "what" ? 1.1 * text : 1.9 * text, kind === "result" ? "#ffd27a" : "#fffdf8"]);
  if (board.length) blocks.push({ rows: board });
  const sheet = document.createElement("canvas"), edge = EDGE * image.width;
  const pen = sheet.getContext("2d");
  for (const block of blocks) block.lines = block.rows.flatMap((row) => wrapped(pen, row, image.width - 2 * edge, style.fontFamily));
  const heights = blocks.map(({ lines: each }) => each.reduce((sum, { size }) => sum + 1.3 * size, edge));
  sheet.width = image.width;
  sheet.height = Math.round(image.height + heights.reduce((sum, each) => sum + each, 0) + charts.reduce((sum, each) => sum + each.height * image.width / each.width, 0));
  pen.drawImage(image, 0, 0);
  let y = image.height;
  for (const [place, block] of blocks.entries()) {
    pen.fillStyle = style.getPropertyValue("--question");
    pen.fillRect(0, y, sheet.width, heights[place]);
    let line = y + edge / 2;
    for (const { words, font, size, colour } of block.lines) {
      [pen.font, pen.fillStyle, pen.textBaseline] = [font, colour, "top"];
      pen.fillText(words, edge, line);
      line += 1.3 * size;
    }
    y += heights[place];
  }
  for (const chart of charts) {
    const high = chart.height * image.width / chart.width;
    pen.fillStyle = style.getPropertyValue("--sheet");
    pen.fillRect(0, y, sheet.width, high);
    pen.drawImage(chart, 0, y, image.width, high);
    y += high;
  }
  return new Promise((done) => sheet.toBlob(done, "image/png"));
}

/* A row of text in as many lines as the width takes. */
function wrapped(pen, [words, weight, size, colour], width, family) {
  const font = `${weight} ${size}px ${family}`, found = [""];
  pen.font = font;
  for (const word of words.split(" ")) {
    const longer = `${found[found.length - 1]} ${word}`.trim();
    if (pen.measureText(longer).width <= width || found[found.length - 1] === "") found[found.length - 1] = longer;
    else found.push(word);
  }
  return found.map((line) => ({ words: line, font, size, colour }));
}

/* Curves as Plotly draws them, with the marks and names that the page lays over them. */
async function chartImages(finer) {
  const boxes = [...document.querySelectorAll("#chart:not([hidden]), #plot:not([hidden])")].filter((box) => box.clientWidth && window.Plotly);
  return Promise.all(boxes.map(async (box) => {
    const drawn = box.querySelector(".curves") || box, sheet = document.createElement("canvas"), pen = sheet.getContext("2d");
    [sheet.width, sheet.height] = [box.clientWidth, box.clientHeight].map((part) => Math.round(part * finer));
    const picture = new Image();
    picture.src = await window.Plotly.toImage(drawn, { format: "png", width: box.clientWidth, height: box.clientHeight, scale: finer });
    await picture.decode();
    pen.drawImage(picture, 0, 0, sheet.width, sheet.height);
    pen.scale(finer, finer);
    const corner = box.getBoundingClientRect();
    for (const sign of box.querySelectorAll(".marks i, .legend i")) {
      const { left, top, width, height } = sign.getBoundingClientRect();
      const { backgroundColor, backgroundImage } = getComputedStyle(sign); // a broken line is a row of colours
      pen.fillStyle = backgroundImage === "none" ? backgroundColor : backgroundImage.match(/rgb\([^)]*\)/)[0];
      pen.beginPath();
      pen.roundRect(left - corner.left, top - corner.top, width, height, Math.min(width, height) / 2);
      pen.fill();
    }
    for (const name of box.querySelectorAll(".marks span, .legend span")) {
      const { left, top, height } = name.getBoundingClientRect(), looks = getComputedStyle(name), own = name.querySelector("i");
      [pen.font, pen.fillStyle, pen.textBaseline] = [`${looks.fontWeight} ${looks.fontSize} ${looks.fontFamily}`, looks.color, "middle"];
      pen.fillText(name.textContent, (own ? own.getBoundingClientRect().right + 5 : left) - corner.left, top + height / 2 - corner.top);
    }
    return sheet;
  }));
}
