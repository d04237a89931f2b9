// Numbers as they are written, and the table of them.

const DEGREES = 180 / Math.PI;

// How each kind of number is written, and the least range of a curve of it.
class Formats {
  constructor({ unit, rate, force }) {
    const scaled = ({ size, symbol, decimals }, least) => ({ size: (value) => value / size, symbol, decimals, least });
    this.length = scaled(unit, 1 / unit.size);
    this.fine = { ...this.length, decimals: unit.decimals + 1 };
    this.ratio = { size: (value) => value, symbol: "", decimals: 3, least: 0.02 };
    this.angle = { size: (value) => value * DEGREES, symbol: "deg", decimals: 2, least: 0.2 };
    this.rate = scaled(rate, 0.05);
    this.force = scaled(force, 1);
  }
}

function shownText({ size, decimals }, value) {
  return value === null ? "\u2013" : minus(size(value).toFixed(decimals));
}

// A number with the sign that is as wide as a plus; a rounded zero has none.
function minus(text) {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text.replace("-", "\u2212");
}

function titled({ name, shown }) {
  return shown.symbol ? `${name} (${shown.symbol})` : name;
}

class NumberTable {
  constructor(state) {
    this.state = state;
    const body = document.getElementById("numbers");
    this.cells = state.subject.rows.flatMap((row) => {
      const line = body.insertRow();
      const head = document.createElement("th");
      head.scope = "row";
      head.textContent = titled(row);
      line.append(head);
      return ["now", ...KEPT].map((name) => {
        const cell = line.insertCell();
        Object.assign(cell.dataset, { key: row.key, state: name });
        return { cell, row, name };
      });
    });
  }

  draw() {
    for (const { cell, row, name } of this.cells) {
      const value = this.state[name]?.[row.key] ?? null;
      cell.textContent = shownText(row.shown, value);
      cell.dataset.value = value === null ? "" : String(value);
    }
  }

  // The numbers that are read aloud.
  words() {
    const { now, subject } = this.state;
    return subject.rows.filter(({ key }) => subject.told.includes(key))
      .map(({ key, name, shown }) => `${name} ${shownText(shown, now[key] ?? null)} ${shown.symbol}`.trim())
      .join("; ");
  }
}
