// Taking hold in a view: with a pointer and with the keyboard.

const AXES = ["forward", "left", "up"];
// Size of a finger, as a radius in pixels, and of a number's disc.
const FINGER = 22;
const KNOB = 11;

class Handles {
  // `changed` is told of every change, and whether things have come to rest.
  // `held` is told what is taken hold of.
  constructor(view, state, { changed, held }, hasWheels) {
    Object.assign(this, { view, state, changed, held });
    this.layer = view.svg.querySelector(".handles");
    this.wheels = hasWheels ? state.subject.wheels.map((wheel) => this.make(wheel.key, "\u2195", wheel.name, wheel)) : [];
    this.images = state.subject.pickups.filter(({ mirror }) => mirror && !view.isAlong(1)).map((pickup) => this.makeImage(pickup));
    this.pickups = state.subject.pickups.map((pickup) => this.make(pickup.key, pickup.number, pickup.name, null, pickup));
    this.settle();
  }

  // The mirror image of a pickup has no number of its own; where it is seen it can be pulled as well.
  makeImage(pickup) {
    const finger = element("circle", { class: "finger", r: FINGER, "data-image": pickup.key }, this.layer);
    finger.addEventListener("pointerdown", (event) => {
      const image = { group: finger, pickup, isImage: true };
      const nearest = this.nearest(event, image);
      this.grab(event, nearest);
    });
    return { pickup, finger };
  }

  make(key, sign, name, wheel, pickup = null) {
    const group = element("g", { class: `handle${wheel ? " hold-wheel" : ""}`, tabindex: "0", role: "slider", "data-handle": key }, this.layer);
    group.setAttribute("aria-label", wheel ? `${name}: arrow up and down move it` : `${name}: arrow keys move it`);
    if (wheel) group.setAttribute("aria-orientation", "vertical");
    element("line", { class: "leader" }, group);
    element("circle", { class: "spot", r: 2 }, group);
    // The whole tyre can be taken hold of; a point as widely as a finger needs.
    const finger = element(wheel ? "rect" : "circle", { class: "finger", r: FINGER }, group);
    const knob = element("circle", { class: "knob", r: KNOB }, group);
    const text = element("text", { class: "sign" }, group);
    text.textContent = sign;
    element("title", {}, group).textContent = pickup ? `${pickup.number}: ${name}` : name;
    const handle = { key, name, group, wheel, pickup, finger, knob, text, away: [0, 0] };
    group.addEventListener("pointerdown", (event) => this.grab(event, this.nearest(event, handle)));
    group.addEventListener("keydown", (event) => this.press(event, handle));
    group.addEventListener("focus", () => this.held(handle));
    return handle;
  }

  place({ wheel, pickup }) {
    return wheel ? wheel.at(this.state.now) : this.state.where(pickup.key);
  }

  pixel(handle) {
    return this.view.at(this.place(handle));
  }

  // Numbers move aside for each other, and stay beside their points until things come to rest again.
  settle() {
    const fixed = this.wheels.map((handle) => this.pixel(handle));
    const away = spread(this.pickups.map((handle) => this.pixel(handle)), fixed, this.view.size);
    this.pickups.forEach((handle, place) => { handle.away = away[place]; });
    this.draw();
  }

  draw() {
    for (const handle of [...this.wheels, ...this.pickups]) {
      const { group, away: [x, y] } = handle;
      const [left, top] = this.pixel(handle);
      group.setAttribute("transform", `translate(${left.toFixed(2)} ${top.toFixed(2)})`);
      for (const part of [handle.finger, handle.knob]) {
        part.setAttribute("cx", x);
        part.setAttribute("cy", y);
      }
      handle.text.setAttribute("x", x);
      handle.text.setAttribute("y", y + 5);
      const leader = group.firstChild;
      leader.setAttribute("x2", x);
      leader.setAttribute("y2", y);
      if (handle.wheel) this.drawWheel(handle);
      else this.tell(handle);
    }
    for (const { pickup, finger } of this.images) {
      const [x, y] = this.view.at(this.state.where(pickup.mirror));
      finger.setAttribute("cx", x);
      finger.setAttribute("cy", y);
    }
    this.view.marks = [...this.wheels, ...this.pickups].map((handle) => this.pixel(handle).map((value, axis) => value + handle.away[axis]));
  }

  drawWheel({ finger, group, wheel }) {
    const { state, view } = this;
    const { unit, droop, bump } = state.model;
    const radius = Math.max(FINGER, state.start[state.subject.given.radius] * view.scale);
    // Between the wheels there is no tyre to take hold of.
    const half = wheel.key === "axle" ? FINGER : Math.max(FINGER, 0.5 * TYRE_WIDTH * radius);
    const high = wheel.key === "axle" ? FINGER : radius;
    const tyre = { x: -half, y: -high, width: 2 * half, height: 2 * high, rx: 0.6 * half };
    for (const [name, value] of Object.entries(tyre)) finger.setAttribute(name, value);
    const inUnit = (value) => (value / unit.size).toFixed(unit.decimals);
    const travel = this.travel(wheel);
    group.setAttribute("aria-valuemin", inUnit(-droop));
    group.setAttribute("aria-valuemax", inUnit(bump));
    group.setAttribute("aria-valuenow", inUnit(travel));
    group.setAttribute("aria-valuetext", travelWords(travel, state.model));
  }

  // The travel of what a handle moves; the mean of both wheels for both.
  travel(wheel) {
    const moved = this.state.fromRide.filter((_, place) => wheel.moves[place] !== 0);
    return moved.reduce((sum, travel) => sum + travel, 0) / moved.length;
  }

  tell({ key, group }) {
    const { unit } = this.state.model;
    group.setAttribute("aria-valuenow", (this.state.place(key)[1] / unit.size).toFixed(unit.decimals));
    group.setAttribute("aria-valuetext", placeWords(this.state, key));
  }

  // Of handles that lie over each other the one whose number is nearest is meant.
  nearest(event, touched) {
    const [x, y] = this.view.pixel(event, this.view.frame());
    const distance = (handle) => {
      const [left, top] = this.pixel(handle);
      return Math.hypot(left + handle.away[0] - x, top + handle.away[1] - y);
    };
    const near = [...this.pickups, ...this.wheels].filter((handle) => distance(handle) <= FINGER);
    return near.reduce((best, handle) => (distance(handle) < distance(best) ? handle : best), near[0] ?? touched);
  }

  // The pointer keeps the distance to the point that it had when it took hold.
  grab(event, handle) {
    if (event.button !== 0) return;
    event.preventDefault();
    const { group, wheel, pickup, isImage } = handle;
    const { state, view } = this;
    if (isImage) this.held(handle);
    else group.focus({ preventScroll: true });
    group.setPointerCapture(event.pointerId);
    // Words that take one line more must not move the picture under the pointer.
    const frame = view.frame();
    const held = view.measured(event, frame);
    const start = view.flat(this.place(handle));
    const from = state.fromRide;
    const move = (moved) => {
      const here = view.measured(moved, frame);
      // Left and right are across the picture wherever both sides are seen.
      const by = [(here[0] - held[0]) * (isImage ? -1 : 1), here[1] - held[1]];
      if (wheel) state.moveBy(wheel, by[1], from);
      else state.drag(pickup, view, [start[0] + by[0], start[1] + by[1]]);
      this.changed(false);
    };
    const ends = ["pointerup", "pointercancel"];
    const end = () => {
      group.removeEventListener("pointermove", move);
      for (const name of ends) group.removeEventListener(name, end);
      this.changed(true);
    };
    group.addEventListener("pointermove", move);
    for (const name of ends) group.addEventListener(name, end);
  }

  press(event, { wheel, pickup }) {
    const { state, view } = this;
    const step = state.model.unit.step * (event.shiftKey ? 10 : 1);
    const [across, up] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (wheel) {
      const all = state.model.droop + state.model.bump;
      const by = { Home: -all, End: all, PageUp: 10 * step, PageDown: -10 * step }[event.key] ?? (across + up) * step;
      if (by === 0) return;
      state.moveBy(wheel, by);
    } else {
      if (!across && !up) return;
      const slide = across ? state.slide(pickup, view) : null;
      const way = slide && Math.sign(view.flat(slide)[0]) * across;
      const move = slide ? slide.map((value) => value * way) : view.deep([across, up]);
      state.put(pickup, state.place(pickup.key).map((value, axis) => value + step * move[axis]));
    }
    event.preventDefault();
    this.changed(true);
  }
}

// Where a point is as measured.
function placeWords(state, key) {
  const { unit } = state.model;
  const numbers = state.place(key).map((value, axis) => `${minus((value / unit.size).toFixed(unit.decimals))} ${AXES[axis]}`);
  return `${numbers.join(", ")} (${unit.symbol})`;
}
