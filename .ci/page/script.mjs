// Without script a page says and draws the same, and has no button that does nothing.
const CONTROLS = ["#night-play", "#night-step", "#night-back", "#night-frame"];

export const withoutScript = async (visits) => {
  const shown = (script) => visits.during({ script }, (page) => page.evaluate(content, CONTROLS));
  const [scripted, plain] = [await shown(true), await shown(false)];
  const left = new Map();
  plain.words.forEach((word) => left.set(word, (left.get(word) ?? 0) + 1));
  for (const word of scripted.words) {
    const count = left.get(word) ?? 0;
    if (count === 0) visits.fault(`without script "${word.slice(0, 60)}" is missing`);
    left.set(word, count - 1);
  }
  if (plain.drawings !== scripted.drawings) visits.fault(`without script ${plain.drawings} drawings are seen, with it ${scripted.drawings}`);
  plain.controls.forEach((control) => visits.fault(`without script ${control} is seen and does nothing`));
};

/** Runs in the page: the pieces of text seen, how many drawings, and what only script can serve. */
const content = (selectors) => {
  const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getClientRects().length > 0;
  const told = (e) => `${e.tagName.toLowerCase()}${e.id ? `#${e.id}` : ""}`;
  const buttons = [...document.querySelectorAll(["button", "input[type=button]", "output", ...selectors].join(", "))];
  // What holds the night's controls, and is less than its section, may carry words about them.
  let bar = document.querySelector(selectors[0]);
  while (bar?.parentElement && !bar.parentElement.matches("section, main, body")) bar = bar.parentElement;
  if (bar?.querySelector("svg")) bar = null;
  const words = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const owner = texts.currentNode.parentElement;
    const word = texts.currentNode.data.trim();
    if (word && !owner.closest("script, style, noscript, button, output") && !bar?.contains(owner) && seen(owner)) words.push(word);
  }
  return { words, drawings: [...document.querySelectorAll("svg.drawing")].filter(seen).length, controls: [...new Set(buttons)].filter(seen).map(told) };
};
