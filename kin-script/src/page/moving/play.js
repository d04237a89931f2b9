// Wheels that go up and down by themselves: only when asked to, and not for those who want no motion.

// Milliseconds for the way there and back.
const TURN = 4000;

function playOn(button, state, changed) {
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const words = button.textContent;
  let began = null;
  const stop = () => {
    if (began === null) return;
    began = null;
    button.textContent = words;
    changed(true);
  };
  const step = (time) => {
    if (began === null) return;
    const { droop, bump } = state.model;
    const turn = Math.sin(((time - began) / TURN) * 2 * Math.PI);
    const travel = turn > 0 ? turn * bump : turn * droop;
    state.moveWheels(state.fromRide.map(() => travel));
    changed(false);
    window.requestAnimationFrame(step);
  };
  button.addEventListener("click", () => {
    if (began !== null) return stop();
    began = performance.now();
    button.textContent = "Stop";
    return window.requestAnimationFrame(step);
  });
  document.addEventListener("pointerdown", (event) => event.target !== button && stop());
  document.addEventListener("keydown", (event) => event.target !== button && stop());
  const seen = () => {
    button.hidden = still.matches;
    if (still.matches) stop();
  };
  still.addEventListener("change", seen);
  seen();
}
