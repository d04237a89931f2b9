// The solver of the program, compiled for the browser. Lists in the order of kin-core/browser/src/layout.rs.

const GIVEN = {
  upperFront: 0, upperRear: 3, upperBall: 6, lowerFront: 9, lowerRear: 12, lowerBall: 15, tieInner: 18, tieOuter: 21,
  wheel: 24, radius: 27, damperUpper: 30, damperLower: 33, damperCarrier: 36, extended: 37, compressed: 38, bumpStop: 39,
  springRate: 40, freeLength: 41, upperSeat: 42, lowerSeat: 43, springUpper: 44,
};
const POINTS = ["upperBall", "lowerBall", "tieInner", "tieOuter", "wheel", "contact", "spin", "damperUpper", "damperLower",
  "springUpper", "springLower"];
const READINGS = ["travel", "camber", "toe", "caster", "roll_centre_height", "damper_length", "motion_ratio", "spring_length",
  "spring_motion_ratio", "wheel_rate_from_spring", "wheel_rate_geometric", "spring_force"];

class Solver {
  static async load(base64) {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes, {});
    return new Solver(instance.exports);
  }

  constructor(module) {
    this.module = module;
  }

  // The shared list is looked up each time: its memory moves when it grows.
  list() {
    return new Float64Array(this.module.memory.buffer, this.module.buffer(), this.module.capacity());
  }

  words() {
    const { memory, text, text_length: length } = this.module;
    return new TextDecoder().decode(new Uint8Array(memory.buffer, text(), length()));
  }

  // Makes a corner ready to be moved; why not, in words, if it cannot be.
  describe(numbers) {
    this.list().set(numbers);
    return this.module.describe() === 1 ? null : this.words();
  }

  // Points and readings at a travel (mm from the pickups as measured); null where the wheel cannot go.
  solve(travel) {
    if (this.module.solve(travel) !== 1) return null;
    const list = this.list();
    const at = {};
    POINTS.forEach((name, place) => { at[name] = Array.from(list.subarray(3 * place, 3 * place + 3)); });
    READINGS.forEach((name, place) => {
      const value = list[3 * POINTS.length + place];
      at[name] = Number.isNaN(value) ? null : value;
    });
    return withDerived(at);
  }
}

// What follows from the readings without any geometry.
function withDerived(at) {
  const ratio = at.motion_ratio;
  at.motion_ratio_inverse = ratio ? 1 / ratio : null;
  at.motion_ratio_squared = ratio === null ? null : ratio * ratio;
  at.wheel_rate = at.wheel_rate_from_spring === null ? null : at.wheel_rate_from_spring + (at.wheel_rate_geometric ?? 0);
  at.wheel_force = at.spring_force === null || at.spring_motion_ratio === null ? null : at.spring_force * at.spring_motion_ratio;
  return at;
}
