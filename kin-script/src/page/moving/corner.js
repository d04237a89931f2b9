// A corner: where its numbers stand, which points are taken hold of, and what is shown of it.

const CORNER = placesOf({
  upperFront: 3, upperRear: 3, upperBall: 3, lowerFront: 3, lowerRear: 3, lowerBall: 3, tieInner: 3, tieOuter: 3, wheel: 3,
  radius: 1, camber: 1, toe: 1, ...damperSizes("damper"), ...springSizes("spring"),
});
const CORNER_POINTS = ["upperBall", "lowerBall", "tieInner", "tieOuter", "wheel", "contact", "spin", "damperUpper", "damperLower",
  "springUpper", "springLower"];
const CORNER_READINGS = ["travel", "camber", "toe", "caster", "roll_centre_height", "damper_length", "motion_ratio", "spring_length",
  "spring_motion_ratio", "wheel_rate_from_spring", "wheel_rate_geometric", "spring_force", "front_view_instant_centre_y",
  "front_view_instant_centre_height"];
const CORNER_PICKUPS = [
  ["damperUpper", "upper mount of the damper", "damperExtended"],
  ["damperLower", "lower mount of the damper", "damperExtended"],
  ["upperBall", "upper ball joint"],
  ["lowerBall", "lower ball joint"],
  ["upperFront", "upper arm, front pivot"],
  ["upperRear", "upper arm, rear pivot"],
  ["lowerFront", "lower arm, front pivot"],
  ["lowerRear", "lower arm, rear pivot"],
  ["tieInner", "tie rod, inner end"],
  ["tieOuter", "tie rod, outer end"],
  ["springUpper", "upper end of the spring", "springUpper"],
  ["springLower", "lower end of the spring", "springUpper"],
];

class Corner {
  constructor(model) {
    this.given = CORNER.places;
    this.links = null;
    this.count = 3 * CORNER_POINTS.length + CORNER_READINGS.length;
    const has = (key) => model.numbers[CORNER.places[key]] !== null;
    this.pickups = CORNER_PICKUPS.filter(([, , needs]) => !needs || has(needs))
      .map(([key, name], place) => ({ key, name, number: String(place + 1), mirror: null }));
    this.wheels = [{ key: "wheel", name: "Wheel", moves: [1], at: (at) => at.wheel }];
    this.dampers = has("damperExtended") ? [["damper", "the damper", "damper_length"]] : [];
    this.springs = has("springRate") ? [["spring", "spring_length"]] : [];
    this.sliders = [{
      key: "travel", name: "Wheel, droop to bump",
      ends: ({ droop, bump }) => [-droop, bump], value: ([wheel]) => wheel, put: (value) => [value],
      words: ([wheel], model) => travelWords(wheel, model),
    }];
    this.sweeps = [{
      key: "bump", name: "wheel travel",
      foot: ({ unit }) => `droop \u2190 wheel travel (${unit.symbol}) \u2192 bump`,
      range: ({ droop, bump, unit }) => [-droop / unit.size, bump / unit.size],
      other: () => "",
      places: (now, { droop, bump }) => between(-droop, bump).map((wheel) => [wheel]),
      x: (at, [wheel], { unit }) => wheel / unit.size,
    }];
    this.shown = ["motion_ratio", "wheel_rate", "wheel_force", "camber"];
    this.told = ["motion_ratio", "wheel_rate", "wheel_force"];
    this.rows = this.rowsOf(new Formats(model)).filter(({ needs }) => !needs || has(needs));
  }

  read(list) {
    const at = namedAnswer(list, CORNER_POINTS, CORNER_READINGS);
    // What follows from the readings without any geometry.
    const ratio = at.motion_ratio;
    at.motion_ratio_inverse = ratio ? 1 / ratio : null;
    at.motion_ratio_squared = ratio === null ? null : ratio * ratio;
    at.wheel_rate = at.wheel_rate_from_spring === null ? null : at.wheel_rate_from_spring + (at.wheel_rate_geometric ?? 0);
    at.wheel_force = at.spring_force === null || at.spring_motion_ratio === null ? null : at.spring_force * at.spring_motion_ratio;
    return at;
  }

  write(at) {
    return listedAnswer(at, CORNER_POINTS, CORNER_READINGS);
  }

  // The carrier of a lower mount, as the line that it slides along; null on the upright.
  carrier(key, place, numbers) {
    const part = { damperLower: "damper", springLower: "spring" }[key];
    const arm = part === undefined ? undefined : ["lower", "upper"][numbers[this.given[`${part}Carrier`]]];
    if (arm === undefined) return null;
    const [front, rear, ball] = ["Front", "Rear", "Ball"].map((end) => place(`${arm}${end}`));
    return ball.map((value, axis) => value - (front[axis] + rear[axis]) / 2);
  }

  where([wheel], model) {
    return `Wheel ${travelWords(wheel, model)}`;
  }

  rowsOf(formats) {
    const { length, ratio, angle, rate, force } = formats;
    return [
      ["damper_length", "Damper, between its mounts", length, "damperExtended"],
      ["motion_ratio", "Motion ratio, damper over wheel", ratio, "damperExtended"],
      ["motion_ratio_inverse", "The same as wheel over damper", ratio, "damperExtended"],
      ["motion_ratio_squared", "Motion ratio squared", ratio, "damperExtended"],
      ["spring_force", "Spring force", force, "springFree"],
      ["wheel_force", "Spring force at the wheel", force, "springFree"],
      ["wheel_rate", "Wheel rate", rate, "springRate"],
      ["camber", "Camber, plus leans out", angle],
      ["toe", "Toe, plus is toe-in", angle],
      ["caster", "Caster, plus leans rearward", angle],
      ["roll_centre_height", "Roll centre above ground", length],
    ].map(([key, name, shown, needs]) => ({ key, name, shown, needs }));
  }
}
