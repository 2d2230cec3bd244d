// Everything axe-core knows of, those rules too that it leaves off but for contrast beyond AA, in light and in dark.
import { readFileSync } from "node:fs";
import { packaged } from "./browser.mjs";

export const accessible = async (visits) => {
  const axe = readFileSync(packaged.resolve("axe-core/axe.min.js"), "utf8");
  for (const scheme of ["light", "dark"]) {
    await visits.during({ features: [{ name: "prefers-color-scheme", value: scheme }] }, async (page) => {
      await page.evaluate(axe);
      const found = await page.evaluate(violations);
      found.forEach((fault) => visits.fault(`axe, ${scheme}: ${fault}`));
    });
  }
};

/** Runs in the page. */
const violations = async () => {
  const more = window.axe.getRules(["experimental", "wcag22aa"]).map((rule) => [rule.ruleId, { enabled: true }]);
  const { violations: found } = await window.axe.run(document, { rules: Object.fromEntries(more), resultTypes: ["violations"] });
  return found.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.slice(0, 3).map((node) => node.target.join(" ")).join(", ")}${nodes.length > 3 ? ` and ${nodes.length - 3} more` : ""}`);
};
