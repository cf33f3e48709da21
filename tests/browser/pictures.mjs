// Pictures for the README: `node tests/browser/pictures.mjs target/debug/washline`, from the root of the project.
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

import { launch } from "./chromium.mjs";
import { after, open, serve } from "./served.mjs";

const FRAMES = [9.5, 8.6, 8];
const program = resolve(process.argv[2] ?? "target/debug/washline");
const folder = mkdtempSync(join(tmpdir(), "washline-pictures-"));
copyFileSync("problems-demo/low-strength.toml", join(folder, "low-strength.toml"));
const server = await serve(program, ["low-strength.toml"], folder);
const browser = await launch();
try {
  const page = await open(browser, server.url, { viewport: { width: 1200, height: 1060 } });
  await page.locator("#matrix").waitFor();
  await page.screenshot({ path: ".pictures/live.png" });
  const frames = [];
  const end = page.locator('li[data-key="strength"] .end.max');
  const box = await end.boundingBox();
  const y = box.y + 20;
  await page.mouse.move(box.x + 8, y);
  await page.mouse.down();
  await page.locator('li[data-key="strength"] .along svg').waitFor();
  for (const to of FRAMES) {
    const { track, low, high } = await end.evaluate((one) => {
      const { left, width } = one.parentElement.getBoundingClientRect();
      return { track: { left, width }, low: Number(one.closest("li").dataset.low), high: Number(one.closest("li").dataset.high) };
    });
    const x = track.left + (track.width * (to - low)) / (high - low) + 2;
    const moves = (await end.getAttribute("aria-valuenow")) !== String(to);
    if (moves) await after(page, "others", () => page.mouse.move(x, y, { steps: 8 }));
    await page.waitForTimeout(300);
    frames.push((await page.screenshot({ clip: { x: 0, y: 86, width: 1200, height: 440 } })).toString("base64"));
  }
  await page.mouse.up();
  const strip = await browser.newPage({ viewport: { width: 900, height: 3 * 330 + 24 } });
  const one = (frame) => `<img width="900" height="330" src="data:image/png;base64,${frame}">`;
  await strip.setContent(`<body style="margin:0;display:grid;gap:12px;background:#9fb5b8">${frames.map(one).join("")}</body>`);
  await strip.screenshot({ path: ".pictures/live-drag.png" });
} finally {
  await browser.close();
  await server.kill();
  rmSync(folder, { recursive: true, force: true });
}
