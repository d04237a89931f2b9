// What is shown: the suspension as it is now, where its wheels are, and the two states that are kept.

const KEPT = ["A", "B"];
// Rounds in which a pickup is brought under the pointer, and how near (mm) it must come.
const ROUNDS = 20;
const NEAR = 1e-4;
// A pickup slides along its part in a view where the part is seen at least this long, as a share of its length.
const SEEN = 0.5;

class State {
  constructor(solver, subject, model) {
    this.solver = solver;
    this.subject = subject;
    this.model = model;
    this.start = model.numbers.map((value) => (value === null ? NaN : value));
    this.numbers = this.start.slice();
    this.fromRide = subject.wheels[0].moves.map(() => 0);
    this.kept = { A: this.start.slice(), B: null };
    this.curves = { now: null, A: null, B: null };
    this.sweep = subject.sweeps[0];
    this.refusal = null;
    this.renew();
  }

  travels(fromRide = this.fromRide) {
    return fromRide.map((travel) => this.model.ride + travel);
  }

  describe(numbers) {
    return this.solver.describe(numbers, this.subject.links);
  }

  solve(fromRide = this.fromRide) {
    const list = this.solver.solve(this.travels(fromRide), this.subject.count);
    return list && this.subject.read(list);
  }

  // Everything that hangs on the pickups; false, with nothing changed, where they or the wheels' places cannot be.
  renew() {
    const refused = this.describe(this.numbers);
    const now = refused === null ? this.solve() : null;
    if (now === null) {
      this.refusal = refused ?? this.solver.words();
      return false;
    }
    this.refusal = null;
    this.now = now;
    this.curves.now = this.curve();
    this.compare();
    return true;
  }

  // The curves of the suspension that is described; they belong to where the wheels are besides along the sweep.
  curve() {
    const { model, sweep, fromRide } = this;
    const points = sweep.places(fromRide, model).map((place) => {
      const at = this.solve(place);
      return { x: at && sweep.x(at, place, model), at };
    });
    return { points, sweep, other: sweep.other(fromRide) };
  }

  isStale(curve) {
    return !curve || curve.sweep !== this.sweep || curve.other !== this.sweep.other(this.fromRide);
  }

  compare() {
    for (const name of KEPT) {
      const kept = this.kept[name];
      this[name] = null;
      if (!kept || this.describe(kept) !== null) continue;
      this[name] = this.solve();
      if (this.isStale(this.curves[name])) this.curves[name] = this.curve();
    }
    this.describe(this.numbers);
  }

  // Moves the wheels, as far as they go.
  moveWheels(fromRide) {
    const { droop, bump } = this.model;
    const before = this.fromRide;
    this.fromRide = fromRide.map((travel) => Math.min(bump, Math.max(-droop, travel)));
    const now = this.solve();
    if (now === null) {
      this.refusal = this.solver.words();
      this.fromRide = before;
      return false;
    }
    this.refusal = null;
    this.now = now;
    if (this.isStale(this.curves.now)) this.curves.now = this.curve();
    this.compare();
    return true;
  }

  // Moves the wheels of a handle together, none beyond its end.
  moveBy(wheel, by, from = this.fromRide) {
    const { droop, bump } = this.model;
    const moved = from.filter((_, place) => wheel.moves[place] !== 0);
    const [most, least] = [bump - Math.max(...moved), -droop - Math.min(...moved)];
    const step = Math.min(most, Math.max(least, by));
    return this.moveWheels(from.map((travel, place) => travel + step * wheel.moves[place]));
  }

  // A choice of what curves stand against.
  against(sweep) {
    this.sweep = sweep;
    this.renew();
  }

  // A pickup as measured.
  place(key, numbers = this.numbers) {
    const first = this.subject.given[key];
    return Array.from(numbers.slice(first, first + 3));
  }

  // A pickup where it is now: what does not move stands where it was measured.
  where(key) {
    return this.now[key] ?? this.place(key);
  }

  write(pickup, place) {
    place.forEach((value, axis) => {
      this.numbers[this.subject.given[pickup.key] + axis] = value;
      if (pickup.mirror) this.numbers[this.subject.given[pickup.mirror] + axis] = axis === 1 ? -value : value;
    });
  }

  // Puts a pickup, as measured, at a place; false, with nothing changed, where it cannot be.
  put(pickup, place) {
    const before = this.numbers.slice();
    this.write(pickup, place);
    if (place.every(Number.isFinite) && this.renew()) return true;
    return this.takeBack(before, this.refusal);
  }

  takeBack(numbers, refusal) {
    this.numbers = numbers;
    this.renew();
    this.refusal = refusal;
    return false;
  }

  // The direction in which a pickup slides in a view, along the part that carries it; null where it goes anywhere.
  slide(pickup, view) {
    const along = this.subject.carrier(pickup.key, (key) => this.place(key), this.numbers);
    if (along === null) return null;
    const length = Math.hypot(...along);
    const seen = Math.hypot(...view.flat(along));
    return seen > SEEN * length ? along.map((value) => value / length) : null;
  }

  // Brings a pickup under the pointer, at `target` in a view where the wheels are now. The pickup is known where it was measured, so it
  // is moved there by what is missing here, until nothing is: its part turns by far less than a right angle.
  drag(pickup, view, target) {
    const before = this.numbers.slice();
    const slide = this.slide(pickup, view);
    for (let round = 0; round < ROUNDS; round += 1) {
      const here = view.flat(this.where(pickup.key));
      const missing = [target[0] - here[0], target[1] - here[1]];
      let move = view.deep(missing);
      if (slide) {
        const seen = view.flat(slide);
        const share = (missing[0] * seen[0] + missing[1] * seen[1]) / (seen[0] * seen[0] + seen[1] * seen[1]);
        move = slide.map((value) => value * share);
      }
      if (Math.hypot(...move) < NEAR) break;
      this.write(pickup, this.place(pickup.key).map((value, axis) => value + move[axis]));
      const refused = this.describe(this.numbers);
      const now = refused === null ? this.solve() : null;
      if (now === null) return this.takeBack(before, refused ?? this.solver.words());
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
    // It cannot be where the wheels are now; at ride height it was built.
    this.fromRide = this.fromRide.map(() => 0);
    if (!this.renew()) this.takeBack(before, this.refusal);
  }

  isKeptApart(name) {
    return this[name] !== null && differs(this.kept[name], this.numbers);
  }

  // What each damper does at its length.
  damperWords() {
    const words = this.subject.dampers.map(([key, name, reading]) => {
      const [extended, compressed, stop] = ["Extended", "Compressed", "BumpStop"].map((part) => this.start[this.subject.given[`${key}${part}`]]);
      const length = this.now[reading];
      const is = (state) => `${name} is ${state}`;
      if (length > extended) return is("topped out: longer than it can be");
      if (length < compressed) return is("metal to metal: shorter than it can be");
      return is(length < compressed + stop ? "on its bump stop" : "between its stops");
    });
    return words.join("; ");
  }

  // A spring longer than its free length pushes nothing, and gives no rate either.
  looseWords() {
    const { now } = this;
    const isLoose = ["spring_force", "spring_force_left", "spring_force_right"].some((key) => now[key] === 0);
    return isLoose ? "a spring is loose in its seats: the wheel rate is what it would be with the spring seated" : "";
  }
}

function differs(a, b) {
  return a.some((value, place) => value !== b[place] && !(Number.isNaN(value) && Number.isNaN(b[place])));
}
