// Sliders and fields for those who would rather not drag, and for screens that are read aloud.

class Sliders {
  constructor(state, changed) {
    this.state = state;
    const { model } = state;
    const { unit } = model;
    this.sliders = state.subject.sliders.map((slider) => {
      const input = document.getElementById(slider.key);
      const [low, high] = slider.ends(model);
      Object.assign(input, { min: low / unit.size, max: high / unit.size, step: "any" });
      input.addEventListener("input", () => {
        state.moveWheels(slider.put(Number(input.value) * unit.size, state.fromRide, model));
        changed(false);
      });
      input.addEventListener("change", () => changed(true));
      return { ...slider, input };
    });
  }

  draw() {
    const { fromRide, model } = this.state;
    for (const { input, value, words } of this.sliders) {
      input.value = value(fromRide) / model.unit.size;
      input.setAttribute("aria-valuetext", words(fromRide, model));
    }
  }
}

class Fields {
  constructor(state, changed) {
    this.state = state;
    this.inputs = [];
    const { unit } = state.model;
    const body = document.getElementById("points");
    for (const pickup of state.subject.pickups) {
      const row = body.insertRow();
      const head = document.createElement("th");
      head.scope = "row";
      head.textContent = `${pickup.number}  ${pickup.name}`;
      row.append(head);
      AXES.forEach((word, axis) => {
        const input = document.createElement("input");
        // Not a number field: some of those drop a decimal comma, and 478,5 becomes 4785.
        Object.assign(input, { type: "text", inputMode: "decimal", autocomplete: "off" });
        input.setAttribute("aria-label", `${pickup.name}, ${word} (${unit.symbol})`);
        input.dataset.field = `${pickup.key}-${word}`;
        input.addEventListener("change", () => {
          const place = state.place(pickup.key);
          place[axis] = typed(input.value) * unit.size;
          if (Number.isFinite(place[axis])) state.put(pickup, place);
          else state.refusal = `"${input.value.slice(0, 20)}" is no number`;
          changed(true);
        });
        input.addEventListener("keydown", (event) => {
          const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
          if (!way) return;
          event.preventDefault();
          const place = state.place(pickup.key);
          place[axis] += way * unit.step * (event.shiftKey ? 10 : 1);
          state.put(pickup, place);
          changed(true);
        });
        row.insertCell().append(input);
        this.inputs.push({ input, key: pickup.key, axis });
      });
    }
  }

  draw() {
    const { unit } = this.state.model;
    for (const { input, key, axis } of this.inputs) {
      const text = (this.state.place(key)[axis] / unit.size).toFixed(unit.decimals + 1);
      if (document.activeElement !== input || typed(input.value) !== Number(text)) input.value = text;
    }
  }
}

// A number as people type it: with a decimal point or comma, and any kind of minus.
function typed(text) {
  const plain = text.trim().replace(",", ".").replace("\u2212", "-");
  return plain === "" ? NaN : Number(plain);
}
