// Report pages in a browser: `page.mjs CHROMIUM REPORT.html...` prints each fault; `page.mjs --self-test CHROMIUM` proves that faults are found.
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { launch, Visits } from "./page/browser.mjs";
import { fits, prints } from "./page/layout.mjs";
import { keyboard } from "./page/keyboard.mjs";
import { accessible } from "./page/accessible.mjs";
import { animation, hasNight } from "./page/animation.mjs";
import { withoutScript } from "./page/script.mjs";
import { selfTest } from "./page/self_test.mjs";

const CHECKS = { fits, prints, accessible, keyboard, animation, withoutScript };

/** The faults of a page, as lines; every check where none is named. */
const faultsOf = async (browser, file, names = Object.keys(CHECKS)) => {
  const visits = new Visits(browser, pathToFileURL(resolve(file)).href);
  // The first visit is a plain one: what a page asks for or complains of counts in every check's visits too.
  await visits.during({}, async () => {});
  for (const name of names) {
    try {
      await CHECKS[name](visits);
    } catch (error) {
      visits.fault(`the check ${name} did not end: ${error.message}`);
    }
  }
  return visits.faults();
};

const main = async () => {
  const self = process.argv[2] === "--self-test";
  const [chromium, ...files] = process.argv.slice(self ? 3 : 2);
  if (!chromium || (!self && files.length === 0)) throw new Error("usage: page.mjs CHROMIUM REPORT.html... | page.mjs --self-test CHROMIUM");
  const browser = await launch(chromium);
  try {
    const faults = self ? await selfTest((file, names) => faultsOf(browser, file, names)) : await faultsOfAll(browser, files);
    faults.forEach((fault) => console.error(fault));
    return faults.length === 0 ? 0 : 1;
  } finally {
    await browser.close();
  }
};

const faultsOfAll = async (browser, files) => {
  const faults = [];
  let nights = 0;
  for (const file of files) {
    const found = await faultsOf(browser, file);
    faults.push(...found.map((fault) => `${file}: ${fault}`));
    nights += Number(await hasNight(new Visits(browser, pathToFileURL(resolve(file)).href)));
    console.log(`${file}: ${found.length === 0 ? "sound" : `${found.length} faults`}`);
  }
  // Else the animation's checks would pass for want of one.
  if (nights === 0) faults.push("no page has a section #night");
  return faults;
};

process.exitCode = await main();
