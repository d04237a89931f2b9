// Room between the numbers that points are taken hold of by.

// Least distance between two of them, and how often they push each other apart.
const APART = 27;
const PUSHES = 200;

// Where marks stand that would lie on each other at their points, each as near to its own as the others let it. Fixed ones stay.
function spread(points, fixed, [width, height]) {
  // Marks on one point leave it in directions of their own.
  const places = points.map(([x, y], place) => [x + 0.5 * Math.cos(2.4 * place), y + 0.5 * Math.sin(2.4 * place)]);
  const isFixed = (place) => place >= points.length;
  const all = [...places, ...fixed.map((place) => place.slice())];
  for (let push = 0; push < PUSHES; push += 1) {
    let isDone = true;
    for (let one = 0; one < places.length; one += 1) {
      for (let two = one + 1; two < all.length; two += 1) {
        const [a, b] = [all[one], all[two]];
        const [x, y] = [b[0] - a[0], b[1] - a[1]];
        const size = Math.hypot(x, y) || 1e-6;
        const lacking = APART - size;
        if (lacking <= 0.01) continue;
        isDone = false;
        const share = (isFixed(two) ? lacking : lacking / 2) / size;
        a[0] -= x * share;
        a[1] -= y * share;
        if (!isFixed(two)) {
          b[0] += x * share;
          b[1] += y * share;
        }
      }
    }
    for (const place of places) {
      place[0] = Math.min(width - APART / 2, Math.max(APART / 2, place[0]));
      place[1] = Math.min(height - APART / 2, Math.max(APART / 2, place[1]));
    }
    if (isDone) break;
  }
  return places.map(([x, y], place) => {
    const away = [x - points[place][0], y - points[place][1]];
    return Math.hypot(...away) < 1 ? [0, 0] : away;
  });
}
