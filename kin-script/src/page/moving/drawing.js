// The linkage to scale, seen from the front (left is to the right of the picture) and from the left (forward is to the left).

const SVG = "http://www.w3.org/2000/svg";
const TYRE_WIDTH = 0.65;

function element(name, attributes = {}, parent = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (parent) parent.append(made);
  return made;
}

class Drawing {
  // `across` gives what a point has across the picture.
  constructor(svg, state, across) {
    this.svg = svg;
    this.state = state;
    this.across = across;
    this.parts = svg.querySelector(".parts");
    this.box = this.bounds();
    this.fit();
  }

  // Room for every place that the wheel and the parts take.
  bounds() {
    const { state } = this;
    const { ride, droop, bump } = state.model;
    const reach = state.start[GIVEN.radius];
    const box = { left: Infinity, right: -Infinity, low: Infinity, high: -Infinity };
    const take = (point, room) => {
      if (!point || Number.isNaN(point[0])) return;
      box.left = Math.min(box.left, this.across(point) - room);
      box.right = Math.max(box.right, this.across(point) + room);
      box.low = Math.min(box.low, point[2] - room);
      box.high = Math.max(box.high, point[2] + room);
    };
    for (const travel of [ride - droop, ride, ride + bump]) {
      const at = state.solver.solve(travel);
      if (!at) continue;
      for (const name of ["upperBall", "lowerBall", "damperUpper", "damperLower", "springUpper", "springLower"]) take(at[name], 0.1 * reach);
      const wheel = at.wheel;
      take(wheel, this.isSide() ? 1.05 * reach : 0.6 * TYRE_WIDTH * reach);
      take([wheel[0], wheel[1], wheel[2] - reach], 0.05 * reach);
      take([wheel[0], wheel[1], wheel[2] + reach], 0.05 * reach);
    }
    for (const name of ["upperFront", "upperRear", "lowerFront", "lowerRear"]) take(state.place(name), 0.15 * reach);
    return box;
  }

  isSide() {
    return this.across([1, 0, 0]) !== 0;
  }

  // One unit of the picture is one pixel, so that text has one size on every screen.
  fit() {
    const { box } = this;
    const width = Math.max(240, this.svg.clientWidth);
    const ratio = (box.high - box.low) / (box.right - box.left);
    const height = Math.round(Math.min(width * ratio, 0.9 * window.innerHeight));
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.svg.style.height = `${height}px`;
    this.scale = Math.min(width / (box.right - box.left), height / (box.high - box.low));
    this.origin = [(width - this.scale * (box.left + box.right)) / 2, (height + this.scale * (box.low + box.high)) / 2];
    this.size = [width, height];
  }

  at(point) {
    return [this.origin[0] + this.scale * this.across(point), this.origin[1] - this.scale * point[2]];
  }

  // Across and up, in millimetres, of a place on the screen.
  measured(event) {
    const frame = this.svg.getBoundingClientRect();
    const share = this.size[0] / frame.width;
    const [x, y] = [(event.clientX - frame.left) * share, (event.clientY - frame.top) * share];
    return [(x - this.origin[0]) / this.scale, (this.origin[1] - y) / this.scale];
  }

  draw() {
    const { state } = this;
    this.parts.replaceChildren();
    for (const name of ["A", "B"]) {
      if (state[name] && differs(state.kept[name], state.numbers)) this.linkage(state[name], state.kept[name], `ghost kept-${name}`);
    }
    this.ground(state.now);
    this.linkage(state.now, state.numbers, "now");
  }

  ground(at) {
    const y = this.at(at.contact)[1];
    element("line", { class: "ground", x1: 0, x2: this.size[0], y1: y, y2: y }, this.parts);
    element("text", { class: "word", x: 4, y: y - 5 }, this.parts).textContent = "ground";
  }

  linkage(at, numbers, look) {
    const group = element("g", { class: look }, this.parts);
    const given = (key) => Array.from(numbers.slice(GIVEN[key], GIVEN[key] + 3));
    const line = (from, to, kind) => {
      const [a, b] = [this.at(from), this.at(to)];
      element("line", { class: kind, x1: a[0], y1: a[1], x2: b[0], y2: b[1] }, group);
    };
    this.wheel(at, numbers, group);
    for (const [front, rear, ball] of [["upperFront", "upperRear", at.upperBall], ["lowerFront", "lowerRear", at.lowerBall]]) {
      for (const pivot of [given(front), given(rear)]) {
        line(pivot, ball, "arm");
        this.mount(pivot, group);
      }
    }
    line(at.tieInner, at.tieOuter, "rod");
    const upright = [at.lowerBall, at.upperBall, at.wheel].map((point) => this.at(point).join(","));
    element("polygon", { class: "upright", points: upright.join(" ") }, group);
    if (at.damper_length !== null) {
      this.mount(at.damperUpper, group);
      const middle = at.damperUpper.map((value, axis) => (value + at.damperLower[axis]) / 2);
      line(at.damperUpper, at.damperLower, "shaft");
      line(middle, at.damperLower, "body");
    }
    if (at.spring_length !== null) this.spring(at, numbers, group);
    for (const joint of [at.upperBall, at.lowerBall, at.tieOuter]) {
      const [x, y] = this.at(joint);
      element("circle", { class: "joint", cx: x, cy: y, r: 4 }, group);
    }
  }

  wheel(at, numbers, group) {
    const radius = numbers[GIVEN.radius] * this.scale;
    const [x, y] = this.at(at.wheel);
    if (this.isSide()) {
      element("circle", { class: "wheel", cx: x, cy: y, r: radius }, group);
      return;
    }
    const width = TYRE_WIDTH * radius;
    // Top leans outboard, to the right of the picture, when the spin axis points down outboard.
    const lean = (Math.atan2(-at.spin[2], at.spin[1]) * 180) / Math.PI;
    element("rect", {
      class: "wheel", x: x - width / 2, y: y - radius, width, height: 2 * radius, rx: 0.3 * width,
      transform: `rotate(${lean} ${x} ${y})`,
    }, group);
  }

  mount(point, group) {
    const [x, y] = this.at(point);
    element("rect", { class: "fixed", x: x - 4, y: y - 4, width: 8, height: 8 }, group);
  }

  // A coil from seat to seat.
  spring(at, numbers, group) {
    const [upper, lower] = [at.springUpper, at.springLower];
    const length = at.spring_length;
    const along = (share) => upper.map((value, axis) => value + share * (lower[axis] - value));
    const top = numbers[GIVEN.upperSeat] / length;
    const bottom = 1 - numbers[GIVEN.lowerSeat] / length;
    if (bottom <= top) return;
    const half = 0.11 * numbers[GIVEN.radius] * this.scale;
    const [a, b] = [this.at(along(top)), this.at(along(bottom))];
    const size = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const beside = [-(b[1] - a[1]) / size, (b[0] - a[0]) / size];
    const turns = 16;
    const points = Array.from({ length: turns + 1 }, (_, step) => {
      const share = step / turns;
      const away = step === 0 || step === turns ? 0 : (step % 2 ? half : -half);
      return `${a[0] + share * (b[0] - a[0]) + away * beside[0]},${a[1] + share * (b[1] - a[1]) + away * beside[1]}`;
    });
    element("polyline", { class: "spring", points: points.join(" ") }, group);
  }
}

function differs(a, b) {
  return a.some((value, place) => value !== b[place] && !(Number.isNaN(value) && Number.isNaN(b[place])));
}
