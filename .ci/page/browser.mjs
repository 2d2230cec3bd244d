// A browser without a network, and visits to one page that note what it asks for and complains of.
import { createRequire } from "node:module";
import { resolve } from "node:path";

/** Packages are installed under target/page, which no import of a file in .ci finds. */
export const packaged = createRequire(`${resolve("target/page")}/`);

export const launch = (chromium) => {
  const args = ["--disable-dev-shm-usage", "--host-resolver-rules=MAP * ~NOTFOUND"];
  // As root there is no sandbox.
  if (process.getuid?.() === 0) args.push("--no-sandbox");
  return packaged("puppeteer-core").launch({ executablePath: chromium, args });
};

export class Visits {
  #browser;
  #url;
  #faults = new Set();

  constructor(browser, url) {
    this.#browser = browser;
    this.#url = url;
  }

  /** Each fault counts once, in however many visits it shows. */
  fault(text) {
    this.#faults.add(text);
  }

  faults() {
    return [...this.#faults];
  }

  /** Opens the page at a width, on a screen with media features or in another medium, with or without script; what `act` returns. */
  async during({ width = 800, height = 900, media = "screen", features = [], script = true }, act) {
    const page = await this.#browser.newPage();
    try {
      this.#listen(page);
      await page.setViewport({ width, height });
      await page.setJavaScriptEnabled(script);
      // One or the other: setting either puts the other back.
      if (media === "screen") await page.emulateMediaFeatures(features);
      else await page.emulateMediaType(media);
      await page.goto(this.#url, { waitUntil: "load" });
      return await act(page);
    } finally {
      await page.close();
    }
  }

  #listen(page) {
    page.on("console", (message) => {
      if (["error", "warn", "warning", "assert"].includes(message.type())) this.fault(`console ${message.type()}: ${message.text()}`);
    });
    page.on("pageerror", (error) => this.fault(`uncaught: ${error.message}`));
    page.on("request", (request) => {
      const url = request.url();
      if (url.split("#")[0] !== this.#url && !url.startsWith("data:")) this.fault(`asks for ${url.slice(0, 200)}`);
    });
  }
}
