// Parts that a view is drawn from.

const SVG = "http://www.w3.org/2000/svg";
// Width of a tyre and outer radius of a spring as drawn, as shares of the tyre's radius: descriptions do not give them.
const TYRE_WIDTH = 0.65;
const SPRING_RADIUS = 0.11;
const TURNS = 16;
// Width of a letter of a label, where a browser does not measure it.
const LETTER = 7.5;

function element(name, attributes = {}, parent = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (parent) parent.append(made);
  return made;
}

class Pen {
  constructor(view, group) {
    this.view = view;
    this.group = group;
  }

  make(name, attributes) {
    return element(name, attributes, this.group);
  }

  line(from, to, kind) {
    const [a, b] = [this.view.at(from), this.view.at(to)];
    return this.make("line", { class: kind, x1: a[0], y1: a[1], x2: b[0], y2: b[1] });
  }

  polygon(points, kind) {
    this.make("polygon", { class: kind, points: points.map((point) => this.view.at(point).join(",")).join(" ") });
  }

  mount(point, kind = "fixed") {
    const [x, y] = this.view.at(point);
    this.make("rect", { class: kind, x: x - 4, y: y - 4, width: 8, height: 8 });
  }

  joint(point, kind = "joint") {
    const [x, y] = this.view.at(point);
    this.make("circle", { class: kind, cx: x, cy: y, r: 4 });
  }

  // The ground through a place, level, or through the contact points of both wheels.
  ground(one, other = null) {
    const [width] = this.view.size;
    const [a, b] = [this.view.at(one), this.view.at(other ?? one)];
    const rise = other && Math.abs(b[0] - a[0]) > 1 ? (b[1] - a[1]) / (b[0] - a[0]) : 0;
    const y = (x) => a[1] + rise * (x - a[0]);
    this.make("line", { class: "ground", x1: 0, x2: width, y1: y(0), y2: y(width) });
    this.make("text", { class: "word", x: 4, y: y(4) + 14 }).textContent = "ground";
  }

  // Round where it is seen along its axle, upright or lying down otherwise.
  wheel(centre, spin, radius, kind = "wheel") {
    const { view } = this;
    const [x, y] = view.at(centre);
    const size = radius * view.scale;
    if (view.isAlong(1)) {
      this.make("circle", { class: kind, cx: x, cy: y, r: size });
      return;
    }
    const width = TYRE_WIDTH * size;
    const [across, up] = view.flat(spin);
    // The tyre stands square to its axis.
    const turn = (Math.atan2(-up, across) * 180) / Math.PI;
    this.make("rect", {
      class: kind, x: x - width / 2, y: y - size, width, height: 2 * size, rx: 0.3 * width, transform: `rotate(${turn} ${x} ${y})`,
    });
  }

  damper(upper, lower) {
    const middle = upper.map((value, axis) => (value + lower[axis]) / 2);
    this.mount(upper);
    this.line(upper, lower, "shaft");
    this.line(middle, lower, "body");
  }

  // A coil from seat to seat.
  spring(upper, lower, [upperSeat, lowerSeat], radius) {
    const length = Math.hypot(...upper.map((value, axis) => value - lower[axis]));
    const along = (share) => this.view.at(upper.map((value, axis) => value + share * (lower[axis] - value)));
    const [top, bottom] = [upperSeat / length, 1 - lowerSeat / length];
    if (bottom <= top) return;
    const half = SPRING_RADIUS * radius * this.view.scale;
    const [a, b] = [along(top), along(bottom)];
    const size = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const beside = [-(b[1] - a[1]) / size, (b[0] - a[0]) / size];
    const points = Array.from({ length: TURNS + 1 }, (_, step) => {
      const share = step / TURNS;
      const away = step === 0 || step === TURNS ? 0 : (step % 2 ? half : -half);
      return `${a[0] + share * (b[0] - a[0]) + away * beside[0]},${a[1] + share * (b[1] - a[1]) + away * beside[1]}`;
    });
    this.make("polyline", { class: "spring", points: points.join(" ") });
  }

  // Dampers and springs of a subject, where they are.
  mounted(state, at, numbers) {
    const { given, dampers, springs } = state.subject;
    for (const [key] of dampers) this.damper(at[`${key}Upper`], at[`${key}Lower`]);
    for (const [key] of springs) {
      const seats = [numbers[given[`${key}UpperSeat`]], numbers[given[`${key}LowerSeat`]]];
      if (!Number.isNaN(at[`${key}Upper`][0])) this.spring(at[`${key}Upper`], at[`${key}Lower`], seats, numbers[given.radius]);
    }
  }

  // Words beside a place, within the picture; arrows say which way it lies if it is outside.
  label(point, words, isBelow = false) {
    const [width, height] = this.view.size;
    const [x, y] = this.view.at(point);
    const [inX, inY] = [Math.min(width - 8, Math.max(8, x)), Math.min(height - 24, Math.max(24, y))];
    const aside = { "-1": "\u2190 ", 1: "\u2192 " }[Math.sign(x - inX)] ?? { "-1": "\u2191 ", 1: "\u2193 " }[Math.sign(y - inY)];
    const text = this.make("text", { class: "label" });
    text.textContent = `${aside ?? ""}${words}`;
    // Where the fewest numbers are covered: above or below, to the side with more room first.
    const size = text.getComputedTextLength() || LETTER * text.textContent.length;
    const ways = inX > width / 2 ? [-1, 1] : [1, -1];
    const places = (isBelow ? [-14] : [8, -18]).flatMap((rise) => ways.map((way) => ({ left: way > 0 ? inX + 10 : inX - 10 - size, base: inY - rise })));
    const covered = ({ left, base }) => {
      const isOut = left < 0 || left + size > width;
      const marks = this.view.marks.filter(([markX, markY]) => markX > left - KNOB && markX < left + size + KNOB && Math.abs(markY - base + 5) < KNOB + 8);
      return (isOut ? 100 : 0) + marks.length;
    };
    const best = places.reduce((found, place) => (covered(place) < covered(found) ? place : found));
    text.setAttribute("x", Math.max(2, Math.min(width - size - 2, best.left)));
    text.setAttribute("y", best.base);
  }

  cross(point) {
    const [x, y] = this.view.at(point);
    this.make("path", { class: "cross", d: `M${x - 9} ${y}h18M${x} ${y - 9}v18` });
  }

  // A centre with its words.
  marker(point, words) {
    const [x, y] = this.view.at(point);
    this.make("circle", { class: "centre", cx: x, cy: y, r: 5 });
    this.cross(point);
    this.label(point, words);
  }
}
