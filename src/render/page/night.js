"use strict";
(() => {
  const night = document.getElementById("night");
  const controls = document.getElementById("night-controls");
  const [play, back, step] = ["night-play", "night-back", "night-step"].map((id) => document.getElementById(id));
  const shown = document.getElementById("night-frame");
  // The still shows each lamp at its greatest level.
  const relative = (levels) => levels.map((level) => level / Math.max(...levels, 1e-9));
  const lamps = [...night.querySelectorAll(".night-lamp")].map((lamp) => ({
    lamp,
    levels: relative(lamp.dataset.levels.split(" ").map(Number)),
  }));
  const frameMs = Number(night.dataset.frameMs);
  const slowed = Number(night.dataset.slowed);
  const frames = Math.max(...lamps.map(({ levels }) => levels.length), 1);
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  // Before the first frame stands the still.
  const STILL = -1;
  let frame = STILL;
  let begun = null;

  const show = () => {
    for (const { lamp, levels } of lamps) {
      lamp.style.opacity = frame === STILL ? 1 : levels[frame % levels.length];
    }
    shown.textContent = frame === STILL ? shown.dataset.still : `frame ${frame + 1} of ${frames}, ${Math.round(frame * frameMs)} ms`;
  };
  const stop = () => {
    begun = null;
    play.textContent = play.dataset.play;
    shown.setAttribute("aria-live", "polite");
  };
  const turn = (now) => {
    if (begun === null) {
      return;
    }
    frame = Math.floor((now - begun) / (frameMs * slowed)) % frames;
    show();
    requestAnimationFrame(turn);
  };
  const move = (by) => {
    stop();
    frame = frame + by < STILL ? frames - 1 : (frame + by) % frames;
    show();
  };
  play.addEventListener("click", () => {
    if (begun !== null) {
      stop();
      return;
    }
    begun = performance.now() - Math.max(frame, 0) * frameMs * slowed;
    play.textContent = play.dataset.pause;
    // Forty frames a second are not for reading out.
    shown.setAttribute("aria-live", "off");
    requestAnimationFrame(turn);
  });
  back.addEventListener("click", () => move(-1));
  step.addEventListener("click", () => move(1));
  const obey = () => {
    play.disabled = still.matches;
    document.getElementById("night-still").hidden = !still.matches;
    if (still.matches) {
      stop();
    }
  };
  still.addEventListener("change", obey);
  obey();
  controls.hidden = false;
})();
