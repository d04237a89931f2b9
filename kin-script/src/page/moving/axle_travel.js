// How an axle is moved: both wheels together, or one against the other.

function mean([left, right]) {
  return (left + right) / 2;
}

function halfDifference([left, right]) {
  return (left - right) / 2;
}

// How far one wheel can be above the mean of both, with neither beyond droop or bump.
function roomToRoll(heave, { droop, bump }) {
  return Math.max(0, Math.min(bump - heave, heave + droop));
}

function axleSliders() {
  const wheelWord = (half) => (half > 0 ? "left wheel up" : "right wheel up");
  return [{
    key: "travel", name: "Both wheels, droop to bump",
    ends: ({ droop, bump }) => [-droop, bump], value: mean,
    put: (value, now, { droop, bump }) => {
      const half = halfDifference(now);
      const heave = Math.min(bump - Math.abs(half), Math.max(Math.abs(half) - droop, value));
      return [heave + half, heave - half];
    },
    words: (now, model) => travelWords(mean(now), model),
  }, {
    key: "roll", name: "Roll, right wheel up to left wheel up",
    ends: ({ droop, bump }) => [-(droop + bump) / 2, (droop + bump) / 2], value: halfDifference,
    put: (value, now, model) => {
      const heave = mean(now);
      const room = roomToRoll(heave, model);
      const half = Math.min(room, Math.max(-room, value));
      return [heave + half, heave - half];
    },
    words: (now, model) => {
      const half = halfDifference(now);
      return isNothing(half, model) ? "both wheels level" : `${wheelWord(half)} by ${lengthWords(half, model)}, the other down by as much`;
    },
  }];
}

// Curves against bump keep the roll, curves against roll keep the bump that there is.
function axleSweeps(axle, model) {
  const place = (key) => model.numbers.slice(axle.given[key], axle.given[key] + 3);
  const [left, right] = [place("wheelLeft"), place("wheelRight")];
  const track = Math.hypot(...left.map((value, axis) => value - right[axis]));
  const most = Math.asin(Math.min(1, (model.droop + model.bump) / track)) * DEGREES;
  return [{
    key: "bump", name: "bump, both wheels",
    foot: ({ unit }) => `droop \u2190 travel of both wheels (${unit.symbol}) \u2192 bump`,
    range: ({ droop, bump, unit }) => [-droop / unit.size, bump / unit.size],
    other: (now) => halfDifference(now).toPrecision(12),
    places: (now, { droop, bump }) => {
      const half = halfDifference(now);
      return between(Math.abs(half) - droop, bump - Math.abs(half)).map((heave) => [heave + half, heave - half]);
    },
    x: (at, now, { unit }) => mean(now) / unit.size,
  }, {
    key: "roll", name: "roll",
    foot: () => "right wheel up \u2190 roll of the axle (deg) \u2192 left wheel up",
    range: () => [-most, most],
    other: (now) => mean(now).toPrecision(12),
    places: (now, limits) => {
      const heave = mean(now);
      const room = roomToRoll(heave, limits);
      return between(-room, room).map((half) => [heave + half, heave - half]);
    },
    x: (at) => at.roll_angle * DEGREES,
  }];
}

function axleRows(formats) {
  const { length, ratio, angle, rate, force } = formats;
  const sides = ["left", "right"];
  const both = (key, name, shown, needs) => sides.map((side) => [`${key}_${side}`, `${name}, ${side}`, shown, needs]);
  return [
    ...both("damper_length", "Damper, between its mounts", length, "damperLeftExtended"),
    ...both("motion_ratio", "Motion ratio, both wheels", ratio, "damperLeftExtended"),
    ...both("motion_ratio_roll", "Motion ratio in roll", ratio, "damperLeftExtended"),
    ...both("spring_force", "Spring force", force, "springLeftFree"),
    ...both("wheel_force", "Spring force at the wheel", force, "springLeftFree"),
    ...both("wheel_rate", "Wheel rate, both wheels", rate, "springLeftRate"),
    ...both("wheel_rate_roll", "Wheel rate in roll", rate, "springLeftRate"),
    ["roll_angle", "Roll of the axle, plus is left wheel up", angle],
    ["axle_steer", "Axle steer, plus steers left", angle],
    ["roll_steer", "Roll steer, axle steer over roll", ratio],
    ["roll_centre_height", "Roll centre above ground", length],
    ["lateral_shift", "Lateral shift of the axle, plus is to the left", length],
    ["anti_squat_slope", "Anti-squat slope, plus lifts the body", ratio],
    ["pinion_angle", "Pinion angle, plus is nose up", angle, "noseUp"],
    ["largest_stretch", "Largest stretch of a link", length, "held"],
  ].map(([key, name, shown, needs]) => ({ key, name, shown, needs }));
}
