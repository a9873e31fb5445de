/* The settings: one native input per control, kept in step with the bench without fighting the user. */

import { atMostEvery, byId, decimals, figure, make, takeDecimalComma, write } from "../common/dom.js";

const SEND_EVERY = 33; // ms, while a slider is dragged
const SETTLE = 500; // ms after the last touch in which the bench may not move an input
const PACE = "slow"; // the control that stands at the picture's edge, because it says how slowly that runs

let tellBench;
let tellWhenFree; // the same once the bench is through with what it was told before, of each control the newest value alone
let inputs = new Map(); // control name -> {show(value), busy()}
let settings = {};
let conditions = []; // controls that matter only while another has a certain value

/** Build the inputs whenever the scene changes, and follow the settings. `notify(sentence)` shows a sentence. */
export function start(socket, notify) {
  tellBench = socket.request.set;
  tellWhenFree = inTurn(socket);
  let built = "";
  socket.on("scene", (scene) => {
    const plan = JSON.stringify([scene.name, scene.controls]);
    if (plan === built) return;
    built = plan;
    inputs = new Map();
    settings = {};
    const pace = scene.controls.filter((control) => control.name === PACE);
    const others = scene.controls.filter((control) => control.name !== PACE);
    conditions = [];
    byId("controls").replaceChildren(...others.map((control) => {
      const element = build(control, notify);
      if (control.only_with) conditions.push({ name: control.name, element, needs: control.only_with });
      return element;
    }));
    byId("controls").parentElement.hidden = !others.length;
    byId("pace").replaceChildren(...pace.map(list));
  });
  socket.on("settings", (newest) => {
    settings = newest;
    const hidden = new Set(); // a condition on a control that is hidden itself does not hold
    for (const { name, element, needs: [other, value] } of conditions) {
      element.hidden = settings[other] !== value || hidden.has(other);
      if (element.hidden) hidden.add(name);
    }
    for (const name of inputs.keys()) show(name);
  });
}

function show(name) {
  const input = inputs.get(name);
  if (input && name in settings && !input.busy()) input.show(settings[name]);
}

function build(control, notify) {
  if (control.kind === "number") return number(control, notify);
  if (control.kind === "switch") return onOff(control);
  return !control.other && control.choices.length <= 4 && lettersOf(control) <= 34 ? row(control) : list(control);
}

const lettersOf = (control) => control.choices.map((choice) => choice.words).join("").length;

/* While someone is at an input, and a moment longer, what comes back from the bench waits. */
function settling(name) {
  let held = false;
  let timer = 0;
  const rest = () => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      timer = 0;
      show(name);
    }, SETTLE);
  };
  return {
    busy: () => held || timer !== 0,
    take: () => (held = true),
    leave: () => {
      held = false;
      rest();
    },
    touch: rest,
  };
}

/* A slider is dragged faster than a scene can follow whose curves take long: what piled up would be done long after the
hand has let go. The answer to "alive" comes when all before it is done. */
function inTurn(socket) {
  const waiting = new Map();
  let busy = false;
  const next = () => {
    busy = false;
    for (const [name, value] of waiting) {
      waiting.delete(name);
      busy = tellBench(name, value) && socket.request.alive();
      return;
    }
  };
  socket.on("alive", () => busy && next());
  socket.on("scene", () => waiting.clear());
  socket.watch((connected) => {
    if (!connected) busy = false;
  });
  return (name, value) => {
    waiting.set(name, value);
    if (!busy) next();
  };
}

function number(control, notify) {
  const { name, words, unit, low, high, step } = control;
  const id = `control-${name}`;
  const sliding = settling(name);
  const typing = settling(name);
  const send = atMostEvery(() => SEND_EVERY, (value) => tellWhenFree(name, value));
  const label = make("label", { for: id, id: `${id}-words` }, words);
  const unitText = make("span", { class: "unit", id: `${id}-unit` }, unit || "");
  const field = make("input", {
    id, type: "number", min: low, max: high, step: "any", inputmode: "decimal", autocomplete: "off",
    "aria-describedby": `${id}-unit ${id}-bounds`,
  });
  if (Math.max(-low, high) < 1000) takeDecimalComma(field); // else it parts thousands
  const slider = make("input", {
    type: "range", min: low, max: high, step: step || (high - low) / 200, "aria-labelledby": `${id}-words`,
  });
  field.style.setProperty("--digits", Math.max(...[low, high, low + (step || 0)].map((end) => figure(end, step).length)));
  const part = (value) => (Math.min(high, Math.max(low, value)) - low) / (high - low || 1);
  const nought = part(0); // the filled part of the track starts at zero, wherever that lies
  if (low < 0 && high > 0) slider.style.setProperty("--zero", nought);

  const say = (value) => {
    slider.setAttribute("aria-valuetext", `${figure(value, step)} ${unit || ""}`.trim());
    slider.style.setProperty("--from", nought === 0 ? -1 : Math.min(nought, part(value)));
    slider.style.setProperty("--to", Math.max(nought, part(value)));
  };
  const put = (value) => {
    const text = step ? value.toFixed(Math.min(6, Math.max(decimals(step), decimals(value)))) : String(value);
    if (field.value !== text) field.value = text;
  };
  inputs.set(name, {
    busy: () => false,
    show(value) {
      if (!sliding.busy()) {
        slider.value = value;
        say(value);
      }
      if (!typing.busy()) put(sliding.busy() ? slider.valueAsNumber : value);
    },
  });

  slider.addEventListener("pointerdown", sliding.take);
  for (const end of ["pointerup", "pointercancel", "blur", "change"]) slider.addEventListener(end, sliding.leave);
  slider.addEventListener("input", () => {
    sliding.touch();
    say(slider.valueAsNumber);
    put(slider.valueAsNumber);
    send(slider.valueAsNumber);
  });
  field.addEventListener("focus", typing.take);
  field.addEventListener("blur", typing.leave);
  field.addEventListener("change", () => {
    if (Number.isFinite(field.valueAsNumber)) tellBench(name, field.valueAsNumber);
    else notify(`${words} takes a number from ${figure(low, step)} to ${figure(high, step)}${unit ? ` ${unit}` : ""}.`);
  });
  field.addEventListener("keydown", (event) => {
    if (event.key === "Escape") put(settings[name]);
    if (event.key !== "Escape" && event.key !== "Enter") return;
    slider.focus(); // the single keys work again
    if (document.activeElement === field) field.blur();
  });
  return make("div", { class: "control number" },
    label,
    make("span", { class: "entry" }, field, unitText),
    make("span", { class: "travel" },
      make("span", { class: "bound" }, figure(low)),
      slider,
      make("span", { class: "bound" }, figure(high)),
      make("span", { class: "unseen", id: `${id}-bounds` }, `from ${figure(low)} to ${figure(high)}`)));
}

function row(control) {
  const { name, words } = control;
  const settle = settling(name);
  const radios = control.choices.map((choice) =>
    make("input", { type: "radio", name: `control-${name}`, id: `control-${name}-${choice.value}`, value: choice.value }));
  radios.forEach((radio, place) => radio.addEventListener("change", () => {
    settle.touch();
    tellBench(name, control.choices[place].value);
  }));
  inputs.set(name, {
    busy: settle.busy,
    show: (value) => radios.forEach((radio, place) => (radio.checked = control.choices[place].value === value)),
  });
  return make("fieldset", { class: "control choice" },
    make("legend", {}, words),
    make("span", { class: "row" },
      ...radios.map((radio, place) =>
        make("label", { class: "pick" }, radio, make("span", {}, control.choices[place].words)))));
}

function list(control) {
  const { name, words } = control;
  const id = `control-${name}`;
  const settle = settling(name);
  const select = make("select", { id },
    ...control.choices.map((choice, place) => make("option", { value: place }, choice.words)),
    ...(control.other ? [make("option", { value: -1, hidden: true }, control.other)] : []));
  const places = control.choices.map((choice) => choice.value);
  select.addEventListener("change", () => {
    settle.touch();
    tellBench(name, control.choices[select.selectedIndex].value);
  });
  inputs.set(name, {
    busy: settle.busy,
    show: (value) => (select.selectedIndex = control.other && !places.includes(value) ? places.length : places.indexOf(value)),
  });
  return make("div", { class: "control list" }, make("label", { for: id }, words), select);
}

function onOff(control) {
  const { name, words } = control;
  const id = `control-${name}`;
  const settle = settling(name);
  const box = make("input", { id, type: "checkbox", role: "switch" });
  const state = make("span", { class: "state", "aria-hidden": "true" });
  const put = (on) => {
    box.checked = on;
    write(state, on ? "on" : "off");
  };
  box.addEventListener("change", () => {
    settle.touch();
    put(box.checked);
    tellBench(name, box.checked);
  });
  inputs.set(name, { busy: settle.busy, show: (value) => put(Boolean(value)) });
  return make("div", { class: "control switch" }, make("label", { for: id }, words), state, box);
}
