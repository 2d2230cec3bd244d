// The Tab key reaches everything that can be used or scrolled, and shows where it is.
export const keyboard = async (visits) => {
  for (const width of [360, 1400]) {
    await visits.during({ width }, async (page) => {
      const count = await page.evaluate(collect);
      const [reached, unshown] = [new Set(), new Set()];
      // A few more than there are, for what can be focused besides.
      for (let turn = 0; turn < 2 * count + 20; turn += 1) {
        await page.keyboard.press("Tab");
        const { index, shown, left } = await page.evaluate(focused);
        if (left) break;
        reached.add(index);
        if (!shown) unshown.add(index);
      }
      const names = await page.evaluate(() => window.stops.map((stop) => stop.name));
      const inside = await page.evaluate(() => window.stops.map((stop) => stop.inside));
      names.forEach((name, n) => {
        if (!reached.has(n) && !inside[n].some((m) => reached.has(m))) visits.fault(`at ${width} px Tab does not reach ${name}`);
        if (unshown.has(n)) visits.fault(`at ${width} px ${name} does not show that it has the focus`);
      });
      if (unshown.has(-1)) visits.fault(`at ${width} px something that is no control has the focus and does not show it`);
    });
  }
};

/** Runs in the page: notes what is to be reached, how it looks without focus, and how the rest is told. */
const collect = () => {
  const usable = "a[href], button:not([disabled]), input:not([disabled]):not([type=hidden]), select:not([disabled]), textarea:not([disabled]), summary, [tabindex]:not([tabindex^='-'])";
  const scrolls = (e) => {
    const style = getComputedStyle(e);
    const over = (part, whole, how) => whole > part + 1 && ["auto", "scroll"].includes(how);
    return over(e.clientWidth, e.scrollWidth, style.overflowX) || over(e.clientHeight, e.scrollHeight, style.overflowY);
  };
  const all = [...document.body.querySelectorAll("*")].filter((e) => e.checkVisibility({ visibilityProperty: true }));
  const found = all.filter((e) => e.matches(usable) || scrolls(e));
  window.focusLook = (e) => {
    // A focus ring that fades in counts as it ends.
    e.getAnimations().forEach((animation) => animation.finish());
    const { outlineStyle, outlineWidth, outlineColor, boxShadow } = getComputedStyle(e);
    const outlined = outlineStyle !== "none" && parseFloat(outlineWidth) > 0 && outlineColor !== "rgba(0, 0, 0, 0)";
    return [outlined ? `${outlineStyle} ${outlineWidth} ${outlineColor}` : "", boxShadow === "none" ? "" : boxShadow];
  };
  const group = (e) => (e.type === "radio" ? found.filter((o) => o.type === "radio" && o.name === e.name) : []);
  const told = (e) => `${e.tagName.toLowerCase()}${e.id ? `#${e.id}` : ""} "${(e.textContent || e.value || "").trim().replace(/\s+/g, " ").slice(0, 30)}"`;
  window.stops = found.map((element) => ({
    element,
    name: told(element),
    look: window.focusLook(element),
    // A scrolled region may be moved by a control in it, and of radio buttons one is reached.
    inside: [...found.keys()].filter((n) => (scrolls(element) && element !== found[n] && element.contains(found[n])) || group(element).includes(found[n])),
  }));
  document.activeElement?.blur?.();
  window.scrollTo(0, 0);
  return found.length;
};

/** Runs in the page: which of them has the focus, and whether that shows. */
const focused = () => {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return { index: -1, shown: true, left: true };
  const index = window.stops.findIndex((stop) => stop.element === e);
  const look = window.focusLook(e);
  const before = window.stops[index]?.look ?? ["", ""];
  return { index, shown: look.some((part, n) => part !== "" && part !== before[n]), left: false };
};
