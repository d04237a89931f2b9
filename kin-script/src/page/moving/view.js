// The suspension to scale, seen along one axis of the car.

class View {
  // `marks`: where the numbers stand that points are taken hold of by, for words to keep clear of.
  // `across` and `up`: the axis of the car that is seen there, and which way it is counted. `high`: the most it takes of a screen.
  constructor(svg, state, { across, up, high }, draw, construct) {
    Object.assign(this, { svg, state, across, up, high, drawParts: draw, construct, lines: false, marks: [] });
    this.parts = svg.querySelector(".parts");
    this.fit();
  }

  // A place of the car as it is seen (mm), across and up.
  flat(point) {
    return [this.across.way * point[this.across.axis], this.up.way * point[this.up.axis]];
  }

  // The other way round, with nothing along the sight.
  deep([across, up]) {
    const point = [0, 0, 0];
    point[this.across.axis] = this.across.way * across;
    point[this.up.axis] = this.up.way * up;
    return point;
  }

  isAlong(axis) {
    return this.across.axis !== axis && this.up.axis !== axis;
  }

  // Room for every place that the wheels and the parts take.
  bounds() {
    const { state } = this;
    const { droop, bump } = state.model;
    const box = { left: Infinity, right: -Infinity, low: Infinity, high: -Infinity };
    const take = (point, room) => {
      if (!point || Number.isNaN(point[0])) return;
      const [x, y] = this.flat(point);
      box.left = Math.min(box.left, x - room[0]);
      box.right = Math.max(box.right, x + room[0]);
      box.low = Math.min(box.low, y - room[1]);
      box.high = Math.max(box.high, y + room[1]);
    };
    const reach = state.start[state.subject.given.radius];
    const wheelRoom = [this.across, this.up].map(({ axis }) => (axis === 1 ? 0.6 * TYRE_WIDTH : 1.05) * reach);
    const places = [-droop, 0, bump].map((travel) => state.fromRide.map(() => travel));
    for (const at of [...places.map((place) => state.solve(place)), state.now]) {
      if (!at) continue;
      for (const { at: centre } of state.subject.wheels) take(centre(at), wheelRoom);
      for (const { key } of state.subject.pickups) take(at[key] ?? state.place(key), [0.12 * reach, 0.12 * reach]);
    }
    if (this.lines) for (const point of this.construct?.room?.(state) ?? []) take(point, [0.15 * reach, 0.15 * reach]);
    return box;
  }

  // One unit of the picture is one pixel, so that text has one size on every screen.
  fit() {
    const box = this.bounds();
    const width = Math.max(240, this.svg.clientWidth);
    const ratio = (box.high - box.low) / (box.right - box.left);
    // Below the ground stands its name.
    const foot = this.isAlong(2) ? 0 : 18;
    const height = Math.round(Math.min(width * ratio, this.high * window.innerHeight));
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height + foot}`);
    this.svg.style.height = `${height + foot}px`;
    this.scale = Math.min(width / (box.right - box.left), height / (box.high - box.low));
    this.origin = [(width - this.scale * (box.left + box.right)) / 2, (height + this.scale * (box.low + box.high)) / 2];
    this.size = [width, height + foot];
  }

  // Whether a point that is taken hold of has left the picture.
  isCut() {
    const { subject } = this.state;
    return subject.pickups.some(({ key }) => {
      const [x, y] = this.at(this.state.where(key));
      return x < 0 || y < 0 || x > this.size[0] || y > this.size[1];
    });
  }

  at(point) {
    const [across, up] = this.flat(point);
    return [this.origin[0] + this.scale * across, this.origin[1] - this.scale * up];
  }

  // Where the picture is on the page now, and how many of its units one pixel there is.
  frame() {
    const { left, top, width } = this.svg.getBoundingClientRect();
    return { left: left + window.scrollX, top: top + window.scrollY, share: this.size[0] / width };
  }

  // Where on the picture a pointer is.
  pixel(event, { left, top, share }) {
    return [(event.pageX - left) * share, (event.pageY - top) * share];
  }

  // The same as seen (mm), across and up.
  measured(event, frame) {
    const [x, y] = this.pixel(event, frame);
    return [(x - this.origin[0]) / this.scale, (this.origin[1] - y) / this.scale];
  }

  draw() {
    const { state } = this;
    this.parts.replaceChildren();
    for (const name of KEPT) {
      if (state.isKeptApart(name)) this.drawParts(this.pen(`ghost kept-${name}`), state[name], state.kept[name]);
    }
    this.drawParts(this.pen("now"), state.now, state.numbers);
    if (this.lines) this.construct?.draw(this.pen("construction"), state.now, state);
  }

  pen(look) {
    return new Pen(this, element("g", { class: look }, this.parts));
  }
}
