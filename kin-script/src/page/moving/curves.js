// Curves against wheel travel, or against roll: now, and the states kept, with a mark on each where the wheels are.

const LOOKS = [["A", "kept-A", "square"], ["B", "kept-B", "triangle"], ["now", "now", "round"]];
const EDGE = { left: 58, right: 14, top: 12, bottom: 38 };
const CURVE_HEIGHT = 170;

class Curve {
  constructor(state, { key, name, shown }, box) {
    Object.assign(this, { state, key, shown });
    const title = titled({ name, shown });
    this.figure = document.createElement("figure");
    this.figure.append(document.createElement("figcaption"));
    this.figure.firstChild.textContent = title;
    this.svg = element("svg", { class: "curve-box", "data-curve": key, role: "img", "aria-labelledby": `title-${key} words-${key}` });
    element("title", { id: `title-${key}` }, this.svg).textContent = title;
    this.words = element("desc", { id: `words-${key}` }, this.svg);
    this.lines = element("g", {}, this.svg);
    this.figure.append(this.svg);
    box.append(this.figure);
  }

  draw() {
    if (this.figure.hidden) return;
    const { state, key, shown } = this;
    const { sweep, model } = state;
    const width = Math.max(220, this.svg.clientWidth);
    this.svg.setAttribute("viewBox", `0 0 ${width} ${CURVE_HEIGHT}`);
    this.words.textContent = `Curve against ${sweep.name}, with a mark where the wheels are; its value stands in the table.`;
    this.lines.replaceChildren();
    const all = LOOKS.flatMap(([name]) => [...(this.curve(name)?.points ?? []), { at: state[name] }])
      .map(({ at }) => at?.[key] ?? null).filter((value) => value !== null).map(shown.size);
    if (all.length === 0) return;
    let [low, high] = [Math.min(...all), Math.max(...all)];
    if (high - low < shown.least) [low, high] = [(low + high - shown.least) / 2, (low + high + shown.least) / 2];
    const room = 0.08 * (high - low);
    [low, high] = [low - room, high + room];
    const [start, end] = sweep.range(model);
    const x = (place) => EDGE.left + ((place - start) / (end - start)) * (width - EDGE.left - EDGE.right);
    const y = (value) => EDGE.top + ((high - value) / (high - low)) * (CURVE_HEIGHT - EDGE.top - EDGE.bottom);
    // One number alone is no scale.
    const rungs = [4, 8, 16].map((wanted) => ticks(low, high, wanted)).find((found) => found.length > 1) ?? [];
    for (const tick of rungs) {
      element("line", { class: "grid", x1: EDGE.left, x2: width - EDGE.right, y1: y(tick.value), y2: y(tick.value) }, this.lines);
      element("text", { class: "tick end", x: EDGE.left - 6, y: y(tick.value) + 4 }, this.lines).textContent = tick.text;
    }
    const base = CURVE_HEIGHT - EDGE.bottom;
    for (const tick of ticks(start, end, Math.max(2, Math.floor(width / 90)))) {
      const at = x(tick.value);
      element("line", { class: "grid", x1: at, x2: at, y1: EDGE.top, y2: base }, this.lines);
      element("text", { class: "tick middle", x: at, y: base + 15 }, this.lines).textContent = tick.text;
    }
    const foot = element("text", { class: "tick middle", x: (EDGE.left + width - EDGE.right) / 2, y: CURVE_HEIGHT - 6 }, this.lines);
    foot.textContent = sweep.foot(model);
    for (const [name, look, mark] of LOOKS) this.line(name, look, mark, x, y);
  }

  // A state's curve, where it differs from that of now.
  curve(name) {
    return name === "now" || this.state.isKeptApart(name) ? this.state.curves[name] : null;
  }

  line(name, look, mark, x, y) {
    const { state, key, shown } = this;
    const curve = this.curve(name);
    if (!curve) return;
    let path = "";
    let open = false;
    for (const point of curve.points) {
      const value = point.at?.[key] ?? null;
      if (value !== null) path += `${open ? "L" : "M"}${x(point.x).toFixed(2)} ${y(shown.size(value)).toFixed(2)}`;
      open = value !== null;
    }
    element("path", { class: `curve ${look}`, d: path }, this.lines);
    const value = state[name]?.[key] ?? null;
    if (value === null) return;
    const [cx, cy] = [x(state.sweep.x(state[name], state.fromRide, state.model)), y(shown.size(value))];
    if (mark === "round") element("circle", { class: `mark ${look}`, cx, cy, r: 6 }, this.lines);
    if (mark === "square") element("rect", { class: `mark ${look}`, x: cx - 5, y: cy - 5, width: 10, height: 10 }, this.lines);
    if (mark === "triangle") element("path", { class: `mark ${look}`, d: `M${cx} ${cy - 6}l6 11h-12z` }, this.lines);
  }
}

// The curves and the choice of them.
class Curves {
  constructor(state, changed) {
    const { rows, shown, sweeps } = state.subject;
    const box = document.getElementById("curves");
    const choices = document.getElementById("choices");
    this.curves = rows.map((row) => {
      const curve = new Curve(state, row, box);
      const label = document.createElement("label");
      const check = document.createElement("input");
      Object.assign(check, { type: "checkbox", checked: shown.includes(row.key) });
      check.dataset.choice = row.key;
      check.addEventListener("change", () => {
        curve.figure.hidden = !check.checked;
        curve.draw();
      });
      curve.figure.hidden = !check.checked;
      label.append(check, ` ${row.name}`);
      choices.append(label);
      return curve;
    });
    const against = document.getElementById("against");
    sweeps.forEach(({ key, name }) => against?.append(new Option(name, key)));
    against?.addEventListener("change", () => {
      state.against(sweeps.find(({ key }) => key === against.value));
      changed(true);
    });
  }

  draw() {
    this.curves.forEach((curve) => curve.draw());
  }
}

// Round numbers between two values, each with its text.
function ticks(low, high, wanted) {
  const raw = (high - low) / wanted;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((part) => part * power).find((size) => size >= raw * 0.999) ?? raw;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const found = [];
  for (let count = Math.ceil(low / step - 1e-9); count * step <= high + 1e-9 * step; count += 1) {
    found.push({ value: count * step, text: minus((count * step).toFixed(decimals)) });
  }
  return found;
}
