// Curves against wheel travel: now, and the states kept, with a mark on each where the wheel is.

const LOOKS = [["A", "kept-A", "square"], ["B", "kept-B", "triangle"], ["now", "now", "round"]];
const EDGE = { left: 58, right: 14, top: 12, bottom: 38 };

class Curve {
  constructor(svg, state, key, shown) {
    this.svg = svg;
    this.state = state;
    this.key = key;
    this.shown = shown;
    this.lines = svg.querySelector(".lines");
  }

  draw() {
    const { state, key, shown } = this;
    const width = Math.max(220, this.svg.clientWidth);
    const height = 170;
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.lines.replaceChildren();
    const { droop, bump, unit } = state.model;
    const all = LOOKS.flatMap(([name]) => (state.curves[name] ?? []).map(({ at }) => at?.[key]))
      .filter((value) => value !== null && value !== undefined).map(shown.size);
    if (all.length === 0) return;
    let [low, high] = [Math.min(...all), Math.max(...all)];
    const least = shown.least;
    if (high - low < least) [low, high] = [(low + high - least) / 2, (low + high + least) / 2];
    const room = 0.08 * (high - low);
    [low, high] = [low - room, high + room];
    const x = (fromRide) => EDGE.left + ((fromRide + droop) / (droop + bump)) * (width - EDGE.left - EDGE.right);
    const y = (value) => EDGE.top + ((high - value) / (high - low)) * (height - EDGE.top - EDGE.bottom);
    for (const tick of ticks(low, high, 4)) {
      element("line", { class: "grid", x1: EDGE.left, x2: width - EDGE.right, y1: y(tick.value), y2: y(tick.value) }, this.lines);
      element("text", { class: "tick end", x: EDGE.left - 6, y: y(tick.value) + 4 }, this.lines).textContent = tick.text;
    }
    for (const tick of ticks(-droop / unit.size, bump / unit.size, Math.max(2, Math.floor(width / 90)))) {
      const at = x(tick.value * unit.size);
      element("line", { class: "grid", x1: at, x2: at, y1: EDGE.top, y2: height - EDGE.bottom }, this.lines);
      element("text", { class: "tick middle", x: at, y: height - EDGE.bottom + 15 }, this.lines).textContent = tick.text;
    }
    const foot = element("text", { class: "tick middle", x: (EDGE.left + width - EDGE.right) / 2, y: height - 6 }, this.lines);
    foot.textContent = `droop \u2190 wheel travel (${unit.symbol}) \u2192 bump`;
    for (const [name, look, mark] of LOOKS) this.line(name, look, mark, x, y);
  }

  line(name, look, mark, x, y) {
    const { state, key, shown } = this;
    const curve = state.curves[name];
    if (!curve || (name !== "now" && !differs(state.kept[name], state.numbers))) return;
    let path = "";
    let open = false;
    for (const { fromRide, at } of curve) {
      const value = at?.[key] ?? null;
      if (value !== null) path += `${open ? "L" : "M"}${x(fromRide).toFixed(2)} ${y(shown.size(value)).toFixed(2)}`;
      open = value !== null;
    }
    element("path", { class: `curve ${look}`, d: path }, this.lines);
    const value = state[name]?.[key] ?? null;
    if (value === null) return;
    const [cx, cy] = [x(state.fromRide), y(shown.size(value))];
    if (mark === "round") element("circle", { class: `mark ${look}`, cx, cy, r: 6 }, this.lines);
    if (mark === "square") element("rect", { class: `mark ${look}`, x: cx - 5, y: cy - 5, width: 10, height: 10 }, this.lines);
    if (mark === "triangle") element("path", { class: `mark ${look}`, d: `M${cx} ${cy - 6}l6 11h-12z` }, this.lines);
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

// A number with the sign that is as wide as a plus; a rounded zero has none.
function minus(text) {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text.replace("-", "\u2212");
}
