// The solver of the program, compiled for the browser: see kin-core/browser.

class Solver {
  static async load(base64) {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes, {});
    return new Solver(instance.exports);
  }

  constructor(module) {
    this.module = module;
  }

  // Room is asked for before the memory is looked at, which moves when it grows.
  list(count) {
    const place = this.module.numbers(count);
    return new Float64Array(this.module.memory.buffer, place, count);
  }

  // Hands over words; how many bytes they have.
  say(words) {
    const bytes = new TextEncoder().encode(words);
    const place = this.module.words(bytes.length);
    new Uint8Array(this.module.memory.buffer, place, bytes.length).set(bytes);
    return bytes.length;
  }

  // The words of the last refusal.
  words() {
    const { memory, text, text_length: length } = this.module;
    const [place, bytes] = [text(), length()];
    return new TextDecoder().decode(new Uint8Array(memory.buffer, place, bytes));
  }

  // The units of lengths and of rates that refusals are told in.
  speak(units) {
    const bytes = units.map(({ symbol }) => this.say(symbol));
    const numbers = units.flatMap(({ size, decimals }, place) => [size, decimals, bytes[place]]);
    this.list(numbers.length).set(numbers);
    this.module.speak(this.say(units.map(({ symbol }) => symbol).join("")));
  }

  // Makes a corner, or an axle on links of these names, ready to be moved; why not, in words, if it cannot be.
  describe(numbers, links) {
    this.list(numbers.length).set(numbers);
    const done = links === null
      ? this.module.describe_corner()
      : this.module.describe_axle(links.length, this.say(links.join("")));
    return done === 1 ? null : this.words();
  }

  // So many numbers of the answer with the wheels at their travels (mm from the pickups as measured); null where they cannot go.
  solve(travels, count) {
    return this.module.solve(travels[0], travels[1] ?? 0) === 1 ? this.list(count) : null;
  }
}
