// Steps and words of wheel travel.

const CURVE_STEPS = 48;

// Places from one end to the other.
function between(low, high) {
  if (high < low) return [];
  return Array.from({ length: CURVE_STEPS + 1 }, (_, step) => low + ((high - low) * step) / CURVE_STEPS);
}

// The size of a length, with its unit.
function lengthWords(value, { unit }) {
  return `${(Math.abs(value) / unit.size).toFixed(unit.decimals)} ${unit.symbol}`;
}

// Whether a length is nothing when it is written.
function isNothing(value, { unit }) {
  return Number((value / unit.size).toFixed(unit.decimals)) === 0;
}

function travelWords(fromRide, model) {
  if (isNothing(fromRide, model)) return "at ride height";
  return `${lengthWords(fromRide, model)} of ${fromRide > 0 ? "bump" : "droop"} from ride height`;
}
