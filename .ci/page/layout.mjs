// Nothing runs over its box on screens of three widths, nor on paper.
const WIDTHS = [360, 800, 1400];
/** Paper in px at 96 an inch. */
const PAPER = { A4: [793.7, 1122.5], Letter: [816, 1056] };
/** What browsers leave free by default, in px: 10 mm. */
const FREE = 37.8;
const MOST_BYTES = 2_000_000;

export const fits = async (visits) => {
  for (const width of WIDTHS) {
    await visits.during({ width }, async (page) => {
      (await page.evaluate(overflowing, false)).forEach((fault) => visits.fault(`at ${width} px ${fault}`));
    });
  }
};

/** Runs in the page: what runs over its box; on paper nothing can be scrolled to. */
const overflowing = (paper) => {
  const faults = [];
  const name = (e) => {
    const owner = e.closest("[id]");
    const path = `${e.tagName.toLowerCase()}${e.id ? `#${e.id}` : owner ? ` in #${owner.id}` : ""}`;
    return e.tagName === "text" ? `${path} "${e.textContent.trim().slice(0, 40)}"` : path;
  };
  const seen = (e) => e.checkVisibility() && e.getClientRects().length > 0;
  const within = (inner, outer, slack) => inner.left >= outer.left - slack && inner.right <= outer.right + slack
    && inner.top >= outer.top - slack && inner.bottom <= outer.bottom + slack;
  const scrolls = (e) => ["auto", "scroll"].includes(getComputedStyle(e).overflowX);
  const root = document.documentElement;
  const widest = Math.max(root.scrollWidth, document.body.scrollWidth);
  if (widest > root.clientWidth) faults.push(`the document is ${widest} px wide in ${root.clientWidth}`);
  for (let e of [...document.querySelectorAll("figure svg, table, figure")].filter(seen)) {
    // Within what scrolls, the part of it that is seen counts.
    while (!paper && e.parentElement !== document.body && scrolls(e.parentElement)) e = e.parentElement;
    const [inner, outer] = [e.getBoundingClientRect(), e.parentElement.getBoundingClientRect()];
    if (!within(inner, outer, 1)) faults.push(`${name(e)} runs over its ${name(e.parentElement)}: ${inner.width.toFixed(0)} by ${inner.height.toFixed(0)} in ${outer.width.toFixed(0)} by ${outer.height.toFixed(0)} px`);
  }
  for (const text of [...document.querySelectorAll("svg text")].filter(seen)) {
    let svg = text.ownerSVGElement;
    while (svg.ownerSVGElement) svg = svg.ownerSVGElement;
    if (!within(text.getBoundingClientRect(), svg.getBoundingClientRect(), 1)) faults.push(`${name(text)} leaves its drawing`);
    // 5.5 pt, below which print is not read at arm's length (common practice, no source).
    const px = parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a;
    if (paper && px < 7.3) faults.push(`${name(text)} is ${(0.75 * px).toFixed(1)} pt high`);
  }
  const cut = (e) => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== "visible" && e.clientWidth > 0;
  // Text hidden from sight for screen readers is cut on purpose.
  const shown = (e) => e.clientWidth > 2 && e.clientHeight > 2;
  for (const e of [...document.querySelectorAll("body *")].filter((e) => e instanceof HTMLElement && seen(e) && shown(e) && cut(e))) {
    if (paper || !scrolls(e)) faults.push(`${name(e)} cuts off what is in it`);
  }
  return faults;
};

export const prints = async (visits) => {
  for (const [paper, [width, height]] of Object.entries(PAPER)) {
    const free = await visits.during({ media: "print" }, (page) => page.evaluate(margins, FREE));
    const [wide, high] = [Math.floor(width - free.left - free.right), height - free.top - free.bottom];
    await visits.during({ width: wide, height: Math.floor(high), media: "print" }, async (page) => {
      (await page.evaluate(overflowing, true)).forEach((fault) => visits.fault(`on ${paper} ${fault}`));
      if (paper === "A4") (await page.evaluate(firstPage, high)).forEach((fault) => visits.fault(fault));
      const margin = Object.fromEntries(Object.entries(free).map(([side, px]) => [side, `${px}px`]));
      judge(visits, paper, Buffer.from(await page.pdf({ format: paper, margin, printBackground: true })));
    });
  }
};

const judge = (visits, paper, pdf) => {
  const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
  if (pages < 2 || pages > 40) visits.fault(`on ${paper} it has ${pages} pages, not 2 to 40`);
  if (pdf.length >= MOST_BYTES) visits.fault(`on ${paper} it has ${pdf.length} bytes as PDF`);
};

/** Runs in the page: what its `@page` rule leaves free, in px. */
const margins = (usual) => {
  const px = { mm: 96 / 25.4, cm: 96 / 2.54, in: 96, pt: 96 / 72, px: 1 };
  const read = (text) => {
    const [, number, unit] = /^([\d.]+)([a-z]*)$/.exec(text.trim()) ?? [];
    return number === undefined ? usual : Number(number) * (px[unit] ?? 1);
  };
  const pages = [...document.styleSheets].flatMap((sheet) => [...sheet.cssRules])
    .flatMap((rule) => (rule instanceof CSSMediaRule ? [...rule.cssRules] : [rule]))
    .filter((rule) => rule instanceof CSSPageRule && rule.selectorText === "");
  const style = pages.at(-1)?.style;
  return Object.fromEntries(["top", "right", "bottom", "left"].map((side) => [side, read(style?.getPropertyValue(`margin-${side}`) ?? "")]));
};

/** Runs in the page: whether its first section fits a page. */
const firstPage = (high) => {
  const first = document.querySelector("#first");
  if (!first) return ["there is no section #first"];
  const height = first.getBoundingClientRect().bottom + window.scrollY;
  return height <= high ? [] : [`#first ends ${height.toFixed(0)} px down, past the first A4 page of ${high.toFixed(0)}`];
};
