// What is shown: the corner as it is now, where its wheel is, and the two states that are kept.

const PICKUPS = [
  { key: "damperUpper", number: "1", name: "upper mount of the damper", needs: "extended" },
  { key: "damperLower", number: "2", name: "lower mount of the damper", needs: "extended" },
  { key: "upperBall", number: "3", name: "upper ball joint" },
  { key: "lowerBall", number: "4", name: "lower ball joint" },
];
const CURVE_STEPS = 48;
// Rounds in which a pickup is brought under the pointer, and how near (mm) it must come.
const ROUNDS = 20;
const NEAR = 1e-4;

class State {
  constructor(solver, model) {
    this.solver = solver;
    this.model = model;
    this.start = model.numbers.map((value) => (value === null ? NaN : value));
    this.numbers = this.start.slice();
    this.fromRide = 0;
    this.kept = { A: this.start.slice(), B: null };
    this.curves = { now: null, A: null, B: null };
    this.refusal = null;
    this.renew();
  }

  has(key) {
    return !Number.isNaN(this.start[GIVEN[key]]);
  }

  pickups() {
    return PICKUPS.filter((pickup) => !pickup.needs || this.has(pickup.needs));
  }

  travel() {
    return this.model.ride + this.fromRide;
  }

  // The corner of a state; null when it cannot be built.
  with(numbers, look) {
    return this.solver.describe(numbers) === null ? look() : null;
  }

  // Everything that hangs on the pickups; false, with nothing changed, where they or the wheel's place cannot be.
  renew() {
    const refused = this.solver.describe(this.numbers);
    const now = refused === null ? this.solver.solve(this.travel()) : null;
    if (now === null) {
      this.refusal = refused ?? this.solver.words();
      return false;
    }
    this.refusal = null;
    this.now = now;
    this.curves.now = this.curve();
    this.compare();
    this.solver.describe(this.numbers);
    return true;
  }

  curve() {
    const { ride, droop, bump } = this.model;
    return Array.from({ length: CURVE_STEPS + 1 }, (_, step) => {
      const fromRide = -droop + ((droop + bump) * step) / CURVE_STEPS;
      return { fromRide, at: this.solver.solve(ride + fromRide) };
    });
  }

  compare() {
    for (const name of ["A", "B"]) {
      const kept = this.kept[name];
      this[name] = kept && this.with(kept, () => this.solver.solve(this.travel()));
      if (kept && !this.curves[name]) this.curves[name] = this.with(kept, () => this.curve());
    }
  }

  // Moves the wheel, as far as it goes.
  moveWheel(fromRide) {
    const { droop, bump } = this.model;
    const before = this.fromRide;
    this.fromRide = Math.min(bump, Math.max(-droop, fromRide));
    const now = this.solver.solve(this.travel());
    if (now === null) {
      this.refusal = this.solver.words();
      this.fromRide = before;
      return false;
    }
    this.refusal = null;
    this.now = now;
    this.compare();
    this.solver.describe(this.numbers);
    return true;
  }

  place(key) {
    return Array.from(this.numbers.slice(GIVEN[key], GIVEN[key] + 3));
  }

  // Puts a pickup, as measured, at a place; false, with nothing changed, where it cannot be.
  put(key, place) {
    const before = this.numbers.slice();
    place.forEach((value, axis) => { this.numbers[GIVEN[key] + axis] = value; });
    if (place.every(Number.isFinite) && this.renew()) return true;
    const refusal = this.refusal;
    this.numbers = before;
    this.renew();
    this.refusal = refusal;
    return false;
  }

  // The direction in which a pickup slides: a damper's lower mount along the arm that carries it.
  slide(key) {
    const carrier = this.numbers[GIVEN.damperCarrier];
    if (key !== "damperLower" || carrier === 2) return null;
    const [front, rear, ball] = (carrier === 0 ? ["lowerFront", "lowerRear", "lowerBall"] : ["upperFront", "upperRear", "upperBall"])
      .map((name) => this.place(name));
    const along = ball.map((value, axis) => value - (front[axis] + rear[axis]) / 2);
    const length = Math.hypot(...along);
    return along.map((value) => value / length);
  }

  // Brings a pickup under the pointer, `target` being left and up where the wheel is now. The pickup is known where it was measured,
  // so it is moved there by what is missing here, until nothing is: its part turns by far less than a right angle.
  drag(key, target) {
    const before = this.numbers.slice();
    const slide = this.slide(key);
    for (let round = 0; round < ROUNDS; round += 1) {
      const here = this.now[key];
      let move = [0, target[0] - here[1], target[1] - here[2]];
      if (slide) {
        const share = (move[1] * slide[1] + move[2] * slide[2]) / (slide[1] * slide[1] + slide[2] * slide[2]);
        move = slide.map((value) => value * share);
      }
      if (Math.hypot(...move) < NEAR) break;
      const place = this.place(key).map((value, axis) => value + move[axis]);
      place.forEach((value, axis) => { this.numbers[GIVEN[key] + axis] = value; });
      const refused = this.solver.describe(this.numbers);
      const now = refused === null ? this.solver.solve(this.travel()) : null;
      if (now === null) {
        const refusal = refused ?? this.solver.words();
        this.numbers = before;
        this.renew();
        this.refusal = refusal;
        return false;
      }
      this.now = now;
    }
    return this.renew();
  }

  keep(name) {
    this.kept[name] = this.numbers.slice();
    this.curves[name] = null;
    this.renew();
  }

  // Takes a kept state, or the one the page began with, as the one that is moved.
  take(numbers) {
    const before = this.numbers;
    this.numbers = numbers.slice();
    if (this.renew()) return;
    // It cannot be where the wheel is now; at ride height it was built.
    this.fromRide = 0;
    if (this.renew()) return;
    this.numbers = before;
    this.renew();
  }

  // What the damper does at this length.
  damperWords(length) {
    const [extended, compressed, stop] = ["extended", "compressed", "bumpStop"].map((key) => this.start[GIVEN[key]]);
    if (length > extended) return "topped out: longer than it can be";
    if (length < compressed) return "metal to metal: shorter than it can be";
    if (length < compressed + stop) return "on its bump stop";
    return "between its stops";
  }
}
