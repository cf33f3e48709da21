// The live page as it is used: `node tests/browser/live.mjs target/debug/washline`, from the root of the project. Times are
// told, not asserted: they are those of the build and of what else the machine does.
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

import { accessible, hardToTouch, overflow, small } from "./checks.mjs";
import { launch } from "./chromium.mjs";
import { after, median, memory, open, serve, thirty } from "./served.mjs";

const LOW = "low-strength.toml";
const program = resolve(process.argv[2] ?? "target/debug/washline");
const only = process.argv[3];
const WAIT = { timeout: 20_000 };
let folder;

const is = (what, holds) => {
  if (!holds) throw new Error(what);
};
const end = (page, key, side) => page.locator(`li[data-key="${key}"] .end.${side}`);
const row = (page, name) => page.locator(`.ingredient[data-key="${name}"]`);
const shown = (page) => page.locator("#card .card table.pours").first().innerText();
const said = (page) => page.locator("#said").innerText();
const ready = (page) => page.locator("#matrix").waitFor(WAIT);
const fresh = () => (copyFileSync(join("problems-demo", LOW), join(folder, LOW)), join(folder, LOW));

async function on(browser, args, does, options = {}) {
  const server = await serve(program, args, folder);
  const faults = [];
  try {
    const page = await open(browser, server.url, options, faults);
    await does(page, server, faults);
    is(faults.join("; "), faults.length === 0);
    await page.context().close();
  } finally {
    await server.kill();
  }
}

// Drags an end by so many pixels, in steps, and lets it go.
async function dragged(page, key, side, by, steps = 12) {
  const box = await end(page, key, side).boundingBox();
  const [x, y] = [box.x + (side === "max" ? 8 : box.width - 8), box.y + 20];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let at = 1; at <= steps; at += 1) await page.mouse.move(x + (by * at) / steps, y);
  await after(page, "glass", () => page.mouse.up());
}

const tests = {
  async "a sour from nothing, limits, a bottle, a conflict, saved, reopened, printed"(browser) {
    const file = join(folder, "my sour.toml");
    await on(browser, [], async (page) => {
      await page.fill('[name="line"]', "50 ml moonbeams");
      await page.click(".first");
      await page.locator("#begin .finding").waitFor(WAIT);
      await page.fill('[name="line"]', "Weir sour\n50 ml aged rum\n25 ml lime juice\n20 ml sugar syrup 1:1\nShake, strain");
      await page.focus('[name="line"]');
      await page.keyboard.press("Enter");
      await ready(page);
      is("the card's first line is its name", /Weir sour/.test(await page.inputValue("#title")));
      const first = await shown(page);
      is(first, /aged rum/.test(first));
      await dragged(page, "strength", "max", -40);
      await after(page, "others", async () => {});
      is("an end moved is unsaved", (await page.locator("#state").innerText()) === "not saved");
      // Another bottle comes in by its letters, one is struck out, and a must.
      await page.fill("#find", "verj");
      await after(page, "others", () => page.locator("#find-offers button").first().click(WAIT));
      await row(page, "verjus").waitFor(WAIT);
      await after(page, "others", () => row(page, "lime juice").getByRole("button", { name: "out" }).click());
      is("what is struck out is not poured", !/lime juice/.test(await shown(page).catch(() => "")));
      await page.click("#undo");
      await after(page, "others", async () => {});
      is("undone", /lime juice/.test(await shown(page)));
      // Limits that do not go together, and the way out.
      await page.locator('input[data-field="targets.strength.max"]').fill("2");
      await page.keyboard.press("Enter");
      await page.locator('.finding, .ways button').first().waitFor(WAIT);
      await page.locator('input[data-field="targets.strength.min"]').fill("");
      await after(page, "others", () => page.keyboard.press("Enter"));
      await page.locator('input[data-field="targets.strength.max"]').fill("2");
      await page.keyboard.press("Enter");
      await page.locator(".ways button").first().waitFor(WAIT);
      is("ends in the way are marked", (await page.locator(".end.clashes").count()) > 0);
      await after(page, "others", () => page.locator(".ways button").first().click());
      is("the conflict is left", (await page.locator("#ways").innerText()) === "" && (await shown(page)).length > 0);
      await page.click("#save");
      await page.fill("#as", "my sour.toml");
      await page.keyboard.press("Enter");
      await page.locator("#state", { hasText: "as in the file" }).waitFor(WAIT);
      is("nothing was written before", existsSync(file));
      const card = await shown(page);
      await page.reload();
      await ready(page);
      is("a reload shows the same", (await shown(page)) === card);
      await page.emulateMedia({ media: "print" });
      is("paper has the card", await page.locator(".card").first().isVisible());
      is("paper has no buttons", !(await page.locator("#save").isVisible()));
      is("the card is on the first sheet", (await page.locator(".card").first().boundingBox()).y < 600);
      await page.emulateMedia({ media: "screen" });
      const [download] = await Promise.all([page.waitForEvent("download"), page.click("#report")]);
      is("the report is a page", /<!DOCTYPE html>/i.test(readFileSync(await download.path(), "utf8")));
    });
    await on(browser, ["my sour.toml"], async (page) => {
      await ready(page);
      is("it is there again", /as in the file/.test(await page.locator(".kind").innerText()));
    });
  },

  async "prices, musts, aims and swaps beside each other"(browser) {
    fresh();
    await on(browser, [LOW], async (page) => {
      await ready(page);
      const price = row(page, "lemon juice").locator(".price");
      await price.fill("dear");
      await page.keyboard.press("Enter");
      await row(page, "lemon juice").locator(".finding").waitFor(WAIT);
      is("her words stay", (await price.inputValue()) === "dear");
      await price.fill("0.30");
      await after(page, "others", () => page.keyboard.press("Enter"));
      await page.locator("#toml summary").click();
      is("money alone keeps the pack", (await page.inputValue("#text")).includes('price  = "0.30 per 25 ml"'));
      await after(page, "others", () => row(page, "verjus").getByRole("button", { name: "must" }).click());
      is("a must is poured", /verjus/.test(await shown(page)));
      await after(page, "others", () => page.selectOption("#aims", "lowest strength"));
      is("another aim", /strength|% vol/i.test(await said(page)));
      await row(page, "verjus").locator("[data-swap]").click();
      for (const name of ["lime juice", "lemon juice"]) {
        await page.fill("#new", name);
        await page.locator("#new-offers button", { hasText: name }).first().click(WAIT);
        await page.locator("#tried .swaps li", { hasText: `${name} for verjus` }).waitFor(WAIT);
      }
      is("side by side", (await page.locator("#tried tbody tr").count()) === 3);
      await after(page, "others", () => page.locator("#tried [data-edit]").first().click());
      is("the swap is taken", !/verjus/.test(await shown(page)) && /lime juice/.test(await shown(page)));
      await page.locator("#why summary").first().click();
      await page.locator("#reasons .part").first().waitFor(WAIT);
      is("the text is there", /struck|out = true/.test(await page.inputValue("#text")));
      await page.fill("#text", "nonsense");
      await page.click("#apply");
      await page.locator("#astray p").first().waitFor(WAIT);
      await page.click("#undo");
      await ready(page);
    });
  },

  async "by keys alone, and told aloud"(browser) {
    fresh();
    await on(browser, [LOW], async (page) => {
      await ready(page);
      for (let at = 0; at < 60 && !(await end(page, "strength", "max").evaluate((one) => one === document.activeElement)); at += 1) {
        await page.keyboard.press("Tab");
      }
      await page.locator('li[data-key="strength"] .along svg').waitFor(WAIT);
      is("what is possible is told", /nothing can be poured|ingredients/.test(await page.locator("#way").innerText()));
      const before = await end(page, "strength", "max").getAttribute("aria-valuetext");
      await after(page, "others", () => page.keyboard.press("ArrowLeft"));
      const now = await end(page, "strength", "max").getAttribute("aria-valuetext");
      is(`${before} became ${now}`, before !== now && /9\.4 % vol; served/.test(now));
      is("it is said", (await page.locator("#aloud").textContent()).length > 20);
      is("the end keeps the focus", await end(page, "strength", "max").evaluate((one) => one === document.activeElement));
      await page.keyboard.press("Control+z");
      await after(page, "others", async () => {});
      is("undone by keys", (await end(page, "strength", "max").getAttribute("aria-valuetext")) === before);
      await page.keyboard.press("Control+y");
      await after(page, "others", async () => {});
      await page.keyboard.press("Control+s");
      await page.locator("#state", { hasText: "as in the file" }).waitFor(WAIT);
      is("comments stay", /max = 9\.4 } {5}# % vol: the point of it all/.test(readFileSync(join(folder, LOW), "utf8")));
    });
  },

  async "with a finger"(browser) {
    fresh();
    await on(
      browser,
      [LOW],
      async (page) => {
        await ready(page);
        await end(page, "sugar", "max").scrollIntoViewIfNeeded();
        const { x, y } = await end(page, "sugar", "max").boundingBox();
        const touch = await page.context().newCDPSession(page);
        const send = (type, points) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: points });
        await send("touchStart", [{ x: x + 10, y: y + 20 }]);
        for (let at = 1; at <= 8; at += 1) await send("touchMove", [{ x: x + 10 - 4 * at, y: y + 20 }]);
        await after(page, "others", () => send("touchEnd", []));
        is("a finger moves it", Number(await page.inputValue('input[data-field="targets.sugar.max"]')) < 70);
      },
      { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
    );
  },

  async "at three widths, by day and at night"(browser) {
    fresh();
    copyFileSync("problems-demo/too-much.toml", join(folder, "too-much.toml"));
    copyFileSync("tests/browser/hostile.toml", join(folder, "hostile.toml"));
    for (const file of [LOW, "too-much.toml", "hostile.toml", null]) {
      for (const width of [360, 768, 1440]) {
        for (const colorScheme of ["light", "dark"]) {
          const see = async (page) => {
            await page.locator(file ? (file.startsWith("too") ? ".ways" : "#matrix") : "#begin").waitFor(WAIT);
            await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
            if (file && !file.startsWith("too")) await page.locator("#reasons .part").first().waitFor(WAIT);
            const found = [...(await page.evaluate(overflow)), ...(await page.evaluate(small, 11)), ...(await accessible(page))];
            if (width === 360) found.push(...(await page.evaluate(hardToTouch, 44)));
            is(`${file} at ${width} px, ${colorScheme}: ${found.join("; ")}`, found.length === 0);
          };
          await on(browser, file ? [file] : [], see, { viewport: { width, height: 900 }, colorScheme });
        }
      }
    }
  },

  async "a file that changes, two tabs, a server that goes and comes back"(browser) {
    const file = fresh();
    const server = await serve(program, [LOW], folder);
    const page = await open(browser, server.url);
    await ready(page);
    await after(page, "others", () => row(page, "fino sherry").getByRole("button", { name: "out" }).click());
    await page.reload();
    await ready(page);
    is("an unsaved change survives a reload", !/fino sherry/.test(await shown(page)));
    const theirs = `${readFileSync(file, "utf8")}# theirs\n`;
    writeFileSync(file, theirs);
    await page.click("#save");
    await page.locator("#notice .both pre").first().waitFor(WAIT);
    is("both are shown", (await page.locator("#notice pre").first().innerText()).includes("# theirs"));
    is("nothing is written over", readFileSync(file, "utf8") === theirs);
    const other = await page.context().newPage();
    await other.goto(server.url);
    await ready(other);
    is("another tab has a state of its own", /fino sherry/.test(await shown(other)));
    await page.getByRole("button", { name: "Write mine over it" }).click();
    await page.locator("#state", { hasText: "as in the file" }).waitFor(WAIT);
    await other.evaluate(() => window.dispatchEvent(new Event("focus")));
    await other.locator("#notice .both pre").first().waitFor(WAIT);
    await other.getByRole("button", { name: "Take the file" }).click();
    await other.locator("#state", { hasText: "as in the file" }).waitFor(WAIT);
    await after(page, "others", () => row(page, "black tea").getByRole("button", { name: "out" }).click());
    await server.kill();
    await row(page, "verjus").getByRole("button", { name: "must" }).click();
    await page.locator("#notice p", { hasText: "does not answer" }).waitFor(WAIT);
    const again = await serve(program, ["--port", server.port, LOW], folder);
    await page.locator("#notice p", { hasText: "started anew" }).waitFor(WAIT);
    await page.goto(again.url);
    await ready(page);
    await page.waitForTimeout(500);
    await after(page, "others", () => page.getByRole("button", { name: "Take them up" }).click(WAIT));
    is("and not saved", (await page.locator("#state").innerText()) === "not saved");
    is("what was not saved is there again", !/black tea/.test(await shown(page)));
    await page.context().close();
    await again.kill();
  },

  async "a thousand changes"(browser) {
    fresh();
    await on(browser, [LOW], async (page, { pid }) => {
      await ready(page);
      const seen = await page.context().newCDPSession(page);
      const size = async () => {
        await seen.send("HeapProfiler.collectGarbage");
        const { usedSize } = await seen.send("Runtime.getHeapUsage");
        return [usedSize / 2 ** 20, (await seen.send("Memory.getDOMCounters")).nodes, memory(pid)];
      };
      await end(page, "volume", "max").focus();
      let first;
      for (let at = 0; at < 1000; at += 1) {
        // What is measured is the page with all of its cards.
        const told = at === 99 || at === 999 ? "others" : "glass";
        await after(page, told, () => page.keyboard.press(at % 2 === 0 ? "ArrowLeft" : "ArrowRight"));
        if (at === 99) first = await size();
      }
      const last = await size();
      const told = ([heap, nodes, server]) => `${heap.toFixed(1)} MiB, ${nodes} nodes, server ${server.toFixed(0)} MiB`;
      console.log(`  after 100 changes ${told(first)}; after 1,000 ${told(last)}`);
      is("the page grows", last[0] < first[0] + 3 && last[1] < 1.5 * first[1]);
      is("the server grows", last[2] < first[2] + 40);
    });
  },

  async "how fast: told, not asserted"(browser) {
    thirty(program, join(folder, "thirty.toml"));
    fresh();
    for (const file of ["thirty.toml", LOW]) {
      await on(browser, [file], async (page) => {
        await ready(page);
        await page.evaluate(() => {
          window.times = [];
          document.addEventListener("glass", ({ detail }) => window.times.push(detail));
        });
        const box = await end(page, "strength", "max").boundingBox();
        const [x, y] = [box.x + 8, box.y + 20];
        await page.mouse.move(x, y);
        await page.mouse.down();
        await page.waitForTimeout(1500);
        const rests = [];
        for (let at = 0; (await page.evaluate(() => window.times.length)) < 200 && at < 2000; at += 1) {
          await page.mouse.move(x + 60 * Math.sin(at / 6), y);
          await page.waitForTimeout(16);
        }
        await page.mouse.up();
        await after(page, "others", async () => {});
        for (let at = 0; at < 20; at += 1) {
          rests.push(
            await page.evaluate(
              (key) =>
                new Promise((done) => {
                  const started = performance.now();
                  document.addEventListener("others", () => done(performance.now() - started), { once: true });
                  const one = document.querySelector('li[data-key="strength"] .end.max');
                  one.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
                }),
              at % 2 === 0 ? "ArrowLeft" : "ArrowRight",
            ),
          );
        }
        const times = await page.evaluate(() => window.times);
        const told = (all) => `median ${median(all).toFixed(1)} ms, p95 ${median(all, 0.95).toFixed(1)} ms of ${all.length}`;
        console.log(`  ${file}: change to glass ${told(times)}; change to alternatives and shares ${told(rests)}`);
      });
    }
  },
};

const browser = await launch();
let bad = 0;
try {
  for (const [name, test] of Object.entries(tests).filter(([name]) => !only || name.includes(only))) {
    folder = mkdtempSync(join(tmpdir(), "washline-live-"));
    try {
      await test(browser);
      console.log(`ok: ${name}`);
    } catch (error) {
      bad += 1;
      console.error(`FAULT: ${name}: ${error.stack ?? error}`);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
} finally {
  await browser.close();
}
process.exitCode = bad === 0 ? 0 : 1;
