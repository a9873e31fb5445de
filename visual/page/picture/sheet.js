/* The picture for a file with what stands round it: the lesson's caption, the board, the chart. */

import { runsOf } from "../common/subscripts.js";
import { lines } from "../panels/board.js";

const EDGE = 0.018; // of the width, round everything
const LINES = 17; // so many letters of the board are at least as high as the whole sheet
const LOW = 0.7; // size of a subscript

/** The PNG `picture`, with caption, board and chart below it as far as the page shows them; `finer`: its pixels for one of the page's. */
export async function withWords(picture, finer) {
  const image = await createImageBitmap(picture), charts = await chartImages(finer);
  const style = getComputedStyle(document.documentElement), text = parseFloat(style.fontSize) * finer;
  const caption = document.querySelector("#caption:not([hidden]) .words");
  const blocks = [];
  if (caption) blocks.push({ rows: [[caption.textContent, "600", 1.6 * text, "#fffdf8"]] });
  const sheet = document.createElement("canvas"), edge = EDGE * image.width;
  const pen = sheet.getContext("2d");
  const high = (block) => {
    block.lines = block.rows.flatMap((row) => wrapped(pen, row, image.width - 2 * edge, style.fontFamily));
    return block.lines.reduce((sum, { size }) => sum + 1.3 * size, edge);
  };
  const rest = blocks.map(high).concat(charts.map((each) => each.height * image.width / each.width)).reduce((sum, each) => sum + each, image.height);
  const board = lines().length ? boardOver(rest, high, image.width / LINES) : null;
  if (board) blocks.push(board);
  const heights = blocks.map(high);
  sheet.width = image.width;
  sheet.height = Math.round(rest + (board ? high(board) : 0));
  pen.drawImage(image, 0, 0);
  let y = image.height;
  for (const [place, block] of blocks.entries()) {
    pen.fillStyle = style.getPropertyValue("--question");
    pen.fillRect(0, y, sheet.width, heights[place]);
    let line = y + edge / 2;
    for (const { words, font, size, colour } of block.lines) {
      [pen.fillStyle, pen.textBaseline] = [colour, "top"];
      let x = edge;
      for (const [part, low] of runsOf(words)) {
        pen.font = font(low ? LOW * size : size);
        pen.fillText(part, x, low ? line + (1 - 0.6 * LOW) * size : line);
        x += pen.measureText(part).width;
      }
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

/* The board's block, with letters for the back row: that part of the sheet's whole height, of which the board is one itself. */
function boardOver(rest, high, largest) {
  const block = (size) => ({ rows: lines().map(([kind, words]) => [words, kind === "what" || kind === "numbers" ? "400" : "700",
    kind === "what" ? 0.6 * size : size, kind === "result" ? "#ffd27a" : "#fffdf8"]) });
  let size = rest / LINES;
  for (let again = 0; again < 8; again++) size = Math.min(largest, (rest + high(block(size))) / LINES);
  return block(size);
}

/* A row of text in as many lines as the width takes. */
function wrapped(pen, [words, weight, size, colour], width, family) {
  const font = (high) => `${weight} ${high}px ${family}`, found = [""];
  const wide = (text) => runsOf(text).reduce((sum, [part, low]) => {
    pen.font = font(low ? LOW * size : size);
    return sum + pen.measureText(part).width;
  }, 0);
  for (const word of words.split(" ")) {
    const longer = `${found[found.length - 1]} ${word}`.trim();
    if (wide(longer) <= width || found[found.length - 1] === "") found[found.length - 1] = longer;
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
