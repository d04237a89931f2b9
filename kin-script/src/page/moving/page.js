// Puts the page together.

class Page {
  constructor(solver, model) {
    const isAxle = model.links !== null;
    const subject = isAxle ? new Axle(model) : new Corner(model);
    this.state = new State(solver, subject, model);
    const changed = (isAtRest) => this.draw(isAtRest);
    const held = ({ pickup }) => {
      this.pickup = pickup;
      this.tellPickup();
    };
    this.views = (isAxle ? axleViews : cornerViews)(this.state)
      .map(({ id, axes, parts, construct }) => new View(document.getElementById(id), this.state, axes, parts, construct));
    // Wheels go up and down: they are taken hold of where that is seen best.
    this.handles = this.views.map((view, place) => new Handles(view, this.state, { changed, held }, place === 0));
    this.parts = [new Sliders(this.state, changed), new Fields(this.state, changed), new NumberTable(this.state), new Curves(this.state, changed)];
    this.table = this.parts[2];
    this.buttons(changed);
    // Only the width counts: words that take one line more move nothing under a pointer.
    new ResizeObserver(([{ contentRect }]) => {
      if (contentRect.width !== this.width) this.fit();
      this.width = contentRect.width;
    }).observe(document.querySelector("main"));
    this.fit();
  }

  fit() {
    this.views.forEach((view) => view.fit());
    this.draw(true);
  }

  buttons(changed) {
    const { state } = this;
    // What is taken back fits into the pictures anew.
    const press = (id, act) => document.getElementById(id).addEventListener("click", () => {
      act();
      this.fit();
    });
    for (const name of KEPT) {
      press(`keep-${name}`, () => state.keep(name));
      press(`take-${name}`, () => state.take(state.kept[name] ?? state.numbers));
    }
    press("again", () => {
      state.fromRide = state.fromRide.map(() => 0);
      state.take(state.start);
    });
    playOn(document.getElementById("play"), state, changed);
    const lines = document.getElementById("lines");
    lines.addEventListener("change", () => {
      for (const view of this.views) view.lines = lines.checked;
      this.fit();
    });
  }

  draw(isAtRest) {
    const { state } = this;
    for (const [place, view] of this.views.entries()) {
      if (isAtRest && view.isCut()) view.fit();
      if (isAtRest) this.handles[place].settle();
      else this.handles[place].draw();
      view.draw();
    }
    this.tellPickup();
    this.parts.forEach((part) => part.draw());
    document.getElementById("take-B").disabled = !state.kept.B;
    const where = state.subject.where(state.fromRide, state.model);
    const dampers = [state.damperWords(), state.looseWords()].filter((words) => words !== "").join("; ");
    document.getElementById("where").textContent = `${where}${dampers && `; ${dampers}`}.`;
    document.getElementById("refusal").textContent = state.refusal === null ? "" : `It stays where it was: ${ended(state.refusal)}`;
    this.publish();
    // Said aloud once things have come to rest.
    window.clearTimeout(this.telling);
    this.telling = window.setTimeout(() => {
      document.getElementById("said").textContent = `${where}. ${this.table.words()}.`;
    }, 600);
  }

  // The point that was taken hold of last, by its number.
  tellPickup() {
    const { pickup } = this;
    document.getElementById("held").textContent = pickup ? `${pickup.number}: ${pickup.name}; ${placeWords(this.state, pickup.key)}.` : "";
  }

  // In millimetres, in the order of the solver: for programs that read the page.
  publish() {
    const { state } = this;
    const { dataset } = document.querySelector("main");
    dataset.travel = state.travels().join(" ");
    dataset.pickups = state.numbers.join(" ");
    dataset.answer = state.subject.write(state.now).join(" ");
    dataset.ready = "yes";
  }
}

// A sentence with its end.
function ended(words) {
  return /[.?!]$/.test(words) ? words : `${words}.`;
}

async function start() {
  try {
    const model = JSON.parse(document.getElementById("model").textContent);
    const solver = await Solver.load(document.getElementById("solver").textContent.trim());
    solver.speak(model.spoken);
    new Page(solver, model);
  } catch (error) {
    document.getElementById("refusal").textContent = `This browser could not start the solver (${error.message}). A current one is needed.`;
    throw error;
  }
}

start();
