// Puts the page together.

const DEGREES = 180 / Math.PI;

// Every number shown: its name, how it is written, and what it needs.
function rows(model) {
  const length = (decimals = model.unit.decimals) => ({ size: (value) => value / model.unit.size, symbol: model.unit.symbol, decimals, least: 1 / model.unit.size });
  const ratio = { size: (value) => value, symbol: "", decimals: 3, least: 0.02 };
  const angle = { size: (value) => value * DEGREES, symbol: "deg", decimals: 2, least: 0.2 };
  const rate = { size: (value) => value / model.rate.size, symbol: model.rate.symbol, decimals: model.rate.decimals, least: 0.05 };
  const force = { size: (value) => value / model.force.size, symbol: model.force.symbol, decimals: model.force.decimals, least: 1 };
  return [
    ["damper_length", "Damper, between its mounts", length(), "extended"],
    ["motion_ratio", "Motion ratio, damper over wheel", ratio, "extended"],
    ["motion_ratio_inverse", "The same as wheel over damper", ratio, "extended"],
    ["motion_ratio_squared", "Motion ratio squared", ratio, "extended"],
    ["spring_force", "Spring force", force, "freeLength"],
    ["wheel_force", "Spring force at the wheel", force, "freeLength"],
    ["wheel_rate", "Wheel rate", rate, "springRate"],
    ["camber", "Camber, plus leans out", angle],
    ["toe", "Toe, plus is toe-in", angle],
    ["roll_centre_height", "Roll centre above ground", length()],
  ].map(([key, name, shown, needs]) => ({ key, name, shown, needs }));
}

class Page {
  constructor(solver, model) {
    this.state = new State(solver, model);
    this.shown = rows(model).filter(({ needs }) => !needs || this.state.has(needs));
    const changed = () => this.draw();
    this.front = new Drawing(document.getElementById("front"), this.state, (point) => point[1]);
    this.side = new Drawing(document.getElementById("side"), this.state, (point) => -point[0]);
    this.handles = new Handles(this.front, this.state, changed);
    this.fields = new Fields(this.state, changed);
    this.curves = [...document.querySelectorAll("svg[data-curve]")].flatMap((svg) => {
      const row = this.shown.find(({ key }) => key === svg.dataset.curve);
      svg.closest("figure").hidden = !row;
      return row ? [new Curve(svg, this.state, row.key, row.shown)] : [];
    });
    this.numbers();
    this.buttons();
    new ResizeObserver(() => this.fit()).observe(document.querySelector("main"));
    this.fit();
  }

  fit() {
    this.front.fit();
    this.side.fit();
    this.draw();
  }

  numbers() {
    const body = document.getElementById("numbers");
    this.cells = this.shown.map(({ key, name, shown }) => {
      const row = body.insertRow();
      const head = document.createElement("th");
      head.scope = "row";
      head.textContent = shown.symbol ? `${name} (${shown.symbol})` : name;
      row.append(head);
      return { key, shown, cells: ["now", "A", "B"].map((state) => [state, row.insertCell()]) };
    });
    for (const { key, cells } of this.cells) {
      for (const [state, cell] of cells) Object.assign(cell.dataset, { key, state });
    }
  }

  buttons() {
    const { state } = this;
    const press = (id, act) => document.getElementById(id).addEventListener("click", () => {
      act();
      this.draw();
    });
    press("keep-A", () => state.keep("A"));
    press("keep-B", () => state.keep("B"));
    press("take-A", () => state.take(state.kept.A));
    press("take-B", () => state.take(state.kept.B ?? state.numbers));
    press("again", () => {
      state.fromRide = 0;
      state.take(state.start);
    });
    this.play();
  }

  // The wheel goes up and down by itself only when asked to, and not for those who want no motion.
  play() {
    const button = document.getElementById("play");
    const still = window.matchMedia("(prefers-reduced-motion: reduce)");
    let began = null;
    const stop = () => {
      began = null;
      button.textContent = "Move up and down";
    };
    const step = (time) => {
      if (began === null) return;
      const { droop, bump } = this.state.model;
      const turn = Math.sin(((time - began) / 4000) * 2 * Math.PI);
      this.state.moveWheel(turn > 0 ? turn * bump : turn * droop);
      this.draw();
      window.requestAnimationFrame(step);
    };
    button.addEventListener("click", () => {
      if (began !== null) return stop();
      began = performance.now();
      button.textContent = "Stop";
      return window.requestAnimationFrame(step);
    });
    document.addEventListener("pointerdown", (event) => event.target !== button && stop());
    document.addEventListener("keydown", (event) => event.target !== button && stop());
    const seen = () => {
      button.hidden = still.matches;
      if (still.matches) stop();
    };
    still.addEventListener("change", seen);
    seen();
  }

  draw() {
    const { state } = this;
    this.front.draw();
    this.side.draw();
    this.handles.draw();
    this.fields.draw();
    this.curves.forEach((curve) => curve.draw());
    for (const { key, shown, cells } of this.cells) {
      for (const [name, cell] of cells) {
        const value = state[name]?.[key] ?? null;
        cell.textContent = value === null ? "\u2013" : minus(shown.size(value).toFixed(shown.decimals));
        cell.dataset.value = value === null ? "" : String(value);
      }
    }
    document.getElementById("take-B").disabled = !state.kept.B;
    const where = travelWords(state);
    const length = state.now.damper_length;
    const damper = length === null ? "" : `; the damper is ${state.damperWords(length)}`;
    document.getElementById("where").textContent = `Wheel ${where}${damper}.`;
    document.getElementById("refusal").textContent = state.refusal === null ? "" : `It stays where it was: ${state.refusal}.`;
    // In millimetres, in the order of the solver: for programs that read the page.
    const main = document.querySelector("main");
    main.dataset.travel = String(state.travel());
    main.dataset.pickups = state.numbers.join(" ");
    main.dataset.answer = [...POINTS.flatMap((name) => state.now[name]), ...READINGS.map((name) => state.now[name] ?? NaN)].join(" ");
    main.dataset.ready = "yes";
    this.tell(where);
  }

  // Said aloud once things have come to rest.
  tell(where) {
    window.clearTimeout(this.telling);
    this.telling = window.setTimeout(() => {
      const said = this.cells.filter(({ key }) => ["motion_ratio", "wheel_rate", "wheel_force"].includes(key))
        .map(({ key, shown, cells }) => {
          const name = this.shown.find((row) => row.key === key).name;
          return `${name} ${cells[0][1].textContent} ${shown.symbol}`.trim();
        });
      document.getElementById("said").textContent = `Wheel ${where}. ${said.join("; ")}.`;
    }, 600);
  }
}

async function start() {
  try {
    const model = JSON.parse(document.getElementById("model").textContent);
    const solver = await Solver.load(document.getElementById("solver").textContent.trim());
    new Page(solver, model);
  } catch (error) {
    document.getElementById("refusal").textContent = `This browser could not start the solver (${error.message}). A current one is needed.`;
    throw error;
  }
}

start();
