// Taking hold: with a pointer, with the keyboard, and with fields for numbers.

// Size of a finger, as a radius in pixels.
const FINGER = 22;

class Handles {
  constructor(drawing, state, changed) {
    this.drawing = drawing;
    this.state = state;
    this.changed = changed;
    this.layer = drawing.svg.querySelector(".handles");
    this.handles = [this.make("wheel", "\u2195", "wheel", "vertical")];
    for (const pickup of state.pickups()) this.handles.push(this.make(pickup.key, pickup.number, pickup.name, null));
  }

  make(key, sign, name, orientation) {
    const group = element("g", { class: `handle hold-${key}`, tabindex: "0", role: "slider", "data-handle": key }, this.layer);
    group.setAttribute("aria-label", key === "wheel" ? "Wheel: arrow up and down move it" : `${name}: arrow keys move it`);
    if (orientation) group.setAttribute("aria-orientation", orientation);
    // The whole tyre can be taken hold of; a point as widely as a finger needs.
    element(key === "wheel" ? "rect" : "circle", { class: "finger", r: FINGER }, group);
    element("circle", { class: "knob", r: 11 }, group);
    element("text", { class: "sign", y: 5 }, group).textContent = sign;
    element("title", {}, group).textContent = name;
    group.addEventListener("pointerdown", (event) => this.grab(event, group, key));
    group.addEventListener("keydown", (event) => this.press(event, key));
    return { key, name, group };
  }

  place(key) {
    return key === "wheel" ? this.state.now.wheel : this.state.now[key];
  }

  draw() {
    const { state, drawing } = this;
    const { unit, droop, bump } = state.model;
    for (const { key, group } of this.handles) {
      const [x, y] = drawing.at(this.place(key));
      group.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
      const inUnit = (value) => (value / unit.size).toFixed(unit.decimals);
      if (key === "wheel") {
        const radius = Math.max(FINGER, state.start[GIVEN.radius] * drawing.scale);
        const half = Math.max(FINGER, 0.5 * TYRE_WIDTH * radius);
        const tyre = { x: -half, y: -radius, width: 2 * half, height: 2 * radius, rx: 0.6 * half };
        for (const [name, value] of Object.entries(tyre)) group.firstChild.setAttribute(name, value);
        group.setAttribute("aria-valuemin", inUnit(-droop));
        group.setAttribute("aria-valuemax", inUnit(bump));
        group.setAttribute("aria-valuenow", inUnit(state.fromRide));
        group.setAttribute("aria-valuetext", travelWords(state));
      } else {
        const place = state.place(key);
        group.setAttribute("aria-valuenow", inUnit(place[1]));
        group.setAttribute("aria-valuetext", `${inUnit(place[1])} ${unit.symbol} left, ${inUnit(place[2])} ${unit.symbol} up`);
      }
    }
  }

  // The pointer keeps the distance to the middle that it had when it took hold.
  grab(event, group, key) {
    if (event.button !== 0) return;
    event.preventDefault();
    group.focus();
    group.setPointerCapture(event.pointerId);
    const held = this.drawing.measured(event);
    const start = this.place(key);
    const away = [start[1] - held[0], start[2] - held[1]];
    const from = this.state.fromRide;
    const move = (moved) => {
      const here = this.drawing.measured(moved);
      const target = [here[0] + away[0], here[1] + away[1]];
      if (key === "wheel") this.state.moveWheel(from + target[1] - start[2]);
      else this.state.drag(key, target);
      this.changed();
    };
    const end = () => {
      group.removeEventListener("pointermove", move);
      group.removeEventListener("pointerup", end);
      group.removeEventListener("pointercancel", end);
    };
    group.addEventListener("pointermove", move);
    group.addEventListener("pointerup", end);
    group.addEventListener("pointercancel", end);
  }

  press(event, key) {
    const { state } = this;
    const step = state.model.unit.step * (event.shiftKey ? 10 : 1);
    const [across, up] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (key === "wheel") {
      const ends = { Home: -state.model.droop, End: state.model.bump, PageUp: state.fromRide + 10 * step, PageDown: state.fromRide - 10 * step };
      if (!(event.key in ends) && !across && !up) return;
      state.moveWheel(ends[event.key] ?? state.fromRide + (across + up) * step);
    } else {
      if (!across && !up) return;
      const slide = across ? state.slide(key) : null;
      const move = slide ? slide.map((value) => value * across) : [0, across, up];
      state.put(key, state.place(key).map((value, axis) => value + step * move[axis]));
    }
    event.preventDefault();
    this.changed();
  }
}

// Fields for those who would rather type, and for screens that are read aloud.
class Fields {
  constructor(state, changed) {
    this.state = state;
    this.slider = document.getElementById("travel");
    const { droop, bump, unit } = state.model;
    Object.assign(this.slider, { min: -droop / unit.size, max: bump / unit.size, step: "any" });
    this.slider.addEventListener("input", () => {
      state.moveWheel(Number(this.slider.value) * unit.size);
      changed();
    });
    this.inputs = [];
    const body = document.getElementById("points");
    for (const pickup of state.pickups()) {
      const row = body.insertRow();
      const head = document.createElement("th");
      head.scope = "row";
      head.textContent = `${pickup.number}  ${pickup.name}`;
      row.append(head);
      for (const [axis, word] of [[1, "left"], [2, "up"]]) {
        const input = document.createElement("input");
        Object.assign(input, { type: "number", step: unit.step / unit.size });
        input.setAttribute("aria-label", `${pickup.name}, ${word} (${unit.symbol})`);
        input.dataset.field = `${pickup.key}-${word}`;
        input.addEventListener("change", () => {
          const place = state.place(pickup.key);
          place[axis] = Number(input.value) * unit.size;
          if (input.value !== "") state.put(pickup.key, place);
          changed();
        });
        row.insertCell().append(input);
        this.inputs.push({ input, key: pickup.key, axis });
      }
    }
  }

  draw() {
    const { unit } = this.state.model;
    this.slider.value = this.state.fromRide / unit.size;
    this.slider.setAttribute("aria-valuetext", travelWords(this.state));
    for (const { input, key, axis } of this.inputs) {
      const text = (this.state.place(key)[axis] / unit.size).toFixed(unit.decimals + 1);
      if (document.activeElement !== input || Number(input.value) !== Number(text)) input.value = text;
    }
  }
}

function travelWords(state) {
  const { unit } = state.model;
  const size = (Math.abs(state.fromRide) / unit.size).toFixed(unit.decimals);
  if (Number(size) === 0) return "at ride height";
  return `${size} ${unit.symbol} of ${state.fromRide > 0 ? "bump" : "droop"} from ride height`;
}
