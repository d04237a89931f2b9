// A corner in its views, and the lines that a teacher draws into it.

const FRONT = { across: { axis: 1, way: 1 }, up: { axis: 2, way: 1 }, high: 0.9 };
const SIDE = { across: { axis: 0, way: -1 }, up: { axis: 2, way: 1 }, high: 0.65 };

function cornerViews(state) {
  const parts = (pen, at, numbers) => drawCorner(pen, state, at, numbers);
  return [
    { id: "front", axes: FRONT, parts, construct: CORNER_LINES },
    { id: "side", axes: SIDE, parts, construct: null },
  ];
}

function drawCorner(pen, state, at, numbers) {
  if (numbers === state.numbers) pen.ground(at.contact);
  pen.wheel(at.wheel, at.spin, numbers[state.subject.given.radius]);
  for (const [front, rear, ball] of [["upperFront", "upperRear", at.upperBall], ["lowerFront", "lowerRear", at.lowerBall]]) {
    for (const pivot of [front, rear].map((key) => state.place(key, numbers))) {
      pen.line(pivot, ball, "arm");
      pen.mount(pivot);
    }
  }
  pen.line(at.tieInner, at.tieOuter, "rod");
  pen.polygon([at.lowerBall, at.upperBall, at.wheel], "upright");
  pen.mounted(state, at, numbers);
  for (const joint of [at.upperBall, at.lowerBall, at.tieOuter]) pen.joint(joint);
}

// The arms' lines meet in the instant centre; the line from the contact point through it meets the middle of the car in the roll
// centre.
const CORNER_LINES = {
  room: ({ now }) => {
    const height = now.roll_centre_height;
    return height === null ? [] : [[0, 0, now.contact[2] + Math.max(-200, Math.min(600, height))], [0, 0, now.contact[2]]];
  },
  draw: (pen, at, state) => {
    const { contact } = at;
    const place = (y, height) => [contact[0], y, contact[2] + height];
    const roll = at.roll_centre_height === null ? null : place(0, at.roll_centre_height);
    const outboard = at.front_view_instant_centre_y;
    const centre = outboard === null ? null : place(outboard, at.front_view_instant_centre_height);
    pen.line(place(0, -1e4), place(0, 1e4), "middle-line");
    if (centre) {
      for (const [front, rear, ball] of [["upperFront", "upperRear", at.upperBall], ["lowerFront", "lowerRear", at.lowerBall]]) {
        const start = inSection([state.place(front), state.place(rear), ball], contact);
        if (start) pen.line(start, centre, "guide");
      }
      pen.line(contact, centre, "guide strong");
      const aside = outboard - contact[1];
      pen.marker(centre, `instant centre, ${lengthWords(aside, state.model)} ${aside < 0 ? "inboard" : "outboard"}`);
    }
    if (!roll) return;
    // Arms side by side have no instant centre; the line is level with them.
    pen.line(contact, roll, "guide strong");
    pen.marker(roll, `roll centre, ${lengthWords(at.roll_centre_height, state.model)} ${at.roll_centre_height < 0 ? "below ground" : "high"}`);
  },
};

// The place nearest to the arm's ball joint where its plane and the plane across the car through the contact point meet; null where the
// arm lies in such a plane.
function inSection([front, rear, ball], contact) {
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const from = (a, b) => b.map((value, axis) => value - a[axis]);
  const normal = cross(from(front, rear), from(front, ball));
  const size = Math.hypot(...normal);
  // Straight along the arm's plane to that section, and as short as can be.
  const along = normal.map((value, axis) => (axis === 0 ? 1 : 0) - (normal[0] / size) * (value / size));
  const steep = Math.hypot(...along);
  if (!(steep > 1e-3)) return null;
  const share = (contact[0] - ball[0]) / (steep * steep);
  return ball.map((value, axis) => value + share * along[axis]);
}
