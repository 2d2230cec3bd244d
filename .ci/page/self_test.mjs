// A sound page has no fault; each way to break it is found.
import { mkdirSync, writeFileSync } from "node:fs";

const FOLDER = "target/page/self-test";

const PARAGRAPHS = Array.from({ length: 60 }, (_, n) => `<p>Paragraph ${n + 1} of the second section, long enough to take up a line or two on most screens and on paper.</p>`).join("\n");

const SOUND = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>A sound page</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">
<style>
body { margin: 0 auto; max-width: 900px; padding: 8px; font: 16px/1.4 sans-serif; color: #1b1b1b; background: #fff }
figure { margin: 0 } svg { width: 100%; height: auto; display: block } .scroll { overflow-x: auto } td { white-space: nowrap }
a:focus-visible, button:focus-visible, .scroll:focus-visible { outline: 3px solid #0072b2 }
a, button { display: inline-block; min-height: 24px; min-width: 24px } .bar[hidden] { display: none }
section { break-before: page } #first { break-before: auto }
@page { margin: 12mm } @media print { .scroll { overflow: visible } td { white-space: normal } .bar { display: none } }
</style></head><body><main><h1>A sound page</h1>
<section id="first" aria-labelledby="one"><h2 id="one">First</h2>
<p>Words and <a href="#second">a link</a>.</p>
<figure><svg class="drawing" role="img" aria-label="A line" viewBox="0 0 100 40"><path d="M5 5L95 35" stroke="#1b1b1b"/><text x="10" y="35" font-size="6">a word</text></svg>
<figcaption>A figure</figcaption></figure>
<div class="scroll" tabindex="0" role="region" aria-label="A wide table"><table><thead><tr><th scope="col">Name</th><th scope="col">Value</th></tr></thead>
<tbody><tr><td>a name that needs a good part of a line of its own</td><td>a value that needs another one</td></tr></tbody></table></div></section>
<section id="night" aria-labelledby="two"><h2 id="two">Night</h2>
<figure><svg class="drawing" role="img" aria-label="Two lamps" viewBox="0 0 100 40"><g class="night-lamp" data-levels="1 0 0.5 0"><circle cx="30" cy="20" r="3"/></g><g class="night-lamp" data-levels="1 1 1 1"><circle cx="60" cy="20" r="3"/></g></svg>
<figcaption>Lamps at night</figcaption></figure>
<div class="bar" hidden><p>Light that flashes.</p><p><button id="night-play" type="button" aria-pressed="false">Play</button> <button id="night-back" type="button">Back</button> <button id="night-step" type="button">Step</button> <output id="night-frame">still</output></p></div></section>
<section id="second" aria-labelledby="three"><h2 id="three">Second</h2>
${PARAGRAPHS}</section></main>
<script>
const [play, back, step, out] = ["play", "back", "step", "frame"].map((n) => document.querySelector("#night-" + n));
const lamps = [...document.querySelectorAll(".night-lamp")].map((g) => [g, g.dataset.levels.split(" ")]);
let frame = 0, timer = 0;
const show = (n) => { frame = (n + 4) % 4; out.textContent = frame + 1; lamps.forEach(([g, levels]) => { g.style.opacity = levels[frame] }); };
step.onclick = () => show(frame + 1);
back.onclick = () => show(frame - 1);
play.onclick = () => { timer = timer ? clearInterval(timer) : setInterval(() => show(frame + 1), 300); play.setAttribute("aria-pressed", String(Boolean(timer))); };
play.disabled = matchMedia("(prefers-reduced-motion: reduce)").matches;
document.querySelector(".bar").hidden = false;
</script></body></html>`;

const style = (rule) => ["</style>", `${rule}</style>`];
const script = (line) => ["</script>", `${line}</script>`];

/** The check, the change that makes the page bad, and what is to be said of it. */
const BAD = [
  ["fits", script("console.error('oh');"), /console error: oh/],
  ["fits", script("console.warn('hm');"), /console warn\w*: hm/],
  ["fits", script("throw new Error('thrown');"), /uncaught: thrown/],
  ["fits", script("Promise.reject(new Error('left'));"), /uncaught: left/],
  ["fits", ["</main>", `<img alt="" src="https://example.invalid/x.png"></main>`], /asks for https:\/\/example\.invalid\/x\.png/],
  ["fits", ["</main>", `<img alt="" src="beside.png"></main>`], /asks for file:.*beside\.png/],
  ["fits", ["<style>", "<style>@import url(https://example.invalid/x.css);"], /asks for https:.*x\.css/],
  ["fits", style(".scroll { overflow: visible }"), /at 360 px the document is \d+ px wide/],
  ["fits", style("svg { width: 900px }"), /at 800 px svg in #\w+ runs over its figure/],
  ["fits", style("html, body { overflow-x: hidden } table { width: 1500px } .scroll { overflow: visible }"), /at 1400 px table in #first runs over its div/],
  ["fits", [`x="10" y="35"`, `x="90" y="35"`], /at 360 px text in #first "a word" leaves its drawing/],
  ["fits", style("figure { height: 30px }"), /svg in #first runs over its figure/],
  ["fits", style("figcaption { overflow: hidden; white-space: nowrap; width: 20px }"), /figcaption in #first cuts off what is in it/],
  ["prints", style("@media print { #first svg { width: 60px } }"), /is \d\.\d pt high/],
  ["prints", style("#second { display: none } section { break-before: auto }"), /on A4 it has 1 pages/],
  ["prints", style("p { break-after: page }"), /on Letter it has \d\d pages/],
  ["prints", [`id="first"`, `id="opening"`], /there is no section #first/],
  ["prints", style("#first { min-height: 290mm }"), /#first ends \d+ px down, past the first A4 page/],
  ["prints", style("@page { margin: 40mm } #first { min-height: 230mm }"), /past the first A4 page of \d+/],
  ["prints", style("@media print { .scroll { overflow: auto } td { white-space: nowrap; font-size: 40px } }"), /on A4 div in #first cuts off what is in it/],
  ["prints", script("const c = document.createElement('canvas'); c.width = c.height = 1100; const x = c.getContext('2d'); const d = x.createImageData(1100, 1100); for (let n = 0; n < d.data.length; n += 1) d.data[n] = n % 4 === 3 ? 255 : Math.random() * 256; x.putImageData(d, 0, 0); const i = new Image(); i.src = c.toDataURL(); document.querySelector('#second').prepend(i);"), /on A4 it has \d{7,} bytes/],
  ["accessible", [`lang="en"`, ""], /axe, light: html-has-lang/],
  ["accessible", style("p { color: #bbb }"), /axe, light: color-contrast/],
  ["accessible", style("@media (prefers-color-scheme: dark) { body { background: #222 } }"), /axe, dark: color-contrast/],
  ["accessible", [`aria-label="A line"`, ""], /axe, light: svg-img-alt/],
  ["keyboard", style("a:focus-visible { outline: none }"), /a "a link" does not show that it has the focus/],
  ["keyboard", style(".scroll:focus-visible { outline-color: transparent }"), /div "Name.*does not show that it has the focus/],
  ["keyboard", [`id="night-step"`, `id="night-step" tabindex="-1"`], /Tab does not reach button#night-step/],
  ["keyboard", ["</script>", "addEventListener('keydown', (e) => { if (e.key === 'Tab' && document.activeElement === play) e.preventDefault(); });</script>"], /Tab does not reach button#night-back/],
  ["keyboard", [`class="scroll" tabindex="0"`, `class="scroll" tabindex="-1"`], /at 360 px Tab does not reach div/],
  ["animation", script("play.click();"), /a lamp changes before Play is pressed/],
  ["animation", style("@keyframes k { to { opacity: 0.5 } } circle { animation: k 1s infinite }"), /a style moves before Play is pressed/],
  ["animation", ["<circle", `<animate attributeName="opacity" values="1;0" dur="1s"/><circle`], /an element moves by itself/],
  ["animation", script("step.onclick = null;"), /#night-step does not change #night-frame/],
  ["animation", script("back.onclick = step.onclick;"), /#night-back does not lead back/],
  ["animation", script("lamps.shift();"), /changes in its levels and not in its look/],
  ["animation", script("step.onclick = () => { show(frame + 1); lamps[1][0].style.opacity = frame / 4; };"), /changes in its look and not in its levels/],
  ["animation", script("play.disabled = false;"), /with reduced motion #night-play is not disabled/],
  ["animation", script("play.disabled = true;"), /^#night-play is disabled/],
  ["animation", script("play.onclick = null;"), /#night-play does not change #night-frame/],
  ["animation", script("play.onclick = () => setInterval(() => show(frame + 1), 300);"), /pressed again does not stop it/],
  ["animation", [`id="night-back"`, `id="back"`], /#night has no #night-back/],
  ["withoutScript", [`class="bar" hidden`, `class="bar"`], /without script button#night-play is seen and does nothing/],
  ["withoutScript", script("document.querySelector('#second').append('only by script');"), /without script "only by script" is missing/],
  ["withoutScript", script("document.querySelector('figure').after(document.querySelector('figure').cloneNode(true));"), /without script 2 drawings are seen, with it 3/],
];

export const selfTest = async (faultsOf) => {
  mkdirSync(FOLDER, { recursive: true });
  const file = `${FOLDER}/page.html`;
  const wrong = [];
  writeFileSync(file, SOUND);
  wrong.push(...(await faultsOf(file)).map((fault) => `the sound page: ${fault}`));
  for (const [check, [from, to], said] of BAD) {
    if (!SOUND.includes(from)) throw new Error(`the sound page has no ${from}`);
    writeFileSync(file, SOUND.replace(from, () => to));
    const faults = await faultsOf(file, [check]);
    if (!faults.some((fault) => said.test(fault))) wrong.push(`not found by ${check}: ${said} with ${to.slice(0, 90)}; found: ${faults.join("; ") || "nothing"}`);
  }
  console.log(`the sound page and ${BAD.length} bad ones: ${wrong.length === 0 ? "as they should be" : `${wrong.length} not as they should be`}`);
  return wrong;
};
