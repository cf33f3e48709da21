// Opens every kind of report in a browser: `node tests/browser/run.mjs target/debug/washline`, from the root of the
// project. What it needs is installed by `.ci/browser`.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

import { faults } from "./checks.mjs";
import { launch, needed } from "./chromium.mjs";
import { faulty, pages } from "./pages.mjs";

const WIDTHS = [360, 768, 1100, 1440];
const SCHEMES = ["light", "dark"];
const CHECKS = [
  "axe",
  "choice",
  "console",
  "cut",
  "first",
  "long",
  "overflow",
  "overlap",
  "paper",
  "picture",
  "request",
  "size",
  "small",
  "tiny",
  "touch",
];

async function main() {
  const program = resolve(needed(process.argv[2], "give the program, as in `run.mjs target/debug/washline`"));
  const folder = mkdtempSync(join(tmpdir(), "washline-pages-"));
  const browser = await launch();
  try {
    const bad = faulty(folder);
    const found = [...(await faults(browser, bad, 360, "light")), ...(await faults(browser, bad, 1440, "light"))];
    const seen = new Set(found.map(({ check }) => check));
    const blind = CHECKS.filter((check) => !seen.has(check));
    if (blind.length > 0) throw new Error(`these checks see no fault where there is one: ${blind.join(", ")}`);
    let count = 0;
    let views = 0;
    const all = pages(program, folder);
    for (const page of all) {
      for (const width of WIDTHS) {
        for (const scheme of SCHEMES) {
          views += 1;
          for (const { check, what } of await faults(browser, page, width, scheme)) {
            count += 1;
            console.error(`${page.name} at ${width} px, ${scheme}: ${check}: ${what}`);
          }
        }
      }
    }
    console.log(`${all.length} pages in ${views} views: ${count === 0 ? "no fault" : `${count} faults`}`);
    return count === 0 ? 0 : 1;
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

try {
  process.exitCode = await main();
} catch (error) {
  console.error(String(error.stack ?? error));
  process.exitCode = 2;
}
