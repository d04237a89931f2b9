// A live axle: where its numbers stand, which points are taken hold of, and what is shown of it.

const AXLE = {
  wheelLeft: 3, wheelRight: 3, radius: 1, pinion: 3, noseUp: 1, ...damperSizes("damperLeft"), ...damperSizes("damperRight"),
  ...springSizes("springLeft"), ...springSizes("springRight"),
};
const AXLE_POINTS = ["wheelLeft", "wheelRight", "contactLeft", "contactRight", "spin", "pinion", "damperLeftUpper", "damperLeftLower",
  "damperRightUpper", "damperRightLower", "springLeftUpper", "springLeftLower", "springRightUpper", "springRightLower"];
const AXLE_READINGS = ["travel_left", "travel_right", "roll_angle", "axle_steer", "roll_steer", "pinion_angle", "lateral_shift",
  "damper_length_left", "damper_length_right", "motion_ratio_left", "motion_ratio_right", "motion_ratio_roll_left",
  "motion_ratio_roll_right", "wheel_rate_left", "wheel_rate_right", "wheel_rate_roll_left", "wheel_rate_roll_right",
  "roll_centre_height", "side_view_instant_centre_x", "side_view_instant_centre_height", "anti_squat_slope",
  "spring_length_left", "spring_force_left", "wheel_force_left", "spring_length_right", "spring_force_right", "wheel_force_right"];
// Numbers of each link in an answer: both ends and its stretch.
const LINK_ANSWER = 7;

class Axle {
  constructor(model) {
    this.links = model.links.map(({ name }) => name);
    const links = this.links.map((_, place) => ({ [`link${place}Body`]: 3, [`link${place}Axle`]: 3, [`link${place}Stiffness`]: 1, [`link${place}Bytes`]: 1 }));
    this.given = placesOf(Object.assign({}, AXLE, ...links)).places;
    this.head = 3 * AXLE_POINTS.length + AXLE_READINGS.length;
    this.count = this.head + LINK_ANSWER * links.length;
    const has = (key) => model.numbers[this.given[key]] !== null;
    this.pickups = this.pickupsOf(model, has).map((pickup, place) => ({ ...pickup, number: String(place + 1) }));
    this.wheels = [
      { key: "wheelLeft", name: "Left wheel", moves: [1, 0], at: (at) => at.wheelLeft },
      { key: "wheelRight", name: "Right wheel", moves: [0, 1], at: (at) => at.wheelRight },
      { key: "axle", name: "Both wheels", moves: [1, 1], at: middleOfAxle },
    ];
    const sides = [["Left", "left"], ["Right", "right"]];
    this.dampers = sides.filter(([side]) => has(`damper${side}Extended`))
      .map(([side, word]) => [`damper${side}`, `the ${word} damper`, `damper_length_${word}`]);
    this.springs = sides.filter(([side]) => has(`spring${side}Rate`)).map(([side, word]) => [`spring${side}`, `spring_length_${word}`]);
    this.sliders = axleSliders();
    this.sweeps = axleSweeps(this, model);
    this.shown = ["motion_ratio_left", "motion_ratio_roll_left", "roll_centre_height", "axle_steer"];
    this.told = ["motion_ratio_left", "roll_centre_height", "axle_steer"];
    this.rows = axleRows(new Formats(model)).filter(({ needs }) => !needs || (needs === "held" ? model.heldTooMuch : has(needs)));
  }

  // Where the right side is the mirror of the left, the left is taken hold of and the right follows.
  pickupsOf(model, has) {
    const pickups = [];
    const add = (key, name, mirror) => pickups.push({ key, name, mirror });
    const sides = (part, mirrored) => (mirrored ? [["Left", ""]] : [["Left", ", left"], ["Right", ", right"]])
      .filter(([side]) => has(`${part}${side}Upper`));
    for (const [side, word] of sides("damper", model.mirrored.dampers)) {
      const other = (end) => (model.mirrored.dampers ? `damperRight${end}` : null);
      add(`damper${side}Upper`, `upper mount of the damper${word}`, other("Upper"));
      add(`damper${side}Lower`, `lower mount of the damper${word}`, other("Lower"));
    }
    model.links.forEach(({ name, mirror }, place) => {
      // The partner of a mirrored link follows it.
      if (model.links.some((link) => link.mirror === place)) return;
      const plain = (mirror === null ? name : name.replace(/_left$/, "")).replaceAll("_", " ");
      for (const [end, word] of [["Body", "body end"], ["Axle", "axle end"]]) {
        add(`link${place}${end}`, `${plain}, ${word}`, mirror === null ? null : `link${mirror}${end}`);
      }
    });
    for (const [side, word] of sides("spring", model.mirrored.springs)) {
      const other = (end) => (model.mirrored.springs ? `springRight${end}` : null);
      add(`spring${side}Upper`, `upper end of the spring${word}`, other("Upper"));
      add(`spring${side}Lower`, `lower end of the spring${word}`, other("Lower"));
    }
    return pickups;
  }

  read(list) {
    const at = namedAnswer(list, AXLE_POINTS, AXLE_READINGS);
    at.link_stretch = this.links.map((_, place) => {
      const first = this.head + LINK_ANSWER * place;
      at[`link${place}Body`] = Array.from(list.subarray(first, first + 3));
      at[`link${place}Axle`] = Array.from(list.subarray(first + 3, first + 6));
      return list[first + 6];
    });
    at.largest_stretch = Math.max(...at.link_stretch.map(Math.abs));
    return at;
  }

  write(at) {
    const links = this.links.map((_, place) => [...at[`link${place}Body`], ...at[`link${place}Axle`], at.link_stretch[place]]);
    return [...listedAnswer(at, AXLE_POINTS, AXLE_READINGS), ...links.flat()];
  }

  // A lower mount that rides on a link slides along it; null on the axle.
  carrier(key, place, numbers) {
    const part = key.match(/^((?:damper|spring)(?:Left|Right))Lower$/)?.[1];
    const link = part === undefined ? -1 : numbers[this.given[`${part}Carrier`]];
    if (!(link >= 0)) return null;
    const [body, axle] = [place(`link${link}Body`), place(`link${link}Axle`)];
    return axle.map((value, axis) => value - body[axis]);
  }

  where([left, right], model) {
    if (Math.abs(left - right) < 1e-9) return `Both wheels ${travelWords(left, model)}`;
    return `Left wheel ${travelWords(left, model)}, right wheel ${travelWords(right, model)}`;
  }
}

function middleOfAxle(at) {
  return at.wheelLeft.map((value, axis) => (value + at.wheelRight[axis]) / 2);
}
