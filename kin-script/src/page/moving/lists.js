// Lists of numbers by name. The orders are those of kin-core/browser/src/layout.rs.

// Where each name begins in a list, from how many numbers each has.
function placesOf(sizes) {
  const places = {};
  let next = 0;
  for (const [name, size] of Object.entries(sizes)) {
    places[name] = next;
    next += size;
  }
  return { places, length: next };
}

function damperSizes(key) {
  return {
    [`${key}Upper`]: 3, [`${key}Lower`]: 3, [`${key}Carrier`]: 1, [`${key}Extended`]: 1, [`${key}Compressed`]: 1, [`${key}BumpStop`]: 1,
  };
}

function springSizes(key) {
  return {
    [`${key}Rate`]: 1, [`${key}Free`]: 1, [`${key}UpperSeat`]: 1, [`${key}LowerSeat`]: 1, [`${key}Upper`]: 3, [`${key}Lower`]: 3,
    [`${key}Carrier`]: 1,
  };
}

// An answer by name: first the points, then single numbers, null where there is none.
function namedAnswer(list, points, readings) {
  const at = {};
  points.forEach((name, place) => { at[name] = Array.from(list.subarray(3 * place, 3 * place + 3)); });
  readings.forEach((name, place) => { at[name] = orNull(list[3 * points.length + place]); });
  return at;
}

// The other way round.
function listedAnswer(at, points, readings) {
  return [...points.flatMap((name) => at[name]), ...readings.map((name) => at[name] ?? NaN)];
}

function orNull(value) {
  return Number.isNaN(value) ? null : value;
}
