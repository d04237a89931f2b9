// An axle in its views, and the lines that a teacher draws into it.

const REAR = { across: { axis: 1, way: -1 }, up: { axis: 2, way: 1 }, high: 0.9 };
const TOP = { across: { axis: 1, way: -1 }, up: { axis: 0, way: 1 }, high: 0.65 };
// A link that passes a centre within this (mm) is drawn to it.
const PASSES = 0.5;

function axleViews(state) {
  const parts = (pen, at, numbers) => drawAxle(pen, state, at, numbers);
  return [
    { id: "front", axes: REAR, parts, construct: REAR_LINES },
    { id: "side", axes: SIDE, parts, construct: SIDE_LINES },
    { id: "top", axes: TOP, parts, construct: null },
  ];
}

function drawAxle(pen, state, at, numbers) {
  const isSide = pen.view.isAlong(1);
  const radius = numbers[state.subject.given.radius];
  if (numbers === state.numbers && !pen.view.isAlong(2)) pen.ground(at.contactLeft, isSide ? null : at.contactRight);
  // From the left the right side stands behind.
  pen.wheel(at.wheelRight, at.spin, radius, isSide ? "wheel far" : "wheel");
  pen.line(at.wheelRight, at.wheelLeft, "tube");
  pen.wheel(at.wheelLeft, at.spin, radius);
  if (!Number.isNaN(at.pinion[0])) {
    const middle = middleOfAxle(at);
    pen.line(middle, at.pinion, "pinion");
    pen.joint(at.pinion, "pinion-end");
  }
  state.subject.links.forEach((name, place) => {
    const [body, axle] = [at[`link${place}Body`], at[`link${place}Axle`]];
    const isFar = isSide && name.endsWith("_right");
    pen.line(body, axle, isFar ? "arm far" : "arm");
    if (isFar) return;
    pen.mount(body);
    pen.joint(axle);
  });
  pen.mounted(state, at, numbers);
}

// Whether the straight line through two places, as a view shows them, passes a third, and is no mere point there.
function passes(view, one, two, by) {
  const [a, b, c] = [one, two, by].map((point) => view.flat(point));
  const along = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(...along);
  return length > 1 && Math.abs((c[0] - a[0]) * along[1] - (c[1] - a[1]) * along[0]) / length < PASSES;
}

function guideLinks(pen, at, state, centre, isLeftOnly) {
  state.subject.links.forEach((name, place) => {
    const [body, axle] = [at[`link${place}Body`], at[`link${place}Axle`]];
    if (isLeftOnly && name.endsWith("_right")) return;
    if (!passes(pen.view, body, axle, centre)) return;
    pen.line(axle, centre, "guide");
    pen.line(body, centre, "guide");
  });
}

function rollCentreOfAxle(at) {
  if (at.roll_centre_height === null) return null;
  const middle = at.contactLeft.map((value, axis) => (value + at.contactRight[axis]) / 2);
  return { middle, place: [middle[0], middle[1], middle[2] + at.roll_centre_height] };
}

// Where the lines of a link and of its mirror image meet, in the middle of the car; null where they run side by side.
function meeting(at, place, partner) {
  const [body, axle, other] = [at[`link${place}Body`], at[`link${place}Axle`], at[`link${partner}Body`]];
  const [middle, across] = [(body[1] + other[1]) / 2, axle[1] - body[1]];
  if (Math.abs(across) < 1e-3) return null;
  const share = (middle - body[1]) / across;
  return body.map((value, axis) => value + share * (axle[axis] - value));
}

// As an axle on two mirrored pairs of links begins to roll from level, the place where the lines of a pair meet does not move sideways:
// the line through both places is the roll axis, and passes the roll centre.
function rollAxis(pen, at, state) {
  if (Math.abs(at.roll_angle) > 1e-9) return;
  const pairs = state.model.links.flatMap(({ mirror }, place) => (mirror === null ? [] : [meeting(at, place, mirror)]));
  const roll = rollCentreOfAxle(at);
  if (pairs.length !== 2 || state.subject.links.length !== 4 || pairs.includes(null) || !roll) return;
  for (const place of pairs) {
    pen.line(roll.place, place, "guide");
    pen.cross(place);
  }
  pen.marker(roll.place, "roll centre, on the roll axis");
}

// The roll centre of an axle stands over the middle of its contact points; links that point at it show why.
const REAR_LINES = {
  room: ({ now }) => {
    const roll = rollCentreOfAxle(now);
    return roll ? [roll.middle, roll.place] : [];
  },
  draw: (pen, at, state) => {
    const roll = rollCentreOfAxle(at);
    if (!roll) return;
    const shifted = (by) => [roll.middle[0], roll.middle[1], roll.middle[2] + by];
    pen.line(shifted(-1e4), shifted(1e4), "middle-line");
    guideLinks(pen, at, state, roll.place, false);
    const height = at.roll_centre_height;
    pen.marker(roll.place, `roll centre, ${lengthWords(height, state.model)} ${height < 0 ? "below ground" : "high"}`);
  },
};

// The line from the left contact point to the side-view instant centre: its slope is the anti-squat slope.
const SIDE_LINES = {
  // The places where links meet can be far: as much as a wheel's diameter beyond the links is shown.
  room: (state) => {
    const { now } = state;
    const far = 2 * state.start[state.subject.given.radius];
    const pairs = state.model.links.flatMap(({ mirror }, place) => (mirror === null ? [] : [meeting(now, place, mirror)]));
    const roll = rollCentreOfAxle(now);
    const near = pairs.filter((place) => place && Math.abs(place[0] - now.wheelLeft[0]) < 2 * far && Math.abs(place[2] - now.wheelLeft[2]) < far);
    return roll ? [...near, roll.place] : near;
  },
  draw: (pen, at, state) => {
    const contact = at.contactLeft;
    const slope = at.anti_squat_slope;
    if (slope === null) return;
    const forward = at.side_view_instant_centre_x;
    const centre = forward === null ? null : [forward, contact[1], contact[2] + at.side_view_instant_centre_height];
    rollAxis(pen, at, state);
    if (centre) {
      guideLinks(pen, at, state, centre, true);
      const ahead = forward - contact[0];
      pen.marker(centre, `instant centre, ${lengthWords(ahead, state.model)} ${ahead < 0 ? "behind" : "ahead"}`);
    }
    pen.line(contact, centre ?? [contact[0] + 1e4, contact[1], contact[2] + 1e4 * slope], "guide strong");
    pen.label(contact, `anti-squat slope ${minus(slope.toFixed(3))}`, true);
  },
};
