// The night scene stands still until it is told to move, steps by frames, stops again, and never plays where motion is unwanted.
export const hasNight = (visits) => visits.during({}, (page) => page.$("#night").then((night) => night !== null));

const REDUCED = [{ name: "prefers-reduced-motion", value: "reduce" }];
const PARTS = ["#night-play", "#night-step", "#night-back", "#night-frame", ".night-lamp"];
const MOST_STEPS = 2000;

export const animation = async (visits) => {
  for (const features of [[], REDUCED]) {
    const where = features.length ? "with reduced motion " : "";
    await visits.during({ features }, async (page) => {
      (await page.evaluate(restless, 1500)).forEach((fault) => visits.fault(`${where}${fault}`));
      if (!(await page.$("#night"))) return;
      const missing = await page.evaluate((parts) => parts.filter((part) => !document.querySelector(`#night ${part}`)), PARTS);
      missing.forEach((part) => visits.fault(`#night has no ${part}`));
      if (missing.length) return;
      await steps(visits, page, where);
      const off = await page.$eval("#night-play", (button) => button.disabled);
      if (off !== features.length > 0) visits.fault(`${where}#night-play is ${off ? "disabled" : "not disabled"}`);
      if (features.length === 0 && !off) await plays(visits, page);
    });
  }
};

/** Runs in the page: what moves by itself for some time after loading. */
const restless = async (time) => {
  const faults = new Set();
  const lamps = [...document.querySelectorAll(".night-lamp")];
  const now = () => lamps.map((lamp) => `${lamp.style.opacity}/${getComputedStyle(lamp).opacity}`).join(" ");
  const [first, start] = [now(), performance.now()];
  while (performance.now() - start < time) {
    await new Promise((done) => setTimeout(done, 50));
    if (now() !== first) faults.add("a lamp changes before Play is pressed");
    if (document.getAnimations().some((a) => a.playState === "running")) faults.add("a style moves before Play is pressed");
  }
  if (document.querySelector("animate, animateMotion, animateTransform, set, marquee, blink")) faults.add("an element moves by itself");
  return [...faults];
};

const frame = (page) => page.$eval("#night-frame", (output) => output.textContent.trim());

const steps = async (visits, page, where) => {
  // The picture a page opens with need not be a frame.
  await page.click("#night-step");
  const first = await frame(page);
  await page.click("#night-step");
  if ((await frame(page)) === first) visits.fault(`${where}#night-step does not change #night-frame`);
  await page.click("#night-back");
  if ((await frame(page)) !== first) visits.fault(`${where}#night-back does not lead back to the frame before`);
  (await page.evaluate(unlit, MOST_STEPS)).forEach((fault) => visits.fault(`${where}${fault}`));
};

/** Runs in the page: which lamps change though their levels do not while all frames are stepped through, and the reverse. */
const unlit = (most) => {
  const lamps = [...document.querySelectorAll(".night-lamp")];
  const levels = lamps.map((lamp) => lamp.dataset.levels.trim().split(/[\s,]+/));
  const seen = lamps.map(() => new Set());
  const frames = Math.min(Math.max(...levels.map((l) => l.length)), most);
  for (let n = 0; n < frames; n += 1) {
    document.querySelector("#night-step").click();
    lamps.forEach((lamp, k) => seen[k].add(lamp.style.opacity));
  }
  const faults = [];
  lamps.forEach((lamp, k) => {
    const varied = new Set(levels[k].slice(0, frames)).size > 1;
    if (varied && seen[k].size < 2) faults.push(`the lamp "${lamp.textContent.trim().slice(0, 40)}" changes in its levels and not in its look`);
    if (!varied && seen[k].size > 1) faults.push(`the lamp "${lamp.textContent.trim().slice(0, 40)}" changes in its look and not in its levels`);
  });
  return faults;
};

const plays = async (visits, page) => {
  const changes = (time) => page.evaluate(async (time) => {
    const frames = new Set();
    const start = performance.now();
    while (performance.now() - start < time) {
      frames.add(document.querySelector("#night-frame").textContent);
      await new Promise((done) => requestAnimationFrame(done));
    }
    return frames.size > 1;
  }, time);
  await page.click("#night-play");
  if (!(await changes(2000))) visits.fault("#night-play does not change #night-frame");
  await page.click("#night-play");
  if (await changes(1000)) visits.fault("#night-play pressed again does not stop it");
};
